"""A larder food for people at a terminal."""

from __future__ import annotations

import sys

from labeler.foods.own import OwnFood
from labeler.knowledge import Problem
from labeler.larder.model import LarderFood

__all__ = ["show_food"]

SHOWN = {
    "ENERC_KCAL": ("Energy", "kcal"), "FAT": ("Fat", "g"), "FASAT": ("  saturated", "g"), "FATRN": ("  trans", "g"),
    "CHOLE": ("Cholesterol", "mg"), "NA": ("Sodium", "mg"), "CHOCDF": ("Carbohydrate", "g"), "FIBTG": ("  fibre", "g"),
    "SUGAR": ("  sugars", "g"), "PROCNT": ("Protein", "g"), "CA": ("Calcium", "mg"), "FE": ("Iron", "mg"),
    "K": ("Potassium", "mg"), "WATER": ("Water", "g"),
}  # fmt: skip


def show_food(food: LarderFood, own: OwnFood, problems: tuple[Problem, ...]) -> None:
    """Print what a package says, what it comes to per 100 g, and what should be looked at."""
    from rich import box
    from rich.console import Console
    from rich.table import Table

    width = None if sys.stdout.isatty() else 100
    console = Console(width=width, highlight=False, markup=False, emoji=False)
    console.print(f"{food.name}  ({food.id})")
    printed = ", ".join(f"{key.replace('_', ' ')} {value}" for key, value in food.panel.items())
    for title, text in (
        ("Panel", f"{food.per}: {printed}" if food.panel else ""), ("Ingredients", food.ingredients),
        ("Contains", own.contains), ("May contain", own.may_contain), ("Net", food.net), ("From", own.basis),
        ("Licence", food.licence), ("Like", own.like or ""),
    ):  # fmt: skip
        if text:
            console.print(f"{title}: {text}")
    if own.per_100g:
        table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
        for heading, side in (("per 100 g", "left"), ("", "right"), ("from", "right"), ("to", "right"), ("", "left")):
            table.add_column(heading, justify="right" if side == "right" else "left")
        for key, (name, unit) in SHOWN.items():
            one = own.per_100g.get(key)
            if one is not None:
                table.add_row(name, f"{one.best:.3g} {unit}", f"{one.low:.3g}", f"{one.high:.3g}", one.status.words)
        console.print(table)
    for problem in problems:
        console.print(f"! {problem.message} [{problem.code}]")
