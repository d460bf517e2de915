"""What a removal is about: which heap, and which of its pieces the words name."""

from __future__ import annotations

from labeler.flow.heaps import Food, Heap, Nature
from labeler.flow.target import Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import LIQUOR
from labeler.parsing.instructions.model import Instruction, Quantity

__all__ = ["heap_about", "pieces_named", "whole_heap"]


def heap_about(walk: Walk, one: Instruction, objects: list[Target], *, wet: bool = False) -> Heap | None:
    """The heap that a removal is about."""
    for target in objects:
        if target.fresh:
            heap = walk.table.new(vessel=one.vessel, last=walk.at)
            for i in target.fresh:
                drawn = walk.draw(i, target.quantity)
                if drawn is not None:
                    walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
            return heap
        if target.heaps and target.parted is None:
            return target.heaps[0]
    focus = walk.live(walk.focus)
    if walk.last_named and (focus is None or not any(i.source in focus.foods for i in walk.last_named)):
        fresh = [i for i in walk.last_named if walk.left[i.source] > 0.02]
        if fresh:
            heap = walk.table.new(last=walk.at)
            for i in fresh:
                drawn = walk.draw(i, objects[0].quantity if objects else Quantity())
                if drawn is not None:
                    walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
            return heap
    if focus is None:
        unplaced = walk.unplaced(after=one.after)
        if unplaced and not objects:
            heap = walk.table.new(last=walk.at)
            for i in unplaced:
                drawn = walk.draw(i, Quantity())
                if drawn is not None:
                    walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
            return heap
        return None
    if wet and not (walk.has_liquid(focus) or focus.fat_bath or focus.wet or focus.soaked or focus.rinsed):
        for other in walk.table.open():
            if (
                other is not focus
                and (other.wet or other.fat_bath or other.soaked)
                and walk.solids(other)
                and other.nature is Nature.FOOD
            ):
                return other
    return focus


def pieces_named(walk: Walk, heap: Heap, objects: list[Target]) -> list[Food]:
    """The foods of a heap that words name, without what is poured: "drain the beans"."""
    named = [food for t in objects for food in t.within if food in heap.foods]
    return [food for food in named if walk.kind(food) not in LIQUOR | {"fat"}]


def whole_heap(walk: Walk, heap: Heap, foods: list[Food]) -> bool:
    """Whether some foods are all that is solid in a heap, or nearly (85 % by weight: common practice, no source)."""
    solids = walk.solids(heap)
    rest = [food for food in solids if food not in foods]
    return (
        sum(walk.grams_of(food) for food in rest) < 0.15 * max(sum(walk.grams_of(food) for food in solids), 1.0)
        or not rest
    )
