"""Coats and what holds together: flour, crumbs, batter, dough, patties."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from enum import Enum
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from labeler.cooking.state.mixture import Mixture, blank
from labeler.cooking.state.phases import Off, Outcome, PartedPhases, sort_pot
from labeler.cooking.state.sampling import Cause
from labeler.data_files import data_folder, data_rows
from labeler.flow.model import (
    Node,
)
from labeler.foods.food_class import DISSOLVES, kind_of
from labeler.parsing.instructions.actions import Trait, has
from labeler.types import Interval, Problem

if TYPE_CHECKING:
    from labeler.cooking.executor import PartRun
from labeler.cooking.state.reckoning import Ground, reckoned
from labeler.cooking.steps.places import items_of_lines

__all__ = ["Station", "bind", "bound", "clings_of", "coat"]
TABLE = data_folder("labeler.cooking") / "coating.csv"
_WET = frozenset({"egg", "dairy", "liquid", "water", "sauce"})
_BATTER = frozenset({"flour"})


class Station(Enum):
    """What food is turned in; the values are those of the table."""

    BATTER = "batter"
    WET = "wet"
    DRY_ON_WET = "dry on wet"
    DRY = "dry"


@cache
def clings_of(station: Station) -> Interval:
    """How much of a coating clings [g per g of food]."""
    for row in data_rows(TABLE):
        if row["station"] == station.value:
            return Interval(float(row["best"]), float(row["low"]), float(row["high"]))
    raise LookupError(station)


def _station(mix: Mixture, places: Collection[int]) -> Station:
    """What the foods at some places of a mixture are, as a coating of the rest."""
    kinds = {kind_of(mix.items[at].food) for at in places}
    if kinds & _WET:
        return Station.BATTER if kinds & _BATTER else Station.WET
    before = [item for at, item in enumerate(mix.items) if at not in places and item.phase in ("coating", "clinging")]
    return Station.DRY_ON_WET if any(kind_of(item.food) in _WET for item in before) else Station.DRY


def coat(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Turn food in a coat; shaken off, only what clings of it stays."""
    places = items_of_lines(mix, run, node.coats)
    if not has(node.action, Trait.SHAKES):
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
    clings = run.draws.draw(clings_of(_station(mix, places)), Cause.COATING) * (
        mix.select(foods).total_mass if foods else 0.0
    )
    fraction = blank(run.draws.rows, len(mix.items))
    fraction[:, places] = np.clip(1.0 - clings / np.maximum(mass, 1e-9), 0.0, 1.0)[:, None, None]
    if node.settings.share is not None:
        fraction[:, places] = run.draws.draw(node.settings.share, Cause.COATING)[:, None, None]
    lost, kept = mix.split(fraction)
    if node.settings.share is not None:
        told = reckoned("so much of the coating is left over as said", Ground.STATED)
        return Outcome(kept, account=told, off=(Off(PartedPhases.COAT, lost.present()),))
    problem = Problem(
        "coating-assumed",
        "it does not say how much is left of the coating: weigh it and write “120 g of flour is left”.",
    )
    return Outcome(
        kept,
        account=reckoned("what clings of the coating stays; a guess", Ground.USUAL),
        problems=(problem,),
        off=(Off(PartedPhases.COAT, lost.present()),),
    )


def bind(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Knead or shape: what comes together holds together."""
    return Outcome(bound(mix))


def bound(mix: Mixture) -> Mixture:
    """What was kneaded or shaped holds together: nothing of it lies loose in a bath any more."""
    return mix.renamed([item if item.phase else replace(item, phase="bound") for item in mix.items])
