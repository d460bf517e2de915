"""How far diffusion has come: Crank's solutions for a sheet, a cylinder and a sphere, in a large or a limited bath.

J. Crank, The Mathematics of Diffusion, 2nd ed., Oxford 1975: plane sheet p. 48, cylinder p. 73, sphere p. 91; in a
bath of limited volume pp. 57, 77 and 94 (the limited forms from memory; the tests hold them to a difference scheme and
to the endless bath). Uptake is given as a share of what is taken up in the end, as a function of Fo = D t / a², with a
the half-thickness or radius. Below Fo 0.0002 uptake goes by the square root of time from its value there, the
short-time limit of all three.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache, lru_cache

import numpy as np
from numpy.typing import ArrayLike

from labeler.cooking.state.mixture import Array

__all__ = ["FORMS", "uptake", "uptakes"]

FORMS = ("sheet", "cylinder", "sphere")
_TERMS = 40
_SHORT = 0.0002
_LARGEST_BATH = 1e4  # liquor over food, beyond which the bath counts as endless
_SMALLEST_BATH = 1e-3
_FEW = 64
# The tables: 65 baths and 360 Fourier numbers, evenly in their logarithms.
_BATHS, _GRID = 65, 360
_LEAST_FO, _MOST_FO = 1e-9, 1e3
_PER_LOG_BATH = (_BATHS - 1) / math.log(_LARGEST_BATH / _SMALLEST_BATH)
_PER_LOG_FO = (_GRID - 1) / math.log(_MOST_FO / _LEAST_FO)


def uptake(form: str, fo: ArrayLike, *, bath: ArrayLike = np.inf) -> Array:
    """Share of the final uptake (or loss) reached.

    Parameters
    ----------
    form : str
        "sheet", "cylinder" or "sphere"; raises KeyError for another.
    fo : array
        Fourier number D t / a², not negative; 0 gives 0 and infinity gives 1.
    bath : array
        Solute that the liquor can hold per what the food can hold, Crank's alpha: liquor water over equilibrium ratio
        times food water. Infinity is a bath whose concentration does not change.

    Returns
    -------
    array
        Broadcast of both, from 0 to 1.
    """
    if form not in FORMS:
        raise KeyError(form)
    fo, bath = np.broadcast_arrays(np.asarray(fo, dtype=float), np.asarray(bath, dtype=float))
    flat, alpha = np.maximum(fo.ravel(), 0.0), np.clip(bath.ravel(), _SMALLEST_BATH, _LARGEST_BATH)
    if flat.size <= _FEW:
        share = np.array([_share(form, number, ratio)[0] for number, ratio in zip(flat[:, None], alpha, strict=True)])
        return share.reshape(fo.shape)
    return uptakes(form, flat, (1.0,), bath=alpha)[0].reshape(fo.shape)


def uptakes(form: str, fo: Array, speeds: Sequence[float | Array], *, bath: Array) -> list[Array]:
    """The same as `uptake` for solutes of several speeds at once, from tables that are interpolated; good to 5e-4.

    Parameters
    ----------
    form : str
    fo, bath : array
        As for `uptake`, of one shape.
    speeds : sequence of float or array
        Diffusivities of the solutes relative to the one that `fo` is for; arrays broadcast to `fo`.
    """
    alpha = np.clip(bath, _SMALLEST_BATH, _LARGEST_BATH)
    at_bath = (np.log(alpha) - math.log(_SMALLEST_BATH)) * _PER_LOG_BATH
    lower = np.minimum(at_bath.astype(np.intp), _BATHS - 2)
    above = at_bath - lower
    first, last = int(lower.min(initial=_BATHS - 2)), int(lower.max(initial=0)) + 1
    table = np.concatenate(_tables(form, first, last))
    row = (lower - first) * _GRID
    at_unit = (np.log(np.clip(fo, _LEAST_FO, _MOST_FO)) - math.log(_LEAST_FO)) * _PER_LOG_FO
    nothing = fo <= 0.0
    found = []
    for speed in speeds:
        at_fo = np.clip(at_unit + np.log(np.maximum(speed, 1e-9)) * _PER_LOG_FO, 0.0, _GRID - 1.0)
        left = np.minimum(at_fo.astype(np.intp), _GRID - 2)
        right = at_fo - left
        left += row
        under = table[left] + right * (table[left + 1] - table[left])
        left += _GRID
        over = table[left] + right * (table[left + 1] - table[left])
        share: Array = under + above * (over - under)
        share[nothing] = 0.0
        found.append(share)
    return found


# Share of the final uptake on the grid of Fourier numbers, by form and bath: 195 at most, made when first asked for.
_TABLES: dict[tuple[str, int], Array] = {}


def _tables(form: str, first: int, last: int) -> list[Array]:
    """Share of the final uptake on the grid of Fourier numbers for each of some baths; roots are sought together."""
    missing = [node for node in range(first, last + 1) if (form, node) not in _TABLES]
    if missing:
        fo = np.exp(math.log(_LEAST_FO) + np.arange(_GRID) / _PER_LOG_FO)
        baths = [_SMALLEST_BATH * math.exp(node / _PER_LOG_BATH) for node in missing]
        roots = _roots(form, np.array(baths)[:, None], _terms(fo))
        for node, alpha, q in zip(missing, baths, roots, strict=True):
            _TABLES[form, node] = _series(form, fo, alpha, q)
    return [_TABLES[form, node] for node in range(first, last + 1)]


def _terms(fo: Array) -> int:
    """Terms of the series that some Fourier numbers need."""
    least = max(float(fo.min()), _SHORT)
    needed = 3.2 / (math.pi * math.sqrt(min(1.0, least))) + 1.0
    return next(few for few in (4, 8, 16, _TERMS) if few >= min(needed, _TERMS))


def _share(form: str, fo: Array, alpha: float) -> Array:
    """Share of the final uptake for some Fourier numbers in one bath."""
    return _series(form, fo, alpha, _one_root(form, alpha, _terms(fo)))


@lru_cache(maxsize=512)
def _one_root(form: str, alpha: float, terms: int) -> Array:
    roots: Array = _roots(form, np.array([[alpha]]), terms)[0]
    return roots


def _series(form: str, fo: Array, alpha: float, q: Array) -> Array:
    """Share of the final uptake from the roots of a bath."""
    full = np.maximum(fo, _SHORT)
    rate, weight = _endless(form, len(q)) if alpha >= _LARGEST_BATH else _limited(form, alpha, q)
    series = 1.0 - np.exp(-np.multiply.outer(np.minimum(full, 1e6), rate)) @ weight
    early = np.minimum(1.0, np.sqrt(fo / _SHORT))
    share: Array = np.clip(series * early, 0.0, 1.0)
    return share


@cache
def _endless(form: str, terms: int) -> tuple[Array, Array]:
    """Rates and weights of the series in an endless bath."""
    number = np.arange(1.0, terms + 1.0)
    if form == "sheet":
        rate: Array = ((2 * number - 1) * math.pi / 2.0) ** 2
        return rate, 2.0 / rate
    if form == "sphere":
        rate = (number * math.pi) ** 2
        return rate, 6.0 / rate
    rate = _bessel_zeros(0)[:terms] ** 2
    return rate, 4.0 / rate


def _limited(form: str, a: float, q: Array) -> tuple[Array, Array]:
    """Rates and weights of the series in a limited bath, from its roots."""
    if form == "sheet":
        weight = 2.0 * a * (1.0 + a) / (1.0 + a + (a * q) ** 2)
    elif form == "sphere":
        weight = 6.0 * a * (1.0 + a) / (9.0 + 9.0 * a + (a * q) ** 2)
    else:
        weight = 4.0 * a * (1.0 + a) / (4.0 + 4.0 * a + (a * q) ** 2)
    return q**2, weight


def _roots(form: str, alpha: Array, terms: int) -> Array:
    """The first positive roots for baths of shape (baths, 1), shape (baths, terms), by bisection between known bounds.

    Sheet tan q = -alpha q, sphere tan q = 3 q / (3 + alpha q²), cylinder alpha q J0(q) + 2 J1(q) = 0.
    """
    number: Array = np.arange(1.0, terms + 1.0)
    low: Array
    high: Array
    if form == "sheet":
        low, high = (number - 0.5) * math.pi, number * math.pi
    elif form == "sphere":
        low, high = number * math.pi, (number + 0.5) * math.pi
    else:
        low, high = _bessel_zeros(0)[:terms], _bessel_zeros(1)[:terms]
    low, high = (np.tile(end, (len(alpha), 1)) for end in (low, high))

    def value(q: Array) -> Array:
        if form == "sheet":
            return np.asarray(np.sin(q) + alpha * q * np.cos(q))
        if form == "sphere":
            return np.asarray(np.sin(q) * (3.0 + alpha * q**2) - 3.0 * q * np.cos(q))
        return alpha * q * _bessel(0, q) + 2.0 * _bessel(1, q)

    sign = np.sign(value(low + 1e-9))
    for _ in range(32):
        middle = (low + high) / 2.0
        same = np.sign(value(middle)) == sign
        low, high = np.where(same, middle, low), np.where(same, high, middle)
    roots: Array = (low + high) / 2.0
    return roots


_NEAR = 12.0
_ANGLES = (np.arange(48) + 0.5) * math.pi / 48


def _bessel(order: int, x: Array) -> Array:
    """Bessel function of the first kind of order 0 or 1 for positive x.

    Below 12 by its integral (Abramowitz and Stegun 9.1.21), above by Hankel's expansion (9.2.5 to 9.2.10); to 1e-6.
    """
    far = np.maximum(x, _NEAR)
    mu, eight = 4.0 * order**2, 8.0 * far
    p = 1.0 - (mu - 1) * (mu - 9) / (2.0 * eight**2)
    p += (mu - 1) * (mu - 9) * (mu - 25) * (mu - 49) / (24.0 * eight**4)
    q = (mu - 1) / eight - (mu - 1) * (mu - 9) * (mu - 25) / (6.0 * eight**3)
    phase = far - (order / 2.0 + 0.25) * math.pi
    value: Array = np.sqrt(2.0 / (math.pi * far)) * (p * np.cos(phase) - q * np.sin(phase))
    near = x < _NEAR
    if near.any():
        value[near] = np.cos(order * _ANGLES - np.multiply.outer(x[near], np.sin(_ANGLES))).mean(axis=-1)
    return value


@cache
def _bessel_zeros(order: int) -> Array:
    """The first positive zeros of J0 or J1: McMahon's expansion (Abramowitz and Stegun 9.5.12), then Newton's steps."""
    number: Array = np.arange(1.0, _TERMS + 1.0)
    x: Array = (number + order / 2.0 - 0.25) * math.pi
    for _ in range(6):
        slope = -_bessel(1, x) if order == 0 else _bessel(0, x) - _bessel(1, x) / x
        x = x - _bessel(order, x) / slope
    return x
