"""Straining: which side of a sieve stays, and what of a purée goes through."""

from __future__ import annotations

from dataclasses import replace

from labeler.flow.choices import Doubt, Question, likely
from labeler.flow.curd import hang, is_curd
from labeler.flow.draining import drain, goes
from labeler.flow.heaps import Food, Heap, Nature, settings_of
from labeler.flow.model import Basis, Fate, FromLine
from labeler.flow.parting import split_off
from labeler.flow.removal_objects import heap_about, pieces_named
from labeler.flow.sides import named_afterwards
from labeler.flow.target import Parted, Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import FLESH, LIQUOR
from labeler.parsing.instructions.actions import Handler, Trait, action, has
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Mark
from labeler.parsing.units import kind
from labeler.types import Interval

__all__ = ["strain"]
_LIKELY, _SURE = 0.6, 0.95  # that the side is right which the kind of food tells: choices, no source
_WORTH = 0.15  # share of a heap from which a side is worth keeping: a choice, no source
_FOOD_LIQUIDS = LIQUOR - {"water"}
_PULP = Interval(0.5, 0.3, 0.75, "pulp that goes through a sieve: common practice, no source")
_MILLED = Interval(0.7, 0.4, 0.88, "cooked food that goes through a mill or a sieve: common practice, no source")
_PUREE = Interval(
    0.8, 0.55, 0.95, "what goes through a sieve of a purée, all but skins and seeds: common practice, no source"
)
_SOFT_PRESSED = Interval(0.3, 0.1, 0.6, "of soft cooked fruit some pulp comes along: common practice, no source")
_PRESSED = Interval(0.15, 0.05, 0.3, "what pressing on the solids gives beside the liquid: common practice, no source")


def strain(walk: Walk, one: Instruction, objects: list[Target], *, liquid: bool = False) -> None:
    """Part solids and liquid; which of them goes on is settled by what is named afterwards, then by what is spent (R6).

    Parameters
    ----------
    walk : Walk
        The state of the walk; it is changed.
    one : Instruction
    objects : list of Target
    liquid : bool
        True where the words want what runs through.
    """
    parted = next((t for t in objects if t.parted is not None and t.heaps), None)
    heap = parted.heaps[0] if parted is not None else heap_about(walk, one, objects)
    if heap is None:
        return
    if heap.nature is Nature.BATH and not walk.solids(heap):
        walk.set_focus(heap)
        return
    named = pieces_named(walk, heap, objects)
    if named and Mark.OUT in one.marks:
        lifted = split_off(walk, heap, named, one, basis=Basis.WRITTEN)
        lifted.nature = Nature.SOLIDS
        lifted.names |= {"solids", "pulp"}
        goes(walk, lifted, one, Fate.NAMED)
        walk.set_focus(heap)
        return
    if is_curd(walk, heap):
        hang(walk, one, heap)
        return
    pressed = Mark.PRESSED in one.marks  # through a food mill or a ricer: what passes is wanted
    keeps_solids = not (liquid or pressed) and _side_kept_is_solid(walk, heap, named)
    if keeps_solids:
        drain(walk, replace(one, action="drain"), objects)
        return
    settings = settings_of(one)
    if heap.pureed or (heap.collapsed and not liquid) or Mark.PRESSED in one.marks:
        passes = _PUREE if heap.pureed else _MILLED if pressed and heap.cooked else _PULP
        settings = replace(settings, share=passes)
    elif Mark.PRESSED_OUT in one.marks:
        pieces = [food for food in walk.solids(heap) if walk.kind(food) not in FLESH]
        soft = walk.grams(heap, "fruit", "tomato") > 0.3 * sum(walk.grams_of(food) for food in pieces)
        settings = replace(settings, share=_SOFT_PRESSED if soft and heap.cooked else _PRESSED)
    _hold_back_whole(walk, heap, one)
    through = sorted(walk.beaten & set(heap.foods), key=str)
    off = walk.table.node(heap, "strain", settings=settings, selects=through, text=one.text, span=one.span)
    solids = walk.table.part(heap, off, nature=Nature.SOLIDS, names=("solids", "pulp", "bits"))
    for food in [food for food in walk.solids(heap) if food not in walk.beaten]:
        solids.foods[food] = heap.foods[food] if heap.pureed else heap.foods.pop(food)
    heap.wet = True if not walk.grams(heap, *LIQUOR) else heap.wet
    walk.set_focus(heap)


