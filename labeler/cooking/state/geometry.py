"""How thick a piece of food is, from what its line says ("sliced 3 mm", "1-inch cubes") or else by its kind."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path

from labeler.cooking.state.food_class import kind_of
from labeler.cooking.state.mixture import Item
from labeler.knowledge import Interval
from labeler.parsing.numbers import read_quantity, tidy

__all__ = ["Shape", "shape_of"]

DATA = Path(__file__).parents[1].joinpath("data")

_MILLIMETRES = {"mm": 1.0, "cm": 10.0, "inch": 25.4, "in": 25.4, '"': 25.4, "millimetre": 1.0, "centimetre": 10.0}
_LENGTH = re.compile(
    r'[\s-]*(?P<unit>mm|cm|inch(?:es)?|in(?=[\s.-]+(?:dice|cube|slice|piece|thick|strip|stick|chunk))|"|'
    r"millimet(?:re|er)s?|centimet(?:re|er)s?)",
    re.IGNORECASE,
)
_STARTS = re.compile(r"(?<![\w.,/])(?=\d)")
_BY_WORD = (
    ("cylinder", re.compile(r"\b(?:strip|stick|baton|matchstick|spear|finger|julienne|across)", re.IGNORECASE)),
    ("sheet", re.compile(r"\b(?:slice|round|thick|ring|coin|steak|fillet|cutlet|chop\b)", re.IGNORECASE)),
    ("sphere", re.compile(r"\b(?:dice|cube|chunk|piece|ball)", re.IGNORECASE)),
)


@dataclass(frozen=True, slots=True)
class Shape:
    """A shape of diffusion theory and its half-thickness or radius.

    Parameters
    ----------
    form : str
        "sheet", "cylinder" or "sphere". A cube is a sphere of half its edge: the same surface per volume.
    half : Interval
        Half-thickness of the sheet, or radius [mm].
    """

    form: str
    half: Interval

    @property
    def surface(self) -> float:
        """Surface per volume at the best half-thickness [1/mm]."""
        return {"sheet": 1.0, "cylinder": 2.0, "sphere": 3.0}[self.form] / self.half.best


@cache
def _defaults() -> tuple[tuple[re.Pattern[str] | None, frozenset[str], Shape], ...]:
    with (DATA / "shapes.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(line for line in stream if not line.startswith("#")))
    return tuple(
        (
            re.compile(rf"\b(?:{row['word']})", re.IGNORECASE) if row["word"] else None,
            frozenset(row["kinds"].split("|")) if row["kinds"] else frozenset(),
            Shape(
                row["shape"],
                Interval(float(row["best"]), float(row["low"]), float(row["high"]), "usual size, not said in the line"),
            ),
        )
        for row in rows
    )


def shape_of(item: Item) -> Shape:
    """Shape of an item's pieces; any item has one."""
    return _shape(item.text or item.name, kind_of(item.food))


@lru_cache(maxsize=1024)
def _shape(text: str, kind: str) -> Shape:
    said = _said(tidy(text))
    if said is not None:
        return said
    for word, kinds, shape in _defaults():
        if (word is None or word.search(text)) and (not kinds or kind in kinds):
            return shape
    raise AssertionError("the last row of shapes.csv fits everything")


def _said(text: str) -> Shape | None:
    """The shape that a line states with a length, or None."""
    for start in _STARTS.finditer(text):
        quantity = read_quantity(text, start.start())
        if quantity is None:
            continue
        length = _LENGTH.match(text, quantity.end)
        if length is None:
            continue
        unit = length["unit"].lower().rstrip("s").replace("inche", "inch").replace("meter", "metre")
        factor = _MILLIMETRES[unit] / 2.0
        low, high = quantity.low * factor, quantity.high * factor
        if not 0.1 <= low <= 200.0:
            continue
        around = text[max(0, start.start() - 30) : length.end() + 20]
        form = next((name for name, pattern in _BY_WORD if pattern.search(around)), "sheet")
        # Hand-cut pieces vary by a fifth: common practice, no source.
        return Shape(form, Interval((low + high) / 2.0, 0.8 * low, 1.2 * high, f"“{around.strip()}”"))
    return None
