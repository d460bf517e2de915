"""What a removal is about: which heap, and which of its pieces the words name."""

from __future__ import annotations

from collections.abc import Sequence

from labeler.flow.heaps import Food, Heap, Nature
from labeler.flow.ingredients import Ingredient, words_of
from labeler.flow.model import FromLine
from labeler.flow.target import Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import LIQUOR
from labeler.parsing.instructions.model import Instruction, Quantity

__all__ = ["heap_about", "names_another_kind", "of_lines", "pieces_named", "whole_heap"]


def heap_about(walk: Walk, one: Instruction, objects: list[Target], *, wet: bool = False) -> Heap | None:
    """The heap that a removal is about."""
    for target in objects:
        if target.fresh:
            return of_lines(walk, target.fresh, target.quantity, vessel=one.vessel)
        if target.heaps and target.parted is None:
            return target.heaps[0]
    focus = walk.live(walk.focus)
    if walk.last_named and (focus is None or not any(i.source in focus.foods for i in walk.last_named)):
        fresh = [i for i in walk.last_named if walk.left[i.source] > 0.02]
        if fresh:
            return of_lines(walk, fresh, objects[0].quantity if objects else Quantity())
    if focus is None:
        unplaced = walk.unplaced(after=one.after) if not objects else []
        return of_lines(walk, unplaced, Quantity()) if unplaced else None
    return (_other_bath(walk, focus) or focus) if wet and not _lies_in_something(walk, focus) else focus


def of_lines(walk: Walk, foods: Sequence[Ingredient], quantity: Quantity, *, vessel: str = "") -> Heap:
    """A heap of lines that nothing has taken yet."""
    heap = walk.table.new(vessel=vessel, last=walk.at)
    for i in foods:
        drawn = walk.draw(i, quantity)
        if drawn is not None:
            walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
    return heap


def _lies_in_something(walk: Walk, heap: Heap) -> bool:
    return walk.has_liquid(heap) or heap.fat_bath or heap.wet or heap.soaked or heap.rinsed


def _other_bath(walk: Walk, focus: Heap) -> Heap | None:
    """Other food that lies in a bath."""
    others = (other for other in walk.table.open() if other is not focus and other.nature is Nature.FOOD)
    return next((one for one in others if (one.wet or one.fat_bath or one.soaked) and walk.solids(one)), None)


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


def names_another_kind(walk: Walk, target: Target) -> bool:
    """Whether words name a food as none of the list is: "do not use the salted butter" beside a line of butter.

    A denial of it says what to buy, and takes nothing out.
    """
    said, head = words_of(target.mention.name)
    lines = [*target.fresh, *(walk.by_source[food] for food in target.within if isinstance(food, FromLine))]
    return bool(lines) and all(head in one.words and bool(said - one.words) for one in lines)
