"""Dry heat: the oven, the grill, the pan and deep fat.

Meat by itself drips and shrinks (`flesh`). Vegetables by themselves lose water by their kind. A mixed dish loses water
as dishes of its kind do, and the juice of its meat stays in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from typing import NamedTuple

import numpy as np

from labeler.cooking.models.conditions import PAN_MINUTES, Conditions
from labeler.cooking.models.evaporation import lose_water, take_constituent
from labeler.cooking.models.meat_losses import cook_dry, flesh_share
from labeler.cooking.models.oil_uptake import take_up_oil
from labeler.cooking.models.yield_factors import prior
from labeler.cooking.state.ledger import LedgerEntry
from labeler.cooking.state.mixture import Array, Mixture
from labeler.cooking.state.phases import WATER, Off, Outcome, Phases, sort_pot, together
from labeler.cooking.state.reckoning import Account, Ground, reckoned
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.data_files import data_folder, data_rows
from labeler.parsing.instructions.actions import Heat, Trait, has, heat_of
from labeler.parsing.instructions.model import Mark
from labeler.types import Interval

__all__ = ["cook_in_dry_heat"]


_AGAIN = 0.4  # of the loss of raw food when food that is cooked already is heated again: common practice, no source


_ROAST = 40.0  # min in which raw vegetables are roasted: common practice, no source


class _Dish(NamedTuple):
    methods: frozenset[str]
    flour: float
    egg: float
    liquid: float
    sugar: float
    loss: Interval
    name: str


@cache
def _dishes() -> tuple[_Dish, ...]:
    path = data_folder("labeler.cooking") / "dish_moisture.csv"
    return tuple(
        _Dish(
            frozenset(row["methods"].split("|")),
            float(row["flour"]),
            float(row["egg"]),
            float(row["liquid"]),
            float(row["sugar"]),
            Interval(float(row["best"]), float(row["low"]), float(row["high"])).scaled(0.01),
            row["dish"],
        )
        for row in data_rows(path)
    )


def _dish_of(pot: Phases, action: str) -> _Dish | None:
    total = float(pot.mix.total_mass[0])
    if total <= 0.0:
        return None
    mass = pot.mix.mass[0]

    def share(*kinds: str) -> float:
        return float(sum(mass[at] for at, kind in enumerate(pot.kinds) if kind in kinds)) / total

    flour, egg, liquid = share("flour", "powder"), share("egg"), share("liquid", "water", "dairy")
    sugar = share("sugar")
    for dish in _dishes():
        enough = flour >= dish.flour and egg >= dish.egg and liquid >= dish.liquid and sugar >= dish.sugar
        if action in dish.methods and enough:
            return dish
    return None


def cook_in_dry_heat(mix: Mixture, conditions: Conditions, draws: Sampler, goal: Array | None) -> Outcome:
    """Oven, grill and pan: what drips, and the fat that fried food leaves, are parted from it."""
    pot, traits = sort_pot(mix), conditions.row.traits
    floats = Trait.IN_FAT in traits
    off: tuple[Off, ...] = ()
    added: tuple[LedgerEntry, ...] = ()
    account: list[Account] = []
    if floats or (Trait.IN_PAN in traits and conditions.from_fat):
        oil = take_up_oil(
            mix,
            way=conditions.action,
            draws=draws,
            left=conditions.oil_left,
            part=conditions.part,
            line=conditions.line,
        )
        mix, added, off = oil.kept, oil.added, oil.off
        account += oil.account
        pot = sort_pot(mix)
    heat_of = replace(conditions, action="pan-fry") if floats else conditions
    flesh = pot.at(pot.flesh)
    pieces = _in_pieces(pot, conditions, _times_usual(conditions))
    if flesh and (flesh_share(pot) > 0.6 or (pieces and goal is None)):
        outcome = cook_dry(mix, flesh, heat_of, draws, goal=goal)
        kept, more, told = outcome.kept, list(outcome.streams), outcome.account
        if conditions.drip_stays or flesh_share(pot) <= 0.6:
            # What runs out of meat is on the vegetables beside it, or in the pan when the next thing goes in.
            kept = _with_drip(kept, outcome.off)
        else:
            off += outcome.off
        if pieces and goal is None:
            kept, steam, by_kind = _by_kind(kept, conditions, draws)
            more.append(steam)
            told = (*told, *by_kind)
    elif goal is not None:
        kept, more, told = mix, [], ()
    elif pieces:
        kept, steam, told = _by_kind(mix, conditions, draws)
        more = [steam]
    else:
        kept, more, told = _mixed(mix, pot, conditions, draws)
    return Outcome(kept, tuple(more), (*account, *told), added=added, off=off)


def _with_drip(kept: Mixture, off: Sequence[Off]) -> Mixture:
    """The food with what has dripped from it, as the liquid around it."""
    return together(
        [kept, *(one.mix.renamed([replace(item, phase="dissolved") for item in one.mix.items]) for one in off)]
    )


_Told = tuple[Account, ...]
_BATTERS = frozenset({"flour", "egg", "dairy", "prepared", "sauce", "sweet"})


def _in_pieces(pot: Phases, conditions: Conditions, times: float | None) -> bool:
    """Whether the food lies in pieces beside each other, and is no batter, dough or casserole.

    A coating of flour and egg on what is fried does not make it one; nor does liquid that a long frying boils away.
    """
    if pot.best(pot.liquor) > 0.15 * max(1.0, min(times or 1.0, 4.0)) * float(pot.mix.total_mass[0]):
        return False
    mass = pot.mix.mass[0]
    kinds = {kind for at, kind in enumerate(pot.kinds) if pot.food[at]}
    bound = sum(mass[at] for at, kind in enumerate(pot.kinds) if pot.food[at] and kind in _BATTERS)
    coating = 0.25 if has(conditions.action, Trait.IN_FAT, Trait.IN_PAN) else 0.0
    if kinds <= {"egg"}:
        return True  # fried or baked eggs
    return float(bound) <= coating * pot.best(pot.food) and any(prior(kind, "dry") for kind in kinds)


_LOOSE = Interval(0.6, 0.35, 0.85)  # of the water around food in a pan that a usual frying drives out: common practice
_LONGEST = 8.0  # times the usual frying, after which nothing more is reckoned: a choice, no source


def _by_kind(mix: Mixture, conditions: Conditions, draws: Sampler) -> tuple[Mixture, LedgerEntry, _Told]:
    """Every piece that is not flesh loses water by its kind; what no prior knows keeps it.

    In hot fat the water goes by time: where a usual frying of `PAN_MINUTES` leaves the part w of it, t minutes leave
    w ^ (t / PAN_MINUTES), the first-order rate of drying (common in the literature of frying; from memory). The usual
    losses are those of `yield_priors.csv`. In the oven the prior holds for the whole roast.
    """
    pot, action = sort_pot(mix), conditions.action
    mass = mix.mass
    share = np.zeros((draws.rows, len(mix.items)))
    told: dict[str, Account] = {}
    times = _times_drawn(conditions, draws) if _times_usual(conditions) is not None else None
    for at in pot.at(pot.food & ~pot.flesh):
        item, kind = mix.items[at], pot.kinds[at]
        fried = prior(kind, "fried") if has(action, Trait.IN_FAT) else None
        usual = fried or prior(kind, "dry")
        water = mix.held[:, at, WATER] * mix.weight[at, WATER]
        if usual is None or not water.any():
            continue
        left = draws.draw(usual.weight, Cause.YIELD, kind, action, most=1.0)
        if item.cooked and times is None:
            left = 1.0 - _part_again(item.cooked, conditions) * (1.0 - left)
        lost = (1.0 - left) * mass[:, at]
        gone = np.clip(np.divide(lost, water, out=np.zeros(draws.rows), where=water > 0.0), 0.0, 0.97)
        share[:, at] = gone if times is None or fried is not None else 1.0 - (1.0 - gone) ** times
        bounds = f"{usual.weight.best:.0%} ({usual.weight.low:.0%}–{usual.weight.high:.0%})"
        after = "" if times is None else f" after {PAN_MINUTES:g} min"
        told[kind] = Account(f"{kind} {bounds} is left{after}, {usual.source}", usual.ground)
    around = pot.at((pot.liquor | pot.absorbed) & ~pot.fat)
    if conditions.row.heat is Heat.FAT and around:
        loose = draws.draw(_LOOSE, Cause.YIELD, "liquid", action, most=0.97)
        again = any(heat_of(item.cooked) is Heat.FAT for item in mix.items)
        longer: Array | float = times if times is not None else _AGAIN if again else 1.0
        share[:, around] = (1.0 - (1.0 - loose) ** longer)[:, None]
    kept, steam = take_constituent(mix, WATER, share)
    return kept, LedgerEntry("evaporated water", steam), tuple(told[kind] for kind in sorted(told))


def _part_again(cooked: str, conditions: Conditions) -> float:
    """Part of the loss of raw food that cooked food has in the oven, by how it was cooked before.

    What was roasted or fried has lost most of it; what was boiled has lost none, and how much of a whole roast follows
    goes by its time: "parboil, then roast for 45 minutes", "boil, then brown for 10 minutes".
    """
    if heat_of(cooked) not in (Heat.WET, Heat.STEAM) or conditions.minutes is None:
        return _AGAIN
    return min(1.0, max(_AGAIN, conditions.minutes.best / _ROAST))


def _times_usual(conditions: Conditions) -> float | None:
    """How many times the usual frying a stated time is; None in the oven, and where no time is said."""
    if conditions.row.heat is not Heat.FAT or not conditions.timed or conditions.minutes is None:
        return None
    return min(conditions.minutes.best / PAN_MINUTES, _LONGEST)


def _times_drawn(conditions: Conditions, draws: Sampler) -> Array:
    """The same for each draw of a time that is a range: "4 to 6 minutes"."""
    assert conditions.minutes is not None
    times: Array = np.minimum(draws.draw(conditions.minutes) / PAN_MINUTES, _LONGEST)
    return times


def _mixed(
    mix: Mixture, pot: Phases, conditions: Conditions, draws: Sampler
) -> tuple[Mixture, list[LedgerEntry], _Told]:
    """A batter, dough or casserole: it loses water as dishes of its kind do, and keeps everything else."""
    dish = _dish_of(pot, conditions.action)
    if dish is None:
        return mix, [], reckoned("no loss is known for this", Ground.NO_LOSS)
    loss = draws.draw(dish.loss, Cause.DISH_LOSS, dish.name)
    if Mark.COVERED in conditions.marks:
        loss = loss * 0.4
    if conditions.again:
        loss = loss * _AGAIN  # "bake 15 minutes; bake 20 minutes more": the loss is that of the whole baking
    kept, water_mix = lose_water(mix, loss * mix.total_mass)
    told = (
        f"{dish.name} lose {dish.loss.best:.0%} ({dish.loss.low:.0%}–{dish.loss.high:.0%}) as water, USDA survey foods"
    )
    return kept, [LedgerEntry("evaporated water", water_mix.present())], reckoned(told, Ground.PUBLISHED)
