"""Dry heat: the oven, the grill, the pan and deep fat.

Meat by itself drips and shrinks (`flesh`). Vegetables by themselves lose water by their kind. A mixed dish loses water
as dishes of its kind do, and the juice of its meat stays in it.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np

from labeler.kitchen.draws import Draws
from labeler.kitchen.flesh import Heat, cook_dry, flesh_share
from labeler.kitchen.fry import take_up_oil
from labeler.kitchen.heat import Place
from labeler.kitchen.ledger import Entry
from labeler.kitchen.mix import Array, Mix, blank
from labeler.kitchen.pot import WATER, Outcome, Pot, sort_pot, together
from labeler.kitchen.reduce import lose_water
from labeler.kitchen.yields import prior
from labeler.knowledge import Interval
from labeler.recipe.handling import Step

__all__ = ["cook_in_dry_heat"]


@dataclass(frozen=True, slots=True)
class _Dish:
    methods: frozenset[str]
    flour: float
    egg: float
    liquid: float
    loss: Interval
    name: str


@cache
def _dishes() -> tuple[_Dish, ...]:
    path = Path(__file__).with_name("data") / "dish_moisture.csv"
    with path.open(encoding="utf-8", newline="") as stream:
        return tuple(
            _Dish(
                frozenset(row["methods"].split("|")),
                float(row["flour"]),
                float(row["egg"]),
                float(row["liquid"]),
                Interval(float(row["best"]), float(row["low"]), float(row["high"])).scaled(0.01),
                row["dish"],
            )
            for row in csv.DictReader(line for line in stream if not line.startswith("#"))
        )


def _dish_of(pot: Pot, action: str) -> _Dish | None:
    total = float(pot.mix.total_mass[0])
    mass = pot.mix.mass[0]

    def share(*kinds: str) -> float:
        return float(sum(mass[at] for at, kind in enumerate(pot.kinds) if kind in kinds)) / total

    flour, egg, liquid = share("flour", "powder"), share("egg"), share("liquid", "water", "dairy")
    for dish in _dishes():
        if action in dish.methods and flour >= dish.flour and egg >= dish.egg and liquid >= dish.liquid:
            return dish
    return None


def cook_in_dry_heat(mix: Mix, step: Step, action: str, place: Place, draws: Draws, goal: Array | None) -> Outcome:
    """Oven, grill and pan."""
    pot = sort_pot(mix)
    streams: list[Entry] = []
    added: tuple[Entry, ...] = ()
    methods = []
    fries = action == "pan-fry" and (place.oil_left is not None or (place.last and flesh_share(pot) > 0.5))
    if action == "deep-fry" or fries:
        way = "deep-fry" if action == "deep-fry" else "pan-fry"
        oil = take_up_oil(mix, way=way, draws=draws, left=place.oil_left, part=place.part, line=place.line)
        mix, added = oil.kept, oil.added
        streams += oil.streams
        methods.append(oil.method)
        pot = sort_pot(mix)
    heat_of = Heat("pan-fry" if action == "deep-fry" else action, step.core, step.marks, step.text)
    flesh = pot.at(pot.flesh)
    if flesh and flesh_share(pot) > 0.6:
        outcome = cook_dry(mix, flesh, heat_of, draws, goal=goal)
        kept, more, told = outcome.kept, list(outcome.streams), outcome.method
        if action in ("pan-fry", "stir-fry") and not place.last:
            # What runs out of meat in a pan is still in the pan when the next thing goes in.
            kept, more = _back_in_pan(kept, more)
    else:
        kept, more, told = _mixed(mix, pot, action, step, draws) if goal is None else (mix, [], "")
    return Outcome(kept, (*streams, *more), "; ".join([*methods, told]), added=added)


def _back_in_pan(kept: Mix, streams: list[Entry]) -> tuple[Mix, list[Entry]]:
    dripped = [entry.mix for entry in streams if entry.stream == "dripped"]
    juice = [mix.renamed([replace(item, phase="dissolved") for item in mix.items]) for mix in dripped]
    return together([kept, *juice]), [entry for entry in streams if entry.stream != "dripped"]


def _mixed(mix: Mix, pot: Pot, action: str, step: Step, draws: Draws) -> tuple[Mix, list[Entry], str]:
    """A mixed dish, or vegetables by themselves: water evaporates, everything else stays."""
    kinds = [kind for at, kind in enumerate(pot.kinds) if pot.food[at]]
    method_class = "fried" if action == "deep-fry" else "dry"
    priors = {kind: prior(kind, method_class) or prior(kind, "dry") for kind in kinds}
    wet = pot.best(pot.liquor) > 0.15 * float(mix.total_mass[0]) or "flour" in kinds or "egg" in kinds
    if not wet and all(priors.values()):
        water = np.zeros((draws.rows, len(mix.items)))
        for at in pot.at(pot.food):
            item, usual = mix.items[at], priors[pot.kinds[at]]
            if usual is None:
                continue
            left = draws.draw(usual.weight, ("yield", pot.kinds[at], method_class), most=1.0)
            if item.cooked:
                left = 1.0 - 0.4 * (1.0 - left)
            water[:, at] = (1.0 - left) * mix.mass[:, at]
        held = mix.held[:, :, WATER] * mix.weight[:, WATER]
        fraction = blank(draws.rows, len(mix.items))
        fraction[:, :, WATER] = np.clip(np.divide(water, held, out=np.zeros_like(held), where=held > 0.0), 0.0, 0.97)
        steam, kept = mix.split(fraction)
        told = ", ".join(
            f"{kind} {usual.weight.best:.0%} ({usual.weight.low:.0%}–{usual.weight.high:.0%}) is left"
            for kind, usual in sorted(priors.items()) if usual is not None
        )  # fmt: skip
        return kept, [Entry("evaporated water", steam.present())], f"by kind: {told}"
    dish = _dish_of(pot, action)
    if dish is None:
        return mix, [], "no loss is known for this"
    loss = draws.draw(dish.loss, ("dish", dish.name))
    if "covered" in step.marks:
        loss = loss * 0.4
    kept, water_mix = lose_water(mix, loss * mix.total_mass)
    told = (
        f"{dish.name} lose {dish.loss.best:.0%} ({dish.loss.low:.0%}–{dish.loss.high:.0%}) as water, USDA survey foods"
    )
    return kept, [Entry("evaporated water", water_mix.present())], told
