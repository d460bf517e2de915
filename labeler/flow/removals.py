"""What leaves a heap, and where it goes: drain, rinse, strain, skim, lift, discard, keep.

R6 of the flow: food leaves only where the text names it or where its class leaves by trade; of two readings the one
that keeps more food wins. R13: what is parted from food is a heap of its own, until something happens to it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.flow.curd import hang, with_whey
from labeler.flow.draining import clean, drain, goes, pour_fat
from labeler.flow.heaps import Heap, Nature, State, settings_of
from labeler.flow.lifting import lift, waste
from labeler.flow.meant import rest_of_nothing
from labeler.flow.model import Basis, Departure, Fate
from labeler.flow.parting import split_off
from labeler.flow.removal_objects import names_another_kind, of_lines
from labeler.flow.reserving import keep
from labeler.flow.shares import is_part_of_made
from labeler.flow.sides import is_liquid, throws_solids_away, wants_liquid
from labeler.flow.straining import strain
from labeler.flow.target import Parted, Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import DISSOLVES, LIQUOR
from labeler.parsing.instructions.actions import Handler, Heat, action, heat_of
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Manner, Mark, Role
from labeler.types import Problem

__all__ = ["remove"]

_WHOLE = 0.98  # share of a line from which nothing worth the name has been taken of it


def remove(walk: Walk, one: Instruction, targets: list[Target]) -> None:
    """Do one instruction that takes something away."""
    handler = action(one.action).handler
    objects = [t for t in targets if t.mention.role in (Role.OBJECT, Role.WITH, Role.OUT_OF)]
    if objects and all(_is_empty_wrapping(walk, target) for target in objects):
        return
    if handler is Handler.SQUEEZE and Mark.SAME_VESSEL in one.marks:
        return  # "squeeze it over the pan": what is pressed out stays where it is
    if handler in (Handler.LIFT, Handler.DISCARD) and _is_dry_cure(walk, objects):
        clean(walk, replace(one, action="pat", mentions=()), [], Handler.PAT)
    elif handler is Handler.DRAIN:
        _pour_off(walk, one, objects)
    elif handler in (Handler.RINSE, Handler.SQUEEZE, Handler.PAT):
        clean(walk, one, objects, handler)
    elif handler is Handler.STRAIN:
        strain(walk, one, objects)
        _into_other(walk, targets)
    elif handler is Handler.SKIM:
        pour_fat(walk, one, objects)
    elif handler is Handler.LIFT and objects and all(map(_is_share_of_parted, objects)):
        keep(walk, replace(one, marks=one.marks | {Mark.FOR_LATER}), objects)  # "take half of the fat out"
    elif handler is Handler.LIFT:
        lift(walk, one, objects)
    elif handler is Handler.DISCARD:
        _discard(walk, one, objects)
    elif handler is Handler.KEEP and Mark.ONLY in one.marks:
        _keep_only(walk, one, objects)
    elif handler is Handler.KEEP:
        keep(walk, one, objects)
    elif handler is Handler.COAT:
        _shake_off(walk, one)


def _is_share_of_parted(target: Target) -> bool:
    """Whether words take a stated share of fat or liquor that food has been parted from."""
    return target.parted is not None and bool(target.heaps) and is_part_of_made(replace(target, parted=None))


def _pour_off(walk: Walk, one: Instruction, objects: list[Target]) -> None:
    """Drain food; where the liquid is what is wanted, or both are, it goes on too."""
    heap = _there(walk, objects)
    if heap is not None and one.vessel and walk.has_liquid(heap) and not walk.solids(heap):
        walk.set_focus(heap)  # "pour off the tea into a jug": nothing is in it that would stay behind
        return
    sides = wants_liquid(walk, one, heap, objects) if heap is not None else None
    about_it = bool(objects) and all(t.focus for t in objects)
    if heap is not None and sides is None and about_it and throws_solids_away(walk, heap):
        strain(walk, replace(one, action="strain"), objects, liquid=True)
    elif heap is None or sides is None or not sides.liquid:
        drain(walk, one, objects)
    elif not sides.solids:
        strain(walk, replace(one, action="strain"), objects, liquid=True)
    else:
        before = len(walk.table.heaps)
        drain(walk, one, objects)
        for bath in walk.table.heaps[before:]:
            bath.nature = Nature.LIQUID
            bath.names |= {t.mention.name for t in objects if t.parted is Parted.LIQUID}
            bath.named = bath.named or objects[0].mention.name


def _there(walk: Walk, objects: list[Target]) -> Heap | None:
    """The heap that a removal is about, where it is made already."""
    if any(t.fresh for t in objects):
        return None
    held = next((t.heaps[0] for t in objects if t.heaps and t.parted is None), None)
    return held or walk.live(walk.focus)


def _keep_only(walk: Walk, one: Instruction, objects: list[Target]) -> None:
    """ "Keep only the liquid": what else is there goes."""
    about = [t for t in objects if t.parted is None and not t.focus]
    heap = _there(walk, about)
    if heap is None or not walk.solids(heap):
        return
    before = len(walk.table.heaps)
    liquid = any(is_liquid(walk, heap, t) for t in objects)
    if liquid:
        strain(walk, replace(one, action="strain"), objects, liquid=True)
    else:
        drain(walk, replace(one, action="drain"), about)
    for rest in walk.table.heaps[before:]:
        if rest.state is not State.GONE and not rest.is_empty and rest is not walk.live(walk.focus):
            goes(walk, rest, one, Fate.NAMED)


def _is_empty_wrapping(walk: Walk, target: Target) -> bool:
    """ "Squeeze the bag and discard it": a bag or a cloth that holds none of the foods, only pips or spices."""
    head = head_of(target.mention.name)
    if is_class(head, "pronoun") and target.nothing:
        return True
    if not is_class(head, "wrapping") or target.fresh or target.within:
        return False
    return not any(heap.vessel.rsplit(" ", 1)[-1] == head for heap in walk.table.open())


def _into_other(walk: Walk, targets: list[Target]) -> None:
    """ "Strain the syrup into the tea": what goes through the sieve joins what is there already."""
    strained = walk.live(walk.focus)
    for target in targets:
        if target.mention.role is not Role.INTO or target.nothing or strained is None:
            continue
        other = next(
            (heap for heap in target.heaps if heap is not strained and heap.parted_from != strained.number), None
        )
        if other is None and target.fresh and not target.heaps:  # "strain the milk into the stock" of the list
            other = of_lines(walk, target.fresh, target.quantity)
        if other is not None and target.mention.definite:
            walk.table.merge(other, strained)
            if other.nature in (Nature.BATH, Nature.LIQUID):
                other.nature = Nature.FOOD
            walk.set_focus(other)
            return


def _is_dry_cure(walk: Walk, objects: list[Target]) -> bool:
    """Whether what is taken off lies on food as salt and sugar, which is wiping: "remove the cure"."""
    heap = walk.live(walk.focus)
    if heap is None or not heap.lain or walk.has_liquid(heap) or not walk.solids(heap) or not objects:
        return False
    return walk.grams(heap, *DISSOLVES) > 0.0 and all(
        is_class(head_of(t.mention.name), "product-strewn")
        if not t.within
        else all(walk.kind(food) in DISSOLVES for food in t.within)
        for t in objects
    )


def _discard(walk: Walk, one: Instruction, objects: list[Target]) -> None:
    """Throw something away: food, a bath, what was left of a coating."""
    if not objects or all(t.focus for t in objects):
        heap = walk.live(walk.focus)
        if Mark.LEFTOVER in one.marks and heap is not None and heap.coat:
            _shake_off(walk, one)  # "a third of it is left on the plates; throw that out"
            return
        bath = next((h for h in walk.table.open() if h.nature in (Nature.BATH, Nature.SOLIDS)), None)
        if bath is not None and heap is not None and bath.parted_from == heap.number:
            goes(walk, bath, one, Fate.NAMED)
        return
    handled: set[int] = set()
    for target in objects:
        if target.mention.role is Role.OUT_OF:
            continue
        _discard_one(walk, one, target, objects, handled)


def _discard_one(walk: Walk, one: Instruction, target: Target, objects: Sequence[Target], handled: set[int]) -> None:
    if Manner.KEEPS_OUT in one.manners and names_another_kind(walk, target):
        return
    leftover = target.quantity.extent is Extent.REST or Mark.LEFTOVER in one.marks
    coats = [food for food in target.within if any(food in heap.coat for heap in walk.table.open())]
    loose = [heap for heap in walk.table.open() if heap.nature is Nature.COAT]
    if leftover and loose and (coats or target.rest or target.everything):
        for heap in loose:
            goes(walk, heap, one, Fate.NAMED)  # what did not cling has stayed in the bowl by now
        return
    if coats and leftover:
        for heap in walk.table.open():
            here = sorted(heap.coat, key=str) if any(food in heap.coat for food in coats) else []
            if here:
                off = walk.table.node(
                    heap, "shake-off", settings=settings_of(one), coats=here, text=one.text, span=one.span
                )
                rest = walk.table.part(heap, off, nature=Nature.COAT)
                walk.leave(rest, Departure(off, Fate.NAMED, span=one.span))
        return
    if (
        leftover
        and (target.rest or target.everything or (target.heaps and not target.within))
        and _coated(walk) is not None
    ):
        _shake_off(walk, one)
        return
    if target.parted is not None and not (
        target.parted is Parted.FAT and not target.heaps and _fat_in_focus(walk) is None
    ):
        _discard_parted(walk, one, target, handled)
        return
    if target.waste or (target.nothing and not target.within):
        waste(walk, one, target, objects)
        return
    if target.unlisted and not target.heaps:
        walk.problems.append(_not_there(one, target))
        return
    held = [heap for heap in walk.table.open() if heap.nature is Nature.SOLIDS]
    if target.rest and held:
        goes(walk, held[0], one, Fate.NAMED)  # "compost what is left" in the sieve
        return
    if target.rest and (behind := _stays_behind(walk)) is not None:
        goes(walk, behind, one, Fate.NAMED)  # "lift out the beef and discard everything else"
        return
    if target.everything:
        return
    focus = walk.live(walk.focus)
    for heap in list(target.heaps):
        here = [food for food in target.within if food in heap.foods]
        if here and (set(here) != set(heap.foods)):
            liquid = [food for food in here if walk.kind(food) in LIQUOR | {"fat"}]
            if liquid and len(liquid) == len(here) and heap.number not in handled:
                handled.add(heap.number)
                if heap.nature in (Nature.BATH, Nature.LIQUID) or not walk.solids(heap):
                    goes(walk, heap, one, Fate.NAMED)
                elif heat_of(heap.cooked) is Heat.DRY and all(walk.kind(food) == "fat" for food in here):
                    pour_fat(walk, one, [target])  # the butter of a roast lies in the tin
                else:
                    walk.set_focus(heap)  # what it lies in, and not what was lifted out of it
                    drain(walk, replace(one, action="drain", mentions=()), [])
                    _discard_bath(walk, one)
                    walk.set_focus(focus if focus is not None and focus in walk.table.open() else heap)
            elif not liquid:
                lifted = split_off(walk, heap, here, one, basis=Basis.WRITTEN)
                lifted.nature = Nature.SOLIDS
                if (
                    heap.nature is Nature.BATH
                    and walk.grams(heap) > 0
                    and lifted.parted_from is None
                    and not heap.fat_bath
                ):
                    heap.nature = Nature.FOOD
                goes(walk, lifted, one, Fate.NAMED)
                walk.set_focus(focus if heap.nature is Nature.SOLIDS and focus is not None else heap)
        else:
            main = heap.nature is Nature.FOOD and walk.grams(heap) > 0.5 * sum(walk.grams(h) for h in walk.table.open())
            if not (main and len(walk.table.open()) == 1):
                goes(walk, heap, one, Fate.NAMED)
            else:
                walk.problems.append(_whole_dish(one, target))
    focus = walk.live(walk.focus)
    begun = all(walk.left[one.source] < _WHOLE for one in target.fresh)
    left_over = begun and target.quantity.extent is Extent.REST  # "discard the rest of the seeds"
    waits = left_over or Manner.KEEPS_OUT in one.manners or walk.binder_named_first(target.fresh)
    if not target.heaps and target.fresh and waits:
        for i in target.fresh:  # first named by its removal: it was there before
            drawn = walk.draw(i, target.quantity)
            if drawn is not None:
                heap = walk.table.new(last=walk.at, nature=Nature.SOLIDS)
                walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
                goes(walk, heap, one, Fate.NAMED)
        walk.set_focus(focus)
        return
    if not target.heaps and target.fresh and not is_class(head_of(target.mention.name), "waste", "spent"):
        walk.problems.append(_not_there(one, target))


def _stays_behind(walk: Walk) -> Heap | None:
    """What food in hand was lifted out of, if it is there still."""
    focus = walk.live(walk.focus)
    if focus is None or focus.rest_of is None:
        return None
    behind = walk.table.heaps[focus.rest_of]
    return behind if behind in walk.table.open() else None


def _not_there(one: Instruction, target: Target) -> Problem:
    return Problem(
        "nothing-to-discard",
        f"“{one.text}”: “{target.mention.name}” is no ingredient so far. Name it as its line does.",
        one.span.line,
    )


def _whole_dish(one: Instruction, target: Target) -> Problem:
    return Problem(
        "whole-dish-discarded",
        f"“{one.text}”: nothing would be left of the dish, so “{target.mention.name}” stays in it. Name what is thrown "
        "away as its line does, or say what is kept.",
        one.span.line,
    )


def _fat_in_focus(walk: Walk) -> Heap | None:
    focus = walk.live(walk.focus)
    return focus if focus is not None and (walk.grams(focus, "fat") > 0.0 or walk.flesh(focus)) else None


def _discard_bath(walk: Walk, one: Instruction) -> None:
    baths = [heap for heap in walk.table.open() if heap.nature is Nature.BATH]
    if baths:
        goes(walk, max(baths, key=lambda heap: heap.number), one, Fate.NAMED)


def _discard_parted(walk: Walk, one: Instruction, target: Target, handled: set[int]) -> None:
    if target.parted is Parted.COAT:
        _shake_off(walk, one)
        return
    there = [heap for heap in target.heaps if heap.number not in handled]
    focus = walk.live(walk.focus)
    if target.parted is Parted.SOLIDS:
        solids = there or [heap for heap in walk.table.open() if heap.nature is Nature.SOLIDS]
        if solids:
            goes(walk, solids[0], one, Fate.NAMED)
        elif focus is not None and walk.has_liquid(focus):
            strain(walk, replace(one, action="strain", mentions=()), [])
            _discard_parted(walk, one, target, handled)
        return
    if there:
        handled.add(there[0].number)
        if target.parted is Parted.FAT and there[0].nature is Nature.DRIPPINGS:
            pour_fat(walk, one, [target])
            walk.set_focus(focus)
            return
        for heap in [
            there[0],
            *(other for other in there[1:] if _is_same_liquid(walk, there[0], other)),
        ]:
            handled.add(heap.number)
            goes(walk, heap, one, Fate.NAMED)
        return
    poured_on = focus is not None and not (focus.soaked or focus.wet or focus.cooked or focus.lain)
    if poured_on and target.parted is Parted.LIQUID and target.quantity.extent is Extent.REST:
        walk.problems.append(rest_of_nothing(one.text, target.mention.text, one.span.line))
        return  # all of it was poured over the food
    if head_of(target.mention.name) == "whey" and (curd := with_whey(walk)) is not None:
        goes(walk, hang(walk, one, curd), one, Fate.NAMED)
        return
    if focus is None:
        return
    if target.parted is Parted.FAT or (target.parted is Parted.DRIPPINGS and walk.flesh(focus)):
        if focus.fat_bath:
            drain(walk, replace(one, action="drain", mentions=()), [])
            _discard_bath(walk, one)
        else:
            pour_fat(walk, one, [])
        return
    if walk.has_liquid(focus) or focus.soaked or focus.wet:
        if not walk.solids(focus):
            goes(walk, focus, one, Fate.NAMED)
            return
        drain(walk, replace(one, action="drain", mentions=()), [])
        _discard_bath(walk, one)


def _is_same_liquid(walk: Walk, one: Heap, other: Heap) -> bool:
    """Whether two liquids are one: two baths of the same foods; what dripped, and what food was lifted out of."""
    if other.nature is Nature.BATH and set(other.foods) & set(one.foods):
        return True
    food = walk.table.heaps[one.parted_from] if one.parted_from is not None else None
    return food is not None and food.rest_of == other.number and walk.has_liquid(other)


def _shake_off(walk: Walk, one: Instruction) -> None:
    """Shake off what is loose of a coating."""
    heap = _coated(walk)
    if heap is None:
        return
    coats = sorted(heap.coat, key=str)
    off = walk.table.node(heap, "shake-off", settings=settings_of(one), coats=coats, text=one.text, span=one.span)
    rest = walk.table.part(heap, off, nature=Nature.COAT, names=("excess",))
    walk.leave(rest, Departure(off, Fate.NAMED, span=one.span))
    walk.set_focus(heap)


def _coated(walk: Walk) -> Heap | None:
    """The heap that was coated last."""
    return next((heap for heap in walk.table.open() if heap.coat), None)
