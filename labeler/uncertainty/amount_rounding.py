"""How exactly a written amount is meant: the rounding of its number.

A cook who writes "1/2 cup" did not use a third of a cup, nor two thirds, but may have used anything nearer to a half.
The weights of `labeler.foods` say what a cup of the food weighs; here the number itself gets the half step to the next
figure that is usual for its unit. Figures that cooks use are common practice, no source.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from dataclasses import replace
from functools import cache

from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.parsing.model import Amount
from labeler.parsing.units import grams_per, kind, millilitres_per
from labeler.types import Interval

__all__ = ["half_step", "with_rounding"]

_USUAL = (
    *(1 / 8, 1 / 4, 1 / 3, 1 / 2, 2 / 3, 3 / 4, 1.0, 1.25, 1.5, 1.75),
    *(2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0),
)
_STEPS = (100.0, 50.0, 25.0, 20.0, 10.0, 5.0, 2.5, 1.0, 0.5, 0.25, 0.1)
# Steps of a scale and of a measuring jug are at most this share of what is measured.
_FINE = 0.1
# A uniform error within r has the standard deviation of a normal whose 95 % interval is 1.96 / sqrt(3) r to each side.
_UNIFORM = 1.959963984540054 / math.sqrt(3.0)


@cache
def half_step(value: float, unit: str | None) -> float:
    """Half the distance to the next usual figure, over the value; 0 for a value of 0 or less.

    Weights, and volumes in millilitres and litres, are taken in the largest round step that fits them and is no more
    than a tenth of them; cups, spoons and pieces in the fractions of a cook.
    """
    if value <= 0.0:
        return 0.0
    metric = unit is not None and (
        grams_per(unit) is not None
        or (unit.endswith(("liter", "litre")) and millilitres_per(unit, market="us") is not None)
    )
    if metric:
        for step in _STEPS:
            if step <= _FINE * value and abs(value / step - round(value / step)) < 1e-6:
                return step / 2.0 / value
        return 0.0
    at = bisect_left(_USUAL, value * (1 - 1e-6))
    below = _USUAL[at - 1] if at > 0 else value / 2.0
    above = _USUAL[at + 1] if at + 1 < len(_USUAL) else value * 1.1
    return max(value - below, above - value) / 2.0 / value if at < len(_USUAL) else 0.05


def _loose(amount: Amount) -> float:
    """Relative half-width of the rounding of one amount; a range says itself how far it goes."""
    if amount.low < amount.high:
        return 0.0
    if kind(amount.unit) == "count" and amount.unit is None and amount.low == int(amount.low):
        return 0.0  # two eggs are two eggs
    return _UNIFORM * half_step(amount.low, amount.unit)


def _rounded(line: WeighedLine) -> WeighedLine:
    also = tuple(_rounded(other) for other in line.also)
    amounts = [amount for amount in line.line.amounts if amount.role in ("main", "plus")]
    pinned = line.line.pin is not None and line.line.pin.grams is not None
    weight = line.grams
    if weight is None or weight.best <= 0.0 or not amounts or pinned:
        return replace(line, also=also) if also else line
    loose = max(_loose(amount) for amount in amounts)
    if loose == 0.0:
        return replace(line, also=also) if also else line
    low = 1.0 - math.hypot(1.0 - weight.low / weight.best, loose)
    high = 1.0 + math.hypot(weight.high / weight.best - 1.0, loose)
    wider = Interval(weight.best, weight.best * max(low, 0.0), weight.best * high, weight.basis)
    return replace(line, grams=wider, also=also)


def with_rounding(weighed: WeighedRecipe) -> WeighedRecipe:
    """The same recipe with the rounding of each written number in the bounds of its weight; best weights stay."""
    parts = tuple(replace(part, lines=tuple(_rounded(line) for line in part.lines)) for part in weighed.parts)
    return replace(weighed, parts=parts)
