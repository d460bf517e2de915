"""Heat: what drips is parted, and fat that is left in the pan stays there until something happens to it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from labeler.cooking.models.conditions import Conditions
from labeler.cooking.models.evaporation import (
    HOT,
    reduce_to,
)
from labeler.cooking.models.heating import heat
from labeler.cooking.state.density import volume, water_density
from labeler.cooking.state.ledger import LedgerEntry
from labeler.cooking.state.mixture import Mixture, blank
from labeler.cooking.state.phases import Outcome, PartedPhases, together
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.flow.model import (
    Node,
)
from labeler.parsing.instructions.actions import Heat, action
from labeler.types import Interval

if TYPE_CHECKING:
    from labeler.cooking.executor import PartRun
from labeler.cooking.steps.measured import cannot, regain

__all__ = ["do_heat", "reduce"]
_CRUST = Interval(0.5, 0.3, 0.7)  # of the water of a coating that frying drives out: common practice, no source
_DRIES = frozenset({Heat.DRY, Heat.FAT})


# --- handlers --------------------------------------------------------------------------------------------------------


def do_heat(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Heat: what drips is parted; fat that is left in the pan stays there until something happens to it."""
    settings = node.settings
    if action(node.action).heat is Heat.WET and settings.millilitres is not None:
        return reduce(run, replace(node, settings=replace(settings, grams=None, share=None)), mix)
    return _heated(run, node, mix, run.conditions(node))


def _boil_down(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    return _heated(run, node, mix, replace(run.conditions(node), reduces=True))


def _heated(run: PartRun, node: Node, mix: Mixture, conditions: Conditions) -> Outcome:
    outcome = heat(mix, conditions, run.draws)
    drips = tuple(
        one._replace(mix=one.mix.renamed([replace(item, phase="dissolved") for item in one.mix.items]))
        for one in outcome.off
        if one.parted is PartedPhases.DRIPPINGS
    )
    stays = [one.mix for one in outcome.off if one.parted is not PartedPhases.DRIPPINGS]
    kept = together([outcome.kept, *stays]) if stays else outcome.kept
    streams = outcome.streams
    if action(node.action).heat in _DRIES:
        kept, crust = _dry_crust(kept, run.draws)
        streams = (*streams, *crust)
    if node.settings.grams is not None:
        run.measured = node.settings.grams
    return replace(outcome, kept=kept, off=drips, streams=streams)


def _dry_crust(mix: Mixture, draws: Sampler) -> tuple[Mixture, tuple[LedgerEntry, ...]]:
    """A wet coating becomes a crust: part of its water goes."""
    coat = np.array([item.phase == "coating" and not item.cooked for item in mix.items], dtype=bool)
    if not coat.any():
        return mix, ()
    fraction = blank(draws.rows, len(mix.items))
    fraction[:, coat, 0] = draws.draw(_CRUST, Cause.CRUST, most=0.95)[:, None]
    steam, kept = mix.split(fraction)
    kept = kept.renamed([replace(item, cooked="bake") if item.phase == "coating" else item for item in kept.items])
    return kept, (LedgerEntry("evaporated water", steam.present()),)


def reduce(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Boil down to a weight, a volume or a share; without a goal, boil by time."""
    settings = node.settings
    if settings.grams is None and settings.millilitres is None and settings.share is None:
        return _boil_down(run, replace(node, action="boil"), mix)
    warmed = heat(mix, replace(run.conditions(replace(node, action="heat")), grams=None, share=None), run.draws)
    pot = warmed.kept
    if settings.grams is not None:
        pot = regain(run, pot, run.draws.draw(settings.grams) - pot.total_mass)
    elif settings.millilitres is not None:
        missing = run.draws.draw(settings.millilitres) - volume(pot, temperature=HOT)
        pot = regain(run, pot, missing * float(water_density(HOT)) / 1000.0)
    outcome, short = reduce_to(
        pot, draws=run.draws, grams=settings.grams, millilitres=settings.millilitres, share=settings.share
    )
    if settings.grams is not None:
        run.measured = settings.grams
    return replace(outcome, streams=(*warmed.streams, *outcome.streams), problems=cannot(pot, outcome.kept, short))
