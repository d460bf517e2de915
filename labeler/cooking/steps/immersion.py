"""Food that lies in what is around it, or under salt."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from labeler.cooking.models.dry_salting import cure, is_salted
from labeler.cooking.models.evaporation import (
    alcohol_kept,
    has_alcohol,
    lose_alcohol,
)
from labeler.cooking.models.immersion import CHANGES, hard_to_know, soak
from labeler.cooking.models.swelling import PLANTS, swell
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.ledger import LedgerEntry
from labeler.cooking.state.mixture import Item, Mixture, Origin, join
from labeler.cooking.state.phases import Outcome, sort_pot
from labeler.cooking.state.sampling import Cause
from labeler.flow.model import (
    Node,
)
from labeler.foods.food_class import DISSOLVES, FLESH
from labeler.parsing.instructions.actions import Trait, action, has
from labeler.parsing.instructions.model import Mark
from labeler.types import Interval, Problem

if TYPE_CHECKING:
    from labeler.cooking.executor import PartRun
from labeler.cooking.steps.watering import TAP_WATER

__all__ = ["lie"]
_FRIDGE = 5.0
_SHORT = 120.0  # min up to which food stands where it was put: common practice, no source
_STEEPING = 60.0  # °C of what was just cooked and left to stand: common practice, no source


def lie(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Let food lie in what is around it: in liquor it soaks, under salt or sugar it cures."""
    settings, row = node.settings, action(node.action)
    pot, salted = sort_pot(mix), is_salted(mix)
    problems: tuple[Problem, ...] = ()
    stands, needs_none = Trait.STANDS in row.traits, has(node.action, Trait.STANDS, Trait.DRY_SALTS)
    raw = any(not mix.items[at].cooked for at in pot.at(pot.food) if pot.kinds[at] != "salt")
    lies = pot.has_liquor or (salted and raw) or not needs_none or Mark.WATER in settings.marks
    if not lies:
        return Outcome(mix)
    usual = action("cure").minutes if salted and stands else row.minutes
    time = settings.minutes or usual or Interval(30.0, 10.0, 60.0)
    if settings.minutes is None:
        problems = (
            Problem(
                "time-assumed",
                f"“{node.text}” does not say how long; {time.best / 60.0:.3g} hours ({time.low / 60.0:.3g}–"
                f"{time.high / 60.0:.3g}) are assumed. Write “{node.action} 4 hours”.",
                node.span.line,
            ),
        )
    warm = row.celsius if row.celsius is not None else 20.0
    celsius = (
        settings.celsius.best if settings.celsius is not None else _FRIDGE if Mark.FRIDGE in settings.marks else warm
    )
    flesh = any(kind in FLESH for kind in pot.kinds)
    if settings.celsius is None and (salted or (raw and flesh and time.best > _SHORT)):
        plants = all(pot.kinds[at] in PLANTS for at in pot.at(pot.food) if pot.kinds[at] not in DISSOLVES)
        celsius = 20.0 if plants else _FRIDGE  # meat, fish and eggs lie cold, whatever is said
    short = settings.minutes is not None and settings.minutes.best <= _SHORT
    boiled = any(has(item.cooked, Trait.IN_LIQUID) for item in mix.items)
    if stands and boiled and short and settings.celsius is None:
        celsius = _STEEPING
    added: tuple[LedgerEntry, ...] = ()
    hot = Mark.HOT in settings.marks
    if Mark.WATER in settings.marks and not pot.has_liquor and pot.food.any():
        usual_water = pot.food_mass * run.draws.draw(Interval(3.0, 1.5, 6.0), Cause.POT_WATER)
        if hot and not node.drained:  # no more than food drinks, as nothing is poured off
            drunk, _ = swell(pot, run.draws.draw(time), run.draws, hot=True)
            usual_water = np.where(drunk > 0.0, drunk, usual_water)
        grams = run.draws.draw(settings.water) if settings.water is not None else usual_water
        item = Item(run.flow.title, node.span.line, "water in the pot", TAP_WATER, origin=Origin.POT_WATER)
        added = (LedgerEntry("added", mix_of_foods([item], grams[:, None]), "soaking water, not listed"),)
        mix = join([mix, added[0].mix])
    streams: list[LedgerEntry] = []
    closed = Mark.COVERED in settings.marks or Trait.CLOSED_JAR in row.traits
    if time.best >= 360.0 and has_alcohol(mix) and not closed:
        mix, gone = lose_alcohol(mix, alcohol_kept("stored", time.best), run.draws)
        streams.append(LedgerEntry("evaporated alcohol", gone))
    if Mark.CHANGED_WATER in settings.marks and not salted:
        fresh = sort_pot(mix)
        bath = fresh.water(fresh.liquor) * run.draws.draw(CHANGES, Cause.FRESH_BATHS)
        outcome = soak(mix, minutes=time, celsius=celsius, draws=run.draws, bath=bath)
    else:
        cures = salted or Trait.DRY_SALTS in row.traits
        outcome = (
            cure(mix, minutes=time, celsius=celsius, draws=run.draws)
            if cures
            else soak(mix, minutes=time, celsius=celsius, draws=run.draws, hot=hot)
        )
    problems = (*problems, *hard_to_know(mix, asked=node.text, line=node.span.line))
    return replace(outcome, streams=(*streams, *outcome.streams), problems=(*problems, *outcome.problems), added=added)
