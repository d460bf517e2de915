"""Water in and out: settling a weight, boiling down, thinning."""

from __future__ import annotations

import numpy as np

from labeler.kitchen.mix import CONSTITUENTS, Array, Mix

__all__ = ["evaporate_to", "lose_water"]

WATER = CONSTITUENTS.index("water")


def lose_water(mix: Mix, grams: Array) -> tuple[Mix, Mix]:
    """Take water away, from every item in proportion to the water it has.

    Parameters
    ----------
    mix : Mix
        What is in the pot.
    grams : array (draws,)
        Water to take [g]; at most all of it is taken, and less than nothing is nothing.

    Returns
    -------
    kept, water : Mix
    """
    water = mix.held[:, :, WATER] @ mix.weight[:, WATER]
    share = np.clip(np.divide(grams, water, out=np.zeros_like(water), where=water > 0.0), 0.0, 1.0)
    fraction = np.zeros((mix.draws, 1, len(CONSTITUENTS)))
    fraction[:, 0, WATER] = share
    taken, kept = mix.split(fraction)
    return kept, taken


def evaporate_to(mix: Mix, grams: Array) -> tuple[Mix, Mix, Array]:
    """Let water leave until the whole weighs `grams` [g], shape (draws,).

    Returns
    -------
    kept, water : Mix
    short : array (draws,)
        What is missing to `grams` where the mix weighs less [g], negative where even without water it weighs more.
    """
    kept, water = lose_water(mix, mix.total_mass - grams)
    return kept, water, grams - kept.total_mass
