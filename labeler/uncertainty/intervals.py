"""What each input does to a total on its own, fitted to draws, and the ends of the total's interval.

Nearly all that inputs do to a total they do alone: on a scale of its own (itself, its square root or its eighth root)
the total is a sum of one function of each input and a small rest, what inputs do only together. The functions are
fitted to the draws by least squares. A sum of independent terms whose distributions are known has a known distribution,
their convolution, so that chance stays in the rest alone (a control variate; Hesterberg and Nelson 1998, Management
Science 44:1295). Of the rest only its mean and its spread at each value of the sum are taken from the draws.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from statistics import NormalDist
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from labeler.cooking.state.normal_quantiles import strata

__all__ = ["BasisFunction", "Fitter", "Reals", "Term", "chosen", "functions_for", "percentiles", "piecewise"]

Reals = NDArray[np.floating[Any]]
"""Numbers over draws, in whatever precision they were drawn."""

TAIL = 0.025
"""Probability beyond either end of an interval."""

# Points of an input at which its function is known, evenly out to so many standard deviations.
POINTS, FARTHEST = 128, 4.2
# Cells in which sums are convolved, out to so many of their standard deviations.
CELLS, REACHED = 384, 8.0
# Terms below this share of the variance are taken together as one normal.
SMALL = 0.003
# Where functions of a standard normal bend, the more needed first: a split normal does at its median.
BENDS = (0.0, -1.0, 1.0, 1.8, -1.8)
INPUT_BENDS = 3
OWN_BENDS = 4
# With fewer draws for each coefficient a fit follows chance.
FEWEST = 6
# Scales on which a total may be a sum: its powers.
POWERS = (1.0, 0.5, 0.125)
# A total of which more is left unexplained has its draws put where their sums belong, each with its own rest.
POOR = 0.1
# Degrees of the polynomials in the sum that tell the mean and the variance of the rest.
MEAN_DEGREE, VARIANCE_DEGREE = 4, 2
# The tail that is looked at for an end, in equally probable levels, and points of the rest at each.
REACH, LEVELS, RESTS = 0.16, 96, 12


_POINTS = np.linspace(-FARTHEST, FARTHEST, POINTS)
_UPTO = [NormalDist().cdf(edge) for edge in (_POINTS[1:] + _POINTS[:-1]) / 2.0]
_WEIGHTS = np.diff([0.0, *_UPTO, 1.0])


class Term(NamedTuple):
    """Functions of one input, whose sum with some weights is what it adds to a total.

    Parameters
    ----------
    drawn : array (functions, draws)
    points : array (POINTS, functions)
        The same at points of the input's distribution.
        Less their means over it, and 0 where it has no point.
    weights : array (POINTS,)
        Probability of each point; they sum to 1.
    means : array (functions,)
        Of the functions over the distribution.
    """

    drawn: Reals
    points: Reals
    weights: Reals
    means: Reals


def _hinges(normals: Reals, bends: int) -> Reals:
    """A straight line and hinges of standard normals, on a new first axis."""
    found: Reals = np.empty((bends + 1, *normals.shape))
    found[0] = normals
    for side, bend in zip(found[1:], BENDS[:bends], strict=True):
        if bend >= 0.0:
            np.subtract(normals, bend, out=side)
        else:
            np.subtract(bend, normals, out=side)
        np.maximum(side, 0.0, out=side)
    return found


@cache
def _of_normal(bends: int) -> tuple[Reals, Reals]:
    """The hinges at the points of a normal's distribution less their means, and the means."""
    points = np.ascontiguousarray(_hinges(_POINTS, bends).T)
    means = _WEIGHTS @ points
    points -= means
    for one in (points, means):
        one.flags.writeable = False
    return points, means


def piecewise(normals: Reals, bends: int) -> Term:
    """Piecewise linear functions of a standard normal (draws,), with so many bends."""
    points, means = _of_normal(bends)
    return Term(_hinges(normals, bends), points, _WEIGHTS, means)


def chosen(places: NDArray[np.intp], weights: Sequence[float]) -> Term:
    """One value for each of some things to choose from, by their places in the draws (draws,) and probabilities."""
    seen = np.flatnonzero(np.bincount(places, minlength=len(weights)))[1:]
    points, probability = np.zeros((POINTS, len(seen))), np.zeros(POINTS)
    points[seen, np.arange(len(seen))] = 1.0
    probability[: len(weights)] = np.asarray(weights) / sum(weights)
    means = probability[seen]
    points = np.where(probability[:, None] > 0.0, points - means, 0.0)
    return Term((places == seen[:, None]).astype(float), points, probability, means)


