"""What an action needs and does not name: a bath, a fat, the list that it is about."""

from __future__ import annotations

from labeler.flow.heaps import Food, Heap, Nature
from labeler.flow.ingredients import Ingredient
from labeler.flow.looking_ahead import takes_rest_later
from labeler.flow.model import FromLine
from labeler.flow.target import Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import LIQUOR
from labeler.parsing.instructions.actions import Heat, Trait, action
from labeler.parsing.instructions.model import Instruction, Mark, Quantity
from labeler.parsing.model import Purpose

__all__ = ["bring_fat", "bring_what_is_needed", "is_bony", "list_of", "take", "take_unnamed", "waits"]


def list_of(walk: Walk, one: Instruction, targets: list[Target]) -> list[Ingredient]:
    """The lines that "mix", or "mix the rub", is about: the list of that name, else the first that is not used."""
    group = walk.in_force(one)
    there = walk.unplaced(after=one.after, group=group)
    if group or len(walk.binder.groups) == 0 or not there:
        return there
    said = {word for t in targets for word in t.mention.name.split(" ")}
    named = [i for i in there if i.group & said]
    first = named[0].group if named else there[0].group
    return [i for i in there if i.group == first]


def bring_what_is_needed(walk: Walk, heap: Heap, one: Instruction, *, made: bool = False) -> None:
    """An action that needs a bath takes the listed liquid, salt and sugar above that no later step names.

    `made` is true for a bath that the words take for made, as in "soak in the marinade": all that may be in one.
    """
    row = action(one.action)
    if (
        not (row.heat is Heat.WET or Trait.IN_BATH in row.traits)
        or not heap.foods
        or walk.has_liquid(heap)
        or one.parallel
    ):
        return
    if not (walk.solids(heap) or made) or heap.cooked:
        return
    if {Mark.WATER, Mark.FRESH, Mark.CHANGED_WATER} & one.marks or one.water is not None:
        return
    wanted = (
        {"water", "salt", "sugar", "seasoning", "liquid"}
        if Trait.IN_BRINE in row.traits and not made
        else LIQUOR | {"salt", "sugar", "seasoning", "fat"}
    )
    if row.heat is Heat.WET:
        watery = any(i.kind == "water" for i in walk.unplaced(after=one.after))
        wanted = {"water", "salt"} if watery else set()
    bones = any(is_bony(walk, food) for food in heap.foods)
    lists = {walk.by_source[food].group for food in heap.foods if isinstance(food, FromLine)}
    for i in walk.unplaced(after=one.after):
        if (lists and i.group not in lists) or waits(i):
            continue
        if i.kind in wanted or (bones and walk.binder.never_named(i)):
            take(walk, heap, i, Quantity())


def is_bony(walk: Walk, food: Food) -> bool:
    """Whether a food is bones, shells or the like."""
    found = walk.by_source.get(food) if isinstance(food, FromLine) else None
    return found is not None and bool({"bone", "carcass", "shell", "knuckle"} & (found.words | found.more))


def bring_fat(walk: Walk, heap: Heap, one: Instruction) -> None:
    """What food is fried in, where no word says it: the hot fat that waits, else the line that is for frying."""
    if walk.has_liquid(heap) and action(one.action).heat is Heat.BY_PLACE:
        return
    for other in walk.table.open():
        if other is not heap and other.nature is Nature.FOOD and walk.only_medium(other) and walk.grams(other, "fat"):
            walk.table.merge(heap, other)
            return
    if Mark.NEW_VESSEL not in one.marks:
        for other in walk.table.open():
            if other is not heap and _left_in_pan(walk, other):
                walk.table.merge(heap, other)
                return
    for i in walk.unplaced(after=one.after):
        frying = i.line.line.purpose is Purpose.FRYING
        if frying or (i.kind == "fat" and walk.binder.never_named(i)):
            take(walk, heap, i, Quantity())
            if frying:
                return


def _left_in_pan(walk: Walk, heap: Heap) -> bool:
    """Whether it is the hot fat of a pan that food was lifted out of, and no bath: the next goes into the same pan."""
    fried = bool(heap.cooked) and action(heap.cooked).heat is Heat.FAT and heap.lifted is not None
    return fried and heap.hot and not heap.fat_bath and not walk.solids(heap) and walk.grams(heap, "fat") > 0.0


def waits(one: Ingredient) -> bool:
    """Whether a line's own words keep it for the table or for another use, or it is what is left of separated eggs."""
    return one.line.component or one.line.line.purpose in (
        Purpose.SERVING,
        Purpose.GARNISH,
        Purpose.GREASING,
        Purpose.FRYING,
    )


def take_unnamed(walk: Walk, heap: Heap, one: Instruction) -> None:
    """R5: what no step names goes into the first that names nothing of its list."""
    row = action(one.action)
    gathers = row.heat not in (Heat.NONE, Heat.WARM) or Trait.TAKES_UNNAMED in row.traits
    if heap.foods and not gathers:
        return
    group = walk.in_force(one)
    lists = {walk.by_source[food].group for food in heap.foods if isinstance(food, FromLine)}
    if takes_rest_later(walk):
        return
    for i in walk.unplaced(after=one.after, group=group):
        if walk.binder.never_named(i) and not waits(i) and not (walk.binder.groups and lists and i.group not in lists):
            take(walk, heap, i, Quantity())


def take(walk: Walk, heap: Heap, one: Ingredient, quantity: Quantity, *, film: bool = False) -> None:
    """Put what is taken of a line into a heap; nothing where nothing is left of it.

    Parameters
    ----------
    walk : Walk
        The state of the walk; it is changed.
    heap : Heap
    one : Ingredient
    quantity : Quantity
        How much of it.
    film : bool
        Whether only a film of it is taken, as for greasing.
    """
    drawn = walk.draw(one, quantity, film=film)
    if drawn is not None:
        walk.table.put(heap, [drawn[0]], [(one.source, drawn[1])])
