"""How an instruction brings food together: which heap it is about, what joins it, and what heat or time does to it.

Rules R2 to R5 and R8 of the flow.
"""

from __future__ import annotations

from labeler.flow.heap_meant import heap_meant
from labeler.flow.heaps import Food, Heap, Nature, State
from labeler.flow.implied import for_each, held_before, with_what_was_cut
from labeler.flow.kind_sets import SEASONS
from labeler.flow.looking_ahead import ahead, just_touched, lists_taken_later, removed_next, takes_rest_later, tastes
from labeler.flow.model import FromLine
from labeler.flow.needs import bring_fat, bring_what_is_needed, list_of, take, take_unnamed, waits
from labeler.flow.parting import dressed_out_of_bath, merge_in, split_off
from labeler.flow.shares import is_weighed, part_of, share_of_each, take_of_made
from labeler.flow.target import Target, is_only_medium, is_only_waste, is_the_pan
from labeler.flow.walk import Walk
from labeler.foods.food_class import LIQUOR
from labeler.parsing.instructions.actions import Gathers, Handler, Heat, Trait, action, heat_of
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Quantity, Role
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
    row = action(one.action)
    if (walk.table.washed and is_the_pan(targets)) or is_only_waste(targets):
        return None
    targets = for_each(walk, one, with_what_was_cut(walk, one, targets))
    members = [t for t in targets if t.mention.role in (Role.OBJECT, Role.WITH) and not t.nothing]
    into = [t for t in targets if t.mention.role is Role.INTO and not t.nothing and not is_only_medium(t)]
    excepted = {one.source for t in targets if t.mention.role is Role.EXCEPT for one in t.fresh}
    anew = any(t.result for t in targets) and any(t.fresh for t in members)  # "roll the dough into balls"
    heap = None if anew else heap_meant(walk, one, members, into)
    everything = any(t.everything for t in members)
    rest = any(t.rest for t in members)
    vague = not members and not into
    hosted = Trait.ONTO_CUT in row.traits and not any(
        t.mention.role is Role.OBJECT and (t.fresh or t.heaps) for t in members
    )
    hosted = hosted or (walk.opened and row.gathers in (Gathers.INTO, Gathers.ON) and not into)
    walk.opened = False
    if hosted and walk.last_named and any(walk.left[i.source] > 0.02 for i in walk.last_named):
        heap = walk.table.new(vessel=one.vessel)
        for i in walk.last_named:
            take(walk, heap, i, Quantity())
    if heap is None:
        fresh_from_cut = [i for i in walk.last_named if walk.left[i.source] > 0.02] if vague else []
        if vague and not fresh_from_cut and not walk.unplaced(after=one.after):
            return None
        heap = walk.table.new(vessel=one.vessel)
        for i in fresh_from_cut:
            take(walk, heap, i, Quantity())
        named = any(t.fresh or t.heaps or t.unlisted for t in targets)
        made_of = vague or (not named and any(t.focus for t in members))
        if made_of and not fresh_from_cut:
            for i in list_of(walk, one, targets):
                if not waits(i):
                    take(walk, heap, i, Quantity())
    if one.vessel and not is_class(head_of(one.vessel), "vessel-plate"):
        heap.vessel = one.vessel
    begins = heap.is_empty
    under = row.heat is Heat.DRY
    for target in [*into, *members]:
        if under and target.mention.role is Role.INTO and target.fresh and all(i.kind in LIQUOR for i in target.fresh):
            tray = walk.table.new(vessel="tin", last=walk.at - 1)  # what stands under a roast
            for i in target.fresh:
                take(walk, tray, i, target.quantity)
            continue
        _join(walk, heap, target, one, use, excepted)
    if begins and not vague and not any(mention.role is Role.OBJECT for mention in one.mentions):
        # "toss with the salt", "cook in the lard": what stands above is what it is done to.
        for i in list_of(walk, one, targets):
            if not waits(i) and i.source not in excepted:
                take(walk, heap, i, Quantity())
    bring_what_is_needed(walk, heap, one, made=any(t.focus and t.confidence < 1.0 for t in into))
    spoken_of = walk.live(walk.focus)
    touched = just_touched(walk, spoken_of)
    held = held_before(walk, one) if any(heap in t.heaps for t in into) else None
    poured = row.gathers is Gathers.ON and not members and touched and any(heap in t.heaps for t in into)
    spoken_of = held if held is not None and held is not heap else spoken_of
    spoken = any(t.focus for t in members) or held is not None or poured
    spoken |= vague and row.gathers is Gathers.INTO and bool(one.vessel) and touched
    if spoken_of is not None and spoken_of is not heap and spoken:
        take_of_made(walk, heap, spoken_of, one, next((t.quantity for t in members if t.focus), Quantity()))
    if row.heat not in (Heat.NONE, Heat.WARM) or row.handler is Handler.LIE:
        lists = {walk.by_source[food].group for food in heap.foods if isinstance(food, FromLine)}
        waits_for_rest = takes_rest_later(walk)
        salt = {"salt"} if Mark.SALTED_WATER in one.marks else set()
        for i in walk.unplaced(after=one.after):
            if (tastes(walk, heap, row) or i.kind in salt) and (
                i.kind in SEASONS
                and not i.is_fresh_leaf
                and not waits_for_rest
                and walk.binder.never_named(i)
                and not waits(i)
                and (not lists or i.group in lists)
            ):
                take(walk, heap, i, Quantity())  # what only seasons is in from the first heat on
    if vague and row.heat is Heat.FAT and walk.only_medium(heap):
        foods = (other for other in walk.table.open() if other.nature is Nature.FOOD)
        in_hand = (other for other in foods if heat_of(other.cooked) in (Heat.NONE, Heat.WET, Heat.STEAM))
        if (other := next((one for one in in_hand if one is not heap and walk.solids(one)), None)) is not None:
            merge_in(walk, heap, other, one)  # "heat the oil; fry 4 minutes a side": the food in hand
    if row.heat in (Heat.FAT, Heat.BY_PLACE) and not walk.grams(heap, "fat"):
        bring_fat(walk, heap, one)
    if everything or rest:
        titled = walk.list_named(one)  # "with everything else in the filling": all of that list
        group = walk.in_force(one) if not everything and not titled else titled
        spare = (rest and not titled) or (everything and not _final(walk))
        later = lists_taken_later(walk) - {group}
        for i in walk.unplaced(after=one.after, group=group, spare_named=spare):
            if i.source not in excepted and not waits(i) and i.group not in later:
                take(walk, heap, i, Quantity())
        if everything and not group:
            for other in walk.table.open():
                if (
                    other is not heap
                    and other.nature in (Nature.FOOD, Nature.LIQUID)
                    and not _excepted(other, excepted)
                    and not one.parallel
                ):
                    merge_in(walk, heap, other, one)
    elif (vague or all(t.focus for t in members)) and not removed_next(walk, heap):
        take_unnamed(walk, heap, one)
    lists = {walk.by_source[food].group for food in heap.foods if isinstance(food, FromLine)}
    if len(lists) == 1 and len(walk.binder.groups) > 1:
        heap.names |= {word for word in next(iter(lists)) if not any(word in i.words for i in walk.ingredients)}
    if heap.nature is not Nature.FOOD and walk.solids(heap):
        heap.nature = Nature.FOOD
    if one.names:
        heap.call(one.names)
    for target in (*into, *(t for t in targets if t.result)):
        word = head_of(target.mention.name)
        if target.result or (target.focus and is_class(word, "product")):
            heap.names |= {word, singular(word)}
    walk.last_named = []
    walk.table.washed &= vague
    heap.last = walk.at
    heap.fried_last = heap.rinsed = False
    if row.heat is Heat.DRY or Mark.IN_OVEN in one.marks:
        walk.table.take_films(heap)
    if Mark.IN_OVEN in one.marks and one.minutes is None:
        heap.in_oven = True
    if Mark.OVER_WATER in one.marks:
        heap.over_water = True
    if Mark.IN_ITS_LIQUID in one.marks:
        heap.kept_in_liquid = True
    return None if heap.is_empty else heap


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
