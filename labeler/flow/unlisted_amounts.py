"""How much of a food that no line lists a use of it takes: to fry in, to season with, to dust."""

from __future__ import annotations

from functools import cache

from labeler.data_files import data_folder, data_rows
from labeler.flow.kind_sets import density_of
from labeler.parsing.instructions.model import Quantity
from labeler.types import Interval

__all__ = ["grams_added"]

DATA = data_folder("labeler.flow")


@cache
def unlisted_amounts() -> tuple[tuple[str, frozenset[str], bool, Interval], ...]:
    """Rows of the table: the use, the kinds, whether it is per 100 g of food, and grams."""
    found = []
    for row in data_rows(DATA / "unlisted_amounts.csv"):
        low, best, high = (float(value) for value in row["grams"].split("|"))
        kinds = frozenset(row["kinds"].split("|"))
        found.append((row["use"], kinds, row["per"] == "food", Interval(best, low, high)))
    return tuple(found)


def grams_added(quantity: Quantity, use: str, kind: str, comes_to: float) -> tuple[Interval | None, str]:
    """What is taken of a food that only the method names [g], and how that is known; None where nobody knows."""
    if quantity.grams is not None:
        return quantity.grams, "the method's own amount"
    if quantity.millilitres is not None:
        density = density_of(kind)
        value = quantity.millilitres
        return Interval(
            value.best * density, value.low * density * 0.9, value.high * density * 1.1
        ), "the method's own amount"
    for wanted, kinds, per_food, grams in unlisted_amounts():
        if wanted == use and kind in kinds:
            factor = max(comes_to, 100.0) / 100.0 if per_food else 1.0
            return Interval(grams.best * factor, grams.low * factor, grams.high * factor), "assumed, common practice"
    return None, "not known"
