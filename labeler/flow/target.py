"""What one noun phrase of the method means."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import Enum

from labeler.flow.heaps import Food, Heap
from labeler.flow.ingredients import Ingredient
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Mention, Quantity, Role

__all__ = ["Parted", "Target", "is_only_medium", "is_only_waste", "is_the_pan", "only_utensils"]


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
    result : bool
        What the food is made into, and no place: "roll the dough into balls".
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
    result: bool = False
    confidence: float = 1.0

    @property
    def quantity(self) -> Quantity:
        """How much of it."""
        return self.mention.quantity


def is_only_medium(target: Target) -> bool:
    """Whether a phrase tells what food is cooked in ("in water"), and not into what it is put ("into drippings")."""
    there = target.parted is Parted.DRIPPINGS and target.heaps
    return target.parted is not None and not target.mention.definite and not there


def only_utensils(one: Instruction, targets: Sequence[Target]) -> bool:
    """Whether all that it is done to is a tool that holds food: nothing is done to the food."""
    objects = [mention for mention in one.mentions if mention.role is Role.OBJECT]
    utensils = all(is_class(head_of(mention.name), "utensil") for mention in objects)
    return bool(objects) and utensils and not any(t.fresh or t.heaps for t in targets)


def is_the_pan(targets: Sequence[Target]) -> bool:
    """ "Rinse the pot and return it to the stove": it is the pot that goes there."""
    into = [t for t in targets if t.mention.role is Role.INTO]
    others = [t for t in targets if t.mention.role is not Role.INTO]
    return all(is_class(head_of(t.mention.name), "heat-source") for t in into) and all(t.focus for t in others)


def is_only_waste(targets: Sequence[Target]) -> bool:
    """Whether bones, shells and peel are all that is put somewhere: they are counted in no figure."""
    objects = [t for t in targets if t.mention.role is Role.OBJECT]
    with_food = any(t.fresh or t.heaps for t in targets if t.mention.role is Role.WITH)
    return bool(objects) and not with_food and all(t.waste and not t.within for t in objects)