class Functions(NamedTuple):
    """How much is fitted: bends of each input's function, and whether each value of a choice has its own."""

    bends: int
    values: bool


def functions_for(draws: int, *, inputs: int, choices: int, values: int) -> Functions | None:
    """As much as so many draws can tell of some inputs and of choices with so many values; None for not even lines."""
    room = draws / FEWEST
    if room >= values + inputs:
        return Functions(min(int((room - values) / max(inputs, 1)), INPUT_BENDS + 1) - 1, values=True)
    return Functions(0, values=False) if room >= inputs + choices else None


class BasisFunction:
    """Functions of all inputs of a dish over its draws, less their means.

    Parameters
    ----------
    terms : sequence of Term
    draws : int
    """

    def __init__(self, terms: Sequence[Term], draws: int) -> None:
        self.weights = np.array([term.weights for term in terms]).reshape(-1, POINTS)
        self.points = [term.points for term in terms]
        upto = np.cumsum([0, *(len(term.means) for term in terms)]).tolist()
        self.places = [slice(start, end) for start, end in pairwise(upto)]
        # Function by function, so that the draws of each lie beside one another.
        self.centred = np.empty((upto[-1], draws))
        for term, at in zip(terms, self.places, strict=True):
            self.centred[at] = term.drawn
        drawn = self.centred.mean(axis=1)
        self.centred -= drawn[:, None]
        self.means = drawn - np.concatenate([*(term.means for term in terms), np.zeros(0)])
        square = self.centred @ self.centred.T + 1e-9 * draws * np.eye(len(drawn))
        self.inverse = np.linalg.inv(square)


class _Fit(NamedTuple):
    """Sums fitted to some totals on their scales, what the sums leave, and what each input and the own normal does."""

    sums: Reals
    rest: Reals
    start: Reals
    weights: Reals
    own: Reals


