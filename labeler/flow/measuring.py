"""Measures of the method, bound to the step that they settle."""

from __future__ import annotations

from dataclasses import replace

from labeler.flow.heaps import Heap, Nature, settings_of
from labeler.flow.model import Departure, Fate, Port
from labeler.flow.walk import Walk
from labeler.parsing.instructions.actions import Handler, Heat, action
from labeler.parsing.instructions.model import Instruction, Manner

__all__ = ["measure"]


def measure(walk: Walk, one: Instruction, heap: Heap) -> None:
    """Settle what a heap weighs, fills or makes by what the words measure (R13).

    Parameters
    ----------
    walk : Walk
        The state of the walk; it is changed.
    one : Instruction
    heap : Heap
        What it is about; a weight or loss that is said of a bath is of the last food that is open.
    """
    row = action(one.action)
    does = row.handler
    settings = settings_of(one)
    if does is Handler.DRY and walk.flesh(heap) and one.grams is None and one.share is None and one.celsius is None:
        return  # "dry the steaks" is done with a cloth; in air of a stated heat they lose water
    if does is Handler.REDUCE and (
        heap.cooked == ""
        and not heap.hot
        and one.share is None
        and one.grams is None
        and one.millilitres is None
        and one.minutes is None
    ):
        return
    if does is Handler.MAKE and one.piece:
        heap.names.add(one.piece)
    if (
        does is Handler.MAKE
        and Manner.TELLS_YIELD in one.manners
        and one.pieces is None
        and one.grams is None
        and one.millilitres is None
    ):
        return  # "make a marinade of the oil and salt"
    if does is Handler.MAKE and one.grams is None and one.millilitres is None:
        heap.bound = set(heap.foods)
    if does in (Handler.WEIGH, Handler.LOSE) and heap.nature is not Nature.FOOD:
        foods = [other for other in walk.table.open() if other.nature is Nature.FOOD]
        heap = foods[0] if foods else heap
    if (
        does in (Handler.WEIGH, Handler.LOSE)
        and heap.source is not None
        and not heap.pending
        and heap.source.port is Port.KEPT
    ):
        heated = walk.table.nodes[heap.source.node]
        before = action(heated.action)
        free = heated.settings.grams is None and heated.settings.share is None and heated.settings.millilitres is None
        if (
            free
            and before.handler in (Handler.HEAT, Handler.REDUCE)
            and before.heat is not Heat.WARM
            and (one.grams is not None or one.share is not None)
        ):
            goal = replace(heated.settings, grams=one.grams, share=one.share if does is Handler.LOSE else None)
            walk.table.nodes[heap.source.node] = replace(heated, settings=goal, text=f"{heated.text}, {one.text}")
            walk.set_focus(heap)
            return
    if does is Handler.LEFT and heap.coat:
        off = walk.table.node(
            heap, one.action, settings=settings, coats=sorted(heap.coat, key=str), text=one.text, span=one.span
        )
        rest = walk.table.part(heap, off, nature=Nature.COAT)
        walk.leave(rest, Departure(off, Fate.NAMED, span=one.span))
        walk.set_focus(heap)
        return
    if (
        does is Handler.LEFT
        and heap.source is not None
        and action(walk.table.nodes[heap.source.node].action).heat is Heat.FAT
    ):
        grams = one.grams or (one.millilitres.scaled(0.92) if one.millilitres is not None else None)
        fried = walk.table.nodes[heap.source.node]
        walk.table.nodes[heap.source.node] = replace(
            fried, settings=replace(fried.settings, left=grams), text=f"{fried.text}; {one.text}"
        )
        heap.fat_bath = True
        return
    drip = walk.drippings()
    if does is Handler.REDUCE and drip is not None and walk.flesh(heap) and not walk.has_liquid(heap):
        heap = drip
    walk.table.node(heap, one.action, settings=settings, text=one.text, span=one.span)
    if does is Handler.REDUCE:
        heap.hot, heap.cooked, heap.nature = True, "simmer", Nature.FOOD
    walk.set_focus(heap)
