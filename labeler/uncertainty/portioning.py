"""How evenly the batch is divided: what one serving may be, against what the head of the recipe says.

All figures are common practice, no source: a scale and a rounded number meet a weight within 2 %, packs are filled
within 3 %, spoons and cups of a made dish within 10 %, pieces come out within 7 % of each other, portions cut or ladled
by eye within 12 %, and "about" means 15 %.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from labeler.cooking.serving import Portion
from labeler.parsing import read_line
from labeler.parsing.units import grams_per, millilitres_per
from labeler.types import Interval

__all__ = ["division"]

_WEIGHED, _PACKED, _SPOONED, _PIECES, _BY_EYE, _ABOUT = 0.02, 0.03, 0.10, 0.07, 0.12, 0.15
_SOME_PEOPLE = frozenset({"", "people", "persons", "servings", "serving", "portions", "portion", "person"})


def division(portion: Portion, head: Mapping[str, Any]) -> Interval:
    """One serving over what it is taken to be, as an interval around 1.

    Parameters
    ----------
    portion : Portion
        As divided.
    head : mapping
        Of the recipe.

    Returns
    -------
    Interval
        (1, 1, 1) where the whole batch is one serving because nothing divides it.
    """
    if portion.by_weight:
        line = read_line(portion.said)
        unit = line.amounts[0].unit if line.amounts else None
        if grams_per(unit) is not None:
            return _around(_WEIGHED, "servings weighed")
        if millilitres_per(unit, market="us") is not None:
            return _around(_SPOONED, "servings by spoon or cup")
        return _around(_PIECES, "servings by the piece")
    text = portion.said
    if not text:
        return Interval(1.0, 1.0, 1.0, "the whole batch")
    amounts = read_line(text).amounts
    unit = portion.household.removeprefix("1 ")
    if head.get("net") is not None and portion.packs:
        loose, basis = _PACKED, "packs filled by weight"
    elif unit in _SOME_PEOPLE:
        loose, basis = _BY_EYE, "portions by eye"
    else:
        loose, basis = _PIECES, f"each {unit} like the next"
    if amounts and amounts[0].about:
        loose, basis = _ABOUT, f"“{text}”"
    if portion.low is not None and portion.high is not None and 0.0 < portion.low < portion.high:
        # Fewer servings are larger ones.
        low, high = portion.count / portion.high, portion.count / portion.low
        return Interval(1.0, min(1.0, low * (1.0 - loose / 2)), max(1.0, high * (1.0 + loose / 2)), f"“{text}”")
    return _around(loose, basis)


def _around(loose: float, basis: str) -> Interval:
    return Interval(1.0, 1.0 - loose, 1.0 + loose, basis)