class Fitter:
    """Fits sums of functions of single inputs to totals, and takes the ends of their intervals from them.

    Parameters
    ----------
    own : array (totals, draws)
        For each total a standard normal of its own that goes with it.
    basis : BasisFunction
        Of the inputs that all totals share.
    """

    def __init__(self, own: Reals, basis: BasisFunction) -> None:
        self._basis = basis
        self._own = np.ascontiguousarray(_hinges(own, OWN_BENDS).transpose(1, 0, 2))
        self._own -= self._own.mean(axis=2, keepdims=True)
        square = self._own @ self._own.transpose(0, 2, 1)
        square += 1e-6 * own.shape[1] * np.eye(square.shape[1])
        self._inverse = np.linalg.inv(square)

    def _effects(self, scaled: Reals) -> tuple[Reals, Reals, Reals]:
        """Weights of the functions of the inputs and of the own normal, and how much of the variance they explain.

        Of totals (totals, draws), or of those on several scales (scales, totals, draws). The own normal goes first, or
        chance correlations with it would be taken for effects of the inputs.
        """
        with_own = self._own @ scaled[..., None]
        own = (self._inverse @ with_own).swapaxes(-1, -2)
        rest = scaled - (own @ self._own)[..., 0, :]
        together = (rest.reshape(-1, rest.shape[-1]) @ self._basis.centred.T).reshape(*rest.shape[:-1], -1)
        weights = together @ self._basis.inverse
        explained = np.einsum("...f,...f->...", weights, together) + (own @ with_own)[..., 0, 0]
        return weights, own, explained

    def scales(self, totals: Reals) -> Reals:
        """For each total (totals, draws) the power on which most of it is a sum, shape (totals,)."""
        scaled: Reals = np.empty((len(POWERS), *totals.shape))
        scaled[0] = totals
        scaled[0] += _floor(totals)
        for at, (power, before) in enumerate(zip(POWERS[1:], POWERS, strict=False), start=1):
            scaled[at] = _power(scaled[at - 1], power / before)
        scaled -= scaled.mean(axis=2, keepdims=True)
        variance = np.einsum("ptd,ptd->pt", scaled, scaled)
        shares = self._effects(scaled)[2] / np.maximum(variance, 1e-30)
        best: Reals = np.array(POWERS)[np.argmax(shares, axis=0)]
        return best

    def _fit(self, totals: Reals, scales: Reals) -> _Fit:
        scaled = np.empty_like(totals)
        for power in POWERS:
            rows = scales == power
            scaled[rows] = _power(totals[rows] + _floor(totals[rows]), power)
        mean = scaled.mean(axis=1, keepdims=True)
        scaled -= mean
        weights, _, _ = self._effects(scaled)
        sums = weights @ self._basis.centred
        own = (self._inverse @ (self._own @ (scaled - sums)[:, :, None])).transpose(0, 2, 1)
        sums += (own @ self._own)[:, 0]
        # Functions have the mean 0 over their inputs, which that over the draws all but is.
        start = mean[:, 0] - weights @ self._basis.means
        return _Fit(sums + mean, scaled - sums, start, weights, own[:, 0])

    def ends(self, totals: Reals, scales: Reals) -> tuple[Reals, Reals]:
        """Ends of the 95 % intervals of totals (totals, draws), none below 0, on the powers that `scales` tells."""
        fit, basis = self._fit(totals, scales), self._basis
        values = [points @ fit.weights[:, at].T for points, at in zip(basis.points, basis.places, strict=True)]
        values.append(_of_normal(OWN_BENDS)[0] @ fit.own.T)
        terms, weights = np.array(values), np.concatenate([basis.weights, _WEIGHTS[None]])
        levels = (np.arange(LEVELS) + 0.5) / LEVELS * REACH
        sums = _quantiles(terms, weights, np.concatenate([levels, 1.0 - levels[::-1]])) + fit.start[:, None]
        with_rest = _with_rest(sums, fit)
        low = _at(np.sort(with_rest[:, :LEVELS].reshape(len(totals), -1), axis=1), TAIL / REACH)
        high = _at(np.sort(with_rest[:, LEVELS:].reshape(len(totals), -1), axis=1), 1.0 - TAIL / REACH)
        left, whole = np.square(fit.rest).mean(axis=1), np.var(fit.sums + fit.rest, axis=1)
        poor = np.flatnonzero(left > POOR * whole)
        if len(poor):
            each = (np.arange(totals.shape[1]) + 0.5) / totals.shape[1]
            placed = _quantiles(terms[:, :, poor], weights, each) + fit.start[poor, None]
            order = np.argsort(fit.sums[poor], axis=1, kind="stable")
            ordered = np.sort(placed + np.take_along_axis(fit.rest[poor], order, axis=1), axis=1)
            low[poor], high[poor] = _at(ordered, TAIL), _at(ordered, 1.0 - TAIL)
        floor = _floor(totals)[:, 0]
        low, high = (np.maximum(end, 0.0) ** (1.0 / scales) - floor for end in (low, high))
        sure = np.ptp(totals, axis=1) == 0.0
        low[sure] = high[sure] = totals[sure, 0]
        return np.maximum(low, 0.0), np.maximum(high, 0.0)


def percentiles(totals: Reals) -> tuple[Reals, Reals]:
    """Ends of the 95 % intervals of totals (totals, draws) as they were drawn."""
    ordered = np.sort(totals, axis=1)
    return _at(ordered, TAIL), _at(ordered, 1.0 - TAIL)


def _floor(totals: Reals) -> Reals:
    """What is added before a root is taken, a hundredth of the mean: roots of next to nothing differ much."""
    floor: Reals = 0.01 * totals.mean(axis=1, keepdims=True)
    return floor


def _power(totals: Reals, power: float) -> Reals:
    """A root, by square roots alone, which every processor rounds alike; a copy."""
    found = np.array(totals)
    while power < 1.0:
        found, power = np.sqrt(found), power * 2.0
    return found


