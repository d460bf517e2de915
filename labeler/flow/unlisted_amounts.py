"""How much of a food that no line lists a use of it takes: to fry in, to season with, to dust."""

from __future__ import annotations

from functools import cache

from labeler.data_files import data_folder, data_rows
from labeler.flow.kind_sets import density_of
from labeler.foods.food_class import kind_of
from labeler.foods.resolve import weigh_line
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.instructions.model import Extent, Mention, Quantity
from labeler.parsing.model import Line
from labeler.parsing.units import millilitres_per
from labeler.types import Interval

__all__ = ["grams_added"]

DATA = data_folder("labeler.flow")
_OWN = "the method's own amount"


@cache
def unlisted_amounts() -> tuple[tuple[str, frozenset[str], bool, Interval], ...]:
    """Rows of the table: the use, the kinds, whether it is per 100 g of food, and grams."""
    found = []
    for row in data_rows(DATA / "unlisted_amounts.csv"):
        low, best, high = (float(value) for value in row["grams"].split("|"))
        kinds = frozenset(row["kinds"].split("|"))
        found.append((row["use"], kinds, row["per"] == "food", Interval(best, low, high)))
    return tuple(found)


def grams_added(mention: Mention, food: str, use: str, comes_to: float, market: str) -> tuple[Interval | None, str]:
    """What is taken of a food that only the method names, and how that is known.

    Parameters
    ----------
    mention : Mention
        As the method names it. An amount ("2 glasses of wine") weighs what it weighs in a line.
    food : str
        Table id.
    use : str
        What it is for: a use of ``data/unlisted_amounts.csv``.
    comes_to : float
        What it is added to [g].
    market : str
        Whose cups and spoons.

    Returns
    -------
    (Interval or None, str)
        Grams, None where nobody knows.
    """
    quantity, kind = mention.quantity, kind_of(food)
    if quantity.grams is not None:
        return quantity.grams, _OWN
    if quantity.extent is Extent.AMOUNT:
        line = weigh_line(read_line(mention.text), market=market)
        if line.grams is not None and line.match is not None and line.match.food == food:
            return line.grams.scaled(_times(line.line, quantity, market)), _OWN
    if quantity.millilitres is not None:
        density = density_of(kind)
        value = quantity.millilitres
        return Interval(value.best * density, value.low * density * 0.9, value.high * density * 1.1), _OWN
    for wanted, kinds, per_food, grams in unlisted_amounts():
        if wanted == use and kind in kinds:
            factor = max(comes_to, 100.0) / 100.0 if per_food else 1.0
            return Interval(grams.best * factor, grams.low * factor, grams.high * factor), "assumed, common practice"
    return None, "not known"


def _times(line: Line, quantity: Quantity, market: str) -> float:
    """How often the amount of a phrase is taken: "a teaspoon of butter on each" of six rolls is six."""
    amount = next(iter(line.amounts), None)
    if amount is None or amount.low <= 0.0:
        return 1.0
    stated = (amount.low + amount.high) / 2.0
    if quantity.millilitres is not None and amount.unit:
        volume = millilitres_per(amount.unit, market=market)
        return quantity.millilitres.best / (stated * volume) if volume else 1.0
    return quantity.count.best / stated if quantity.count is not None else 1.0
