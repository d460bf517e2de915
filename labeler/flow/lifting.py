"""Taking food out of a heap: what is spent leaves, what is food lies beside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.flow.draining import drain, goes, pour_fat
from labeler.flow.heaps import Food, Heap, Nature, State, settings_of
from labeler.flow.kind_sets import FLAVOURED
from labeler.flow.looking_ahead import ahead
from labeler.flow.model import Basis, Departure, Fate, FromLine
from labeler.flow.needs import is_bony
from labeler.flow.parting import split_off, sticks_to_fried
from labeler.flow.removal_objects import whole_heap
from labeler.flow.target import Parted, Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import FLESH, LIQUOR
from labeler.parsing.instructions.actions import Gathers, Handler, Heat, Trait, action, has, heat_of
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Mark, Quantity, Role
from labeler.parsing.instructions.vessels import VesselKind

__all__ = ["after_lift", "lift", "waste"]


_SMALL = 0.12  # share of a heap below which what is taken out of it is a spent aromatic: common practice, no source

_LESSER = 0.3  # likewise where the rest is worked on


def lift(walk: Walk, one: Instruction, objects: list[Target]) -> None:
    """Take something out: what is spent leaves, what is food lies beside."""
    objects = [t for t in objects if not (t.nothing and t.mention.role is Role.WITH)]  # "with a slotted spoon"
    if _out_of_heat(one, objects):
        walk.set_focus(walk.live(walk.focus))
        return
    if not objects or all(t.focus for t in objects):
        if Mark.OFF_HEAT in one.marks and not objects:
            return
        heap = walk.live(walk.focus)
        if heap is None:
            return
        _lift_all(walk, heap, one)
        return
    if all(t.mention.role is Role.OUT_OF for t in objects):
        heap = next((t.heaps[0] for t in objects if t.heaps), walk.live(walk.focus))
        if heap is not None:
            _lift_all(walk, heap, one)
        return
    if any(t.mention.role is Role.OUT_OF and t.waste for t in objects):
        return  # "take the mussels out of their shells": out of no liquid
    about = next((t.heaps[0] for t in objects if t.mention.role is Role.OUT_OF and t.heaps), None)
    if about is not None and all(t.nothing for t in objects if t.mention.role is not Role.OUT_OF):
        walk.set_focus(about)  # "remove the weight from the cabbage and squeeze it"
    for target in objects:
        if target.mention.role is Role.OUT_OF:
            continue
        if target.parted is Parted.FAT:
            pour_fat(walk, replace(one, action="skim"), [target])
        elif target.parted is Parted.LIQUID:
            drain(walk, replace(one, action="drain"), [])
        elif target.waste or (target.nothing and not target.within):
            waste(walk, one, target, objects)
        elif target.within and target.heaps:
            _lift_foods(walk, one, target)
        elif target.heaps and target.heaps[0].shaped and len(target.heaps[0].bound) < len(target.heaps[0].foods):
            _lift_all(walk, target.heaps[0], one)  # "lift the meatballs out": what holds together, not what is around
        elif target.heaps and target.heaps[0].nature is Nature.FOOD:
            walk.set_focus(target.heaps[0])
        elif target.unlisted and is_class(head_of(target.mention.name), "spent", "waste"):
            continue


def _out_of_heat(one: Instruction, objects: list[Target]) -> bool:
    """Whether all of it comes out of an oven, off a flame or out of a mould, with what is around it.

    "Remove from the oven", "take off the heat": neither is a liquid, so nothing is parted.
    """
    places = [head_of(t.mention.name) for t in objects]
    if any(t.mention.role is not Role.OUT_OF or t.fresh or t.heaps or t.parted for t in objects):
        return False
    if not places:
        return Mark.OFF_HEAT in one.marks or VesselKind.OVEN in one.vessel_kinds
    return all(is_class(place, "vessel-oven", "heat-source") for place in places)


def _lift_all(walk: Walk, heap: Heap, one: Instruction) -> None:
    if _is_lifted_yet(walk, heap):
        walk.set_focus(heap)
        return  # "take the joint out and lay it on a board"
    foods = walk.solids(heap)
    loose = [food for food in heap.foods if food not in foods]
    if heat_of(heap.cooked) is Heat.DRY and not (heap.wet or walk.has_liquid(heap)):
        loose = []  # a roast takes along what it was rubbed with; what ran out of it lies in the tin already
    renders = bool(heap.cooked) and action(heap.cooked).heat is Heat.FAT and len(walk.flesh(heap)) == len(foods)
    if foods and (
        renders
        or ((loose or heap.wet) and (walk.has_liquid(heap) or heap.fat_bath or heap.wet or walk.grams(heap, "fat") > 0))
    ):
        lifted = split_off(
            walk, heap, list(dict.fromkeys([*foods, *sticks_to_fried(walk, heap)])), one, basis=Basis.WRITTEN
        )
        heap.vessel = heap.vessel or "pan"
        _name_rest(walk, heap)
        after_lift(walk, heap, lifted, one)
    else:
        heap.state = State.ASIDE if Mark.OFF_HEAT not in one.marks else heap.state
        walk.set_focus(heap)


def _is_lifted_yet(walk: Walk, heap: Heap) -> bool:
    """Whether the last that was done to a heap was to lift it out."""
    node = walk.table.nodes[heap.source.node] if heap.source is not None and not heap.pending else None
    return heap.rest_of is not None and node is not None and action(node.action).handler is Handler.LIFT


def _name_rest(walk: Walk, heap: Heap) -> None:
    """What is left in a pan when the meat is taken out of it is its fat, and no liquid."""
    if heap.nature is Nature.BATH and not walk.has_liquid(heap) and heat_of(heap.cooked) is Heat.FAT:
        heap.names |= {"fat", "oil", "rendered fat", "grease"}
        if not walk.grams(heap, "fat"):
            heap.nature = Nature.DRIPPINGS  # nothing else was in the pan


def waste(walk: Walk, one: Instruction, target: Target, objects: Sequence[Target]) -> None:
    """Skin of birds that is taken off; bones, shells and peel were never counted, weights being edible weights."""
    if head_of(target.mention.name) != "skin":
        return
    heap = _whose_skin(walk, objects)
    if heap is None and walk.main_flesh():
        heap = walk.table.new(last=walk.at)
        for i in walk.main_flesh():
            drawn = walk.draw(i, target.quantity if target.quantity.share is None else Quantity())
            if drawn is not None:
                walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
        walk.set_focus(heap)
    birds = _birds(walk, heap)
    if heap is None or not birds:
        return
    heap.skinned = True
    off = walk.table.node(heap, "skin", settings=settings_of(one), selects=birds, text=one.text, span=one.span)
    skin = walk.table.part(heap, off, nature=Nature.SOLIDS, names=("skin",))
    walk.leave(skin, Departure(off, Fate.NAMED, span=one.span))


def _birds(walk: Walk, heap: Heap | None) -> list[Food]:
    """The birds of a heap that have their skin, as far as the words tell."""
    there = heap is not None and not heap.skinned
    return [food for food in (heap.foods if heap is not None and there else ()) if walk.kind(food) == "poultry"]


def _whose_skin(walk: Walk, objects: Sequence[Target]) -> Heap | None:
    """The heap that skin is taken off: of the food it is said to come from, in hand, else the one that has a bird."""
    named = (heap for t in objects if t.mention.role is Role.OUT_OF for heap in t.heaps)
    focus = walk.live(walk.focus)
    heaps = [*named, *([focus] if focus is not None else []), *walk.table.open()]
    return next((heap for heap in heaps if heap.nature is Nature.FOOD and _birds(walk, heap)), focus)


def _lift_foods(walk: Walk, one: Instruction, target: Target) -> None:
    heap = target.heaps[0]
    kneaded_in = {food for food in heap.bound if walk.kind(food) in LIQUOR}  # the water of a dough comes out of none
    here = [food for food in target.within if food in heap.foods and food not in kneaded_in]
    if not here:
        return
    mass = sum(walk.grams_of(food) * heap.foods[food] for food in here)
    solid = sum(walk.grams_of(food) * heap.foods[food] for food in walk.solids(heap))
    weighed = all(walk.grams_of(food) > 0.0 for food in here)  # what nobody has weighed may be the whole dish
    minor = weighed and not any(walk.kind(food) in FLESH for food in here) and not _named_later(walk, here)
    in_liquid = walk.has_liquid(heap) and mass < _SMALL**2 * walk.grams(heap)  # peel in a syrup, and nothing else
    small = minor and (mass < _SMALL * max(solid, 1.0) or in_liquid)
    done_with = minor and mass < _LESSER * solid and not one.vessel and any(later.mentions for later in ahead(walk))
    gave_taste = minor and _pot_goes_on(walk, heap, one)
    spent = target.spent or all(walk.kind(food) == "seasoning" for food in here) or small or done_with
    bony = all(is_bony(walk, food) for food in here)
    if gave_taste or ((spent or bony) and not _main(walk, heap, here)):
        before = heap.nature
        lifted = split_off(walk, heap, here, one, basis=Basis.WRITTEN)
        lifted.nature = Nature.SOLIDS
        heap.nature = before
        goes(walk, lifted, one, Fate.NAMED)
        walk.set_focus(heap)
        return
    loose = walk.has_liquid(heap) or heap.wet or heap.fat_bath
    if heap.cooked and action(heap.cooked).heat is Heat.DRY and not loose and whole_heap(walk, heap, here):
        walk.set_focus(heap)  # a roast takes with it what it is rubbed with; what it dripped is apart already
        return
    along = sticks_to_fried(walk, heap) if whole_heap(walk, heap, here) else []
    lifted = split_off(walk, heap, list(dict.fromkeys([*here, *along])), one, basis=Basis.WRITTEN)
    if heap.cooked:
        _name_rest(walk, heap)
    after_lift(walk, heap, lifted, one)


def _named_later(walk: Walk, foods: list[Food]) -> bool:
    """Whether a later step brings some foods in by their names."""
    lines = [walk.by_source[food] for food in foods if isinstance(food, FromLine)]
    return any(walk.binder.named_after(line, walk.at) for line in lines)


def after_lift(walk: Walk, heap: Heap, lifted: Heap, one: Instruction) -> None:
    """What is spoken of next: the pot where the next step boils or pours it, else what was lifted out."""
    lifted.last = walk.at
    if _pot_goes_on(walk, heap, one) or _pan_goes_on(walk, heap, one):
        walk.set_focus(heap)
        return
    following = next(iter(ahead(walk)), None)
    if following is not None and has(heap.cooked, Trait.GIVES_BROTH):
        row = action(following.action)
        if row.handler in (Handler.REDUCE, Handler.STRAIN, Handler.SKIM) or (
            {Trait.IN_PLENTY, Trait.GIVES_BROTH} <= row.traits and not following.mentions
        ):
            walk.set_focus(heap)
            return
    walk.set_focus(lifted)


def _pot_goes_on(walk: Walk, heap: Heap, one: Instruction) -> bool:
    """Whether what comes next goes into the stock, milk or wine that food was lifted out of, and not onto the food.

    "Lift the chicken out. Stir in the cornflour and boil", "remove the carrots and cook the rice in it". What is lifted
    into a bowl is gone on with there, and nothing goes into cooking water.
    """
    following = next((later for later in ahead(walk) if not _is_about_it(later)), None)
    if following is None or one.vessel or following.vessel or not walk.grams(heap, *FLAVOURED):
        return False
    row = action(following.action)
    into = [mention for mention in following.mentions if mention.role is Role.INTO]
    objects = [mention for mention in following.mentions if mention.role is Role.OBJECT]
    brings = any(not is_class(mention.name, "pronoun") for mention in objects)
    if into:
        return row.heat is not Heat.NONE and brings and all(is_class(mention.name, "pronoun") for mention in into)
    return brings and row.gathers is Gathers.INTO and row.handler is not Handler.COAT and Trait.JOINS in row.traits


def _pan_goes_on(walk: Walk, heap: Heap, one: Instruction) -> bool:
    """Whether raw food that comes next is fried in the pan that food was lifted out of, and not put onto that food.

    "Brown the ribs and put them on a plate. Add the onion and cook for 8 minutes."
    """
    elsewhere = bool(one.vessel_kinds) and VesselKind.PLATE not in one.vessel_kinds
    coming = [later for later in ahead(walk) if not _is_about_it(later)][:2]
    if elsewhere or not coming or heat_of(heap.cooked) is not Heat.FAT or coming[0].vessel:
        return False
    first = action(coming[0].action)
    adds = first.gathers is Gathers.INTO and Trait.JOINS in first.traits
    targets = [walk.resolve(mention, coming[0]) for mention in coming[0].mentions]
    fresh = any(target.fresh for target in targets if target.mention.role is Role.OBJECT)
    onto = any(target.mention.role is Role.INTO for target in targets)
    fries = action(coming[-1].action).heat in (Heat.FAT, Heat.BY_PLACE) and not coming[-1].vessel
    return adds and fresh and not onto and fries


def _is_about_it(one: Instruction) -> bool:
    """ "Keep it warm", "set them aside": of what was just taken out."""
    objects = [mention for mention in one.mentions if mention.role is Role.OBJECT]
    only_it = bool(objects) and all(is_class(mention.name, "pronoun") for mention in objects)
    return only_it and action(one.action).handler is Handler.KEEP


def _main(walk: Walk, heap: Heap, foods: list[Food]) -> bool:
    mass = sum(walk.grams_of(food) * heap.foods[food] for food in foods)
    if all(walk.kind(food) == "seasoning" for food in foods):
        return False
    return mass > 0.3 * max(walk.grams(heap) - walk.grams(heap, *LIQUOR), 1.0) and not all(
        is_bony(walk, food) for food in foods
    )
