"""A crust of salt: what food is baked in like in a pot, broken open and not eaten."""

from __future__ import annotations

from dataclasses import replace

from labeler.flow.heaps import Heap, Nature, settings_of
from labeler.flow.model import Basis, Departure, Fate
from labeler.flow.parting import split_off
from labeler.flow.walk import Walk
from labeler.parsing.instructions.model import Instruction, Mark

__all__ = ["is_in_crust", "lies_in_crust"]

_CRUST = 0.3  # share of a heap that is salt from which it is no seasoning: a choice, no source
_OF_CRUST = frozenset({"salt", "egg", "flour", "water", "seasoning"})  # what a salt crust is stirred together of

_WET = 0.1  # of the time that a crust is wet and salts what is in it: common practice, no source


def is_in_crust(walk: Walk, heap: Heap) -> bool:
    """Whether food lies in so much salt that nobody could eat it."""
    return walk.grams(heap, "salt") > _CRUST * walk.grams(heap) and any(
        walk.kind(food) not in _OF_CRUST for food in heap.foods
    )


def lies_in_crust(walk: Walk, one: Instruction, heap: Heap) -> Heap:
    """Let food lie in its crust for as long as it bakes; the heap of the food, without the crust."""
    foods = [food for food in heap.foods if walk.kind(food) not in _OF_CRUST]
    lying = replace(settings_of(one), celsius=None, core=None, marks=frozenset[Mark]())
    if one.minutes is not None:  # the crust dries at once: for most of the time no brine touches the food
        lying = replace(lying, minutes=one.minutes.scaled(_WET))
    why = "it lies in a crust of salt"
    walk.table.node(heap, "cure", settings=lying, text=one.text, span=one.span, basis=Basis.IMPLIED, why=why)
    crust_names = set(heap.names)
    food = split_off(walk, heap, foods, one, why="a crust of salt is broken off and not eaten")
    heap.names, food.names = crust_names | {"crust"}, set()
    heap.nature = Nature.BATH
    food.vessel, food.last, food.names = heap.vessel, heap.last, {"crust"}
    wiped = walk.table.node(food, "pat", span=one.span, basis=Basis.IMPLIED, why="what clings comes off with the crust")
    walk.leaves.append(Departure(wiped, Fate.TRADE, Basis.IMPLIED, one.span))
    why = "the crust bakes around it"
    heat = settings_of(one)
    heat = replace(heat, celsius=heat.celsius or walk.oven)
    walk.table.node(heap, one.action, settings=heat, text=one.text, span=one.span, basis=Basis.IMPLIED, why=why)
    assert heap.source is not None
    walk.leave(heap, Departure(heap.source, Fate.TRADE, Basis.IMPLIED, one.span))
    walk.set_focus(food)
    return food
