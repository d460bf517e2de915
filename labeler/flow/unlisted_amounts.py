"""How much of a food that no line lists a use of it takes: to fry in, to season with, to dust."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

from labeler.types import Interval

__all__ = ["unlisted_amounts"]

DATA = Path(__file__).with_name("data")


@cache
def unlisted_amounts() -> tuple[tuple[str, frozenset[str], bool, Interval], ...]:
    """Rows of the table: the use, the kinds, whether it is per 100 g of food, and grams."""
    found = []
    with (DATA / "unlisted_amounts.csv").open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(line for line in stream if not line.startswith("#")):
            low, best, high = (float(value) for value in row["grams"].split("|"))
            kinds = frozenset(row["kinds"].split("|"))
            found.append((row["use"], kinds, row["per"] == "food", Interval(best, low, high)))
    return tuple(found)
