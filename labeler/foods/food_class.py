"""What a table food is to the kitchen: meat or vegetable, something that surrounds food, something that dissolves.

Handling works differently on a joint, a root, a grain and a marinade. The kind comes from the food's group and
description by the rules of ``data/food_kinds.csv``; what each kind does is said here. This is the one module of cooking
that reads the table's descriptions; each answer is worked out once.
"""

from __future__ import annotations

import re
from functools import cache, lru_cache
from typing import NamedTuple

import numpy as np

from labeler.data_files import data_folder, data_rows
from labeler.foods.composition.food_table import load_table
from labeler.parsing.ingredient.facts import Trait, read_traits

__all__ = [
    "DISSOLVES",
    "FLESH",
    "JUICY",
    "LIQUOR",
    "MEAT",
    "WATER_TAKERS",
    "MeatOnly",
    "described",
    "is_dairy",
    "is_raw",
    "is_whole_can",
    "is_yolk",
    "kind_of",
    "meat_only",
    "traits_of",
    "with_skin",
]

RULES_FILE = data_folder("labeler.foods") / "food_kinds.csv"

LIQUOR = frozenset({"water", "liquid", "sauce", "dairy"})
"""Kinds that surround other food: what a brine, a marinade or a broth is made of."""

JUICY = frozenset({"fruit", "tomato"})
DISSOLVES = frozenset({"salt", "sugar", "powder"})
"""Kinds that go into the cooking liquid where there is one."""

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

MEAT = frozenset(FLESH - {"fish", "shellfish", "sausage", "bacon", "cured pork", "cured beef"})
"""Muscle and organs of land animals and birds, which are eaten cooked but for a few dishes."""

WATER_TAKERS = frozenset({"grain", "pasta", "dry legume", "dried fruit"})
"""Dry kinds that take up water when they boil or soak."""


@cache
def _rows() -> tuple[dict[str, str], ...]:
    return tuple(data_rows(RULES_FILE))


@cache
def _rules(group: int) -> tuple[tuple[re.Pattern[str], str], ...]:
    """Patterns of descriptions and their kinds, for foods of a group, in the order of the file."""
    rows = [row for row in _rows() if row["group"] in ("", str(group))]
    return tuple((re.compile(row["pattern"], re.IGNORECASE), row["kind"]) for row in rows)


@lru_cache(maxsize=4096)
def kind_of(food: str | None) -> str:
    """The kitchen kind of a table food, "unknown" without one; raises KeyError for an id that is not in the table."""
    if food is None:
        return "unknown"
    table = load_table()
    row = table.position[food]
    group, description = int(table.group_codes[row]), table.descriptions[row]
    for pattern, kind in _rules(group):
        if pattern.search(description):
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


_WITH_SKIN = re.compile(r"\b(?:meat and skin|with skin|skin eaten)\b", re.IGNORECASE)


def with_skin(food: str) -> bool:
    """Whether the figures of a table food count its skin."""
    return described(food, _WITH_SKIN.pattern)


@lru_cache(maxsize=4096)
def is_dairy(food: str | None) -> bool:
    """Whether a food is milk, or made of milk: the table's group of dairy and egg without the eggs."""
    if food is None:
        return False
    table = load_table()
    return int(table.group_codes[table.position[food]]) == 100 and kind_of(food) != "egg"


def is_yolk(food: str) -> bool:
    """Whether a table food is the yolk of an egg."""
    return described(food, "yolk")


def is_whole_can(food: str | None) -> bool:
    """Whether a table food is a can with its liquid."""
    return food is not None and described(food, "solids and liquid")


@lru_cache(maxsize=4096)
def described(food: str, pattern: str) -> bool:
    """Whether the description of a table food fits a pattern of a data file, in small letters or capitals."""
    return re.search(pattern, load_table().describe(food), re.IGNORECASE) is not None


def traits_of(food: str) -> frozenset[Trait]:
    """What tells a table food from other entries of the same food."""
    return read_traits(load_table().describe(food))


_WORD = re.compile(r"[a-z]+")
# What one entry of a pair may say and the other not: the broilers of one are the broiler of the other.
_SKIN_WORDS = frozenset("meat and skin only giblets cooked boneless skinless from whole retail parts".split())
_MORE_WORDS = _SKIN_WORDS | {"dark", "light"}
_FIGURE = r"(\d+(?:\.\d+)?)\s*%"
_PEEL = re.compile(rf"{_FIGURE} (?:skin|sepe?a?rable fat)|(?:skin|fat)[^,%]*?{_FIGURE}", re.IGNORECASE)


class MeatOnly(NamedTuple):
    """The entry of the meat alone, and the share of the weight with skin that it is."""

    food: str
    share: float


@cache
def meat_only(food: str) -> MeatOnly | None:
    """The entry of the same bird and cut without skin, by the words of the descriptions; None where there is none."""
    table = load_table()
    own = _words(table.describe(food))
    group = table.group_codes[table.position[food]]
    best: tuple[int, str] | None = None
    for row in np.flatnonzero(table.group_codes == group):
        other = _words(table.descriptions[row])
        if "only" not in other or own - other - _SKIN_WORDS or other - own - _MORE_WORDS or "skin" in other:
            continue
        rank = len(other ^ own)
        if (best is None or rank < best[0]) and _share(table.ids[row], food) is not None:
            best = rank, table.ids[row]
    if best is None:
        return None
    share = _share(best[1], food)
    return MeatOnly(best[1], share) if share is not None else None


def _words(description: str) -> frozenset[str]:
    return frozenset(
        word.removesuffix("s") if word.startswith(("broiler", "fryer")) else word
        for word in _WORD.findall(description.lower())
    )


def _share(meat: str, whole: str) -> float | None:
    """Meat in the weight of meat and skin, from what the table says is skin and what is refuse; None if it does not."""
    table = load_table()
    row, own = table.position[meat], table.position[whole]
    left = 100.0 - float(table.refuse_percent[row])
    peel = sum(float(hit[1] or hit[2]) for hit in _PEEL.finditer(table.refuse_descriptions[row]))
    edible = left + peel if peel else 100.0 - float(table.refuse_percent[own])
    share = left / edible if edible > 0.0 else 1.0
    return share if 0.4 < share < 0.98 else None