def _with_rest(sums: Reals, fit: _Fit) -> Reals:
    """Some sums (totals, levels) with the rest that goes with them, shape (totals, levels, RESTS)."""
    middle = fit.sums.mean(axis=1, keepdims=True)
    wide = np.maximum(fit.sums.std(axis=1, keepdims=True), 1e-30)
    drawn, asked = (fit.sums - middle) / wide, (sums - middle) / wide
    powers, at = _powers(drawn, MEAN_DEGREE), _powers(asked, MEAN_DEGREE)
    weights = _regress(powers, fit.rest)
    asked_mean = (weights @ at)[:, 0]
    left = np.square(fit.rest - (weights @ powers)[:, 0])
    asked_variance = (_regress(powers[:, : VARIANCE_DEGREE + 1], left) @ at[:, : VARIANCE_DEGREE + 1])[:, 0]
    spread = np.sqrt(np.maximum(asked_variance, 0.1 * left.mean(axis=1, keepdims=True)))
    found: Reals = (sums + asked_mean)[:, :, None] + spread[:, :, None] * strata(RESTS)
    return found


def _regress(powers: Reals, y: Reals) -> Reals:
    """Weights (rows, 1, powers) of a polynomial of each row of `y` (rows, values) in what has these powers."""
    square = powers @ powers.transpose(0, 2, 1) + 1e-6 * y.shape[1] * np.eye(powers.shape[1])
    weights: Reals = np.linalg.solve(square, powers @ y[:, :, None]).transpose(0, 2, 1)
    return weights


def _powers(x: Reals, degree: int) -> Reals:
    """Powers of rows (rows, values) from 0 up, shape (rows, powers, values)."""
    found = np.empty((len(x), degree + 1, x.shape[1]), dtype=x.dtype)
    found[:, 0] = 1.0
    for power in range(degree):
        found[:, power + 1] = found[:, power] * x
    return found


def _at(ordered: Reals, level: float) -> Reals:
    """Percentile of rows in order; the value of rank r stands for the level (r + 1/2) / n."""
    most = ordered.shape[1] - 1
    place = min(max(level * ordered.shape[1] - 0.5, 0.0), float(most))
    low = int(place)
    found: Reals = ordered[:, low] + (ordered[:, min(low + 1, most)] - ordered[:, low]) * (place - low)
    return found


def _quantiles(values: Reals, weights: Reals, levels: Reals) -> Reals:
    """Quantiles (totals, levels) of sums of independent terms.

    `values` (terms, points, totals) with mean 0 have the probabilities `weights` (terms, points). Their distributions
    are laid on one ring of cells for each total, wide enough that what goes round it does not matter, every value
    shared by the two cells beside it, and convolved by Fourier transforms. Terms that hardly matter go in together as a
    normal, whose variance is less by what the sharing adds.
    """
    count = values.shape[2]
    variance = np.einsum("jp,jpt->jt", weights, np.square(values))
    whole = variance.sum(axis=0)
    large = variance > SMALL * whole
    of, term = np.nonzero(large.T)
    step = np.maximum(2.0 * REACHED * np.sqrt(whole) / CELLS, 1e-150)
    small = np.where(large, 0.0, variance).sum(axis=0) - np.bincount(of, minlength=count) * np.square(step) / 6.0
    total = np.concatenate([of, np.arange(count)])
    order = np.argsort(total, kind="stable")
    total = total[order]
    rest = np.sqrt(np.maximum(small, 0.0))[:, None] * _POINTS
    place = np.concatenate([values[term, :, of], rest])[order] / step[total][:, None]
    chance = np.concatenate([weights[term], np.tile(_WEIGHTS, (count, 1))])[order]
    below = np.floor(place)
    above = chance * (place - below)
    cell = below.astype(np.intp) % CELLS
    beside = (cell + 1) % CELLS
    row = np.arange(len(total))[:, None] * CELLS
    size = len(total) * CELLS
    masses = np.bincount((row + cell).ravel(), (chance - above).ravel(), size)
    masses += np.bincount((row + beside).ravel(), above.ravel(), size)
    first = np.searchsorted(total, np.arange(count))
    waves = np.multiply.reduceat(np.fft.rfft(masses.reshape(-1, CELLS), axis=1), first, axis=0)
    # The mean is in cell 0: half of the ring lies below it.
    mass = np.roll(np.maximum(np.fft.irfft(waves, CELLS, axis=1), 0.0), CELLS // 2, axis=1)
    upto = np.cumsum(mass, axis=1)
    upto = (upto - mass / 2.0) / upto[:, -1:]
    places = np.arange(CELLS) - CELLS // 2
    found = [np.interp(levels, upto[at], step[at] * places) for at in range(count)]
    return np.array(found).reshape(count, len(levels))
