"""An action that brings food together: what it does by itself, or to the heap that it is about."""

from __future__ import annotations

from dataclasses import replace

from labeler.flow.coating import coat, is_coating
from labeler.flow.crust import is_in_crust, lies_in_crust
from labeler.flow.curd import curdles, hang, is_curd
from labeler.flow.gathering import gather
from labeler.flow.heaps import Heap, settings_of
from labeler.flow.heat import heat
from labeler.flow.immersion import lie
from labeler.flow.measuring import measure
from labeler.flow.model import Basis, Settings
from labeler.flow.new_water import brings_water
from labeler.flow.parting import goes_over, is_boiled_in_plenty, lift_out_of_bath, merge_in
from labeler.flow.removals import remove
from labeler.flow.serving import catch, serve
from labeler.flow.target import Target
from labeler.flow.walk import Walk
from labeler.parsing.instructions.actions import Handler, Heat, Trait, action
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Manner, Mark, Role
from labeler.parsing.instructions.vessels import VesselKind

__all__ = ["MEASURES", "bring_together"]

MEASURES = frozenset(
    [Handler.WEIGH, Handler.LOSE, Handler.LEFT, Handler.REDUCE, Handler.DRY, Handler.THIN, Handler.MAKE]
)

"""Handlers of what only tells a figure of a heap."""


def bring_together(walk: Walk, one: Instruction, targets: list[Target]) -> None:
    """An action that brings food together: what it does by itself, or to the heap that it is about."""
    if Mark.IN_ITS_LIQUID in one.marks and (focus := walk.live(walk.focus)) is not None:
        focus.kept_in_liquid = True
    if _is_done_already(one, targets) or _has_own_way(walk, one, targets):
        return
    before = walk.live(walk.focus)
    if Manner.MASHES in one.manners and before is not None and is_boiled_in_plenty(walk, before):
        lift_out_of_bath(walk, before, one, why="the cooking water is poured off before").last = -1
    heap = gather(walk, one, targets, use=action(one.action).amount)
    if heap is None:
        return
    heap.curdled |= Mark.CURDLED in one.marks or curdles(walk, heap)
    heap.poured_hot |= any(t.mention.hot for t in targets)
    if before is not None and before is not heap and goes_over(walk, one, targets, before):
        merge_in(walk, heap, before, one)  # "scatter over the apples": what was made just before
    if not _heats_or_lies(walk, one, heap, targets):
        _changes(walk, one, heap, targets)


def _is_done_already(one: Instruction, targets: list[Target]) -> bool:
    """What says that something stays or goes on: "leave the fat in", "while the pasta boils"."""
    row = action(one.action)
    kept = any(t.parted is not None and t.mention.role is Role.OBJECT for t in targets)
    if row.handler is Handler.LIE and kept and not any(t.fresh or t.heaps for t in targets):
        return True
    held = [heap for t in targets for heap in t.heaps]
    goes_on = one.parallel and row.heat is not Heat.NONE and bool(held)
    return goes_on and not any(t.fresh for t in targets) and all(heap.cooked or heap.hot for heap in held)


def _has_own_way(walk: Walk, one: Instruction, targets: list[Target]) -> bool:
    """Do what brings together in a way of its own: serving, catching, coating, lifting onto a plate."""
    row = action(one.action)
    if row.handler is Handler.SERVE:
        serve(walk, one, targets)
    elif row.handler is Handler.CATCH:
        catch(walk, one, targets)
    elif Trait.PLATE_LIFTS in row.traits and _is_lifted_onto(walk, one):
        remove(walk, replace(one, action="lift"), targets)
    elif is_coating(walk, one, targets):
        coat(walk, one, targets)
    else:
        return row.handler is Handler.SEPARATE
    return True


def _is_lifted_onto(walk: Walk, one: Instruction) -> bool:
    """Whether food is taken out by where it goes: a plate; a rack, of what swims in hot fat."""
    focus = walk.live(walk.focus)
    return VesselKind.PLATE in one.vessel_kinds or (Mark.RACK in one.marks and focus is not None and focus.fat_bath)


