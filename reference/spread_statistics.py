"""The statistics behind `build_spread.py`: scales of deviation, the t and gamma families, robust pooling."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from labeler.foods.composition.food_table import load_table

Array = NDArray[np.float64]
SALT_PER_SODIUM = 2.542  # g NaCl per g Na: 58.44 / 22.99
Z95 = 1.959963984540054


def mass_fraction(key: str, per_100g: ArrayLike) -> Array:
    """Share of the food's mass that a nutrient is, 0 to 1; sodium counts as salt, traces in mg and µg as nothing."""
    values = np.asarray(per_100g, dtype=float)
    if key == "NA":
        return np.clip(SALT_PER_SODIUM * values / 1e5, 0.0, 1.0)
    table = load_table()
    if table.nutrients[table.column[key]].unit == "g":
        return np.clip(values / 100.0, 0.0, 1.0)
    return np.zeros_like(values)


def scale_at(key: str, per_100g: ArrayLike, *, power: float, reference: float) -> Array:
    """What a coefficient of variation is of at a value v: r (v / r)^b (1 - p), in the unit of the value."""
    values = np.asarray(per_100g, dtype=float)
    room = 1.0 - np.minimum(mass_fraction(key, values), 0.999)
    return np.asarray(reference * (values / reference) ** power * room)


def t_factor(freedom: ArrayLike) -> Array:
    """97.5 percentile of Student's t over that of a normal, for degrees of freedom from 2 up.

    Cornish-Fisher expansion to the fourth order (Abramowitz and Stegun 26.7.5), good to 1 % at 2 and 0.1 % from 3.
    """
    v = np.maximum(np.asarray(freedom, dtype=float), 2.0)
    z = Z95
    terms = (
        (z**3 + z) / 4,
        (5 * z**5 + 16 * z**3 + 3 * z) / 96,
        (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384,
        (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / 92160,
    )
    quantile = z + sum(term / v ** (power + 1) for power, term in enumerate(terms))
    return np.asarray(quantile / z)


def digamma(x: Array) -> Array:
    """Derivative of ln gamma, by recurrence and the asymptotic series (Abramowitz and Stegun 6.3.5, 6.3.18)."""
    shift = np.zeros_like(x)
    for _ in range(8):
        shift -= 1.0 / x
        x = x + 1.0
    inverse = 1.0 / x**2
    return shift + np.log(x) - 0.5 / x - inverse * (1 / 12 - inverse * (1 / 120 - inverse / 252))


def trigamma(x: Array) -> Array:
    """Second derivative of ln gamma (Abramowitz and Stegun 6.4.6, 6.4.12)."""
    shift = np.zeros_like(x)
    for _ in range(8):
        shift += 1.0 / x**2
        x = x + 1.0
    inverse = 1.0 / x
    return shift + inverse + inverse**2 / 2 + inverse**3 * (1 / 6 - inverse**2 * (1 / 30 - inverse**2 / 42))


def trigamma_inverse(value: float) -> float:
    """Solve trigamma(x) = value by bisection."""
    low, high = 0.05, 500.0
    for _ in range(80):
        middle = float(np.sqrt(low * high))
        low, high = (middle, high) if trigamma(np.array([middle]))[0] > value else (low, middle)
    return low


def huber_mean(values: Array) -> float:
    """A mean in which a value further than 1.5 robust deviations from the median counts as if it were at 1.5."""
    middle = float(np.median(values))
    scale = 1.4826 * float(np.median(np.abs(values - middle)))
    return float(np.clip(values, middle - 1.5 * scale, middle + 1.5 * scale).mean()) if scale > 0 else middle


def shrunk(by_group: dict[int, Array]) -> tuple[float, dict[int, float]]:
    """Huber means of logarithms: of all groups together, and of each shrunk towards it by empirical Bayes."""
    everything = np.concatenate(list(by_group.values()))
    whole = huber_mean(everything)
    means = {group: huber_mean(values) for group, values in by_group.items()}
    within = float(np.mean([np.var(values, ddof=1) for values in by_group.values() if len(values) > 4] or [1.0]))
    enough = [group for group, values in by_group.items() if len(values) >= 8]
    between = 0.05
    if len(enough) > 2:
        spread = float(np.var([means[group] for group in enough], ddof=1))
        noise = float(np.mean([within / len(by_group[group]) for group in enough]))
        between = max(spread - noise, 0.01)
    found = {}
    for group, values in by_group.items():
        weight = between / (between + within / len(values))
        found[group] = whole + weight * (means[group] - whole)
    return whole, found
