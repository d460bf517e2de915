"""What a sentence leaves out: the food that it has just cut, and the amount for each of several pieces."""

from __future__ import annotations

from dataclasses import replace

from labeler.flow.heaps import Heap, Nature
from labeler.flow.model import FromLine
from labeler.flow.target import Target
from labeler.flow.walk import Walk
from labeler.parsing.instructions.actions import Gathers, Heat, action
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Mention, Role
from labeler.parsing.units import kind

__all__ = ["for_each", "held_before", "with_what_was_cut"]


def with_what_was_cut(walk: Walk, one: Instruction, targets: list[Target]) -> list[Target]:
    """ "Chop the onions and add (them) to the pan": what the same sentence has just cut is what is meant."""
    if not walk.at or walk.opened:
        return targets
    before = walk.instructions[walk.at - 1]
    fresh = [i for i in walk.last_named if walk.left[i.source] > 0.02]
    if before.sentence != one.sentence or action(before.action).gathers is not Gathers.APART or not fresh:
        return targets
    objects = [t for t in targets if t.mention.role is Role.OBJECT]
    said = objects[0].mention if objects else Mention("it", "it", definite=True)
    if any(not t.focus or t.confidence < 1.0 for t in objects):
        return targets
    if not objects and _is_about_all(one) and not any(t.mention.role is Role.WITH for t in targets):
        return targets
    others = (t for t in targets if t not in objects)
    amounts = [(i, walk.last_amounts.get(i.source, said.quantity)) for i in fresh]
    return [*(Target(replace(said, quantity=amount), fresh=[i]) for i, amount in amounts), *others]


def for_each(walk: Walk, one: Instruction, targets: list[Target]) -> list[Target]:
    """ "Season each fillet with 1 tsp of salt": an amount for each piece is so often that amount."""
    if Mark.EACH not in one.marks:
        return targets
    about = [t for t in targets if t.mention.each]
    counts = [pieces for t in about if (pieces := _pieces_of(walk, t)) is not None]
    if not counts or counts[0] <= 1.0:
        return targets
    return [t if t in about else replace(t, mention=_times(t.mention, counts[0])) for t in targets]


def _pieces_of(walk: Walk, target: Target) -> float | None:
    foods = [*(i.source for i in target.fresh), *target.within]
    for food in foods:
        amounts = walk.by_source[food].line.line.amounts if isinstance(food, FromLine) else ()
        if amounts and kind(amounts[0].unit) not in ("mass", "volume"):
            return amounts[0].low
    return None


def _times(mention: Mention, count: float) -> Mention:
    quantity = mention.quantity
    if quantity.extent is not Extent.AMOUNT:
        return mention
    grams = quantity.grams.scaled(count) if quantity.grams is not None else None
    millilitres = quantity.millilitres.scaled(count) if quantity.millilitres is not None else None
    return replace(mention, quantity=replace(quantity, grams=grams, millilitres=millilitres))


def _is_about_all(one: Instruction) -> bool:
    """Whether an action without an object is about everything so far: "chop the onions and mix"."""
    row = action(one.action)
    return row.gathers not in (Gathers.INTO, Gathers.ON) and not one.vessel and row.heat is Heat.NONE


def held_before(walk: Walk, one: Instruction) -> Heap | None:
    """ "Fry the onions and add to the lentils": without an object, what the step before has made goes there."""
    row = action(one.action)
    if not walk.at or any(mention.role is Role.OBJECT for mention in one.mentions) or row.heat is not Heat.NONE:
        return None
    before, focus = walk.instructions[walk.at - 1], walk.live(walk.focus)
    if before.sentence == one.sentence and action(before.action).gathers is Gathers.NEW:
        return focus
    if row.gathers not in (Gathers.INTO, Gathers.NEW):
        return None
    touched = [heap for heap in walk.table.open() if heap.last == walk.at - 1 and heap.nature is Nature.FOOD]
    return focus if focus in touched else next(iter(touched), None)
