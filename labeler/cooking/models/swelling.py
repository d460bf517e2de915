"""Water that food takes up where it lies in liquor, and that salt draws out of it."""

from __future__ import annotations

import numpy as np

from labeler.cooking.state.geometry import shape_of
from labeler.cooking.state.mixture import Array
from labeler.cooking.state.phases import SALT, WATER, Phases
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.foods.food_class import FLESH, WATER_TAKERS
from labeler.types import Interval

__all__ = ["DRAWN", "PLANTS", "salinity", "swell", "swells"]

PLANTS = frozenset(
    ["vegetable", "root", "greens", "potato", "sweet potato", "tomato", "mushroom", "fruit", "dry legume", "legume"]
)
"""Kinds whose cells hold back what is in them, and that salt draws."""

# Water that food takes up, in the end: [g per g of food as put in] and the hours to get two thirds there. Meat gains in
# brines under 200 kg/m³ and loses above (Springer 978-1-4939-2578-0, ch. 47, abstract), 8 % is usual for brined cuts;
# dry legumes double, the rest common practice, no source.
_SWELLING = {
    "dry legume": (Interval(1.0, 0.8, 1.2), 3.0),
    "grain": (Interval(0.35, 0.2, 0.5), 1.0),
    "pasta": (Interval(0.5, 0.2, 0.9), 0.5),
    "dried fruit": (Interval(0.7, 0.3, 1.1), 3.0),
    "bread": (Interval(0.8, 0.4, 1.2), 0.1),
    "flour": (Interval(0.0, 0.0, 0.0), 1.0),
}
# Likewise under boiling water: what a packet of couscous, bulgur or rice noodles asks for. Common practice, no source.
_SWELLING_HOT = {
    "grain": (Interval(1.4, 0.9, 2.1), 0.1),
    "pasta": (Interval(1.5, 1.0, 2.2), 0.1),
}
# Dried mushrooms, tomatoes, chillies, seaweed: plants with little water of their own. Common practice, no source.
_DRIED = (Interval(2.0, 1.0, 4.0), 0.3)
_LITTLE_WATER = 0.25  # share of a dried plant that is water, at most: common practice, no source
_MEAT_GAIN = Interval(0.08, 0.02, 0.14)
_STRONG_BRINE = 0.2  # g salt per g water
# Water that salt draws out of vegetables [share of their water per g salt in a g of water], at most a third.
DRAWN = Interval(1.5, 0.5, 3.0)


def salinity(pot: Phases) -> Array:
    """Salt per water of the liquor [g/g]."""
    salt = pot.mix.held[:, pot.liquor, SALT] @ pot.mix.weight[pot.liquor, SALT]
    water = pot.water(pot.liquor)
    salinity: Array = np.divide(salt, water, out=np.zeros_like(salt), where=water > 0.0)
    return salinity


def swell(pot: Phases, minutes: Array, draws: Sampler, *, hot: bool = False) -> tuple[Array, Array]:
    """Water that the food takes up [g] in all, and the share of each item's water that it gives.

    `hot` is true where the liquor was poured on boiling hot.
    """
    mix, rows = pot.mix, draws.rows
    gained = np.zeros(rows)
    given = np.zeros((rows, len(mix.items)))
    salt = salinity(pot)
    hours = minutes / 60.0
    for at in pot.at(pot.food):
        kind, mass = pot.kinds[at], mix.held[:, at].mean(axis=1)
        swelling = _swelling(pot, at, hot=hot)
        if swelling is not None:
            most, time = swelling
            gained += draws.draw(most, Cause.SWELLING, kind) * mass * (1.0 - np.exp(-hours / time))
        elif kind in FLESH:
            shape = shape_of(mix.items[at])
            reached = 1.0 - np.exp(-hours / (shape.half.best / 5.0) ** 2 * 0.5)
            sign = np.where(salt < _STRONG_BRINE, np.minimum(1.0, salt / 0.02), -1.0)
            change = draws.draw(_MEAT_GAIN, Cause.MEAT_GAIN, kind) * mass * reached * sign
            gained += np.maximum(change, 0.0)
            water = mix.held[:, at, WATER] * mix.weight[at, WATER]
            given[:, at] = np.divide(np.maximum(-change, 0.0), water, out=np.zeros(rows), where=water > 0.0)
        elif kind not in WATER_TAKERS:
            drawn = draws.draw(DRAWN, Cause.DRAWN_WATER, kind) * salt * (1.0 - np.exp(-hours / 0.5))
            given[:, at] = np.minimum(drawn, 1.0 / 3.0)
    return gained, np.clip(given, 0.0, 0.9)


def _swelling(pot: Phases, at: int, *, hot: bool) -> tuple[Interval, float] | None:
    """Water that a dry food takes up in the end [g per g], and the hours to two thirds of it; None for others."""
    kind, item = pot.kinds[at], pot.mix.items[at]
    if (
        kind in PLANTS
        and kind not in _SWELLING
        and float(pot.mix.weight[at, WATER]) < _LITTLE_WATER
        and not item.cooked
    ):
        return _DRIED
    return _SWELLING_HOT.get(kind, _SWELLING.get(kind)) if hot else _SWELLING.get(kind)


def swells(kind: str) -> bool:
    """Whether food of a kind takes up liquor as it is."""
    return kind in _SWELLING
