"""Which side of a liquid that is poured off food goes on: the food, what ran off, or both (R6).

It is settled by what the later steps name, then by where it is poured: what is poured into a jug is wanted.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from labeler.flow.heaps import Food, Heap
from labeler.flow.looking_ahead import ahead
from labeler.flow.target import Parted, Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import LIQUOR
from labeler.parsing.instructions.actions import Handler, action
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Mark, Role

__all__ = ["Sides", "is_liquid", "named_afterwards", "throws_solids_away", "wants_liquid"]

_BESIDE = frozenset({Handler.DISCARD, Handler.KEEP})
_MOST = 0.3  # share of the solids from which they are what is wanted: a choice, no source


@dataclass(frozen=True, slots=True)
class Sides:
    """Which side of a heap the later steps name, other than to throw it away."""

    solids: bool = False
    liquid: bool = False
    most: bool = False  # of what is named of the solids


def named_afterwards(walk: Walk, heap: Heap) -> Sides:
    """Which side of a heap later steps bring in, cut or serve by name."""
    pieces = set(walk.solids(heap))
    named: set[Food] = set()
    liquid = False
    for later in ahead(walk):
        if action(later.action).handler in _BESIDE or Mark.THROWN_AWAY in later.marks:
            continue  # what is kept beside may be either
        for mention in later.mentions:
            if mention.role in (Role.EVIDENCE, Role.EXCEPT) or is_class(mention.name, "pronoun"):
                continue
            target = walk.resolve(mention, later)
            named |= pieces & set(target.within) if heap in target.heaps else set()
            liquid |= is_liquid(walk, heap, target)
    grams = {food: walk.grams_of(food) * heap.foods[food] for food in pieces}
    most = sum(grams[food] for food in named) > _MOST * sum(grams.values())
    return Sides(bool(named), liquid, most)


def is_liquid(walk: Walk, heap: Heap, target: Target) -> bool:
    """Whether a phrase names what is around the food of a heap."""
    if target.parted is Parted.LIQUID:
        return True
    here = [food for food in target.within if food in heap.foods]
    if here and all(walk.kind(food) in LIQUOR for food in here):
        return True
    about = heap in target.heaps or target.focus
    return about and not here and is_class(head_of(target.mention.name), "product-liquid", "byproduct-liquid")


def wants_liquid(walk: Walk, one: Instruction, heap: Heap, objects: Sequence[Target]) -> Sides | None:
    """Which sides go on where the words pour the liquid of a heap off by its name; None where they do not.

    "Pour off the broth into a jug", "strain off the stock ... serve the stock in cups".
    """
    named = [t for t in objects if t.mention.role is Role.OBJECT]
    if Mark.PAPER in one.marks:
        return None  # "let it drain on paper": the paper takes up what runs off
    if not named or not walk.solids(heap) or not all(_runs(walk, one, heap, t) for t in named):
        return None
    into = bool(one.vessel_kinds)
    if not into and all(head_of(t.mention.name) == "water" for t in named):
        return None  # "pour off the first water": what the words keep of it they keep by name
    later = named_afterwards(walk, heap)
    return Sides(later.solids or not (into or later.liquid), into or later.liquid)


def throws_solids_away(walk: Walk, heap: Heap) -> bool:
    """Whether what stays behind is thrown away later: "let it drip overnight ... the pulp goes on the compost"."""
    if not walk.solids(heap) or not walk.has_liquid(heap):
        return False
    for later in ahead(walk):
        solids = [one for one in later.mentions if is_class(head_of(one.name), "byproduct-solids")]
        if solids and (action(later.action).handler is Handler.DISCARD or Mark.THROWN_AWAY in later.marks):
            return True
    return False


def _runs(walk: Walk, one: Instruction, heap: Heap, target: Target) -> bool:
    """Whether a phrase names what runs off: a liquid, the tea of tea leaves, or what no line has ("the liqueur")."""
    here = [food for food in target.within if food in heap.foods]
    infused = bool(here) and walk.has_liquid(heap) and all(walk.kind(food) == "seasoning" for food in here)
    made = target.focus and bool(one.vessel) and target.mention.definite and walk.has_liquid(heap)
    return infused or made or is_liquid(walk, heap, target)
