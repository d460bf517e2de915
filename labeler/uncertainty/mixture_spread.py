"""What the spread of foods makes of a dish: deviations of its nutrients, and how they go together.

Foods vary on their own, so their variances add; the same food on three lines is one food and varies as one. Only the
sums over foods are ever needed, so they are drawn as such: for each nutrient one variable with the variance and the
skewness of the sum, a shifted lognormal, which for a single food is its own lognormal. Protein, fat, carbohydrate,
alcohol and energy are drawn together, with the covariances that the balance of mass and the energy factors give them.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from labeler.cooking.state.mixture import CONSTITUENTS, KEYS, Array, Mixture, column
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.uncertainty.composition_error import MACROS, FoodSpread, food_spread, own_spread

__all__ = ["MixSpread", "composition_normals", "mix_spread", "with_tied"]

_TIED = np.array([column(key) for key in (*MACROS, "ENERC_KCAL")])
_SOLIDS = CONSTITUENTS.index("solids")
# Beyond this skewness a lognormal has no more shape to give than one very long tail.
_LARGEST_SKEW = 8.0


class MixSpread(NamedTuple):
    """Deviations of the nutrients of a mix because its foods are not the table's means.

    Parameters
    ----------
    foods : tuple of str
        Ids of the foods, each once: the table's, or those of the cook's own.
    by_food : array (foods, nutrients)
        Standard deviation that each food brings, in the table's units.
    sd, skew : array (nutrients,)
        Of the whole.
    tie : array (5, 5)
        Cholesky factor of the correlations of protein, fat, carbohydrate, alcohol and energy.
    """

    foods: tuple[str, ...]
    by_food: Array
    sd: Array
    skew: Array
    tie: Array


def mix_spread(mix: Mixture) -> MixSpread:
    """Deviations of a mix as it is in its first draw.

    A nutrient that a step took out of a food, or heat destroyed, takes its deviation along: the deviation stays the
    same share of what is there. Items without a food have none.
    """
    places: dict[str, int] = {}
    spreads: list[FoodSpread] = []
    of = []
    for item in mix.items:
        food = item.own.id if item.own is not None else item.food
        if food is not None and food not in places:
            places[food] = len(places)
            spreads.append(own_spread(item.own) if item.own is not None else food_spread(food, item.market))
        of.append(-1 if food is None else places[food])
    held, count = mix.held[0], len(places)
    amounts = np.einsum("ik,ikn->in", held, mix.composition)
    share = np.zeros((count, len(mix.items)))
    for at, place in enumerate(of):
        if place >= 0:
            share[place, at] = 1.0
    amounts, grams = share @ amounts, share @ held[:, _SOLIDS]
    if not spreads:
        nothing = np.zeros(len(KEYS))
        return MixSpread((), np.zeros((0, len(KEYS))), nothing, nothing, np.eye(len(_TIED)))
    sd, cv = np.stack([one.sd for one in spreads]), np.stack([one.cv for one in spreads])
    by_food = np.where(cv > 0.0, amounts * cv, grams[:, None] * sd)

    # Grams of the food that its protein, fat, carbohydrate and alcohol still stand for.
    values = np.divide(sd, cv, out=np.zeros_like(sd), where=cv > 0.0)
    macros = _TIED[: len(MACROS)]
    standing = np.divide(
        amounts[:, macros],
        values[:, macros],
        out=np.repeat(grams[:, None], len(MACROS), axis=1),
        where=values[:, macros] > 0.0,
    )
    drivers = np.stack([one.drivers for one in spreads]) * standing[:, None, :]
    energy = np.einsum("fdm,fm->fd", drivers, np.stack([one.factors for one in spreads]))
    tied = np.concatenate([drivers, energy[:, :, None]], axis=2)
    by_food[:, _TIED] = np.linalg.norm(tied, axis=1)

    variance = np.square(by_food)
    total = variance.sum(axis=0)
    whole = np.sqrt(total)
    third = (variance * by_food * _lognormal_skew(cv)).sum(axis=0)
    skew = np.divide(third, total * whole, out=np.zeros_like(total), where=total > 0.0)
    flat = tied.reshape(-1, len(_TIED))
    covariance = flat.T @ flat
    own = np.sqrt(np.diag(covariance))
    both = np.outer(own, own)
    correlation = np.divide(covariance, both, out=np.zeros_like(both), where=both > 0.0)
    np.fill_diagonal(correlation, 1.0)
    tie = np.linalg.cholesky(correlation + 1e-9 * np.eye(len(own)))
    return MixSpread(tuple(places), by_food, whole, np.minimum(skew, _LARGEST_SKEW), tie)


def _lognormal_skew(cv: Array) -> Array:
    """Skewness of a lognormal of a coefficient of variation: 3 cv + cv³."""
    return np.asarray(cv * (3.0 + cv * cv))


@cache
def _normals(count: int, row: int) -> Array:
    """Stratified standard normals of one nutrient, in an order of its own."""
    return Sampler(count).normal(Cause.COMPOSITION, KEYS[row])[1:]


def with_tied(rows: Sequence[int]) -> list[int]:
    """Some rows of nutrients in order, with all of those that are drawn together where one of them is among them."""
    tied = _TIED.tolist()
    return sorted({*rows, *tied} if not set(tied).isdisjoint(rows) else set(rows))


def composition_normals(
    spread: MixSpread, order: NDArray[np.intp], *, of: int, rows: Sequence[int]
) -> tuple[Array, Array]:
    """Draws of the deviations of a mix.

    Parameters
    ----------
    spread : MixSpread
    order : array of int (draws,)
        An order of the draws, or of some of them, that has nothing to do with any other input's.
    of : int
        How many draws there are in all.
    rows : sequence of int
        Of which nutrients, as `with_tied` gives them; those of one do not depend on which others are asked for.

    Returns
    -------
    normals : array (rows, draws)
        Standard normals, one a nutrient; those of the macros and energy go together.
    deviations : array (rows, draws)
        Deviations in the table's units, with mean 0: s (exp(a z - a²/2) - 1) / sqrt(exp(a²) - 1), with `a` such that
        the skewness is that of the sum. Below a skewness of 0.02 they are normal.
    """
    normals = np.array([_normals(of, row)[order] for row in rows])
    place = {row: at for at, row in enumerate(rows)}
    if int(_TIED[0]) in place:
        tied = [place[row] for row in _TIED.tolist()]
        normals[tied] = spread.tie @ normals[tied]
    sd, skewness = spread.sd[rows], spread.skew[rows]
    deviations = normals * sd[:, None]
    skewed = np.flatnonzero(skewness > 0.02)
    if len(skewed):
        skew = skewness[skewed]
        # exp(a²) = y solves (y + 2) sqrt(y - 1) = skewness.
        root = np.cbrt(1.0 + skew**2 / 2.0 + skew * np.sqrt(1.0 + skew**2 / 4.0))
        y = root + 1.0 / root - 1.0
        a = np.sqrt(np.log(y))[:, None]
        raised = np.expm1(normals[skewed] * a - a * a / 2)
        deviations[skewed] = raised * (sd[skewed] / np.sqrt(y - 1.0))[:, None]
    return normals, deviations
