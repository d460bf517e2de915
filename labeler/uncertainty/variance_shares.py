"""Where the doubt about a figure comes from: the share of its variance that each input brings.

Weights, handling, the choice of foods, composition and the division act on a total through the draws, and not always in
straight lines: their shares are first-order Sobol indices, estimated from the draws (`intervals.first_order`).
Composition is drawn as one sum over independent foods, so its share divides over them exactly, by the variances that
they bring. What remains is what inputs do only together.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from labeler.cooking.state.mixture import column
from labeler.cooking.state.sampling import Cause, DrawKey
from labeler.foods.composition.food_table import load_table
from labeler.uncertainty.linear_effects import KNOTS, first_order
from labeler.uncertainty.monte_carlo import Drawn, inverse

__all__ = ["Share", "variance_shares"]

# Inputs that do less than this in a straight line are left to the remainder, choices of food excepted: they jump.
_NOTHING = 0.001


@dataclass(frozen=True, slots=True)
class Share:
    """What one input brings to the doubt about a figure.

    Parameters
    ----------
    kind : str
        ``"weight"``, ``"which food"``, ``"composition"``, ``"handling"``, ``"division"`` or ``"together"``.
    what : str
        The input, in words.
    share : float
        Of the variance, 0 to 1; those of a figure sum to 1.
    """

    kind: str
    what: str
    share: float


def variance_shares(drawn: Drawn, key: str, *, per: str = "serving") -> tuple[Share, ...]:
    """Shares of the variance of one nutrient by input, largest first.

    Parameters
    ----------
    drawn : Drawn
        A dish over draws.
    key : str
        INFOODS tagname; KeyError for one that the kitchen does not follow.
    per : str
        ``"serving"``, ``"100g"`` or ``"batch"``; ValueError for another.

    Returns
    -------
    tuple of Share
        Empty where nothing is in doubt, and where there are too few draws to tell.
    """
    divisors = {"serving": drawn.servings, "100g": drawn.mass / 100.0, "batch": np.ones(drawn.inputs.draws)}
    if per not in divisors:
        raise ValueError(f"per: {per} is none of {', '.join(divisors)}")
    at, divisor = column(key), divisors[per]
    totals = drawn.propagated.totals([at])[0] * inverse(divisor)
    variance = float(totals.var())
    if variance <= 0.0:
        return ()
    effects = np.square(drawn.inputs.linear(totals[None])[0]) / variance
    chosen = [
        place
        for place, input_key in enumerate(drawn.inputs.keys)
        if effects[place] > _NOTHING or input_key.cause is Cause.FOOD
    ]
    columns = np.column_stack([drawn.inputs.normals[chosen].T, drawn.propagated.own([at])[0]]).astype(float)
    knots = min(KNOTS, len(totals) // (3 * columns.shape[1]))
    if knots < 2:
        return ()
    *indices, composed = first_order(totals[:, None], columns, knots=knots)[:, 0]
    found = [_share(drawn.inputs.keys[place], float(index)) for place, index in zip(chosen, indices, strict=True)]
    composition = drawn.propagated.composition
    variances = np.square(composition.by_food[:, at])
    if variances.any():
        parts = composed * variances / variances.sum()
        found += [
            Share("composition", _food_name(food), float(part))
            for food, part in zip(composition.foods, parts, strict=True)
        ]
    found = [share for share in found if share.share > _NOTHING]
    found.sort(key=lambda share: -share.share)
    rest = 1.0 - sum(share.share for share in found)
    return (*found, Share("together", "what inputs do only together, and small ones", rest))


def _share(key: DrawKey, index: float) -> Share:
    match key.cause:
        case Cause.DIVISION:
            return Share("division", key.cause.value, index)
        case Cause.FOOD:
            return Share("which food", _food_name(str(key.of[0])), index)
        case Cause.GRAMS:
            food, basis = key.of
            return Share("weight", f"{_food_name(str(food))}: {basis}", index)
        case _:
            return Share("handling", str(key), index)


def _food_name(food: str) -> str:
    table = load_table()
    return table.describe(food) if food in table else food.removeprefix("larder:")
