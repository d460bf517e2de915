"""What stands among the ingredients and is no food: tools, vessels, wrappings, fuel (``data/equipment.csv``)."""

from __future__ import annotations

import re
from functools import cache

from labeler.data_files import data_folder, data_rows

__all__ = ["is_equipment"]

EQUIPMENT_FILE = data_folder("labeler.foods") / "equipment.csv"

_WORD = re.compile(r"[a-z]+")
_LONGEST = 3


def _plain(text: str) -> tuple[str, ...]:
    return tuple(_WORD.findall(text.lower()))


@cache
def _phrases(kind: str) -> frozenset[tuple[str, ...]]:
    rows = data_rows(EQUIPMENT_FILE)
    return frozenset(_plain(phrase) for row in rows if row["class"] == kind for phrase in row["words"].split("|"))


def is_equipment(name: str) -> bool:
    """Whether a line's name is a thing to cook with and not to eat: "1 cheesecloth", "two quart baking dishes".

    Parameters
    ----------
    name : str
        The food of an ingredient line, without its amounts.
    """
    stated = _plain(name)
    if stated in _phrases("alone"):
        return True
    return any(stated[-size:] in _phrases("head") for size in range(1, min(_LONGEST, len(stated)) + 1))
