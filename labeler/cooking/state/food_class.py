"""What a table food is to the kitchen: meat or vegetable, something that surrounds food, something that dissolves.

Handling works differently on a joint, a root, a grain and a marinade. The kind comes from the food's group and
description by the rules of ``data/food_kinds.csv``; what each kind does is said here.
"""

from __future__ import annotations

import csv
import re
from functools import cache, lru_cache
from pathlib import Path

from labeler.foods.table import load_table

__all__ = ["DISSOLVES", "FLESH", "LIQUOR", "WATER_TAKERS", "is_raw", "kind_of"]

RULES_FILE = Path(__file__).parents[1].joinpath("data") / "food_kinds.csv"

LIQUOR = frozenset({"water", "liquid", "sauce", "dairy"})
"""Kinds that surround other food: what a brine, a marinade or a broth is made of."""

DISSOLVES = frozenset({"salt", "sugar", "powder"})
"""Kinds that go into the liquor where there is one."""

FLESH = frozenset(
    {
        "beef",
        "beef ground",
        "pork",
        "pork ground",
        "lamb",
        "lamb ground",
        "veal",
        "game",
        "poultry",
        "poultry ground",
        "fish",
        "shellfish",
        "organ",
        "sausage",
        "bacon",
        "cured pork",
        "cured beef",
    }
)
"""Muscle, organs, fish and what is made of them: they lose weight and fat by heat."""

WATER_TAKERS = frozenset({"grain", "pasta", "dry legume", "dried fruit"})
"""Dry kinds that take up water when they boil or soak."""


@cache
def _rules() -> tuple[tuple[int | None, re.Pattern[str], str], ...]:
    with RULES_FILE.open(encoding="utf-8", newline="") as stream:
        rows = csv.DictReader(line for line in stream if not line.startswith("#"))
        return tuple(
            (int(row["group"]) if row["group"] else None, re.compile(row["pattern"], re.IGNORECASE), row["kind"])
            for row in rows
        )


@lru_cache(maxsize=4096)
def kind_of(food: str | None) -> str:
    """The kitchen kind of a table food, "unknown" without one; raises KeyError for an id that is not in the table."""
    if food is None:
        return "unknown"
    table = load_table()
    row = table.position[food]
    group, description = int(table.group_codes[row]), table.descriptions[row]
    for wanted, pattern, kind in _rules():
        if wanted in (None, group) and pattern.search(description):
            return kind
    return "prepared"


_COOKED = re.compile(
    r"\b(?:cooked|roasted|broiled|grilled|braised|stewed|simmered|fried|pan-fried|baked|boiled|steamed|microwaved|smoked|"
    r"toasted|poached|scrambled|omelet|barbecued|rotisserie|canned|heated|prepared|pickled|home-prepared)\b",
    re.IGNORECASE,
)


@lru_cache(maxsize=4096)
def is_raw(food: str | None) -> bool:
    """Whether a table food is uncooked, by its description; an unknown food is taken for raw."""
    if food is None:
        return True
    description = load_table().describe(food)
    return re.search(r"\b(?:raw|uncooked|dry|unheated|unprepared)\b", description, re.IGNORECASE) is not None or (
        _COOKED.search(description) is None
    )
