"""One heap into two, and two into one."""

from __future__ import annotations

from dataclasses import replace

from labeler.flow.heaps import Food, Heap, Nature
from labeler.flow.kind_sets import SEASONS
from labeler.flow.model import Basis, FromLine, FromNode, Settings
from labeler.flow.shaping import is_batter, set_in_fat
from labeler.flow.target import Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import LIQUOR
from labeler.parsing.instructions.actions import Heat, Trait, action, has
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.model import Instruction, Manner, Mark, Role
from labeler.types import Interval

__all__ = [
    "BATH",
    "boiled_in_plenty",
    "dressed_out_of_bath",
    "goes_over",
    "is_boiled_in_plenty",
    "lies_below",
    "lift_out_of_bath",
    "mark_drained",
    "merge_in",
    "out_of_frying",
    "split_off",
    "sticks_to_fried",
    "swims_in_fat",
]


def merge_in(walk: Walk, heap: Heap, other: Heap, one: Instruction, *, share: Interval | None = None) -> None:
    """Put a heap into another one, out of what it was boiled or fried in."""
    if swims_in_fat(walk, other):
        other = out_of_frying(walk, other, one)
    if is_boiled_in_plenty(walk, other):
        bath = lift_out_of_bath(walk, other, one, why="the cooking water is poured off before")
        bath.last = -1
    for paste, fat in ((other, heap), (heap, other)):
        if (
            fat.hot
            and walk.only_medium(fat)
            and walk.grams(fat, "fat") > _SHALLOW
            and not paste.cooked
            and is_batter(walk, paste)
        ):
            set_in_fat(walk, paste, one)
    walk.table.merge(heap, other, share=share)


_SHALLOW = 50.0  # g of fat in a pan from which a batter is fried in it, and not in a film: a choice, no source
BATH = 150.0  # g of fat that food swims in, and that is not eaten with it: common practice, no source


def swims_in_fat(walk: Walk, heap: Heap) -> bool:
    """Whether pieces lie in the fat that they were fried in."""
    return heap.nature is Nature.FOOD and heap.fat_bath and walk.grams(heap, "fat") > BATH and bool(walk.solids(heap))


def out_of_frying(walk: Walk, heap: Heap, one: Instruction) -> Heap:
    """Lift what was fried out of its fat, which stays behind."""
    foods = [food for food in heap.foods if walk.kind(food) != "fat"]
    mark_drained(walk, heap)
    lifted = split_off(walk, heap, foods, one, why="what was fried is lifted out of the fat")
    heap.nature = Nature.BATH
    return lifted


def mark_drained(walk: Walk, heap: Heap) -> None:
    """What is lifted out of its fat drains: the node that fried it keeps only what food takes up."""
    if isinstance(heap.source, FromNode):
        at = heap.source.node
        if action(walk.table.nodes[at].action).heat is Heat.FAT:
            walk.table.nodes[at] = replace(walk.table.nodes[at], drained=True)


def is_boiled_in_plenty(walk: Walk, heap: Heap) -> bool:
    """Whether the water around food was only there to boil it, and nothing was told to come to it."""
    return (
        heap.wet
        and not heap.covered_with_water
        and has(heap.cooked, Trait.IN_PLENTY)
        and bool(walk.solids(heap))
        and not any(walk.kind(food) in LIQUOR for food in heap.foods)
    )


def split_off(
    walk: Walk, heap: Heap, foods: list[Food], one: Instruction, *, basis: Basis = Basis.IMPLIED, why: str = ""
) -> Heap:
    """Lift some foods out of a heap into one of their own; what stays is the old heap."""
    here = [food for food in dict.fromkeys(foods) if food in heap.foods]
    off = walk.table.node(
        heap,
        "lift",
        settings=Settings(marks=one.marks & frozenset([Mark.PAPER, Mark.RACK])),
        selects=here,
        text=one.text,
        span=one.span,
        basis=basis,
        why=why,
    )
    lifted_source, heap.source = heap.source, off
    lifted = walk.table.new(source=lifted_source, vessel="", last=walk.at, cooked=heap.cooked, soaked=heap.soaked)
    for food in here:
        lifted.foods[food] = heap.foods.pop(food)
    if not walk.solids(heap):  # what tea and bones have steeped in goes by their name
        heap.names |= {
            walk.by_source[food].head for food in here if walk.kind(food) == "seasoning" and isinstance(food, FromLine)
        }
    lifted.bound = heap.bound & set(here)
    heap.bound -= lifted.bound
    if lifted.shaped:  # "the patties" are what was lifted; "the sauce" stays
        lifted.names = {name for name in heap.names if is_class(name, "product-pieces")}
        heap.names -= lifted.names
    lifted.rest_of = heap.number
    heap.lifted, heap.lifted_at = lifted.number, len(walk.table.nodes)
    heap.parted_from = lifted.number
    if not walk.solids(heap) and heap.nature is Nature.FOOD:
        heap.nature = (
            Nature.BATH
            if (
                not heap.foods
                or heap.wet
                or heap.fat_bath
                or heap.soaked
                or walk.grams(heap, *LIQUOR, "fat", "salt", "sugar") > 0.7 * max(walk.grams(heap), 1.0)
            )
            else Nature.FOOD
        )
    return lifted


