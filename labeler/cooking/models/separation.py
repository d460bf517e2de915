"""Draining, rinsing, squeezing, patting dry, skimming, straining, discarding: what is taken out of the pot, and how.

What clings is a film on the surface of the food, so small pieces hold more of it. A film of 0.15 mm (0.05 to 0.3) gives
a quarter of a gram of cooking water per gram of cooked spaghetti, which is the third of its sodium that rinsing takes
away (Bianchi et al. 2019, Food Chem. 271:479); on other food it is a guess of the same kind.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from typing import NamedTuple

import numpy as np

from labeler.cooking.models.immersion import washed_out
from labeler.cooking.state.geometry import shape_of
from labeler.cooking.state.mixture import CONSTITUENTS, Array, Mixture, blank, column
from labeler.cooking.state.phases import (
    FAT,
    SALT,
    SOLUTE,
    SUGAR,
    WATER,
    Mask,
    Off,
    Outcome,
    PartedPhases,
    Phases,
    move,
    sort_pot,
    together,
)
from labeler.cooking.state.reckoning import Account, Ground, reckoned
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.data_files import data_folder, data_rows
from labeler.foods.food_class import WATER_TAKERS, described, is_raw
from labeler.types import Interval

__all__ = ["discard_items", "drain", "drain_can", "film_share", "pat", "pour_fat", "rinse", "squeeze", "strain"]

DATA = data_folder("labeler.cooking")

FILM = Interval(0.15, 0.05, 0.3)  # mm of liquid that clings to drained food
PATTED = Interval(0.3, 0.1, 0.6)  # share of the film that patting dry leaves: common practice, no source
WASHED = Interval(0.9, 0.7, 0.98)  # of the film's solutes that rinsing takes: common practice, no source
SQUEEZED = Interval(0.3, 0.12, 0.5)  # share of the water that squeezing takes: common practice, no source
SKIMMED = Interval(0.9, 0.6, 0.98)  # share of the floating fat that skimming takes: common practice, no source
CAN_LIQUID = Interval(0.36, 0.30, 0.42)  # of a can of beans: its sodium falls by 36 % (Jones and Mount, IFT 2009)
_FOOD_DENSITY = 1.05  # g/mL


def _film(pot: Phases, draws: Sampler) -> Array:
    """Liquid that clings to the food of a pot [g], shape (draws,)."""
    area = np.zeros(draws.rows)  # times mm, in mL
    mass = pot.mix.mass
    for at in pot.at(pot.food):
        area += mass[:, at] / _FOOD_DENSITY * shape_of(pot.mix.items[at]).surface
    return area * draws.draw(FILM, Cause.FILM)


def film_share(food: Phases, liquid: Array, *, draws: Sampler) -> Array:
    """Part of a liquid that clings to food lifted out of it, shape (draws,); `liquid` is its weight [g]."""
    share = np.divide(_film(food, draws), liquid, out=np.zeros(draws.rows), where=liquid > 0.0)
    clings: Array = np.minimum(share, 0.5)
    return clings


def _whole(mask: Mask, share: Array) -> Array:
    """A fraction over draws and items that takes the same share of every constituent in some items."""
    fraction = np.zeros((len(mask), 1, len(share)))
    fraction[mask] = share
    return fraction.transpose(2, 0, 1)


def drain(mix: Mixture, *, draws: Sampler) -> Outcome:
    """Pour the liquid off: what clings stays with the food, and so does what food has taken up.

    Free fat goes with the liquid. Without liquid in the pot nothing is poured but the fat.
    """
    pot = sort_pot(mix)
    loose = pot.liquor | pot.fat
    total = pot.liquor_mass + pot.mix.held[:, pot.fat].mean(axis=2).sum(axis=1)
    if not loose.any() or not float(total[0]) > 0.0:
        return Outcome(mix, account=reckoned("nothing to pour off", Ground.NOTHING))
    cling = _film(pot, draws)
    share = np.minimum(np.divide(cling, total, out=np.zeros(draws.rows), where=total > 0.0), 0.5)
    clinging, rest = move(mix, _whole(loose, share), "clinging")
    given_back, rest = rest.split(_whole(pot.absorbed, _film_held_already(pot, clinging.total_mass)))
    poured = together([rest.select(pot.at(loose)), given_back]).present()
    kept = together([rest.select(pot.at(~loose)), clinging])
    account = Account(
        f"a film of {FILM.best:g} mm ({FILM.low:g}–{FILM.high:g}) clings, the rest of the liquid is poured off"
    )
    return Outcome(kept, account=(account,), off=(Off(PartedPhases.LIQUID, poured),))


def _film_held_already(pot: Phases, film: Array) -> Array:
    """Part of what food has taken up that is its film, 0 to 1, shape (draws,).

    What swells is reckoned by the table's cooked entry, which is of drained food and so holds the film.
    """
    mass = pot.mix.mass
    swollen = [bool(item.cooked) and kind in WATER_TAKERS for item, kind in zip(pot.mix.items, pot.kinds, strict=True)]
    food = mass[:, pot.food].sum(axis=1)
    takers = mass[:, pot.food & np.array(swollen, dtype=bool)].sum(axis=1)
    absorbed = pot.mass_of(pot.absorbed)
    of_takers = film * np.divide(takers, food, out=np.zeros_like(food), where=food > 0.0)
    share: Array = np.divide(of_takers, absorbed, out=np.zeros_like(food), where=absorbed > 0.0)
    return np.minimum(share, 0.5)


def pat(mix: Mixture, *, draws: Sampler) -> Outcome:
    """Pat dry: most of the film goes."""
    pot = sort_pot(mix)
    if not pot.clinging.any():
        return Outcome(mix, account=reckoned("nothing clings", Ground.NOTHING))
    wiped, kept = mix.split(_whole(pot.clinging, 1.0 - draws.draw(PATTED, Cause.PATTED, most=1.0)))
    return Outcome(
        kept, account=reckoned("most of what clings is wiped off"), off=(Off(PartedPhases.FILM, wiped.present()),)
    )


def strain(mix: Mixture, *, draws: Sampler, through: Sequence[int] = ()) -> Outcome:
    """Keep the liquid and put the solids aside with what they hold.

    Parameters
    ----------
    mix : Mixture
    draws : Sampler
    through : sequence of int
        Places of items that are no liquid by their kind and go through a sieve as one: eggs that were whisked.
    """
    pot = sort_pot(mix)
    loose = pot.liquor | pot.fat
    if not loose.any():
        return Outcome(mix, account=reckoned("no liquid to strain", Ground.NOTHING))
    loose[list(through)] = True
    total = pot.mass_of(loose)
    held_back = replace(pot, food=pot.food & ~loose)
    share = np.minimum(np.divide(_film(held_back, draws), total, out=np.zeros(draws.rows), where=total > 0.0), 0.3)
    clinging, rest = move(mix, _whole(loose, share), "clinging")
    solids = together([rest.select(pot.at(~loose)), clinging])
    return Outcome(
        rest.select(pot.at(loose)),
        account=reckoned("the solids go with what they have taken up and what clings to them"),
        off=(Off(PartedPhases.SOLIDS, solids.present()),),
    )


class _Rinsing(NamedTuple):
    foods: str
    sodium: Interval
    calcium: float


@cache
def _rinsings() -> tuple[_Rinsing, ...]:
    rows = data_rows(DATA / "rinsing.csv")
    return tuple(
        _Rinsing(
            row["foods"],
            Interval(float(row["sodium"]), float(row["sodium_low"]), float(row["sodium_high"])).scaled(0.01),
            float(row["calcium"]) / 100.0,
        )
        for row in rows
    )


def rinse(mix: Mixture, *, minutes: Interval | None, draws: Sampler, times: int = 1) -> Outcome:
    """Rinse under water: the film goes, and what the published losses say for canned and brined food.

    Parameters
    ----------
    mix : Mixture
    minutes : Interval or None
        How long [min]; None is half a minute each time.
    draws : Sampler
    times : int
        How often.
    """
    first = drain(mix, draws=draws)
    pot = sort_pot(first.kept)
    mix, taken = first.kept, []
    time = minutes if minutes is not None else Interval(0.5, 0.25, 1.0).scaled(times)
    fraction = blank(draws.rows, len(mix.items))
    account = Account("the film is washed away, and what diffuses out meanwhile")
    inside = pot.absorbed & ~pot.clinging
    lost = washed_out(pot, draws.draw(time, Cause.RINSING_TIME), draws)
    # Whole cells of raw food give nothing to a rinse; what was cooked, canned or brined does.
    opened = np.array([bool(item.cooked) or not is_raw(item.food) for item in mix.items], dtype=bool) | inside.any()
    for place in (SALT, SUGAR, SOLUTE):
        fraction[:, pot.food & opened, place] = lost[:, pot.food & opened]
        fraction[:, inside, place] = lost[:, pot.food].mean(axis=1, keepdims=True) if pot.food.any() else 0.0
    fraction[:, pot.clinging] = draws.draw(WASHED, Cause.WASHED_OFF, most=1.0)[:, None, None]
    fraction[:, pot.clinging, WATER] = 0.0  # water takes the place of what is washed away
    for at in pot.at(pot.food):
        food = mix.items[at].food
        rule = _rinsing_of(food)
        if food is not None and rule is not None:
            long = min(1.0, time.best / 3.0) if rule.calcium else 1.0
            gone = draws.draw(rule.sodium, Cause.RINSED_SODIUM, food, most=1.0) * long
            fraction[:, at, SALT] = gone
            fraction[:, at, SOLUTE] = fraction[:, at, SUGAR] = gone * 0.8
            text = f"published losses by rinsing: sodium −{100 * rule.sodium.best * long:.0f} %"
            account = Account(text, Ground.PUBLISHED)
            if rule.calcium:
                mix, calcium = _part_of(mix, at, "CA", rule.calcium * long)
                taken.append(calcium)
    washed, kept = mix.split(fraction)
    taken.append(washed.present())
    return Outcome(kept, account=(account,), off=(*first.off, Off(PartedPhases.RINSINGS, together(taken))))


def _rinsing_of(food: str | None) -> _Rinsing | None:
    if food is None:
        return None
    return next((rule for rule in _rinsings() if described(food, rule.foods)), None)


def _part_of(mix: Mixture, at: int, key: str, share: float) -> tuple[Mixture, Mixture]:
    """Take a share of one nutrient out of one item: what stays, and what goes, which weighs nothing."""
    composition = mix.composition.copy()
    composition[at, :, column(key)] *= 1.0 - share
    lost = mix.composition - composition
    return replace(mix, composition=composition), replace(mix, composition=lost, weight=np.zeros_like(mix.weight))


def drain_can(mix: Mixture, at: int, *, draws: Sampler) -> Outcome:
    """Drain a can whose table entry is solids and liquid together.

    The liquid is 36 % (30 to 42) of the can and carries its salt, sugar and other solutes in that share.
    """
    share = draws.draw(CAN_LIQUID, Cause.CAN_LIQUID, most=0.9)
    fraction = blank(draws.rows, len(mix.items))
    for place in (SALT, SUGAR, SOLUTE):
        fraction[:, at, place] = share
    solutes = share * mix.weight[at, [SALT, SUGAR, SOLUTE]].sum()
    fraction[:, at, WATER] = np.minimum((share - solutes) / max(mix.weight[at, WATER], 1e-9), 1.0)
    poured, kept = mix.split(fraction)
    drained = replace(kept.items[at], facts=replace(kept.items[at].facts, drained=True))
    kept = kept.renamed([drained if place == at else item for place, item in enumerate(kept.items)])
    account = Account(f"{CAN_LIQUID.best:.0%} ({CAN_LIQUID.low:.0%}–{CAN_LIQUID.high:.0%}) of a can is its liquid")
    return Outcome(kept, account=(account,), off=(Off(PartedPhases.LIQUID, poured.select([at])),))


def squeeze(mix: Mixture, *, draws: Sampler, share: Interval | None = None) -> Outcome:
    """Drain and squeeze: a share of the water in the food goes, with what is dissolved in it.

    `share` is what goes, 0 to 1, where it is known better than `SQUEEZED` says: the juice of a fruit.
    """
    first = drain(mix, draws=draws)
    pot = sort_pot(first.kept)
    usual = share or SQUEEZED
    pressed_out = draws.draw(usual, Cause.SQUEEZED, most=0.9)
    fraction = blank(draws.rows, len(first.kept.items))
    for place in (WATER, SALT, SUGAR, SOLUTE):
        fraction[:, pot.food | pot.absorbed, place] = pressed_out[:, None]
    pressed, kept = first.kept.split(fraction)
    text = f"{usual.best:.0%} ({usual.low:.0%}–{usual.high:.0%}) of the water is pressed out"
    account = Account(text, Ground.USUAL)
    return Outcome(kept, account=(account,), off=(*first.off, Off(PartedPhases.JUICE, pressed.present())))


def pour_fat(mix: Mixture, *, draws: Sampler, left: Interval | None = None) -> Outcome:
    """Take the free fat out: oil and butter that no food took up, and what came out of meat into the liquid.

    `left` is what stays of it [g], where the cook says ("all but a tablespoon"); else a skimming leaves a tenth.
    """
    pot = sort_pot(mix)
    dissolved = np.array([item.phase == "dissolved" for item in mix.items], dtype=bool)
    taken = draws.draw(SKIMMED, Cause.SKIMMED, most=1.0)
    text = f"{SKIMMED.best:.0%} ({SKIMMED.low:.0%}–{SKIMMED.high:.0%}) of the free fat"
    if left is not None:
        free = pot.mass_of(pot.fat) + mix.constituent("fat")[:, dissolved].sum(axis=1)
        stays = np.divide(draws.draw(left), free, out=np.ones(draws.rows), where=free > 0.0)
        taken = np.clip(1.0 - stays, 0.0, 1.0)
        text = f"all but {left.best:.3g} g of the free fat"
    fraction = blank(draws.rows, len(mix.items))
    fraction[:, pot.fat] = taken[:, None, None]
    fraction[:, dissolved, FAT] = taken[:, None]
    poured, kept = mix.split(fraction)
    return Outcome(kept, account=reckoned(text, Ground.USUAL), off=(Off(PartedPhases.FAT, poured.present()),))


def discard_items(mix: Mixture, places: Sequence[int]) -> Outcome:
    """Take some items out with their share of what the food has absorbed, by the water that they hold."""
    pot = sort_pot(mix)
    chosen = np.zeros(len(mix.items), dtype=bool)
    chosen[list(places)] = True
    fraction = blank(mix.draws, len(mix.items))
    fraction[:, chosen] = 1.0
    water = mix.held[:, :, WATER] * mix.weight[:, WATER]
    # Water that was taken up is of what swells, where something does; what is dissolved spreads by all the water.
    swells = np.array(
        [kind in WATER_TAKERS and is_raw(item.food) for kind, item in zip(pot.kinds, mix.items, strict=True)]
    )
    swells &= pot.food
    if swells.any():
        dry = mix.mass * swells
        holds = dry / np.maximum(dry.sum(axis=1, keepdims=True), 1e-9)
        water = water + pot.water(pot.absorbed)[:, None] * holds
    else:
        holds = water
    around = pot.food | (chosen & pot.liquor)
    for place in range(len(CONSTITUENTS)):
        by = holds if place == WATER else water
        whole, part = by[:, around].sum(axis=1), by[:, chosen].sum(axis=1)
        share = np.divide(part, whole, out=np.zeros(mix.draws), where=whole > 0.0)
        fraction[:, pot.absorbed & ~chosen, place] = np.minimum(share, 1.0)[:, None]
    taken, kept = mix.split(fraction)
    names = ", ".join(sorted({mix.items[at].name for at in places}))
    off = (Off(PartedPhases.PIECES, taken.present()),)
    return Outcome(kept.present(), account=reckoned(f"{names} with what they have taken up"), off=off)
