"""Added sugars: SR28 has no such column, so the share of a food's sugars that was added follows from what it is.

A food that is itself a sugar is all added, a plain fruit none; a made-up food that hides the sugar gets a best
estimate between bounds of nothing and all, so that nobody takes the guess for a figure. Definition:
21 CFR 101.9(c)(6)(iii).
"""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

from labeler.data_files import data_folder, data_rows
from labeler.foods.composition.food_table import load_table
from labeler.types import Interval

__all__ = ["added_sugar_share"]

RULES_FILE = data_folder("labeler.foods") / "added_sugars.csv"


class _Rule(NamedTuple):
    group: int | None
    words: re.Pattern[str] | None
    kind: str
    share: float
    reason: str


@cache
def _rules() -> tuple[_Rule, ...]:
    rules = []
    for row in data_rows(RULES_FILE):
        pattern = None
        if row["words"] != "*":
            # A semicolon in the file stands for the comma of SR28's descriptions.
            words = "|".join(re.escape(word.replace(";", ",")) for word in row["words"].split("|"))
            pattern = re.compile(rf"\b(?:{words})\b", re.IGNORECASE)
        group = None if row["group"] == "*" else int(row["group"])
        rules.append(_Rule(group, pattern, row["kind"], float(row["share"]), row["reason"]))
    return tuple(rules)


@cache
def added_sugar_share(food: str) -> Interval:
    """Share of a table food's total sugars that is added sugars, in [0, 1].

    Parameters
    ----------
    food : str
        Table id, five digits.

    Returns
    -------
    Interval
        (1, 1, 1) for a sugar, (0, 0, 0) for a plain food; otherwise a best estimate between 0 and 1.

    Raises
    ------
    KeyError
        For an id that is not in the table.
    """
    table = load_table()
    row = table.position[food]
    group, description = int(table.group_codes[row]), table.descriptions[row]
    for rule in _rules():
        if rule.group in (None, group) and (rule.words is None or rule.words.search(description)):
            low, high = (rule.share, rule.share) if rule.kind in ("all", "none") else (0.0, 1.0)
            return Interval(rule.share, low, high, rule.reason)
    raise AssertionError("the last rule holds for every food")
