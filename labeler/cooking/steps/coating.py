"""Coats and what holds together: flour, crumbs, batter, dough, patties."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from labeler.cooking.state.mixture import Mixture, blank
from labeler.cooking.state.phases import Off, Outcome, PartedPhases, sort_pot
from labeler.cooking.state.sampling import Cause
from labeler.flow.model import (
    Node,
)
from labeler.foods.food_class import DISSOLVES, kind_of
from labeler.types import Interval, Problem

if TYPE_CHECKING:
    from labeler.cooking.executor import PartRun
from labeler.cooking.steps.places import items_of_lines

__all__ = ["bind", "bound", "coat"]
_CLINGS = Interval(0.08, 0.03, 0.2)  # of a dry coating per weight of food: common practice, no source
_WET_CLINGS = Interval(0.25, 0.1, 0.45)  # of a batter, a marinade or egg per weight of food: common practice, no source


def coat(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Turn food in a coat; shaken off, only what clings of it stays."""
    places = items_of_lines(mix, run, node.coats)
    if node.action != "shake-off":
        # Salt and sugar are no coat: they cure what they lie on.
        coat = {at for at in places if kind_of(mix.items[at].food) not in DISSOLVES}
        return Outcome(
            mix.renamed(
                [
                    replace(item, phase="coating") if at in coat and not item.phase else item
                    for at, item in enumerate(mix.items)
                ]
            )
        )
    if not places:
        return Outcome(mix)
    pot = sort_pot(mix)
    foods = [at for at in pot.at(pot.food) if at not in places and pot.kinds[at] not in ("seasoning", "salt", "sugar")]
    mass = mix.select(places).total_mass
    wet = any(kind_of(mix.items[at].food) in ("egg", "dairy", "liquid", "water", "sauce") for at in places)
    clings = run.draws.draw(_WET_CLINGS if wet else _CLINGS, Cause.COATING) * (
        mix.select(foods).total_mass if foods else 0.0
    )
    fraction = blank(run.draws.rows, len(mix.items))
    fraction[:, places] = np.clip(1.0 - clings / np.maximum(mass, 1e-9), 0.0, 1.0)[:, None, None]
    lost, kept = mix.split(fraction)
    problem = Problem(
        "coating-assumed",
        "it does not say how much is left of the coating: weigh it and write “120 g of flour is left”.",
    )
    return Outcome(
        kept,
        method="what clings of the coating stays; a guess",
        problems=(problem,),
        off=(Off(PartedPhases.COAT, lost.present()),),
    )


def bind(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    return Outcome(bound(mix))


def bound(mix: Mixture) -> Mixture:
    """What was kneaded or shaped holds together: nothing of it lies loose in a bath any more."""
    return mix.renamed([item if item.phase else replace(item, phase="bound") for item in mix.items])
