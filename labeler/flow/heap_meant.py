"""Which heap an instruction works on: what lies where it points to, what is in hand, or one that it begins.

The rules are asked in turn; the first that knows answers, also that a new heap begins. Where a rule names a share of
what was made, that share is parted from it, and a liquid by itself moves into the vessel named.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from labeler.flow.heaps import Heap, Nature
from labeler.flow.kind_sets import SEASONS, SEASONS_OR_SWEETENS
from labeler.flow.model import FromLine
from labeler.flow.parting import lies_below
from labeler.flow.shares import apart_from_rest, is_part_of_made
from labeler.flow.target import Parted, Target, is_only_medium
from labeler.flow.walk import Walk
from labeler.foods.food_class import WATER_TAKERS
from labeler.parsing.instructions.actions import Action, Gathers, Handler, Heat, Trait, action
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Manner, Mark, Role
from labeler.parsing.instructions.vessels import VesselKind

__all__ = ["heap_meant"]


class _Answer(NamedTuple):
    """A heap, or None for a new one."""

    heap: Heap | None


def heap_meant(walk: Walk, one: Instruction, members: list[Target], into: list[Target]) -> Heap | None:
    """The heap that an instruction works on; None where it begins a new one.

    Parameters
    ----------
    walk : Walk
    one : Instruction
    members : list of Target
        What is acted on, and what comes to it.
    into : list of Target
        Where it goes.
    """
    asked = _HeapQuestion(walk, one, members, into)
    answers = (rule(asked) for rule in _RULES)
    return next((answer.heap for answer in answers if answer is not None), asked.held)


@dataclass
class _HeapQuestion:
    """What the rules are asked of."""

    walk: Walk
    one: Instruction
    members: list[Target]
    into: list[Target]

    @cached_property
    def row(self) -> Action:
        return action(self.one.action)

    @property
    def gathers(self) -> Gathers:
        return self.row.gathers

    @property
    def joins(self) -> bool:
        """Whether something is put to what is there."""
        return self.gathers in (Gathers.INTO, Gathers.ON)

    @cached_property
    def objects(self) -> list[Target]:
        return [t for t in self.members if t.mention.role is Role.OBJECT]

    @cached_property
    def held(self) -> Heap | None:
        """The heap that an object names."""
        return _first_heap(self.objects)

    @cached_property
    def alone(self) -> bool:
        """Whether a part of what was made is all that is spoken of: "bake half of it"."""
        parts = [heap for t in [*self.members, *self.into] if is_part_of_made(t) for heap in t.heaps]
        host = self.joins and self.walk.live(self.walk.focus) not in (None, *parts)
        return not host and all(is_part_of_made(t) for t in [*self.members, *self.into])

    @cached_property
    def shared(self) -> list[Heap]:
        """What was made and joins something else by a part of it."""
        parts = [heap for t in [*self.members, *self.into] if is_part_of_made(t) for heap in t.heaps]
        return [] if self.alone else parts

    @cached_property
    def focus(self) -> Heap | None:
        """What is in hand; None where only a part of it joins something else."""
        focus = self.walk.live(self.walk.focus)
        return None if focus in self.shared else focus

    @cached_property
    def fresh(self) -> bool:
        """Whether nothing that is acted on was used before."""
        return bool(self.objects) and all(t.fresh or t.unlisted for t in self.objects)

    @cached_property
    def new_place(self) -> bool:
        """Whether it happens somewhere else than what is in hand."""
        set_out = bool({Mark.NEW_VESSEL, Mark.OVER_WATER} & self.one.marks)
        return self.walk.table.washed or set_out or _is_elsewhere(self.walk, self.one, self.objects)


def _over_waste(asked: _HeapQuestion) -> _Answer | None:
    """ "Rub the butter over the skin": that of the bird in hand."""
    over = (m for m in asked.one.mentions if m.role is Role.INTO)
    waste = any(is_class(head_of(one.name), "waste") for one in over)
    return _Answer(asked.focus) if asked.gathers is Gathers.ON and waste else None


def _over_what_waits(asked: _HeapQuestion) -> _Answer | None:
    """ "Pour it over": what waits for the liquid in hand."""
    below = lies_below(asked.walk, asked.one, asked.members, asked.focus) if not asked.into else None
    return _Answer(below) if below is not None else None


def _where_it_goes(asked: _HeapQuestion) -> _Answer | None:
    """What the instruction itself says that it goes into."""
    found = (_place(asked, target) for target in asked.into)
    return next((answer for answer in found if answer is not None), None)


def _place(asked: _HeapQuestion, target: Target) -> _Answer | None:
    walk, focus = asked.walk, asked.focus
    if target.heaps and target.parted is None and not is_part_of_made(target):
        return _Answer(target.heaps[0])
    if is_only_medium(target):
        return None
    liquid = focus is not None and walk.has_liquid(focus) and not walk.solids(focus)  # "poach in the syrup"
    if target.focus and focus is not None and (target.confidence >= 1.0 or liquid):
        if any(t.focus for t in asked.objects):  # "pour it over them"
            others = (heap for heap in walk.table.open() if heap is not focus and heap.nature is Nature.FOOD)
            return _Answer(next(others, focus))
        return _Answer(focus)
    if target.parted is not None and target.heaps:
        return _Answer(target.heaps[0] if not any(t.heaps for t in asked.members) else _first_heap(asked.members))
    parted = target.parted is not None and focus is not None
    if parted and focus is not None and (walk.has_liquid(focus) or target.parted is Parted.FAT):
        return _Answer(focus)
    return None


def _parted_alone(asked: _HeapQuestion) -> _Answer | None:
    """What runs off, where it is all that is spoken of: "boil the juices"."""
    parted = [t.heaps[0] for t in asked.objects if t.parted is not None and t.heaps]
    if not parted or asked.into or len(asked.members) != 1 or len(asked.objects) != 1:
        return None
    vessel, focus = asked.one.vessel, asked.focus
    if not vessel and focus is not None and focus.number != parted[0].parted_from:
        return None
    parted[0].vessel = vessel or parted[0].vessel
    return _Answer(parted[0])


def _share_of_made(asked: _HeapQuestion) -> _Answer | None:
    """ "Bake half of the dough"; "stir half of the sauce into the rice"."""
    if not asked.objects or not all(is_part_of_made(t) for t in asked.objects):
        return None
    if asked.alone or asked.row.heat is not Heat.NONE:
        part = apart_from_rest(asked.walk, asked.one, asked.objects[0])
        if part is not None:
            return _Answer(part)
    if not asked.shared:
        return None
    other = _first_heap([t for t in asked.members if t not in asked.objects])
    goes_on = asked.joins and not any(t.fresh for t in asked.into)
    return _Answer(other or (asked.focus if goes_on else None))


def _into_fresh(asked: _HeapQuestion) -> _Answer | None:
    """Where it goes is not used yet: "put the meat into the stock"."""
    if not any(t.fresh for t in asked.into):
        return None
    held = _first_heap(asked.members)
    heats = asked.row.heat is not Heat.NONE
    if held is not None and heats:
        return _Answer(held)
    in_hand = any(t.focus for t in asked.objects) or (not asked.objects and (heats or asked.joins))
    return _Answer(asked.focus if in_hand else None)


def _in_vessel(asked: _HeapQuestion) -> _Answer | None:
    """What lies in a vessel that is named as known."""
    vessel = _vessel_heap(asked.walk, asked.one)
    if vessel is not asked.focus and any(vessel in t.heaps for t in asked.objects):
        return None  # "pour the contents of the cup over": it is what is poured
    if vessel is None or any(t.focus for t in asked.objects):
        return None
    return _Answer(vessel if asked.row.heat is Heat.NONE or asked.held is None else asked.held)


def _in_water_set_on(asked: _HeapQuestion) -> _Answer | None:
    pot = _water_set_on(asked.walk, asked.row, asked.objects) if Mark.NEW_VESSEL not in asked.one.marks else None
    return _Answer(pot) if pot is not None else None


def _held_by_itself(asked: _HeapQuestion) -> _Answer | None:
    """What an object names, where nothing is put to what is there."""
    walk, held, focus = asked.walk, asked.held, asked.focus
    if walk.bath_at == walk.at - 1 and asked.objects and not any(t.focus for t in asked.objects):
        return _Answer(held)
    if held is None:
        return None
    poured = asked.gathers is Gathers.ON and Manner.BRINGS_IN in asked.one.manners
    if poured and focus not in (None, held) and not walk.solids(held) and walk.has_liquid(held):
        return _Answer(focus)  # "pour on the wine": over what is there
    return _Answer(held) if asked.gathers is not Gathers.INTO else None


def _in_hand(asked: _HeapQuestion) -> _Answer | None:
    """ "It", "everything", or all of a list that is in hand."""
    focus = asked.focus
    if focus is None:
        return None
    everything = any(t.everything for t in asked.objects)
    if everything and (named := asked.walk.list_named(asked.one)):
        lists = {asked.walk.by_source[food].group for food in focus.foods if isinstance(food, FromLine)}
        return _Answer(focus if named in lists else None)  # "mix all for the sauce" beside the cakes
    return _Answer(focus) if everything or any(t.focus for t in asked.objects) else None


def _beside(asked: _HeapQuestion) -> _Answer | None:
    """What is done while something else goes on is about what it names."""
    return _Answer(asked.held) if asked.one.parallel else None


def _heap_of_its_own(asked: _HeapQuestion) -> _Answer | None:
    """What is salted or rubbed is a heap of its own."""
    hosts = any(i.kind not in SEASONS_OR_SWEETENS for t in asked.objects for i in t.fresh)
    return _Answer(None) if Trait.OWN_HEAP in asked.row.traits and hosts else None


def _added(asked: _HeapQuestion) -> _Answer | None:
    """What something is put to: what is in hand, unless it goes elsewhere."""
    if not asked.joins:
        return None
    walk, held, focus = asked.walk, asked.held, asked.focus
    moves = Mark.NEW_VESSEL in asked.one.marks and held is not None and not held.wet and not walk.has_liquid(held)
    if moves and not _only_pan(walk, focus):
        return _Answer(held)  # "put the chicken into a hot pan", while something else waits
    if asked.new_place and asked.fresh and (walk.table.washed or not _only_pan(walk, focus)):
        return _Answer(None)
    with_fresh = any(t.fresh or t.unlisted for t in asked.members if t.mention.role is Role.WITH)
    if asked.gathers is Gathers.ON and asked.fresh and focus is not None and with_fresh:
        return _Answer(None)
    return _Answer(focus if focus is not None else held)


def _nothing_named(asked: _HeapQuestion) -> _Answer | None:
    if asked.objects:
        return None
    return _Answer(asked.focus or _first_heap([t for t in asked.members if t.mention.role is Role.WITH]))


def _made_anew(asked: _HeapQuestion) -> _Answer | None:
    """What is mixed anew goes into hot fat that waits, or is a heap of its own."""
    if asked.gathers is not Gathers.NEW:
        return None
    focus = asked.focus
    pan = focus is not None and asked.walk.only_medium(focus) and focus.hot and not asked.new_place
    return _Answer(focus if pan else asked.held)


def _in_bath_at_hand(asked: _HeapQuestion) -> _Answer | None:
    """What lies for a time goes into a liquid that stands there by itself."""
    focus = asked.focus
    if asked.row.handler is not Handler.LIE or not asked.fresh or focus is None or Mark.WATER in asked.one.marks:
        return None
    return _Answer(focus) if asked.walk.has_liquid(focus) and not asked.walk.solids(focus) else None


def _in_pan_at_hand(asked: _HeapQuestion) -> _Answer | None:
    """What is fried goes into the fat in hand, what is boiled into the hot liquid."""
    walk, focus, wet = asked.walk, asked.focus, asked.row.heat is Heat.WET
    heated = wet or asked.row.heat in (Heat.FAT, Heat.BY_PLACE)
    if not heated or not asked.fresh or focus is None or asked.new_place:
        return None
    fat = walk.only_medium(focus) and not wet
    liquid = wet and focus.hot and not focus.cooked and not walk.solids(focus) and walk.has_liquid(focus)
    same = bool(focus.vessel) and Mark.SAME_VESSEL in asked.one.marks
    return _Answer(focus) if fat or liquid or same else None


_RULES = (
    _over_waste, _over_what_waits, _where_it_goes, _parted_alone, _share_of_made, _into_fresh, _in_vessel,
    _in_water_set_on, _held_by_itself, _in_hand, _beside, _heap_of_its_own, _added, _nothing_named, _made_anew,
    _in_bath_at_hand, _in_pan_at_hand,
)  # fmt: skip


def _is_elsewhere(walk: Walk, one: Instruction, objects: list[Target]) -> bool:
    """Whether a vessel that nothing lies in yet is another place than where cold food waits."""
    focus = walk.live(walk.focus)
    if not one.vessel or focus is None or focus.hot or walk.table.with_vessel(one.vessel) is not None:
        return False
    fat = bool(objects) and all(t.unlisted or all(i.kind == "fat" for i in t.fresh) for t in objects)
    pan = bool(one.vessel_kinds & {VesselKind.PAN, VesselKind.POT}) and fat
    return pan or (Mark.SAME_VESSEL not in one.marks and VesselKind.POT in one.vessel_kinds)


def _only_pan(walk: Walk, focus: Heap | None) -> bool:
    return focus is not None and focus.hot and walk.only_medium(focus)


def _first_heap(targets: list[Target]) -> Heap | None:
    return next((t.heaps[0] for t in targets if t.heaps and t.parted is None), None)


def _vessel_heap(walk: Walk, one: Instruction) -> Heap | None:
    """The heap in the vessel that an instruction names as known ("the pan", "the same bowl")."""
    if not one.vessel or Mark.NEW_VESSEL in one.marks or Mark.SAME_VESSEL not in one.marks:
        return None
    if one.vessel_kinds & {VesselKind.PLATE, VesselKind.OVEN} and action(one.action).heat is not Heat.NONE:
        return None
    found = walk.table.with_vessel(one.vessel)
    if found is None and Mark.IN_OVEN in one.marks and not one.mentions:
        return walk.live(walk.focus)  # "transfer to the oven": what is spoken of goes in, whatever else is hot
    if found is None and one.vessel_kinds & {VesselKind.PAN, VesselKind.POT, VesselKind.OVEN}:
        focus = walk.live(walk.focus)
        drip = walk.drippings()
        if drip is not None and one.vessel_kinds & {VesselKind.OVEN, VesselKind.PAN}:
            return drip
        if focus is not None and focus.hot:
            return focus
        hot = [heap for heap in walk.table.open() if heap.hot]
        return hot[0] if hot else None
    return found


def _water_set_on(walk: Walk, row: Action, objects: list[Target]) -> Heap | None:
    """Water that stands on the stove by itself, where fresh food is boiled: "bring 4 litres to the boil, cook ..."."""
    fresh = [i.kind for t in objects for i in t.fresh]
    boils = row.heat is Heat.WET or (row.heat is Heat.BY_PLACE and any(kind in WATER_TAKERS for kind in fresh))
    if not fresh or not boils or "fat" in fresh:
        return None
    for heap in walk.table.open():
        kinds = {walk.kind(food) for food in heap.foods}
        if heap.nature is Nature.FOOD and "water" in kinds and kinds <= {"water", *SEASONS}:
            return heap
    return None
