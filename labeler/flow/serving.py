"""What is served with the dish, and what drips into another food."""

from __future__ import annotations

from labeler.flow.draining import goes
from labeler.flow.heaps import Heap, Nature, State
from labeler.flow.model import Basis, Departure, Fate
from labeler.flow.parting import split_off
from labeler.flow.shares import is_part_of_made, take_of_made
from labeler.flow.sides import is_liquid
from labeler.flow.target import Parted, Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import LIQUOR
from labeler.parsing.instructions.actions import Handler, Heat, action
from labeler.parsing.instructions.model import Instruction, Role

__all__ = ["catch", "serve"]


def catch(walk: Walk, one: Instruction, targets: list[Target]) -> None:
    """ "Add the drippings", "let the drippings fall into the stock"."""
    drip = walk.drippings()
    focus = walk.live(walk.focus)
    into = next((t.heaps[0] for t in targets if t.mention.role is Role.INTO and t.heaps), None)
    if drip is None:
        return
    goal = into or (focus if focus is not None and focus is not drip else None)
    named = next((t for t in targets if t.mention.role is Role.INTO and not t.nothing), None)
    if goal is None or (named is not None and into is None and not named.fresh):
        assert drip.source is not None
        walk.leave(
            drip,
            Departure(
                drip.source,
                Fate.NAMED,
                span=one.span,
                name="drippings",
                into=named.mention.name if named is not None else "",
                kept=True,
            ),
        )
        return
    walk.table.merge(goal, drip)
    walk.set_focus(goal)


def _is_bath_of(walk: Walk, heap: Heap, target: Target) -> bool:
    """Whether a phrase names by its line what the food of a heap lies in: "with all of its oil"."""
    here = [food for food in target.within if food in heap.foods]
    return bool(here) and all(walk.kind(food) in LIQUOR | {"fat"} for food in here)


def _without_its_liquid(walk: Walk, one: Instruction, targets: list[Target]) -> bool:
    """ "Serve the pears without the syrup": the syrup that they lie in is thrown away."""
    focus = walk.live(walk.focus)
    left = [t for t in targets if t.mention.role is Role.EXCEPT and not t.within and not t.fresh]
    if focus is None or not walk.solids(focus) or not walk.has_liquid(focus):
        return False
    if not any(t.parted is Parted.LIQUID or t.focus or focus in t.heaps for t in left):
        return False
    lifted = split_off(walk, focus, walk.solids(focus), one, basis=Basis.WRITTEN)
    goes(walk, focus, one, Fate.NAMED)
    walk.set_focus(lifted)
    return True


def _poured_off_before(walk: Walk, heap: Heap) -> bool:
    """Whether a liquid was poured off, and not kept, before the food was cooked or lay: its juices are others."""
    if heap.nature is not Nature.BATH or heap.reserved or heap.lifted is not None:
        return False
    rows = ((at, action(walk.instructions[at].action)) for at in range(walk.at - 1, -1, -1))
    since = (at for at, row in rows if row.heat is not Heat.NONE or row.handler is Handler.LIE)
    return heap.last < next(since, -1)


def serve(walk: Walk, one: Instruction, targets: list[Target]) -> None:
    """What is served with the dish joins it; food that no line lists stands beside and is said."""
    if _without_its_liquid(walk, one, targets):
        return
    for target in targets:
        if target.mention.role not in (Role.WITH, Role.OBJECT):
            continue
        for i in target.fresh:
            drawn = walk.draw(i, target.quantity)
            if drawn is not None:
                heap = walk.table.new(last=walk.at)
                walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
    for target in targets:
        for heap in target.heaps:
            if is_part_of_made(target) and heap.nature is Nature.FOOD:
                take_of_made(walk, walk.table.new(last=walk.at), heap, one, target.quantity)
                continue
            comes = target.mention.role in (Role.WITH, Role.INTO) and not _poured_off_before(walk, heap)
            if comes and heap.nature in (Nature.BATH, Nature.DRIPPINGS, Nature.LIQUID):
                heap.nature = Nature.FOOD
            if heap.state is State.OPEN and target.mention.role is Role.INTO:
                heap.fat_bath = heap.wet = False
    focus = walk.live(walk.focus)
    beside = [t for t in targets if t.mention.role in (Role.WITH, Role.INTO) and not any(h.reserved for h in t.heaps)]
    if focus is not None and any(
        t.parted is not None or _is_bath_of(walk, focus, t) or is_liquid(walk, focus, t) for t in beside
    ):
        focus.fat_bath = False
        focus.covered_with_water = focus.kept_in_liquid = True
        for heap in walk.table.open():
            parted = heap.nature in (Nature.BATH, Nature.DRIPPINGS) and heap.parted_from == focus.number
            if parted and not _poured_off_before(walk, heap):
                heap.nature = Nature.FOOD
