"""How the food of a line is cut: "sliced 3 mm", "1-inch cubes", "halved".

A stated size is read as a shape of diffusion theory with its half-thickness; a word for a cut without a size is one of
`CutStyle`, and its usual size is the kitchen's to say.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum, StrEnum

from labeler.parsing.numbers import read_quantity, tidy
from labeler.types import Interval

__all__ = ["Cut", "CutForm", "CutStyle", "read_size"]


class CutForm(StrEnum):
    """The three shapes that diffusion is solved for; a cube counts as a sphere of half its edge."""

    SHEET = "sheet"
    CYLINDER = "cylinder"
    SPHERE = "sphere"


class CutStyle(Enum):
    """What words for a cut mean, by the usual size of what they name; the words are in ``data/fact_words.csv``."""

    GRATED = "grated"
    MINCED = "minced"
    FINELY_CHOPPED = "finely chopped"
    CHOPPED = "chopped"
    PIECES = "pieces"  # cut up, and nobody says how small
    THINLY_SLICED = "thinly sliced"
    SLICED = "sliced"
    STICKS = "sticks"
    CHUNKS = "chunks"
    WEDGES = "wedges"
    HALVED = "halved"
    THICK = "thick"
    STEAK = "steak"
    JOINT = "joint"
    WHOLE = "whole"
    FILLET = "fillet"
    CHIPS = "chips"
    WEDGE = "wedge"
    SHREDS = "shreds"
    CROQUETTE = "croquette"


@dataclass(frozen=True, slots=True)
class Cut:
    """How food is cut.

    Parameters
    ----------
    styles : frozenset of CutStyle
        Every cut that the line has a word for; empty where it has none.
    form : CutForm or None
        Shape of the pieces where the line gives a size.
    half : Interval or None
        Half-thickness of a sheet, else radius [mm], where the line gives a size.
    """

    styles: frozenset[CutStyle] = frozenset()
    form: CutForm | None = None
    half: Interval | None = None


_MILLIMETRES = {"mm": 1.0, "cm": 10.0, "inch": 25.4, "in": 25.4, '"': 25.4, "millimetre": 1.0, "centimetre": 10.0}
_LENGTH = re.compile(
    r'[\s-]*(?P<unit>mm|cm|inch(?:es)?|in(?=[\s.-]+(?:dice|cube|slice|piece|thick|strip|stick|chunk))|"|'
    r"millimet(?:re|er)s?|centimet(?:re|er)s?)",
    re.IGNORECASE,
)
_STARTS = re.compile(r"(?<![\w.,/])(?=\d)")
_BY_WORD = (
    (CutForm.CYLINDER, re.compile(r"\b(?:strip|stick|baton|matchstick|spear|finger|julienne|across)", re.IGNORECASE)),
    (CutForm.SHEET, re.compile(r"\b(?:slice|round|thick|ring|coin|steak|fillet|cutlet|chop\b)", re.IGNORECASE)),
    (CutForm.SPHERE, re.compile(r"\b(?:dice|cube|chunk|piece|ball)", re.IGNORECASE)),
)


def read_size(line: str) -> tuple[CutForm, Interval] | None:
    """The shape and half-thickness [mm] that a line states with a length, None where it states none."""
    text = tidy(line)
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
        form = next((name for name, pattern in _BY_WORD if pattern.search(around)), CutForm.SHEET)
        # Hand-cut pieces vary by a fifth: common practice, no source.
        return form, Interval((low + high) / 2.0, 0.8 * low, 1.2 * high, f"“{around.strip()}”")
    return None