def _heats_or_lies(walk: Walk, one: Instruction, heap: Heap, targets: list[Target]) -> bool:
    """Do what gives a heap heat or time; False where the action does neither."""
    row = action(one.action)
    if row.heat is not Heat.NONE and row.handler is Handler.HEAT:
        if row.heat is Heat.DRY and is_in_crust(walk, heap):
            heap = lies_in_crust(walk, one, heap)
        heat(walk, one, heap, targets)
        return True
    lies = row.handler is Handler.LIE
    if lies and _in_a_sieve(walk, one, heap) and is_curd(walk, heap):
        hang(walk, one, heap)  # "leave it in the cloth overnight"
        return True
    cools = Trait.COOLS in row.traits and one.minutes is not None and walk.has_liquid(heap)
    if lies or cools:
        lie(walk, one if lies else replace(one, action="stand"), heap)
    return lies or cools


def _changes(walk: Walk, one: Instruction, heap: Heap, targets: list[Target]) -> None:
    """What an action without heat of its own does to a heap, and whether time passes over it."""
    row = action(one.action)
    if row.handler is Handler.WHEY:
        hang(walk, one, heap)
    elif row.handler is Handler.BIND:
        walk.table.node(heap, one.action, settings=settings_of(one), text=one.text, span=one.span)
        heap.names.add("dough")
        heap.bound |= set(heap.foods)
    elif row.handler in MEASURES:
        measure(walk, one, heap)
    elif not _is_covered(walk, one, heap, targets):
        _stands_for_a_time(walk, one, heap)
    if Trait.BEATS in row.traits:
        walk.beaten |= {food for food in heap.foods if walk.kind(food) == "egg" and not heap.wet}
        heap.pureed |= Manner.PUREES in one.manners
    walk.set_focus(heap)


def _is_covered(walk: Walk, one: Instruction, heap: Heap, targets: list[Target]) -> bool:
    """ "Cover", with a lid or with water."""
    brings = any(t.fresh or t.heaps or t.unlisted for t in targets)
    if Mark.WATER not in one.marks:
        heap.covered |= (lid := Mark.COVERED in one.marks and not brings)
        return lid
    if Trait.COVERS not in action(one.action).traits or not brings_water(targets):
        return False
    heap.covered_with_water = heap.wet = True
    water, why = Settings(water=one.water, marks=frozenset([Mark.WATER])), "water that covers the food"
    walk.table.node(heap, "add", settings=water, text=one.text, span=one.span, basis=Basis.IMPLIED, why=why)
    return True


def _stands_for_a_time(walk: Walk, one: Instruction, heap: Heap) -> None:
    """The time of an action without heat: it cooks on where the heap is hot, else it lies."""
    if one.minutes is None:
        return
    row = action(one.action)
    if heap.hot and heap.cooked and Trait.COOKS_ON in row.traits and not one.parallel:
        walk.set_focus(heap)
        again = heap.cooked if action(heap.cooked).heat is Heat.FAT and not walk.has_liquid(heap) else "cook"
        if Mark.FRIDGE not in one.marks and one.minutes.best <= _COOKS_ON_AT_MOST:
            heat(walk, replace(one, action=again, mentions=()), heap, [])
    elif one.minutes.best >= _LIES_FROM and Trait.THEN_LIES in row.traits and Mark.IN_OVEN not in one.marks:
        walk.set_focus(heap)
        lie(walk, replace(one, action="stand"), heap)


# Minutes: so long hot food goes on cooking by its own time, and from so long on a mixture lies: choices, no source.
_COOKS_ON_AT_MOST, _LIES_FROM = 60.0, 15.0


def _in_a_sieve(walk: Walk, one: Instruction, heap: Heap) -> bool:
    """Whether food lies in a sieve or a cloth, or was put there just before."""
    before = walk.instructions[walk.at - 1].vessel if walk.at else ""
    return any(vessel and is_class(head_of(vessel), "sieve") for vessel in (one.vessel, heap.vessel, before))