def _hold_back_whole(walk: Walk, heap: Heap, one: Instruction) -> None:
    """Whole spices and sprigs stay in a sieve; what is ground goes through."""
    whole: list[Food] = [food for food in heap.foods if isinstance(food, FromLine) and is_whole_spice(walk, food)]
    if whole and len(whole) < len(heap.foods):
        nature = heap.nature
        held = split_off(walk, heap, whole, one, why="a sieve holds whole spices back")
        heap.nature = nature
        goes(walk, held, one, Fate.TRADE, Basis.IMPLIED)


def is_whole_spice(walk: Walk, food: FromLine) -> bool:
    """Whether a seasoning is counted in pieces or sprigs, and not ground."""
    line = walk.by_source[food].line.line
    counted = bool(line.amounts) and kind(line.amounts[0].unit) not in ("mass", "volume")
    return walk.kind(food) == "seasoning" and (counted or is_class(head_of(line.name.lower()), "spent-whole"))


def _side_kept_is_solid(walk: Walk, heap: Heap, named: list[Food]) -> bool:
    """R6: which side of a strainer goes is settled by what is named afterwards, then by what is spent."""
    sides = named_afterwards(walk, heap)
    if sides.most and not (sides.liquid and walk.has_liquid(heap)):
        return True  # "strain; shred the chicken and mix with the mayonnaise"
    for later in walk.instructions[walk.at + 1 : walk.at + 4]:
        row = action(later.action)
        for mention in later.mentions:
            target = walk.resolve(mention, later, removal=True)
            if row.handler is Handler.DISCARD or Mark.THROWN_AWAY in later.marks:
                if target.rest:
                    return False  # "compost what is left": what the sieve holds
                if target.parted is Parted.LIQUID or (
                    target.within and all(walk.kind(food) in LIQUOR for food in target.within)
                ):
                    return True
                if target.parted is Parted.SOLIDS or target.within:
                    return False
            if row.handler is Handler.KEEP or Mark.KEPT in later.marks:
                if target.parted is Parted.SOLIDS:
                    return True
                if target.parted is Parted.LIQUID:
                    return False
                if target.within:  # "strain, keeping the potatoes"
                    return any(walk.kind(food) not in LIQUOR for food in target.within)
        if row.handler not in (Handler.DISCARD, Handler.KEEP, Handler.SKIM):
            break
    if named and sum(walk.grams_of(food) for food in named) > 0.3 * sum(
        walk.grams_of(food) for food in walk.solids(heap)
    ):
        return True
    takers = [food for food in walk.dry_takers(heap) if walk.kind(food) != "flour"]  # flour thickens, it is no piece
    mass = sum(walk.grams_of(food) for food in takers)
    solid = mass > 0.5 * sum(walk.grams_of(food) for food in walk.solids(heap)) or (
        heap.wet and not heap.covered_with_water and has(heap.cooked, Trait.ROLLING)
    )
    names = ("what the sieve holds is kept", "what runs through is kept")
    pressed = {Mark.PRESSED, Mark.PRESSED_OUT} & walk.instructions[walk.at].marks  # it is the liquid that is wanted
    unsettled = _is_food_in_liquid(walk, heap) and not pressed
    weights = (_LIKELY, 1.0 - _LIKELY) if unsettled else (_SURE, 1.0 - _SURE)
    options = likely(*(names if solid else names[::-1]), weights=weights)
    return solid is not bool(walk.choices.pick(Question(Doubt.SIDE, walk.instructions[walk.at].span), options))


def _is_food_in_liquid(walk: Walk, heap: Heap) -> bool:
    """Whether pieces that would be eaten lie in a liquid that would be: either side may be what is wanted."""
    pieces = [food for food in walk.solids(heap) if walk.kind(food) != "seasoning"]
    eaten = sum(walk.grams_of(food) * heap.foods[food] for food in pieces)
    liquid = sum(walk.grams_of(food) * share for food, share in heap.foods.items() if walk.kind(food) in _FOOD_LIQUIDS)
    return not heap.pureed and min(eaten, liquid) > _WORTH * walk.grams(heap)
