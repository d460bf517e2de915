"""What is shaped by hand: from then on it holds together and is one food."""

from __future__ import annotations

from collections.abc import Sequence

from labeler.flow.heaps import Heap, Nature
from labeler.flow.model import Basis
from labeler.flow.target import Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import LIQUOR
from labeler.parsing.instructions.actions import Trait, action
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction

__all__ = ["hold_filling", "hold_together", "is_batter", "set_in_fat"]

# From so much flour [g], and so much for each gram of liquid and egg, a paste holds together in hot fat: choices, no
# source.
_FLOUR, _OF_FLOUR = 25.0, 0.3


def hold_together(walk: Walk, one: Instruction, targets: Sequence[Target]) -> None:
    """ "Into balls", "set the patties on a tray": what goes by the name of a shape has been made into it.

    Only food that no heat has touched and that lies in no liquid can be: "simmer the meatballs" tells of the sauce too.
    """
    for target in targets:
        if not is_class(head_of(target.mention.name), "product-pieces") or target.fresh:
            continue
        heap = walk.live(walk.focus) if target.focus else next(iter(target.heaps), None)
        if heap is not None and heap.shaped:
            heap.names.add(head_of(target.mention.name))
        if (
            heap is not None
            and len(heap.foods) > 1
            and not (heap.shaped or heap.cooked or heap.wet or heap.fat_bath or heap.soaked)
            and heap.nature is Nature.FOOD
        ):
            heap.bound = set(heap.foods)
            walk.table.node(heap, "make", text=one.text, span=one.span, basis=Basis.IMPLIED)
            return


def hold_filling(walk: Walk, one: Instruction) -> None:
    """ "Roll out, cut rounds, fill with the cheese": raw dough holds together what it was filled with."""
    heap = walk.live(walk.focus)
    if Trait.PACKS not in action(one.action).traits or heap is None or heap.nature is not Nature.FOOD:
        return
    dough = any(is_class(name, "product-flour") for name in heap.names)
    if dough and not (heap.cooked or heap.wet or heap.fat_bath or heap.soaked):
        heap.bound = set(heap.foods)


def is_batter(walk: Walk, heap: Heap) -> bool:
    """Whether a heap is flour stirred with egg or a liquid, raw, whatever else was stirred into it."""
    raw = heap.nature is Nature.FOOD and not (heap.shaped or heap.wet or heap.coat)
    wet = walk.grams(heap, *LIQUOR, "egg")
    return raw and wet > 0.0 and walk.grams(heap, "flour") > max(_FLOUR, _OF_FLOUR * wet)


def set_in_fat(walk: Walk, heap: Heap, one: Instruction) -> None:
    """ "Drop spoonfuls of the batter into the hot oil": from there on it holds together and is one food."""
    heap.bound = set(heap.foods)
    walk.table.node(heap, "make", text=one.text, span=one.span, basis=Basis.IMPLIED)
