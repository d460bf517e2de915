"""A larder food for people at a terminal."""

from __future__ import annotations

from labeler.foods.user_foods import UserFood
from labeler.larder.model import LarderFood
from labeler.types import Problem

__all__ = ["show_food"]

SHOWN = {
    "ENERC_KCAL": ("Energy", "kcal"), "FAT": ("Fat", "g"), "FASAT": ("  saturated", "g"), "FATRN": ("  trans", "g"),
    "CHOLE": ("Cholesterol", "mg"), "NA": ("Sodium", "mg"), "CHOCDF": ("Carbohydrate", "g"), "FIBTG": ("  fibre", "g"),
    "SUGAR": ("  sugars", "g"), "PROCNT": ("Protein", "g"), "CA": ("Calcium", "mg"), "FE": ("Iron", "mg"),
    "K": ("Potassium", "mg"), "WATER": ("Water", "g"),
}  # fmt: skip


def show_food(food: LarderFood, own: UserFood, problems: tuple[Problem, ...]) -> None:
    """Print what a package says, what it comes to per 100 g, and what should be looked at."""
    from labeler.cli.terminal import console_of, say, say_problems, table_of

    say(f"{food.name}  ({food.id})")
    printed = ", ".join(f"{key.replace('_', ' ')} {value}" for key, value in food.panel.items())
    for title, text in (
        ("Panel", f"{food.per}: {printed}" if food.panel else ""), ("Ingredients", food.ingredients),
        ("Contains", own.contains), ("May contain", own.may_contain), ("Net", food.net), ("From", own.basis),
        ("Licence", food.licence), ("Like", own.like or ""),
    ):  # fmt: skip
        if text:
            say(f"{title}: {text}")
    if own.per_100g:
        table = table_of("per 100 g", "", "from", "to", "", numbers=(1, 2, 3))
        for key, (name, unit) in SHOWN.items():
            one = own.per_100g.get(key)
            if one is not None:
                table.add_row(name, f"{one.best:.3g} {unit}", f"{one.low:.3g}", f"{one.high:.3g}", one.status.words)
        console_of().print(table)
    say_problems(problems)
