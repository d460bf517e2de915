"""Meat, poultry and fish under heat: what is left, what drips, what evaporates.

Where the table has the same food cooked by the same method, its composition times the yield is what is left; else
the raw composition loses water and fat by the spread of its kind. Fat that is gone has dripped; of the water, a share
drips and the rest evaporates; dissolved salts and vitamins go with the drip. What the two table entries disagree on
beyond that (they are different animals) is a stream of its own, "difference of table entries", that weighs nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from labeler.cooking.models.conditions import Conditions, minutes_of
from labeler.cooking.models.yield_factors import CookedEntry, Prior, cooked_entry, prior
from labeler.cooking.state.constituents import food_constituents
from labeler.cooking.state.ledger import LedgerEntry
from labeler.cooking.state.mixture import Array, Item, Mixture, blank, column, join
from labeler.cooking.state.phases import (
    FAT,
    SALT,
    SOLUTE,
    SOLUTES,
    WATER,
    Off,
    Outcome,
    PartedPhases,
    Phases,
    move,
    sort_pot,
    together,
)
from labeler.cooking.state.reckoning import Account, Ground
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.foods.food_class import is_raw, kind_of
from labeler.parsing.instructions.actions import Heat, Trait
from labeler.parsing.instructions.model import Mark
from labeler.types import Interval

__all__ = ["cook_dry", "flesh_share", "shrink"]

# Of the water that meat loses, what drips where the table of actions does not say: common practice, no source.
_DRIP = Interval(0.2, 0.05, 0.5)
_BASTING = Interval(0.5, 0.2, 0.85)  # of butter or oil on a roast that ends in the tin: common practice, no source
_FAT_SPREAD = Interval(
    1.0, 0.75, 1.2
)  # of the fat that a cooked entry keeps, from cook to cook: common practice, no source
# Weight left when cooked meat is heated again for `_AGAIN_MINUTES` or longer: common practice, no source. In a shorter
# time, as when something else is fried beside it, it loses so much less.
_AGAIN = Interval(0.94, 0.86, 0.99)
_AGAIN_MINUTES = 20.0
# Doneness: meat loses about 0.7 (0.2 to 1.1) points of weight for each degree that its middle gets hotter; rare roasts
# lose 5 to 20 %, well-done ones 20 to 45 % (Lowe, Experimental Cookery, as printed at chestofbooks.com, second-hand).
_PER_DEGREE = Interval(0.007, 0.002, 0.011)
_USUAL_CORE = {"beef": 66.0, "lamb": 68.0, "veal": 71.0, "game": 66.0, "pork": 71.0, "poultry": 79.0, "fish": 63.0}
_DONENESS = {Mark.RARE: 54.0, Mark.MEDIUM_RARE: 58.0, Mark.MEDIUM: 64.0, Mark.WELL_DONE: 77.0}


class _Loss(NamedTuple):
    """What one item of flesh becomes.

    `left` is its weight when done per raw weight; `fat`, `salt` and `solute` the shares that leave it. With a cooked
    entry, `table` is the yield at which that entry's composition stands: how far `left` is from it is water; and
    `fattier` how much more fat stays than the entry says.
    """

    entry: CookedEntry | None
    left: Array
    fat: Array
    salt: Array
    solute: Array
    account: Account
    table: float = 1.0
    fattier: Array | None = None


def _core_of(heat: Conditions) -> float | None:
    if heat.core is not None:
        return heat.core.best
    for mark, core in _DONENESS.items():
        if mark in heat.marks:
            return core
    return None


def _loss(item: Item, mix: Mixture, at: int, heat: Conditions, draws: Sampler) -> _Loss:
    """Yield of one item of flesh, and the shares of its fat, salt and other solutes that leave it."""
    kind = kind_of(item.food)
    rows = draws.rows
    if item.cooked or not is_raw(item.food):
        times = min(1.0, minutes_of(heat).best / _AGAIN_MINUTES)
        left = draws.draw(_AGAIN, Cause.HEATED_AGAIN, kind) ** times
        nothing = np.zeros(rows)
        melts = nothing
        if is_raw(item.food):  # browned before: its fat goes on running out
            share = float(mix.weight[at, FAT])
            melts = 1.0 - _of_fat_tissue(item, share, heat, draws)
            left = left - melts * share
        return _Loss(None, left, melts, nothing, nothing, Account(f"{item.name}: heated again, {left[0]:.1%} is left"))
    # A package's own composition is better than a table entry of the like when cooked.
    known = item.food if item.own is None else None
    entry = cooked_entry(known, heat.action, traits=item.facts.traits | heat.traits) if known else None
    moist = Trait.IN_LIQUID in heat.row.traits or heat.row.heat is Heat.STEAM
    usual = prior(kind, "moist" if moist else "dry")
    weight = entry.weight if entry is not None else (usual.weight if usual is not None else Interval(0.78, 0.6, 0.92))
    left = draws.draw(weight, Cause.YIELD, kind, heat.action, most=1.15)
    basis = f"{item.name}: {weight.best:.0%} ({weight.low:.0%}–{weight.high:.0%}) is left, {weight.basis or kind}"
    core = _core_of(heat)
    if core is not None and kind in _USUAL_CORE:
        shift = np.clip(core - _USUAL_CORE[kind], -15.0, 15.0)
        left = np.clip(left - shift * draws.draw(_PER_DEGREE, Cause.DONENESS), 0.3, 0.97)
        basis += f"; {core:.0f} °C in the middle"
    ground = Ground.PUBLISHED if entry is not None else usual.ground if usual is not None else Ground.PLAIN
    account = Account(basis, ground)
    if entry is None:
        return _from_prior(left, usual, mix, at, heat, draws, account)
    cooked, composition, _ = food_constituents(entry.food)
    raw = mix.composition[at]

    table = entry.weight.best
    fattier = draws.draw(_FAT_SPREAD, Cause.FAT_KEPT, kind, heat.action)

    def gone(before: float, after: float) -> Array:
        if before <= 0.0:
            return np.zeros(rows)
        return np.full(rows, min(1.0, max(0.0, 1.0 - table * after / before)))

    sodium, potassium = column("NA"), column("K")
    raw_fat, cooked_fat = float(mix.weight[at, FAT]), float(cooked[FAT])
    fat = np.clip(1.0 - fattier * table * cooked_fat / raw_fat, 0.0, 1.0) if raw_fat > 0.0 else np.zeros(rows)
    salt = gone(float(raw[:, sodium].sum()), float(composition[:, sodium].sum()))
    solute = gone(float(raw[:, potassium].sum()), float(composition[:, potassium].sum()))
    return _Loss(entry, left, fat, salt, solute, account, table, fattier)


# Fat tissue gives up more of its fat than the little that lies between muscle: of SR28's raw and cooked pairs of beef,
# lamb and pork (protein taken as kept) those with 12 to 15 % fat raw keep 0.8 to 1 of it, with 18 to 21 % 0.6 to 0.7,
# with 24 to 40 % 0.56 to 0.64 roasted or broiled and 0.7 to 0.85 braised. So the share kept falls from `_LEAN` on. It
# melts out slowly: nothing beyond the lean share in the first half hour, all of it in an hour and a half (common
# practice, no source).
_FAT_CUTS = frozenset({"beef", "pork", "lamb", "veal", "game", "cured pork"})
_LEAN, _FATTEST = 0.1, 0.4  # fat per raw weight
_RUNS_OUT = Interval(0.9, 0.4, 1.3, "how much faster, per fat in the raw weight: fitted to those pairs")


_MELTS_FROM, _MELTED = 30.0, 90.0  # min


def _of_fat_tissue(item: Item, fat: float, heat: Conditions, draws: Sampler) -> Array:
    """By how much less fat a fat cut keeps than a lean one of its kind, 0 to 1; `fat` is its share of the weight."""
    kind = kind_of(item.food)
    over = min(max(fat - _LEAN, 0.0), _FATTEST - _LEAN)
    time = np.clip((minutes_of(heat).best - _MELTS_FROM) / (_MELTED - _MELTS_FROM), 0.0, 1.0)
    if over <= 0.0 or time <= 0.0 or kind not in _FAT_CUTS:
        return np.ones(draws.rows)
    kept: Array = 1.0 - over * time * draws.draw(_RUNS_OUT, Cause.FAT_LEFT, "tissue")
    return kept


def _from_prior(
    left: Array, usual: Prior | None, mix: Mixture, at: int, heat: Conditions, draws: Sampler, account: Account
) -> _Loss:
    fat_kept = usual.fat if usual is not None else Interval(0.9, 0.6, 1.0)
    item, share_of_fat = mix.items[at], float(mix.weight[at, FAT])
    tissue = _of_fat_tissue(item, share_of_fat, heat, draws)
    fat = 1.0 - draws.draw(fat_kept, Cause.FAT_LEFT, kind_of(item.food), most=1.0) * tissue
    water = np.clip(1.0 - left - fat * float(mix.weight[at, FAT]), 0.0, None)
    share = np.clip(water / max(float(mix.weight[at, WATER]), 1e-6), 0.0, 1.0)
    solute = 0.3 * share  # a third as concentrated as the juice of the raw meat, common practice, no source
    return _Loss(None, left, fat, solute, solute, account)


def _scale_by(losses: list[_Loss], mix: Mixture, places: Sequence[int], grams: Array) -> list[_Loss]:
    """Scale all yields alike so that the flesh weighs so many grams more."""
    mass = mix.mass
    now = sum((loss.left * mass[:, at] for loss, at in zip(losses, places, strict=True)), np.zeros(mix.draws))
    factor = np.divide(np.maximum(now + grams, 0.0), now, out=np.ones_like(now), where=now > 0.0)
    return [loss._replace(left=np.clip(loss.left * factor, 0.0, 1.15)) for loss in losses]


def cook_dry(mix: Mixture, places: Sequence[int], heat: Conditions, draws: Sampler, *, goal: Array | None) -> Outcome:
    """Flesh in the oven, under the grill or in the pan, with what it has absorbed and what lies on it.

    Parameters
    ----------
    mix : Mixture
        Everything in the tin.
    places : sequence of int
        The flesh.
    heat : Conditions
    draws : Sampler
    goal : array (draws,) or None
        Measured weight of everything when done [g]: all yields are scaled to it.
    """
    losses = [_loss(mix.items[at], mix, at, heat, draws) for at in places]
    outcome = _cook_dry(mix, places, losses, heat, draws)
    if goal is None:
        return outcome
    # What lies on the flesh loses water as the flesh does, so a second pass settles what the first has left over.
    for _ in range(3):
        off = goal - outcome.kept.total_mass
        losses = _scale_by(losses, mix, places, off)
        outcome = _cook_dry(mix, places, losses, heat, draws)
    return outcome


def _cook_dry(mix: Mixture, places: Sequence[int], losses: list[_Loss], heat: Conditions, draws: Sampler) -> Outcome:
    drip = draws.draw(heat.row.drips or _DRIP, Cause.DRIPPINGS, heat.action, most=1.0)
    kept_parts, dripped, evaporated, difference = [], [], [], []
    lost_water, lost_salt, weights = np.zeros(draws.rows), np.zeros(draws.rows), np.zeros(draws.rows)
    for loss, at in zip(losses, places, strict=True):
        one = mix.select([at])
        cooked, drips, steam, rest = _divide(one, loss, heat.action, drip)
        kept_parts.append(cooked)
        dripped.append(drips)
        evaporated.append(steam)
        difference += rest
        water = one.constituent("water")[:, 0]
        weights += water
        lost_water += drips.constituent("water")[:, 0] + steam.constituent("water")[:, 0]
        lost_salt += loss.salt * water
    others = [at for at in range(len(mix.items)) if at not in set(places)]
    rest_mix = mix.select(others)
    share = np.divide(lost_water, weights, out=np.zeros_like(weights), where=weights > 0.0)
    salt = np.divide(lost_salt, weights, out=np.zeros_like(weights), where=weights > 0.0)
    surface, wet, steam = _surface(rest_mix, share, salt, drip, draws)
    off = (Off(PartedPhases.DRIPPINGS, together([*dripped, wet]).present()),)
    streams = [LedgerEntry("evaporated water", together([*evaporated, steam]).present())]
    if difference:
        streams.append(LedgerEntry("difference of table entries", join(difference)))
    return Outcome(join([*kept_parts, surface]), tuple(streams), tuple(loss.account for loss in losses), off=off)


def _divide(one: Mixture, loss: _Loss, method: str, drip: Array) -> tuple[Mixture, Mixture, Mixture, list[Mixture]]:
    """One item of flesh into what is left, what drips, what evaporates, and what the table entries differ by."""
    item, rows = one.items[0], one.draws
    held = one.held
    mass = one.total_mass
    fraction = blank(rows, 1)
    fraction[:, 0, FAT] = loss.fat
    if loss.entry is None:
        cooked = replace(one, items=(replace(item, cooked=method, table_entry=False),), held=held.copy(order="K"))
    else:
        weight, composition, status = food_constituents(loss.entry.food)
        cooked = Mixture(
            (replace(item, cooked=method, table_entry=True),),
            held.copy(order="K"),
            weight[None, :],
            composition[None, :, :],
            status[None, :],
        )
    # What goes beside fat is water, and with the part of it that drips the solutes. All of it cannot exceed the water.
    fat_gone = loss.fat * held[:, 0, FAT] * one.weight[0, FAT]
    water = held[:, 0, WATER] * one.weight[0, WATER]
    gone = np.clip((1.0 - loss.left) * mass, 0.0, None)
    fat_gone = np.minimum(fat_gone, gone)
    fraction[:, 0, FAT] = _ratio(fat_gone, held[:, 0, FAT] * one.weight[0, FAT])
    water_gone = np.minimum(gone - fat_gone, water)
    fraction[:, 0, WATER] = _ratio(water_gone * drip, water)
    fraction[:, 0, SALT] = np.minimum(loss.salt, 1.0)
    fraction[:, 0, SOLUTE] = np.minimum(loss.solute, 1.0)
    drips = one.part(fraction)
    steam_fraction = np.zeros_like(fraction)
    # Salts that drip have their weight from the water's share, so that the whole loss is the yield's.
    steam_grams = np.maximum(gone - drips.total_mass, 0.0)
    steam_fraction[:, 0, WATER] = _ratio(np.minimum(steam_grams, water * (1.0 - fraction[:, 0, WATER])), water)
    steam = one.part(steam_fraction)
    left = mass - drips.total_mass - steam.total_mass
    if loss.entry is None:
        kept = replace(cooked, held=held - drips.held - steam.held)
        return kept, drips, steam, []
    kept = _at_weight(cooked, loss, mass, left)
    parts = [one, *(replace(mix, held=-mix.held) for mix in (kept, drips, steam))]
    weightless = [replace(mix, weight=np.zeros_like(mix.weight)) for mix in parts]
    return kept, drips, steam, weightless


def _at_weight(cooked: Mixture, loss: _Loss, mass: Array, left: Array) -> Mixture:
    """The cooked entry at the yield that it stands for, brought to the weight that is left by water.

    Protein and minerals do not depend on how much water a roast lost; where water does not suffice all of it is scaled.
    """
    held = cooked.held * (loss.table * _ratio(mass, cooked.total_mass))[:, None, None]
    if loss.fattier is not None:
        held[:, 0, FAT] *= loss.fattier
    weight = cooked.weight[0]
    water = held[:, 0, WATER] + (left - held[:, 0] @ weight) / max(float(weight[WATER]), 1e-9)
    held[:, 0, WATER] = np.maximum(water, 0.0)
    scale = _ratio(left, held[:, 0] @ weight)
    return replace(cooked, held=held * scale[:, None, None])


def _ratio(part: Array, whole: Array) -> Array:
    ratio: Array = np.divide(part, whole, out=np.zeros_like(whole), where=whole > 0.0)
    return ratio


def _surface(mix: Mixture, water: Array, salt: Array, drip: Array, draws: Sampler) -> tuple[Mixture, Mixture, Mixture]:
    """What lies on the flesh or was absorbed by it loses water as the flesh does, salt with the drip, and free fat.

    Returns what stays, what drips and what evaporates.
    """
    pot = sort_pot(mix)
    drips, steam = blank(draws.rows, len(mix.items)), blank(draws.rows, len(mix.items))
    near = pot.absorbed | pot.liquor
    drips[:, near, WATER] = (water * drip)[:, None]
    steam[:, near, WATER] = (water * (1.0 - drip))[:, None]
    for place in SOLUTES:
        drips[:, near, place] = salt[:, None]
    drips[:, pot.fat] = draws.draw(_BASTING, Cause.BASTING, most=1.0)[:, None, None]
    wet, left = mix.split(drips)
    vapour = mix.part(steam)
    held = left.held
    held[:, near, WATER] -= vapour.held[:, near, WATER]
    return left, wet.present(), vapour.present()


def shrink(mix: Mixture, places: Sequence[int], heat: Conditions, draws: Sampler) -> Outcome:
    """Flesh in a wet pot: its juice and fat go into the liquor around it and stay there ("dissolved").

    Its salt has been exchanged with the liquor before, unless it lies in nothing but fat: then the juice takes of all
    that is dissolved. The raw composition stays, because what it loses is kept.
    """
    if not places:
        return Outcome(mix)
    pot = sort_pot(mix)
    alone = not pot.liquor.any()
    if alone:
        places = [*places, *pot.at(pot.absorbed)]
    flesh = mix.select(list(places))
    fraction = blank(draws.rows, len(places))
    account = []
    mass = flesh.mass
    meats = [at for at, item in enumerate(flesh.items) if item.phase not in ("absorbed", "clinging")]
    for at in meats:
        item = flesh.items[at]
        loss = _loss(item, flesh, at, heat, draws)
        account.append(loss.account)
        gone = np.clip((1.0 - loss.left) * mass[:, at], 0.0, None)
        fat = flesh.held[:, at, FAT] * flesh.weight[at, FAT]
        water = flesh.held[:, at, WATER] * flesh.weight[at, WATER]
        fat_gone = np.minimum(loss.fat * fat, gone)
        fraction[:, at, FAT] = _ratio(fat_gone, fat)
        fraction[:, at, WATER] = _ratio(np.minimum(gone - fat_gone, 0.95 * water), water)
        if alone:
            fraction[:, at, list(SOLUTES)] = fraction[:, at, WATER][:, None]
    if alone:
        taken = [at for at in range(len(places)) if at not in meats]
        fraction[:, taken] = fraction[:, meats, WATER].mean(axis=1)[:, None, None]
    juice, meat = move(flesh, fraction, "dissolved")
    meat = meat.renamed(
        [item if item.phase else replace(item, cooked=heat.action, table_entry=False) for item in meat.items]
    )
    chosen = set(places)
    others = mix.select([at for at in range(len(mix.items)) if at not in chosen])
    return Outcome(together([meat, others, juice]), account=tuple(account))


def flesh_share(pot: Phases) -> float:
    """Share of flesh in the weight of the pot, absorbed brine and free fat counted with it."""
    total = float(pot.mix.total_mass[0])
    if total <= 0.0:
        return 0.0
    return pot.best(pot.flesh | pot.absorbed | pot.fat) / total
