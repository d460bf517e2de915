"""How an instruction brings food together: which heap it is about, what joins it, and what heat or time does to it.

Rules R2 to R5 and R8 of the flow.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from labeler.flow.heap_meant import heap_meant
from labeler.flow.heaps import Food, Heap, Nature, State
from labeler.flow.implied import for_each, held_before, with_what_was_cut
from labeler.flow.ingredients import Ingredient
from labeler.flow.kind_sets import COOKING_WATER, SEASONS
from labeler.flow.looking_ahead import (
    ahead,
    carved_later,
    just_touched,
    lists_taken_later,
    removed_next,
    takes_rest_later,
    tastes,
)
from labeler.flow.model import FromLine
from labeler.flow.needs import bring_fat, bring_what_is_needed, list_of, take, take_unnamed, waits
from labeler.flow.parting import dressed_out_of_bath, is_boiled_in_plenty, lift_out_of_bath, merge_in, split_off
from labeler.flow.shaping import is_batter, set_in_fat
from labeler.flow.shares import is_weighed, part_of, share_of_each, take_of_made
from labeler.flow.target import Target, is_only_medium, is_only_waste, is_the_pan
from labeler.flow.walk import Walk
from labeler.foods.food_class import LIQUOR
from labeler.parsing.instructions.actions import Gathers, Handler, Heat, Trait, action, heat_of
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Quantity, Role
from labeler.parsing.instructions.vessels import VesselKind
from labeler.text.plurals import singular

__all__ = ["gather"]


def gather(walk: Walk, one: Instruction, targets: list[Target], *, use: str = "add") -> Heap | None:
    """Bring together what an instruction names; the heap that it is about from now on, or None for none.

    Parameters
    ----------
    walk : Walk
    one : Instruction
    targets : list of Target
    use : str
        What an unlisted food would be for ("fry", "grease", "season").
    """
    if (walk.table.washed and is_the_pan(targets)) or is_only_waste(targets):
        return None
    now = _Gathering(walk, one, for_each(walk, one, with_what_was_cut(walk, one, targets)), use)
    heap = now.heap_at_first()
    if heap is None:
        return None
    if one.vessel and VesselKind.PLATE not in one.vessel_kinds:
        heap.vessel = one.vessel
    begins = heap.is_empty
    if VesselKind.BOWL in one.vessel_kinds and now.row.heat is Heat.NONE and is_boiled_in_plenty(walk, heap):
        lift_out_of_bath(walk, heap, one, why="the cooking water is poured off before").last = walk.at
    if Trait.IN_FAT in now.row.traits and now.row.heat is Heat.FAT and is_batter(walk, heap):
        set_in_fat(walk, heap, one)
    now.join_named(heap)
    if begins:
        now.take_what_stands_above(heap)
    bring_what_is_needed(walk, heap, one, made=any(t.focus and t.confidence < 1.0 for t in now.into))
    now.join_in_hand(heap)
    now.season(heap)
    now.join_food_that_waits(heap)
    if now.row.heat in (Heat.FAT, Heat.BY_PLACE) and not walk.grams(heap, "fat"):
        bring_fat(walk, heap, one)
    now.take_rest(heap)
    now.name(heap)
    now.close(heap)
    return None if heap.is_empty else heap


@dataclass
class _Gathering:
    """One instruction that brings food together, and what it names.

    Parameters
    ----------
    walk : Walk
    one : Instruction
    targets : list of Target
    use : str
    """

    walk: Walk
    one: Instruction
    targets: list[Target]
    use: str

    def __post_init__(self) -> None:
        self.row = action(self.one.action)
        there = [t for t in self.targets if not t.nothing]
        self.members = [t for t in there if t.mention.role in (Role.OBJECT, Role.WITH)]
        self.into = [t for t in there if t.mention.role is Role.INTO and not is_only_medium(t)]
        self.excepted = {i.source for t in self.targets if t.mention.role is Role.EXCEPT for i in t.fresh}
        self.vague = not self.members and not self.into
        self.everything = any(t.everything for t in self.members)
        self.rest = any(t.rest for t in self.members)

    def heap_at_first(self) -> Heap | None:
        """The heap that the instruction works on or begins; None where there is nothing for it."""
        anew = any(t.result for t in self.targets) and any(t.fresh for t in self.members)  # "roll the dough into balls"
        heap = None if anew else heap_meant(self.walk, self.one, self.members, self.into)
        hosted, self.walk.opened = self._is_onto_what_was_cut(), False
        cut = [i for i in self.walk.last_named if self.walk.left[i.source] > _SOME_LEFT]
        if hosted and cut:
            return self._begun(self.walk.last_named)
        if heap is not None:
            return heap
        cut = cut if self.vague else []
        if self.vague and not cut and not self.walk.unplaced(after=self.one.after):
            return None
        heap = self._begun(cut)
        named = any(t.fresh or t.heaps or t.unlisted for t in self.targets)
        if not cut and (self.vague or (not named and any(t.focus for t in self.members))):
            self._take(heap, (i for i in list_of(self.walk, self.one, self.targets) if not waits(i)))
        return heap

    def _is_onto_what_was_cut(self) -> bool:
        """Whether what was cut last is what something goes onto: "halve the rolls and butter them"."""
        named = any(t.mention.role is Role.OBJECT and (t.fresh or t.heaps) for t in self.members)
        opened = self.walk.opened and self.row.gathers in (Gathers.INTO, Gathers.ON) and not self.into
        return opened or (Trait.ONTO_CUT in self.row.traits and not named)

    def _begun(self, foods: Iterable[Ingredient]) -> Heap:
        heap = self.walk.table.new(vessel=self.one.vessel)
        self._take(heap, foods)
        return heap

    def _take(self, heap: Heap, foods: Iterable[Ingredient]) -> None:
        for i in foods:
            take(self.walk, heap, i, Quantity())

    def join_named(self, heap: Heap) -> None:
        """Put what the instruction names into the heap, and what stands under a roast into a tin of its own."""
        under = self.row.heat is Heat.DRY
        for target in [*self.into, *self.members]:
            liquor = bool(target.fresh) and all(i.kind in LIQUOR for i in target.fresh)
            if under and liquor and target.mention.role is Role.INTO:
                tray = self.walk.table.new(vessel="tin", last=self.walk.at - 1)
                for i in target.fresh:
                    take(self.walk, tray, i, target.quantity)
            else:
                _join(self.walk, heap, target, self.one, self.use, self.excepted)

    def take_what_stands_above(self, heap: Heap) -> None:
        """ "Toss with the salt", "cook in the lard": what stands above is what it is done to."""
        if self.vague or any(mention.role is Role.OBJECT for mention in self.one.mentions):
            return
        foods = list_of(self.walk, self.one, self.targets)
        self._take(heap, (i for i in foods if not waits(i) and i.source not in self.excepted))

    def join_in_hand(self, heap: Heap) -> None:
        """Put what is in hand into the heap, where the instruction speaks of it."""
        in_hand = self.walk.live(self.walk.focus)
        touched = just_touched(self.walk, in_hand)
        into_heap = any(heap in t.heaps for t in self.into)
        held = held_before(self.walk, self.one) if into_heap else None
        put = self.row.gathers in (Gathers.ON, Gathers.INTO) and not self.members  # "and lowered into the fat"
        poured = put and touched and into_heap
        into_vessel = self.vague and self.row.gathers is Gathers.INTO and bool(self.one.vessel) and touched
        spoken = any(t.focus for t in self.members) or held is not None or poured or into_vessel
        in_hand = held if held is not None and held is not heap else in_hand
        if in_hand is not None and in_hand is not heap and spoken:
            quantity = next((t.quantity for t in self.members if t.focus), Quantity())
            take_of_made(self.walk, heap, in_hand, self.one, quantity)

    def season(self, heap: Heap) -> None:
        """What only seasons is in from the first heat on."""
        if self.row.heat in (Heat.NONE, Heat.WARM) and self.row.handler is not Handler.LIE:
            return
        lists, waits_for_rest = self._lists(heap), takes_rest_later(self.walk)
        salt = {"salt"} if Mark.SALTED_WATER in self.one.marks else set()
        for i in self.walk.unplaced(after=self.one.after):
            seasons = (
                i.kind in SEASONS and not i.is_fresh_leaf and (tastes(self.walk, heap, self.row) or i.kind in salt)
            )
            free = not waits_for_rest and self.walk.binder.never_named(i) and not waits(i)
            if seasons and free and (not lists or i.group in lists):
                take(self.walk, heap, i, Quantity())

    def _lists(self, heap: Heap) -> set[frozenset[str]]:
        return {self.walk.by_source[food].group for food in heap.foods if isinstance(food, FromLine)}

    def join_food_that_waits(self, heap: Heap) -> None:
        """ "Heat the oil; fry 4 minutes a side", "heat the oil and fry them": the food in hand before, and no fat."""
        pronoun = bool(self.members) and all(t.focus for t in self.members)
        if not (self.vague or pronoun) or self.row.heat not in (Heat.FAT, Heat.WET) or self.into:
            return
        if not _is_medium(self.walk, self.row.heat, heap):
            return
        foods = (other for other in self.walk.table.open() if other.nature is Nature.FOOD and other is not heap)
        raw = (other for other in foods if heat_of(other.cooked) in (Heat.NONE, Heat.WET, Heat.STEAM))
        waiting = max((other for other in raw if self.walk.solids(other)), key=lambda one: one.last, default=None)
        if waiting is not None:
            merge_in(self.walk, heap, waiting, self.one)

    def take_rest(self, heap: Heap) -> None:
        """Put in everything, the rest, or what no instruction names."""
        if not self.everything and not self.rest:
            plain = self.vague or all(t.focus for t in self.members)
            if plain and not removed_next(self.walk, heap):
                take_unnamed(self.walk, heap, self.one)
            return
        titled = self.walk.list_named(self.one)  # "with everything else in the filling": all of that list
        group = self.walk.in_force(self.one) if not self.everything and not titled else titled
        told = self.everything and bool(self.excepted)  # "everything but the oil": what is left out is told
        spare = (self.rest and not titled) or (self.everything and not told and not _final(self.walk))
        later = lists_taken_later(self.walk) - {group}
        foods = self.walk.unplaced(after=self.one.after, group=group, spare_named=spare, spare_added=told)
        foods = [i for i in foods if not titled or i.group == titled]
        self._take(heap, (i for i in foods if i.source not in self.excepted and not waits(i) and i.group not in later))
        if self.everything and not group and not self.one.parallel:
            for other in self.walk.table.open():
                food = other.nature in (Nature.FOOD, Nature.LIQUID)
                beside = self.row.heat is not Heat.NONE and carved_later(self.walk, other)
                if other is not heap and food and not beside and not _excepted(other, self.excepted):
                    merge_in(self.walk, heap, other, self.one)

    def name(self, heap: Heap) -> None:
        """Give the heap the names that the method may call it by from now on."""
        lists = self._lists(heap)
        if len(lists) == 1 and len(self.walk.binder.groups) > 1:
            foods = self.walk.ingredients
            heap.names |= {word for word in next(iter(lists)) if not any(word in i.words for i in foods)}
        if heap.nature is not Nature.FOOD and self.walk.solids(heap):
            heap.nature = Nature.FOOD
        if self.one.names:
            heap.call(self.one.names)
        for target in (*self.into, *(t for t in self.targets if t.result)):
            word = head_of(target.mention.name)
            if target.result or (target.focus and is_class(word, "product")):
                heap.names |= {word, singular(word)}

    def close(self, heap: Heap) -> None:
        """Note where the heap stands now."""
        marks = self.one.marks
        self.walk.last_named = []
        self.walk.table.washed &= self.vague
        heap.last = self.walk.at
        heap.fried_last = heap.rinsed = False
        if self.row.heat is Heat.DRY or Mark.IN_OVEN in marks:
            self.walk.table.take_films(heap)
        heap.in_oven |= Mark.IN_OVEN in marks and self.one.minutes is None
        heap.over_water |= Mark.OVER_WATER in marks
        heap.kept_in_liquid |= Mark.IN_ITS_LIQUID in marks


def _is_medium(walk: Walk, heat: Heat, heap: Heap) -> bool:
    """Whether nothing is in a heap but what food is cooked in: fat for frying, water and salt for boiling."""
    if heat is Heat.FAT:
        return walk.only_medium(heap)
    kinds = {walk.kind(food) for food in heap.foods}
    return "water" in kinds and kinds <= COOKING_WATER


_SOME_LEFT = 0.02  # share of a line under which nothing of it is left


def _final(walk: Walk) -> bool:
    return all(not later.mentions for later in ahead(walk))


def _excepted(heap: Heap, excepted: set[FromLine]) -> bool:
    return any(food in excepted for food in heap.foods)


def _join(walk: Walk, heap: Heap, target: Target, one: Instruction, use: str, excepted: set[FromLine]) -> None:
    """Put what a mention means into a heap."""
    for i in target.fresh:
        if i.source not in excepted:
            take(walk, heap, i, share_of_each(target))
    quantity = target.quantity
    for other in target.heaps[:1] if target.parted is not None else target.heaps:
        if other is heap or other.state is State.GONE:
            continue
        if target.parted is not None and target.mention.role is Role.INTO and not target.mention.definite:
            continue
        if other.wet and other.pending and other.cooked and target.within:
            dressed_out_of_bath(walk, other, one)
        if target.within and not _is_most(walk, other, target.within):
            taken = split_off(walk, other, target.within, one)
            take_of_made(walk, heap, taken, one, quantity)
        elif is_weighed(quantity) and (target.parted is not None or Mark.EACH in one.marks):
            walk.table.merge(heap, other, amount=part_of(quantity))
            other.taken_of = True
            other.portioned = Mark.EACH in one.marks and target.parted is None
        else:
            take_of_made(walk, heap, other, one, quantity)
    wet = action(one.action).heat is Heat.WET or action(one.action).handler is Handler.LIE
    told = (one.water is not None and head_of(target.mention.name) == "water") or (
        one.salt is not None and head_of(target.mention.name) == "salt"
    )
    if wet and told and target.unlisted:
        return  # the bath that the step itself brings
    if target.unlisted and not target.fresh and not target.heaps and target.quantity.extent is not Extent.REST:
        added = walk.add_unlisted(target.mention, use, one, comes_to=walk.grams(heap))
        if added is not None:
            walk.table.put(heap, [added[1]], [(added[0], 1.0)])


def _is_most(walk: Walk, heap: Heap, foods: list[Food]) -> bool:
    """Whether naming some foods of a heap names the heap: any member does, but not in a bath."""
    solid = walk.solids(heap)
    named = [food for food in foods if food in heap.foods]
    if not named or not solid:
        return True
    wet = heap.wet or heap.fat_bath
    return not wet or len(solid) > len(named)
