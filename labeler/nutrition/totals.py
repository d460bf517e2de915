"""Nutrients of a mix as figures: best estimate, 95 % interval, and what kind of knowledge stands behind them.

Each figure carries the worst status of the values behind it. A value that neither the table nor the imputation has
counts nothing in the best estimate and up to its bound in the high end (`labeler.foods.composition.bounds`). Such a
sum is a lower bound and says so, unless everything that is missing could not change it by a hundredth: then it is
bounded.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
from numpy.typing import NDArray

from labeler.cooking.state.mixture import CONSTITUENTS, KEYS, Array, Item, Mixture, column
from labeler.foods.composition.added_sugars import added_sugar_share
from labeler.foods.composition.bounds import missing_bound, unknown_bound
from labeler.foods.composition.food_table import load_table
from labeler.foods.composition.values import food_values
from labeler.percentiles import percentile
from labeler.types import Status
from labeler.uncertainty.monte_carlo import Propagated, inverse

__all__ = ["FIGURE_KEYS", "Figure", "energy_by_general_factors", "figures", "missing_amounts", "missing_bound"]

FIGURE_KEYS = (*KEYS, "SUGAR_ADDED")

# Missing values that together could add less than this share of the known sum do not make it a lower bound.
NEGLIGIBLE = 0.01

_SUGAR = KEYS.index("SUGAR")
_SOLIDS = CONSTITUENTS.index("solids")


@dataclass(frozen=True, slots=True)
class Figure:
    """One nutrient figure.

    Parameters
    ----------
    best, low, high : float
        Best estimate and 95 % interval, in the table's unit.
    status : Status
        The least trusted of the values behind it.
    missing : float
        The most that the values that are missing could add to the best estimate, which counts none of them; infinite
        where something was never weighed. It is part of `high`.
    """

    best: float
    low: float
    high: float
    status: Status
    missing: float = 0.0

    @property
    def lower_bound(self) -> bool:
        """True where a value behind it is missing, so that the best estimate is the least that it can be."""
        return self.status == Status.MISSING

    def scaled(self, factor: float) -> Figure:
        """The figure for another amount of the food; `factor` is not negative."""
        missing = self.missing * factor if np.isfinite(self.missing) else self.missing
        return replace(self, best=self.best * factor, low=self.low * factor, high=self.high * factor, missing=missing)


@cache
def _columns() -> list[int]:
    """Columns of the table in the order of `KEYS`."""
    return [load_table().column[key] for key in KEYS]


def _bounds(items: tuple[Item, ...], status: NDArray[np.uint8]) -> Array:
    """What each item may bring beyond what is counted of it, at most and per gram of it, shape (items, nutrients)."""
    bounds = np.zeros(status.shape)
    for at, item in enumerate(items):
        places = np.flatnonzero(status[at] == Status.MISSING)
        if item.food is None:
            bounds[at, places] = unknown_bound(item.kind)[_columns()][places]
            continue
        if not item.weighed:  # all of it is missing in the mix, but the table knows what it has
            known = food_values(item.food, item.market).best[_columns()] / 100.0
            bounds[at] = np.nan_to_num(known)
            places = np.flatnonzero(np.isnan(known))
        bounds[at, places] = [missing_bound(item.food, KEYS[place]) / 100.0 for place in places]
    return bounds


def _shares(items: tuple[Item, ...]) -> Array:
    """Best, low and high share of each item's sugars that is added, shape (items, 3)."""
    return np.array([_added_share(item) for item in items], dtype=float).reshape(-1, 3)


def _at_most(items: tuple[Item, ...]) -> dict[int, float]:
    """What each item that nobody weighed may weigh at most [g]; 0 where another one stands for it.

    A food lies in a mix several times: as put in, dissolved, taken up by another. Each is at most all of it, and so are
    they together.
    """
    found: dict[int, float] = {}
    counted: dict[tuple[str, int, str, str | None], str] = {}
    for at, item in enumerate(items):
        if not item.weighed:
            form = f"{item.phase} {item.cooked}"
            stands = counted.setdefault((item.part, item.line, item.name, item.food), form) == form
            found[at] = item.most_g if stands else 0.0
    return found


def missing_amounts(best: Mixture) -> Array:
    """The most that each item of a mix may bring beyond what is counted, shape (items, nutrients of `FIGURE_KEYS`).

    In the table's units: its missing values; all that it has where nobody weighed it, infinite where nobody could even
    say how much it is at most. Of salt to taste that is no fat, whatever it weighs.
    """
    bounds = _bounds(best.items, best.status)
    amounts = best.held[0, :, _SOLIDS, None] * bounds
    for at, most in _at_most(best.items).items():
        there = bounds[at] > 0.0
        amounts[at, there] = most * bounds[at, there]
    added = np.where(_shares(best.items)[:, [2]] > 0.0, amounts[:, [_SUGAR]], 0.0)
    return np.concatenate([amounts, added], axis=1)


