"""Which food it may have been: the matched one, or another that the same words mean.

"Cheese" is taken for cheddar, but the cook may hold Swiss. The plausible foods of a line are the match and those of its
alternatives that could stand in the same place: of the same food group, as wet and as rich within wide bounds, so that
nobody takes milk powder for milk. The match keeps as much weight as matches of its confidence deserve
(`trust`), the others share the rest by how often survey foods use them.
"""

from __future__ import annotations

from functools import cache

import numpy as np

from labeler.foods.model import WeighedLine
from labeler.foods.table import load_table

__all__ = ["plausible", "trust"]

# Same-place bounds, common practice, no source: water within 15 g per 100 g, energy within a factor of 2.5 and 60 kcal.
_WATER, _ENERGY_FACTOR, _ENERGY_STEP = 15.0, 2.5, 60.0
_CERTAIN = 1.0
_LEAST = 0.02


def trust(confidence: float) -> float:
    """Share of lines whose food is the matched one, for a match confidence in [0, 1]."""
    return float(np.interp(confidence, (0.0, 0.35, 0.6, 0.9, 0.97, 1.0), (0.2, 0.35, 0.4, 0.55, 0.75, 0.9)))


@cache
def _in_the_same_place(food: str, other: str) -> bool:
    """Whether a line that means one food could mean the other without any other word."""
    table = load_table()
    one, two = table.position[food], table.position[other]
    if table.group_codes[one] != table.group_codes[two]:
        return False
    water = abs(table.values[one, table.column["WATER"]] - table.values[two, table.column["WATER"]])
    energy = sorted(float(table.values[row, table.column["ENERC_KCAL"]]) for row in (one, two))
    rich = energy[1] <= max(_ENERGY_FACTOR * energy[0], energy[0] + _ENERGY_STEP)
    return bool(water <= _WATER and rich)


@cache
def _weighted(food: str, alternatives: tuple[str, ...], confidence: float) -> tuple[tuple[str, float], ...]:
    table = load_table()
    others = [other for other in dict.fromkeys(alternatives) if other != food and _in_the_same_place(food, other)]
    if not others or confidence >= _CERTAIN:
        return ()
    uses = np.array([float(table.survey_uses[table.position[other]]) for other in others])
    shares = np.sqrt(uses + 1.0)
    rest = 1.0 - trust(confidence)
    weights = rest * shares / shares.sum()
    kept = [(other, float(weight)) for other, weight in zip(others, weights, strict=True) if weight >= _LEAST]
    if not kept:
        return ()
    left = 1.0 - sum(weight for _, weight in kept)
    energy = table.column["ENERC_KCAL"]
    everything = [(food, left), *kept]
    # In order of energy, so that one normal that chooses among them goes with what it changes.
    return tuple(sorted(everything, key=lambda pair: (table.values[table.position[pair[0]], energy], pair[0])))


def plausible(weighed: WeighedLine) -> tuple[tuple[str, float], ...]:
    """The foods that a line may mean with their weights, which sum to 1; empty where only one is plausible.

    A pinned food and a line without a food have no others.
    """
    match = weighed.match
    if match is None or match.food is None or (weighed.line.pin is not None and weighed.line.pin.food is not None):
        return ()
    return _weighted(match.food, match.alternatives, match.confidence)
