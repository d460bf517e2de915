"""What one noun phrase of the method means."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from labeler.flow.heaps import Food, Heap
from labeler.flow.ingredients import Ingredient
from labeler.parsing.instructions.model import Mention, Quantity

__all__ = ["Parted", "Target"]


class Parted(Enum):
    """What a step may have parted, or may part, from food."""

    LIQUID = "byproduct-liquid"
    FAT = "byproduct-fat"
    DRIPPINGS = "byproduct-drippings"
    SOLIDS = "byproduct-solids"
    COAT = "byproduct-coat"


@dataclass
class Target:
    """What one mention means.

    Parameters
    ----------
    mention : Mention
    fresh : list of Ingredient
        Foods of the list that are not used up.
    heaps : list of Heap
    within : list of Food
        Foods that lie in `heaps` already, where it is about them.
    parted : Parted or None
    everything, rest : bool
        Every food; every food that nothing has named.
    focus : bool
        What the step before was about.
    unlisted : bool
        A food, it seems, that no line lists.
    waste, spent : bool
        Shells, bones, peel; what only gave its taste.
    nothing : bool
        A tool, a time, a place.
    """

    mention: Mention
    fresh: list[Ingredient] = field(default_factory=list)
    heaps: list[Heap] = field(default_factory=list)
    within: list[Food] = field(default_factory=list)
    parted: Parted | None = None
    everything: bool = False
    rest: bool = False
    focus: bool = False
    unlisted: bool = False
    waste: bool = False
    spent: bool = False
    nothing: bool = False
    confidence: float = 1.0

    @property
    def quantity(self) -> Quantity:
        """How much of it."""
        return self.mention.quantity
