"""Water and alcohol out: boiling down to a weight, a volume, a share or a time, and settling a measured weight.

Solids, salt, sugar and fat stay; water leaves, and alcohol before it. A volume is made into a weight by the density of
the mixture itself, hot, as it stands in the pan.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from labeler.cooking.state.density import volume, water_density
from labeler.cooking.state.ledger import LedgerEntry
from labeler.cooking.state.mixture import Array, Mixture, blank
from labeler.cooking.state.phases import ALCOHOL, WATER, Outcome, sort_pot
from labeler.cooking.state.reckoning import reckoned
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.data_files import data_folder, data_rows
from labeler.parsing.instructions.actions import action
from labeler.types import Interval

__all__ = [
    "HOT",
    "alcohol_kept",
    "boil_off",
    "evaporate_to",
    "has_alcohol",
    "lose_alcohol",
    "lose_water",
    "reduce_to",
    "take_constituent",
]

DATA = data_folder("labeler.cooking")

HOT = 90.0  # °C at which a volume in the pan is read: common practice, no source

# A rolling boil against a usual one: common practice, no source.
_HARD = Interval(1.7, 1.2, 2.3)
_LID = Interval(0.15, 0.04, 0.35)  # of the rate without a lid


def lose_water(mix: Mixture, grams: Array) -> tuple[Mixture, Mixture]:
    """Take water away, from every item in proportion to the water it has.

    Parameters
    ----------
    mix : Mixture
        What is in the pot.
    grams : array (draws,)
        Water to take [g]; at most all of it is taken, and less than nothing is nothing.

    Returns
    -------
    kept, water : Mixture
    """
    water = mix.held[:, :, WATER] @ mix.weight[:, WATER]
    share = np.clip(np.divide(grams, water, out=np.zeros_like(water), where=water > 0.0), 0.0, 1.0)
    return take_constituent(mix, WATER, share)


def take_constituent(mix: Mixture, place: int, share: Array) -> tuple[Mixture, Mixture]:
    """Take a share, (draws,) or (draws, items), of one constituent of every item: what stays, and what is taken."""
    by_item = share if share.ndim == 2 else share[:, None]
    gone = mix.held[:, :, place] * by_item
    held = mix.held.copy(order="K")
    held[:, :, place] -= gone
    wet = np.flatnonzero((mix.weight[:, place] > 0.0) & gone.sum(axis=0).astype(bool))
    only = blank(mix.draws, len(wet))
    only[:, :, place] = gone[:, wet]
    taken = Mixture(
        tuple(mix.items[at] for at in wet.tolist()), only, mix.weight[wet], mix.composition[wet], mix.status[wet]
    )
    return replace(mix, held=held), taken


def evaporate_to(mix: Mixture, grams: Array) -> tuple[Mixture, Mixture, Array]:
    """Let water leave until the whole weighs `grams` [g], shape (draws,).

    Returns
    -------
    kept, water : Mixture
    short : array (draws,)
        What is missing to `grams` where the mix weighs less [g], negative where even without water it weighs more.
    """
    kept, water = lose_water(mix, mix.total_mass - grams)
    return kept, water, grams - kept.total_mass


@cache
def _alcohol_rows() -> dict[str, list[tuple[float, float, float, float]]]:
    found: dict[str, list[tuple[float, float, float, float]]] = {}
    for row in data_rows(DATA / "alcohol_kept.csv"):
        figures = tuple(float(row[name]) for name in ("minutes", "best", "low", "high"))
        found.setdefault(row["way"], []).append((figures[0], figures[1], figures[2], figures[3]))
    return found


def alcohol_kept(way: str, minutes: float) -> Interval:
    """Share of the alcohol that is kept.

    Parameters
    ----------
    way : str
        "stirred" into hot food and cooked on, "not stirred" in and baked, "flamed", or "stored" without heat
        overnight; raises KeyError for another.
    minutes : float
        Time of heat [min]; between the rows of the table the figures are interpolated, beyond them the last holds.
        For the ways that have one row the time does not matter.

    Notes
    -----
    USDA Table of Nutrient Retention Factors, Release 6, after Augustin et al. 1992.
    """
    rows = sorted(_alcohol_rows()[way])
    times = [row[0] for row in rows]
    best, low, high = (float(np.interp(minutes, times, [row[at] for row in rows])) / 100.0 for at in (1, 2, 3))
    return Interval(best, low, high, "USDA alcohol retention")


def lose_alcohol(mix: Mixture, kept: Interval, draws: Sampler) -> tuple[Mixture, Mixture]:
    """Let alcohol leave: what stays, and the alcohol that has gone."""
    return take_constituent(mix, ALCOHOL, 1.0 - draws.draw(kept, Cause.ALCOHOL_KEPT, kept.basis, most=1.0))


def has_alcohol(mix: Mixture) -> bool:
    """Whether there is alcohol worth the name: more than a tenth of a gram in 100."""
    grams = float(mix.held[0, :, ALCOHOL] @ mix.weight[:, ALCOHOL])
    return grams > 0.001 * float(mix.rows(0, 1).total_mass[0])


def boil_off(mix: Mixture, *, way: str, minutes: Interval, covered: bool, draws: Sampler, hard: bool = False) -> Array:
    """Water that leaves an open or covered pot in a time [g], shape (draws,): a wide interval.

    `way` is an action; nothing leaves by one that nothing boils off in. `hard` is a rolling boil.
    """
    usual = action(way).boils_off
    if usual is None:
        return np.zeros(draws.rows)
    hours = draws.draw(minutes) / 60.0
    rate = draws.draw(usual, Cause.BOIL_RATE, way)
    if hard:
        rate = rate * draws.draw(_HARD, Cause.BOIL_RATE, "hard")
    if covered:
        rate = rate * draws.draw(_LID, Cause.LID)
    water: Array = 1000.0 * rate * hours * (np.maximum(mix.total_mass, 0.0) / 1000.0) ** (2.0 / 3.0)
    return water


def reduce_to(
    mix: Mixture,
    *,
    draws: Sampler,
    grams: Interval | None = None,
    millilitres: Interval | None = None,
    share: Interval | None = None,
) -> tuple[Outcome, Array]:
    """Boil down to a weight [g], a volume [mL, hot] or a share of what there was, in this order of preference.

    A share is of the liquid where food lies in it, and of the whole where it does not. Alcohol leaves with the water
    and before it: its share that stays is the share of water to the power of 4 (2 to 8), between the USDA table and
    what distillation of a dilute mixture would give.

    Returns
    -------
    outcome : Outcome
    short : array (draws,)
        Grams missing to the goal where there was less than it, negative where it cannot be reached by water alone.
    """
    pot = sort_pot(mix)
    before = mix.held[:, :, WATER] @ mix.weight[:, WATER]
    if grams is not None:
        target = draws.draw(grams)
        method = f"boiled down to {grams.best:.4g} g as weighed"
    else:
        room = volume(mix, temperature=HOT)
        if millilitres is not None:
            goal = draws.draw(millilitres)
            method = f"boiled down to {millilitres.best:.4g} mL at {HOT:.0f} °C"
        else:
            part = share if share is not None else Interval(1.0, 1.0, 1.0)
            loose = volume(mix.select(pot.at(pot.liquor | pot.fat)), temperature=HOT) if pot.food.any() else room
            loose = np.where(loose > 0.0, loose, room)
            goal = room - loose * (1.0 - draws.draw(part, most=1.0))
            method = f"boiled down to {part.best:.0%} of its volume"
        lost = np.maximum(room - goal, 0.0) * float(water_density(HOT)) / 1000.0
        target = np.where(goal > room, mix.total_mass, mix.total_mass - lost)
    streams: list[LedgerEntry] = []
    if has_alcohol(mix):
        after = np.clip(before - (mix.total_mass - target), 0.0, None)
        left = np.clip(np.divide(after, before, out=np.ones_like(before), where=before > 0.0), 0.0, 1.0)
        power = draws.draw(Interval(4.0, 2.0, 8.0), Cause.DISTILLATION)
        mix, gone = take_constituent(mix, ALCOHOL, 1.0 - left**power)
        streams.append(LedgerEntry("evaporated alcohol", gone.present()))
    kept, water, short = evaporate_to(mix, target)
    streams.append(LedgerEntry("evaporated water", water))
    return Outcome(kept, tuple(streams), reckoned(method)), short