def lift_out_of_bath(walk: Walk, heap: Heap, one: Instruction, *, why: str) -> Heap:
    """Pour off the bath that food has been boiled or fried in, where what follows takes that for granted."""
    boiled_in_plenty(walk, heap)
    off = walk.table.node(heap, "drain", text=one.text, span=one.span, basis=Basis.IMPLIED, why=why)
    bath = walk.table.part(heap, off, nature=Nature.BATH, names=("cooking water", "water", "liquid", "oil"))
    heap.wet = heap.fat_bath = heap.soaked = False
    for food in [one for one in heap.foods if one not in heap.bound]:
        if walk.kind(food) in LIQUOR | {"salt"} or (walk.kind(food) == "fat" and heap.nature is Nature.FOOD):
            bath.foods[food] = heap.foods[food]
    return bath


def dressed_out_of_bath(walk: Walk, heap: Heap, one: Instruction) -> None:
    """Pour off the water that food was cooked in and that no line lists; what has come to it since stays with it."""
    since, heap.pending = heap.pending, []
    lift_out_of_bath(walk, heap, one, why="what it was cooked in is poured off before").last = -1
    heap.pending = since


def boiled_in_plenty(walk: Walk, heap: Heap) -> None:
    """Tell the node that has just cooked a heap that its water is poured away, and not as little as a soup takes."""
    before = heap.source
    if isinstance(before, FromNode) and Mark.WATER in walk.table.nodes[before.node].settings.marks:
        walk.table.nodes[before.node] = replace(walk.table.nodes[before.node], drained=True)


def sticks_to_fried(walk: Walk, heap: Heap) -> list[Food]:
    """What goes along with food that is lifted out of a dry pan or out of fat: its coat, and what it is seasoned with.

    Salt dissolves in no fat; where there is liquor it is in that.
    """
    fried = bool(heap.cooked) and action(heap.cooked).heat is Heat.FAT and not walk.has_liquid(heap)
    return [
        food
        for food in heap.foods
        if food in heap.coat or (fried and walk.kind(food) in SEASONS | {"sugar", "powder", "flour"})
    ]


def lies_below(walk: Walk, one: Instruction, members: list[Target], poured: Heap | None) -> Heap | None:
    """The food that waits for a liquid, where words say no more than "pour it over"; None for any others."""
    objects = [t for t in members if t.mention.role is Role.OBJECT]
    liquid = poured is not None and walk.has_liquid(poured) and not walk.solids(poured)
    if Mark.OVER_IT not in one.marks or len(members) != 1 or not objects or not liquid:
        return None
    if not (objects[0].focus or poured in objects[0].heaps):
        return None
    waits = (heap for heap in walk.table.open() if heap is not poured and heap.nature is Nature.FOOD)
    return next((heap for heap in waits if walk.solids(heap)), None)


def goes_over(walk: Walk, one: Instruction, targets: list[Target], before: Heap) -> bool:
    """Whether the food that an instruction names is what something else goes over, which it does not name."""
    objects = [t for t in targets if t.mention.role is Role.OBJECT and not t.nothing]
    if Manner.GOES_OVER not in one.manners or not objects:
        return False
    if one.vessel and walk.has_liquid(before) and not walk.solids(before):
        return all(walk.kind(i.source) not in LIQUOR for t in objects for i in t.fresh)  # "the cucumbers in a jar"
    return all(t.heaps and not t.fresh and not t.parted for t in objects)
