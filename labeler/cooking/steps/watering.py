"""Foods that come together, and water that no line lists."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.density import volume
from labeler.cooking.state.ledger import LedgerEntry
from labeler.cooking.state.mixture import Array, Item, Mixture, Origin, join
from labeler.cooking.state.phases import Outcome, sort_pot
from labeler.cooking.state.reckoning import reckoned
from labeler.cooking.state.sampling import Cause
from labeler.flow.model import (
    Node,
)
from labeler.parsing.instructions.actions import Trait, has
from labeler.parsing.instructions.model import Mark
from labeler.types import Interval

if TYPE_CHECKING:
    from labeler.cooking.executor import PartRun

__all__ = ["TAP_WATER", "gather", "thin"]

TAP_WATER = "14411"


def thin(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Add water up to a weight or a volume, or so much of it."""
    settings = node.settings
    if settings.grams is not None:
        grams = np.maximum(run.draws.draw(settings.grams) - mix.total_mass, 0.0)
    elif settings.millilitres is not None:
        grams = np.maximum(run.draws.draw(settings.millilitres) - volume(mix), 0.0)
    elif settings.water is not None:
        grams = run.draws.draw(settings.water)
    else:
        return Outcome(mix)
    return _watered(run, node, mix, grams, Origin.WATER_ADDED, "water added")


def _watered(run: PartRun, node: Node, mix: Mixture, grams: Array, origin: Origin, name: str) -> Outcome:
    item = Item(run.flow.title, node.span.line, name, TAP_WATER, origin=origin)
    entry = LedgerEntry("added", mix_of_foods([item], grams[:, None]), "water, not listed")
    return Outcome(join([mix, entry.mix]), account=reckoned("water is added"), added=(entry,))


_COVERS = Interval(1.5, 0.8, 3.0)  # water that just covers food, per weight of it: common practice, no source


def gather(run: PartRun, node: Node, mix: Mixture) -> Outcome:
    """Put together; where food is covered with water that no line lists, that water comes to it."""
    if Mark.WATER not in node.settings.marks or not has(node.action, Trait.COVERS):
        return Outcome(mix)
    water = node.settings.water
    grams = (
        run.draws.draw(water)
        if water is not None
        else sort_pot(mix).food_mass * run.draws.draw(_COVERS, Cause.POT_WATER)
    )
    return _watered(run, node, mix, grams, Origin.POT_WATER, "water in the pot")