def _added_share(item: Item) -> tuple[float, float, float]:
    if item.own is not None and item.own.added_share is not None:
        share = item.own.added_share
    elif item.food is not None:
        share = added_sugar_share(item.food)
    else:
        return 0.0, 0.0, 1.0  # nobody knows the food, so it may be a sugar
    return share.best, share.low, share.high


def _added_sugars(
    best: Mixture, spread: Mixture | None, divisor: float, divisor_spread: Array | None
) -> tuple[tuple[float, float, float], bool]:
    """Added sugars with their bounds, and whether somebody's recipe hides how much.

    The bounds are those of the shares, widened by what weights and handling do, but not by the sugar's own analyses.
    """
    shares = _shares(best.items)
    sugar = best.of("SUGAR")[0]
    amount, low, high = (float(sugar @ shares[:, at]) / divisor for at in range(3))
    if shares[:, 2].any() and spread is not None and divisor_spread is not None:
        drawn = spread.of("SUGAR") @ _shares(spread.items)[:, 1:] * inverse(divisor_spread)[:, None]
        low = min(low, percentile(np.sort(drawn[:, 0]), 0.025))
        high = max(high, percentile(np.sort(drawn[:, 1]), 0.975))
    here = best.held[0, :, _SOLIDS] > 0.0
    return (amount, low, high), bool((shares[here, 1] != shares[here, 2]).any())


def figures(
    best: Mixture,
    divisor: float,
    *,
    spread: Mixture | None = None,
    drawn: Propagated | None = None,
    divisor_spread: Array | None = None,
    nutrients: Collection[str] = FIGURE_KEYS,
) -> dict[str, Figure]:
    """Nutrients of a mix divided by something, as figures.

    Parameters
    ----------
    best : Mixture
        One draw, the best estimate.
    divisor : float
        What to divide by: 1 for the whole, servings, or grams over 100; above 0.
    spread, drawn, divisor_spread : Mixture, Propagated, array (draws,), or None
        The same over draws, for the interval; None for best estimates alone, and then all three.
    nutrients : collection of str
        Tagnames to have figures of; those that the kitchen does not follow are left out.

    Returns
    -------
    dict
        One figure for each, in the order of `FIGURE_KEYS`.
    """
    unweighed = np.array([not item.weighed for item in best.items], dtype=bool)
    present = (best.held[0, :, _SOLIDS] > 0.0) | unweighed
    (added, added_low, added_high), hidden = _added_sugars(best, spread, divisor, divisor_spread)
    totals = np.append(best.total[0] / divisor, added)
    missing = missing_amounts(best).sum(axis=0) / divisor
    low, high = totals.copy(), totals.copy()
    if drawn is not None and divisor_spread is not None:
        rows = [at for at, key in enumerate(KEYS) if key in nutrients or (at == _SUGAR and "SUGAR_ADDED" in nutrients)]
        ends = drawn.interval(divisor_spread, rows)
        low[rows], high[rows] = np.minimum(totals[rows], ends[0]), np.maximum(totals[rows], ends[1])
    low[-1], high[-1] = added_low, added_high
    high = high + np.where(np.isfinite(missing), missing, 0.0)
    # No more sugars were added than there are, at either end.
    for sums in (totals, low, high):
        sums[-1] = min(sums[-1], sums[_SUGAR])

    # An assumed zero adds nothing to the doubt about a sum; only a sum of nothing else is one.
    ranks = np.where(best.status == Status.ASSUMED_ZERO, 0, best.status)
    status = ranks[present].max(axis=0, initial=0)
    without = np.where(best.status == Status.MISSING, 0, ranks)[present].max(axis=0, initial=0)
    found: dict[str, Figure] = {}
    for place, key in enumerate(FIGURE_KEYS):
        if key not in nutrients:
            continue
        source = _SUGAR if key == "SUGAR_ADDED" else place
        kind = Status(int(status[source]) or Status.ASSUMED_ZERO)
        if missing[place] > NEGLIGIBLE * totals[place]:
            kind = Status.MISSING
        elif kind == Status.MISSING:
            # What is missing can be nothing, or next to nothing: bounded, so known as far as a guess is known.
            kind = Status.BOUNDED if missing[place] > 0 else Status(int(without[source]) or Status.ASSUMED_ZERO)
        if key == "SUGAR_ADDED" and kind < Status.BOUNDED:
            kind = Status.IMPUTED if hidden else max(kind, Status.CALCULATED)
        found[key] = Figure(float(totals[place]), float(low[place]), float(high[place]), kind, float(missing[place]))
    return found


def energy_by_general_factors(best: Mixture, divisor: float) -> float:
    """Energy from protein, carbohydrate, fat and alcohol by 4, 4, 9 and 7 kcal/g [kcal]: a check, not the figure.

    The general factors are those of 21 CFR 101.9(c)(1)(i)(B), with 7 kcal/g for alcohol (common practice, no source).
    """
    factors = {"PROCNT": 4.0, "CHOCDF": 4.0, "FAT": 9.0, "ALC": 7.0}
    return sum(factor * float(best.total[0, column(key)] / divisor) for key, factor in factors.items())
