"""Quantiles of the standard normal distribution, the same to the last bit on every processor.

Mathematical libraries differ from each other in the last digit of a logarithm, and some compilers join a product and a
sum into one operation, so that a quantile of Python or of another library differs as well. Here only those operations
are used that IEEE 754 rounds in one way alone (sum, product, quotient, square root), each on its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = ["normal_quantile", "strata"]

Array = NDArray[np.float64]

_LN2 = 0.6931471805599453
# Coefficients of PPND16, highest power first: numerator and denominator in the middle, in the tails, far out.
_MIDDLE = (
    (2.5090809287301226727e3, 3.3430575583588128105e4, 6.7265770927008700853e4, 4.5921953931549871457e4,
     1.3731693765509461125e4, 1.9715909503065514427e3, 1.3314166789178437745e2, 3.3871328727963666080e0),
    (5.2264952788528545610e3, 2.8729085735721942674e4, 3.9307895800092710610e4, 2.1213794301586595867e4,
     5.3941960214247511077e3, 6.8718700749205790830e2, 4.2313330701600911252e1, 1.0),
)  # fmt: skip
_TAIL = (
    (7.74545014278341407640e-4, 2.27238449892691845833e-2, 2.41780725177450611770e-1, 1.27045825245236838258e0,
     3.64784832476320460504e0, 5.76949722146069140550e0, 4.63033784615654529590e0, 1.42343711074968357734e0),
    (1.05075007164441684324e-9, 5.47593808499534494600e-4, 1.51986665636164571966e-2, 1.48103976427480074590e-1,
     6.89767334985100004550e-1, 1.67638483018380384940e0, 2.05319162663775882187e0, 1.0),
)  # fmt: skip
_FAR = (
    (2.01033439929228813265e-7, 2.71155556874348757815e-5, 1.24266094738807843860e-3, 2.65321895265761230930e-2,
     2.96560571828504891230e-1, 1.78482653991729133580e0, 5.46378491116411436990e0, 6.65790464350110377720e0),
    (2.04426310338993978564e-15, 1.42151175831644588870e-7, 1.84631831751005468180e-5, 7.86869131145613259100e-4,
     1.48753612908506148525e-2, 1.36929880922735805310e-1, 5.99832206555887937690e-1, 1.0),
)  # fmt: skip


def _ratio(of: tuple[Sequence[float], Sequence[float]], x: Array) -> Array:
    """A ratio of two polynomials by Horner's rule."""
    above, below = np.zeros_like(x), np.zeros_like(x)
    for up, down in zip(*of, strict=True):
        above = above * x + up
        below = below * x + down
    return above / below


def _log(x: Array) -> Array:
    """Natural logarithm: the power of 2 apart, the rest by the series of the inverse hyperbolic tangent."""
    part, power = np.frexp(x)
    low = part < 0.7071067811865476
    part, power = np.where(low, 2.0 * part, part), power - low
    s = (part - 1.0) / (part + 1.0)
    square, total = s * s, np.zeros_like(s)
    for odd in range(23, 0, -2):  # |s| is at most 0.172, and 0.172 to the 24th is beyond the last bit
        total = total * square + 1.0 / odd
    return power * _LN2 + 2.0 * s * total


def normal_quantile(levels: ArrayLike) -> Array:
    """Quantiles of the standard normal distribution.

    Parameters
    ----------
    levels : array
        Probabilities above 0 and below 1; ValueError for others.

    Notes
    -----
    PPND16 of Wichura 1988, Applied Statistics 37:477 (AS 241), good to 16 digits.
    """
    p = np.asarray(levels, dtype=np.float64)
    if not ((p > 0.0) & (p < 1.0)).all():
        raise ValueError("a normal quantile is of a probability above 0 and below 1")
    q = p - 0.5
    middle = q * _ratio(_MIDDLE, 0.180625 - q * q)
    r = np.sqrt(-_log(np.where(q <= 0.0, p, 1.0 - p)))
    outside = np.where(r <= 5.0, _ratio(_TAIL, r - 1.6), _ratio(_FAR, r - 5.0))
    return np.where(np.abs(q) <= 0.425, middle, np.where(q < 0.0, -outside, outside))


@cache
def strata(count: int) -> Array:
    """Medians of `count` equally probable bands of the standard normal distribution, in order; not to be written to."""
    found = normal_quantile((np.arange(count) + 0.5) / count)
    found.flags.writeable = False
    return found
