"""Milk that has curdled, yogurt and soft cheese: what runs off is whey, and the curd stays in the cloth."""

from __future__ import annotations

from labeler.flow.heaps import Heap, Nature, settings_of
from labeler.flow.looking_ahead import ahead
from labeler.flow.model import FromLine
from labeler.flow.walk import Walk
from labeler.foods.food_class import DISSOLVES, LIQUOR, is_dairy
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Mark

__all__ = ["curdles", "hang", "is_curd", "with_whey"]


def is_curd(walk: Walk, heap: Heap) -> bool:
    """Whether a heap is mostly curd and its whey, with nothing in it that a sieve would hold back otherwise."""
    loose = walk.grams(heap, *LIQUOR, *DISSOLVES, "cheese", "seasoning")
    if _dairy(walk, heap) <= 0.6 * walk.grams(heap) or loose <= 0.9 * walk.grams(heap):
        return False
    curd = sum(
        walk.grams_of(food) * share
        for food, share in heap.foods.items()
        if isinstance(food, FromLine) and is_class(head_of(walk.by_source[food].line.line.name.lower()), "curd")
    )
    return heap.curdled or curd > 0.6 * walk.grams(heap)


def curdles(walk: Walk, heap: Heap) -> bool:
    """Whether acid or rennet has come to milk of which later words name the curds or the whey."""
    if _dairy(walk, heap) <= 0.6 * walk.grams(heap) or walk.grams(heap) <= 0.0:
        return False
    names = (walk.by_source[food].line.line.name.lower() for food in heap.foods if isinstance(food, FromLine))
    sours = any(is_class(name, "curdles") or is_class(head_of(name), "curdles") for name in names)
    return sours and any(
        is_class(head_of(mention.name), "curd-parted") for later in ahead(walk) for mention in later.mentions
    )


def _dairy(walk: Walk, heap: Heap) -> float:
    return sum(walk.grams_of(food) * share for food, share in heap.foods.items() if is_dairy(walk.table_id(food)))


def with_whey(walk: Walk) -> Heap | None:
    """The heap that whey is still in: the one in focus, else the last one that is curd or milk."""
    focus = walk.live(walk.focus)
    there = [heap for heap in (focus, *walk.table.open()) if heap is not None and heap.nature is Nature.FOOD]
    curds = [heap for heap in there if is_curd(walk, heap)]
    milk = [heap for heap in there if _dairy(walk, heap) > 0.6 * walk.grams(heap) > 0.0]
    found = next(iter([*curds, *milk]), None)
    if found is not None and not is_curd(walk, found):
        found.curdled = True  # where there is whey, milk has curdled
    return found


def hang(walk: Walk, one: Instruction, heap: Heap) -> Heap:
    """Let the whey run off; the heap of it."""
    settings = settings_of(one, marks=one.marks | ({Mark.CURDLED} if heap.curdled else frozenset()))
    off = walk.table.node(heap, "hang", settings=settings, text=one.text, span=one.span)
    whey = walk.table.part(heap, off, nature=Nature.BATH, names=("whey", "liquid"))
    heap.hot = heap.soaked = heap.wet = False
    walk.set_focus(heap)
    return whey
