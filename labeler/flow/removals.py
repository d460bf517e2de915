"""What leaves a heap, and where it goes: drain, rinse, strain, skim, lift, discard, keep.

R6 of the flow: food leaves only where the text names it or where its class leaves by trade; of two readings the one that
keeps more food wins. R13: what is parted from food is a heap of its own, until something happens to it.
"""

from __future__ import annotations

from dataclasses import replace

from labeler.flow.bind import Parted, Target
from labeler.flow.gathering import is_bony, split_off
from labeler.flow.heaps import Food, Heap, Nature, State, settings_of
from labeler.flow.model import Basis, Departure, Fate, Portion, Settings
from labeler.flow.walk import Walk
from labeler.foods.food_class import DISSOLVES, FLESH, LIQUOR
from labeler.knowledge import Interval, Problem
from labeler.parsing.instructions.actions import Handler, action
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Role

__all__ = ["remove"]

_SMALL = 0.12  # share of a heap below which what is taken out of it is a spent aromatic: common practice, no source
_PULP = Interval(0.5, 0.3, 0.75, "pulp that goes through a sieve: common practice, no source")


def remove(walk: Walk, one: Instruction, targets: list[Target]) -> None:
    """Do one instruction that takes something away."""
    handler = action(one.action).handler
    objects = [t for t in targets if t.mention.role in (Role.OBJECT, Role.WITH, Role.OUT_OF)]
    if handler is Handler.DRAIN:
        _drain(walk, one, objects)
    elif handler in (Handler.RINSE, Handler.SQUEEZE, Handler.PAT):
        _clean(walk, one, objects, handler)
    elif handler is Handler.STRAIN:
        _strain(walk, one, objects)
    elif handler is Handler.SKIM:
        _pour_fat(walk, one, objects)
    elif handler is Handler.LIFT:
        _lift(walk, one, objects)
    elif handler is Handler.DISCARD:
        _discard(walk, one, objects)
    elif handler is Handler.KEEP:
        _keep(walk, one, objects)
    elif handler is Handler.COAT:
        _shake_off(walk, one)


def _heap_about(walk: Walk, one: Instruction, objects: list[Target], *, wet: bool = False) -> Heap | None:
    """The heap that a removal is about."""
    for target in objects:
        if target.fresh:
            heap = walk.table.new(vessel=one.vessel, last=walk.at)
            for i in target.fresh:
                drawn = walk.draw(i, target.quantity)
                if drawn is not None:
                    walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
            return heap
        if target.heaps and target.parted is None:
            return target.heaps[0]
    focus = walk.live(walk.focus)
    if walk.last_named and (focus is None or not any(i.source in focus.foods for i in walk.last_named)):
        fresh = [i for i in walk.last_named if walk.left[i.source] > 0.02]
        if fresh:
            heap = walk.table.new(last=walk.at)
            for i in fresh:
                drawn = walk.draw(i, objects[0].quantity if objects else _all())
                if drawn is not None:
                    walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
            return heap
    if focus is None:
        unplaced = walk.unplaced(after=one.after)
        if unplaced and not objects:
            heap = walk.table.new(last=walk.at)
            for i in unplaced:
                drawn = walk.draw(i, _all())
                if drawn is not None:
                    walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
            return heap
        return None
    if wet and not (walk.has_liquid(focus) or focus.fat_bath or focus.wet or focus.soaked):
        for other in walk.table.open():
            if (
                other is not focus
                and (other.wet or other.fat_bath or other.soaked)
                and walk.solids(other)
                and other.nature is Nature.FOOD
            ):
                return other
    return focus


def _all():  # type: ignore[no-untyped-def]
    from labeler.parsing.instructions.model import Quantity

    return Quantity()


_BATH_NAMES = (
    "liquid",
    "water",
    "cooking water",
    "brine",
    "marinade",
    "juice",
    "juices",
    "liquor",
    "syrup",
    "oil",
    "cooking liquid",
    "soaking water",
    "pasta water",
    "whey",
    "soaking liquid",
    "pickling liquid",
)


def _drain(walk: Walk, one: Instruction, objects: list[Target]) -> None:
    parted = next((t for t in objects if t.parted is not None), None)
    if parted is not None and parted.parted in (Parted.FAT, Parted.DRIPPINGS):
        _pour_fat(walk, one, objects)
        return
    if parted is not None and parted.parted is Parted.COAT:
        return  # "letting the excess drip off": what clings stays
    heap = _heap_about(walk, one, [t for t in objects if t.parted is None], wet=True)
    if heap is None:
        return
    if heap.nature is Nature.BATH and heap.parted_from is not None and not walk.solids(heap):
        _goes(walk, heap, one, Fate.NAMED)
        return
    if one.minutes is not None and not heap.soaked and walk.grams(heap, "salt") > 0.0:
        walk.table.node(
            heap, "cure", settings=Settings(minutes=one.minutes, marks=one.marks), text=one.text, span=one.span
        )
    heap.fried_last = False
    inside = [
        food for t in objects for food in t.within if food in heap.foods and walk.kind(food) not in LIQUOR | {"fat"}
    ]
    if inside and not _whole_heap(walk, heap, inside):
        lifted = split_off(walk, heap, inside, one, basis=Basis.WRITTEN)
        walk.set_focus(lifted)
        return
    dry_pan = (
        heap.cooked in ("pan-fry", "stir-fry", "broil", "bake", "roast")
        and not walk.has_liquid(heap)
        and not heap.fat_bath
    )
    if dry_pan and not {Mark.PAPER, Mark.RACK} & one.marks and (walk.flesh(heap) or walk.grams(heap, "fat")):
        _pour_fat(walk, replace(one, action="drain"), [])
        return
    raw = walk.solids(heap) and not heap.cooked and not heap.soaked and walk.has_liquid(heap)
    if raw and one.minutes is None and any(walk.grams_of(food) for food in heap.foods if walk.kind(food) in LIQUOR):
        walk.table.node(
            heap,
            "stand",
            text=one.text,
            span=one.span,
            basis=Basis.ASSUMED,
            why="it lay in its liquid for a time that nobody says",
        )
    fat_only = (
        not walk.has_liquid(heap) and not heap.fat_bath and walk.grams(heap, "fat") <= 0.0 and not walk.flesh(heap)
    )
    off = walk.table.node(heap, "drain", settings=settings_of(one), text=one.text, span=one.span)
    bath = walk.table.part(heap, off, nature=Nature.BATH, names=_BATH_NAMES)
    _move_loose(walk, heap, bath)
    heap.wet = heap.fat_bath = False
    bath.named = one.names
    if one.names:
        bath.names.add(one.names)
    walk.set_focus(heap)
    del fat_only


def _move_loose(walk: Walk, heap: Heap, bath: Heap) -> None:
    """What a bath holds: the loose foods of the heap; the film that clings is the model's business."""
    for food in list(heap.foods):
        kind = walk.kind(food)
        if food in heap.coat:
            continue
        if kind in LIQUOR or kind == "fat":
            bath.foods[food] = heap.foods.pop(food)
        elif kind in DISSOLVES:
            bath.foods[food] = heap.foods[food]
    heap.soaked = False


def _whole_heap(walk: Walk, heap: Heap, foods: list[Food]) -> bool:
    solids = walk.solids(heap)
    rest = [food for food in solids if food not in foods]
    return (
        sum(walk.grams_of(food) for food in rest) < 0.15 * max(sum(walk.grams_of(food) for food in solids), 1.0)
        or not rest
    )


def _clean(walk: Walk, one: Instruction, objects: list[Target], handler: Handler) -> None:
    if handler is Handler.PAT and objects and all(t.nothing and not t.waste for t in objects):
        return  # "wipe the rims of the jars"
    if objects and all(t.waste for t in objects) and walk.live(walk.focus) is None:
        walk.last_named = walk.main_flesh()  # "dry the rind": the joint is meant
        return
    vessel_only = (
        bool(one.vessel)
        and not any(t.fresh or t.heaps or t.focus or t.waste for t in objects)
        and handler in (Handler.PAT, Handler.RINSE)
    )
    if vessel_only and any(is_class(head_of(t.mention.name), "vessel-") for t in objects):
        _wipe_pan(walk, one)
        return
    about = [
        t
        for t in objects
        if not (t.within and all(walk.kind(food) in DISSOLVES for food in t.within))
        and t.parted is None
        and not t.waste
    ]
    heap = _heap_about(walk, one, about, wet=handler is not Handler.PAT)
    if heap is None:
        return
    inside = [food for t in about for food in t.within if food in heap.foods]
    if inside and not _whole_heap(walk, heap, inside):
        heap = split_off(walk, heap, inside, one)
    strewn = walk.grams(heap, "salt", "sugar") > 0.004 * max(walk.grams(heap), 1.0)
    if strewn and not heap.lain and not heap.cooked and not walk.has_liquid(heap) and walk.solids(heap):
        walk.table.node(
            heap,
            "cure",
            text=one.text,
            span=one.span,
            basis=Basis.ASSUMED,
            why="salt lay on the food for a time that nobody says",
        )
    if (
        handler in (Handler.RINSE, Handler.PAT)
        and (walk.has_liquid(heap) or heap.wet)
        and walk.solids(heap)
        and (heap.soaked or heap.cooked)
    ):
        off = walk.table.node(
            heap,
            "drain",
            text=one.text,
            span=one.span,
            basis=Basis.IMPLIED,
            why="what food lies in goes before it is rinsed or wiped",
        )
        bath = walk.table.part(heap, off, nature=Nature.BATH, names=_BATH_NAMES)
        _move_loose(walk, heap, bath)
        heap.wet = heap.fat_bath = False
    off = walk.table.node(heap, one.action, settings=settings_of(one), text=one.text, span=one.span)
    other = walk.table.part(
        heap, off, nature=Nature.BATH, names=("juice", "juices", "liquid", "whey") if handler is Handler.SQUEEZE else ()
    )
    if handler is not Handler.SQUEEZE:
        walk.leave(other, Departure(off, Fate.NAMED, span=one.span))
    walk.set_focus(heap)
    walk.last_named = []


def _wipe_pan(walk: Walk, one: Instruction) -> None:
    """ "Wipe the pan": what was left in it goes."""
    for heap in walk.table.open():
        if heap.nature is Nature.BATH or (walk.only_medium(heap) and heap.parted_from is not None):
            _goes(walk, heap, one, Fate.NAMED)
            return


def _goes(walk: Walk, heap: Heap, one: Instruction, fate: Fate, basis: Basis = Basis.WRITTEN) -> None:
    walk.table.settle(heap, text=one.text, span=one.span)
    assert heap.source is not None
    walk.leave(heap, Departure(heap.source, fate, basis, one.span, heap.named))


def _strain(walk: Walk, one: Instruction, objects: list[Target]) -> None:
    parted = next((t for t in objects if t.parted is not None and t.heaps), None)
    heap = parted.heaps[0] if parted is not None else _heap_about(walk, one, objects)
    if heap is None:
        return
    if heap.nature is Nature.BATH and not walk.solids(heap):
        walk.set_focus(heap)
        return
    named = [
        food for t in objects for food in t.within if food in heap.foods and walk.kind(food) not in LIQUOR | {"fat"}
    ]
    if named and Mark.OUT in one.marks:
        lifted = split_off(walk, heap, named, one, basis=Basis.WRITTEN)
        lifted.nature = Nature.SOLIDS
        lifted.names |= {"solids", "pulp"}
        _goes(walk, lifted, one, Fate.NAMED)
        walk.set_focus(heap)
        return
    keeps_solids = _side_kept_is_solid(walk, heap, named)
    if keeps_solids:
        _drain(walk, replace(one, action="drain"), objects)
        return
    settings = settings_of(one)
    if heap.pureed or Mark.PRESSED in one.marks:
        settings = replace(settings, share=_PULP)
    off = walk.table.node(heap, "strain", settings=settings, text=one.text, span=one.span)
    solids = walk.table.part(heap, off, nature=Nature.SOLIDS, names=("solids", "pulp", "bits"))
    for food in walk.solids(heap):
        solids.foods[food] = heap.foods[food] if heap.pureed else heap.foods.pop(food)
    heap.wet = True if not walk.grams(heap, *LIQUOR) else heap.wet
    walk.set_focus(heap)


def _side_kept_is_solid(walk: Walk, heap: Heap, named: list[Food]) -> bool:
    """R6: which side of a strainer goes is settled by what is named afterwards, then by what is spent."""
    for later in walk.instructions[walk.at + 1 : walk.at + 4]:
        row = action(later.action)
        for mention in later.mentions:
            target = walk.resolve(mention, later, removal=True)
            if row.handler is Handler.DISCARD or Mark.THROWN_AWAY in later.marks:
                if target.parted is Parted.LIQUID or (
                    target.within and all(walk.kind(food) in LIQUOR for food in target.within)
                ):
                    return True
                if target.parted is Parted.SOLIDS or target.within:
                    return False
            if row.handler is Handler.KEEP or Mark.KEPT in later.marks:
                if target.parted is Parted.SOLIDS:
                    return True
                if target.parted is Parted.LIQUID:
                    return False
        if row.handler not in (Handler.DISCARD, Handler.KEEP, Handler.SKIM):
            break
    if named and sum(walk.grams_of(food) for food in named) > 0.3 * sum(
        walk.grams_of(food) for food in walk.solids(heap)
    ):
        return True
    takers = walk.dry_takers(heap)
    mass = sum(walk.grams_of(food) for food in takers)
    return mass > 0.5 * sum(walk.grams_of(food) for food in walk.solids(heap)) or (
        heap.wet and not heap.covered_with_water and heap.cooked in ("boil", "blanch")
    )


def _pour_fat(walk: Walk, one: Instruction, objects: list[Target]) -> None:
    """Skim or pour the fat off, all but what the words leave."""
    drip = walk.drippings()
    focus = walk.live(walk.focus)
    heap = next((t.heaps[0] for t in objects if t.heaps and not t.within), None)
    if (
        action(one.action).handler is Handler.SKIM
        and focus is not None
        and walk.has_liquid(focus)
        and not (heap is not None and heap is drip)
    ):
        heap = focus
    heap = (
        drip
        if drip is not None
        and (heap is None or heap is drip or not walk.has_liquid(heap))
        and not (focus is not None and walk.has_liquid(focus) and focus is not drip and not walk.flesh(focus))
        else heap or _heap_about(walk, one, [t for t in objects if t.parted is None])
    )
    if heap is None:
        return
    if heap is drip and focus is not None and focus is not drip:
        _tin(walk, one, focus, drip)
    if heap.nature is Nature.BATH and not walk.solids(heap) and action(one.action).handler is not Handler.SKIM:
        extent = next((t.quantity.extent for t in objects), None)
        if extent is not Extent.ALL_BUT:
            _goes(walk, heap, one, Fate.NAMED)
            return
    named_fat = any(t.parted is not None for t in objects)
    if (
        action(one.action).handler is Handler.SKIM
        and not named_fat
        and not walk.flesh(heap)
        and walk.grams(heap, "fat") < 0.03 * max(walk.grams(heap), 1.0)
    ):
        return  # foam
    settings = settings_of(one)
    left = next((t.quantity for t in objects if t.quantity.extent is Extent.ALL_BUT), None)
    if left is not None:
        grams = left.grams or (left.millilitres.scaled(0.92) if left.millilitres is not None else None)
        settings = replace(settings, grams=grams, millilitres=None)
    else:
        settings = replace(settings, grams=None, millilitres=None)
    off = walk.table.node(heap, "skim", settings=settings, text=one.text, span=one.span)
    fat = walk.table.part(
        heap, off, nature=Nature.BATH, names=("fat", "rendered fat", "grease", "drippings", "dripping")
    )
    for food in heap.foods:
        if walk.kind(food) == "fat":
            fat.foods[food] = heap.foods[food]
    heap.fat_bath = heap.fried_last = False
    walk.it = fat
    if heap.nature is Nature.BATH:
        heap.nature = Nature.LIQUID if walk.solids(heap) == [] else Nature.FOOD
    walk.set_focus(heap)


def _tin(walk: Walk, one: Instruction, roast: Heap, drip: Heap) -> None:
    """What stays in the tin when the roast is lifted out: the drippings and what lay under it."""
    beside = [food for food in walk.solids(roast) if food not in walk.flesh(roast)]
    if beside and walk.flesh(roast) and roast.cooked in ("roast", "bake"):
        stays = split_off(walk, roast, beside, one, why="the roast is lifted out, the rest stays in the tin")
        walk.table.merge(drip, stays)
        drip.nature = Nature.FOOD
        drip.vessel = "tin"
        roast.parted_from = None


def _lift(walk: Walk, one: Instruction, objects: list[Target]) -> None:
    """Take something out: what is spent leaves, what is food lies beside."""
    if not objects or all(t.focus for t in objects):
        if Mark.OFF_HEAT in one.marks and not objects:
            return
        heap = walk.live(walk.focus)
        if heap is None:
            return
        _lift_all(walk, heap, one)
        return
    for target in objects:
        if target.mention.role is Role.OUT_OF:
            continue
        if target.parted is Parted.FAT:
            _pour_fat(walk, one, [target])
        elif target.parted is Parted.LIQUID:
            _drain(walk, replace(one, action="drain"), [])
        elif target.waste or (target.nothing and not target.within):
            _waste(walk, one, target)
        elif target.within and target.heaps:
            _lift_foods(walk, one, target)
        elif target.heaps and target.heaps[0].nature is Nature.FOOD:
            walk.set_focus(target.heaps[0])
        elif target.unlisted and is_class(head_of(target.mention.name), "spent", "waste"):
            continue


def _lift_all(walk: Walk, heap: Heap, one: Instruction) -> None:
    foods = walk.solids(heap)
    loose = [food for food in heap.foods if food not in foods]
    if (
        foods
        and (loose or heap.wet)
        and (walk.has_liquid(heap) or heap.fat_bath or heap.wet or walk.grams(heap, "fat") > 0.0)
    ):
        lifted = split_off(walk, heap, [*foods, *heap.coat], one, basis=Basis.WRITTEN)
        heap.vessel = heap.vessel or "pan"
        walk.set_focus(lifted)
    else:
        heap.state = State.ASIDE if Mark.OFF_HEAT not in one.marks else heap.state
        walk.set_focus(heap)


def _waste(walk: Walk, one: Instruction, target: Target) -> None:
    """Skin of birds that is taken off; bones, shells and peel were never counted, weights being edible weights."""
    if head_of(target.mention.name) != "skin":
        return
    heap = walk.live(walk.focus)
    if heap is None and walk.main_flesh():
        heap = walk.table.new(last=walk.at)
        for i in walk.main_flesh():
            drawn = walk.draw(i, target.quantity if target.quantity.share is None else _all())
            if drawn is not None:
                walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
        walk.set_focus(heap)
    birds = [food for food in (heap.foods if heap is not None else ()) if walk.kind(food) in ("poultry",)]
    if heap is None or not birds:
        return
    off = walk.table.node(heap, "skin", settings=settings_of(one), selects=birds, text=one.text, span=one.span)
    skin = walk.table.part(heap, off, nature=Nature.SOLIDS, names=("skin",))
    walk.leave(skin, Departure(off, Fate.NAMED, span=one.span))


def _lift_foods(walk: Walk, one: Instruction, target: Target) -> None:
    heap = target.heaps[0]
    here = [food for food in target.within if food in heap.foods]
    if not here:
        return
    mass = sum(walk.grams_of(food) * heap.foods[food] for food in here)
    solid = sum(walk.grams_of(food) * heap.foods[food] for food in walk.solids(heap))
    small = mass < _SMALL * max(solid, 1.0) and not any(walk.kind(food) in FLESH for food in here)
    spent = target.spent or all(walk.kind(food) == "seasoning" for food in here) or small
    bony = all(is_bony(walk, food) for food in here)
    if (spent or bony or _not_used_again(walk, here)) and not _main(walk, heap, here):
        before = heap.nature
        lifted = split_off(walk, heap, here, one, basis=Basis.WRITTEN)
        lifted.nature = Nature.SOLIDS
        heap.nature = before
        _goes(walk, lifted, one, Fate.NAMED)
        walk.set_focus(heap)
        return
    lifted = split_off(
        walk, heap, [*here, *(heap.coat if _whole_heap(walk, heap, here) else ())], one, basis=Basis.WRITTEN
    )
    _after_lift(walk, heap, lifted, one)


def _after_lift(walk: Walk, heap: Heap, lifted: Heap, one: Instruction) -> None:
    """What is spoken of next: the pot where the next step boils or pours it, else what was lifted out."""
    lifted.last = walk.at
    following = next(iter(walk.ahead()), None)
    if following is not None and heap.cooked in ("boil", "simmer", "braise"):
        row = action(following.action)
        if row.handler in (Handler.REDUCE, Handler.STRAIN, Handler.SKIM) or (
            row.id in ("simmer", "boil") and not following.mentions
        ):
            walk.set_focus(heap)
            return
    walk.set_focus(lifted)
    del one


def _not_used_again(walk: Walk, foods: list[Food]) -> bool:
    return False


def _main(walk: Walk, heap: Heap, foods: list[Food]) -> bool:
    mass = sum(walk.grams_of(food) * heap.foods[food] for food in foods)
    if all(walk.kind(food) == "seasoning" for food in foods):
        return False
    return mass > 0.3 * max(walk.grams(heap) - walk.grams(heap, *LIQUOR), 1.0) and not all(
        is_bony(walk, food) for food in foods
    )


def _discard(walk: Walk, one: Instruction, objects: list[Target]) -> None:
    """Throw something away: food, a bath, what was left of a coating."""
    if not objects or all(t.focus for t in objects):
        heap = walk.live(walk.focus)
        bath = next((h for h in walk.table.open() if h.nature in (Nature.BATH, Nature.SOLIDS)), None)
        if bath is not None and heap is not None and bath.parted_from == heap.number:
            _goes(walk, bath, one, Fate.NAMED)
        return
    handled: set[int] = set()
    for target in objects:
        if target.mention.role is Role.OUT_OF:
            continue
        _discard_one(walk, one, target, objects, handled)


def _discard_one(walk: Walk, one: Instruction, target: Target, objects: list[Target], handled: set[int]) -> None:
    leftover = target.quantity.extent is Extent.REST or Mark.LEFTOVER in one.marks
    coats = [food for food in target.within if any(food in heap.coat for heap in walk.table.open())]
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
    if target.parted is not None and not (
        target.parted is Parted.FAT and not target.heaps and _fat_in_focus(walk) is None
    ):
        _discard_parted(walk, one, target, handled)
        return
    if target.waste or (target.nothing and not target.within):
        _waste(walk, one, target)
        return
    if target.unlisted and not target.heaps:
        walk.problems.append(_not_there(one, target))
        return
    if target.everything:
        return
    for heap in list(target.heaps):
        here = [food for food in target.within if food in heap.foods]
        if here and (set(here) != set(heap.foods)):
            liquid = [food for food in here if walk.kind(food) in LIQUOR | {"fat"}]
            if liquid and len(liquid) == len(here) and heap.number not in handled:
                handled.add(heap.number)
                if heap.nature in (Nature.BATH, Nature.LIQUID) or not walk.solids(heap):
                    _goes(walk, heap, one, Fate.NAMED)
                else:
                    _drain(walk, replace(one, action="drain", mentions=()), [])
                    _discard_bath(walk, one)
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
                _goes(walk, lifted, one, Fate.NAMED)
                walk.set_focus(heap)
        else:
            main = heap.nature is Nature.FOOD and walk.grams(heap) > 0.5 * sum(walk.grams(h) for h in walk.table.open())
            if not (main and len(walk.table.open()) == 1):
                _goes(walk, heap, one, Fate.NAMED)
    focus = walk.live(walk.focus)
    if not target.heaps and target.fresh and walk.binder_named_first(target.fresh):
        for i in target.fresh:  # first named by its removal: it was there before
            drawn = walk.draw(i, target.quantity)
            if drawn is not None:
                heap = walk.table.new(last=walk.at, nature=Nature.SOLIDS)
                walk.table.put(heap, [drawn[0]], [(i.source, drawn[1])])
                _goes(walk, heap, one, Fate.NAMED)
        walk.set_focus(focus)
        return
    if not target.heaps and target.fresh:
        for i in target.fresh:
            if is_class(head_of(target.mention.name), "waste", "spent"):
                continue
            walk.problems.append(_not_there(one, target))
            del i


def _not_there(one: Instruction, target: Target) -> Problem:
    return Problem(
        "nothing-to-discard",
        f"“{one.text}”: “{target.mention.name}” is no ingredient so far. Name it as its line does.",
        one.span.line,
    )


def _fat_in_focus(walk: Walk) -> Heap | None:
    focus = walk.live(walk.focus)
    return focus if focus is not None and (walk.grams(focus, "fat") > 0.0 or walk.flesh(focus)) else None


def _discard_bath(walk: Walk, one: Instruction) -> None:
    bath = next((heap for heap in walk.table.open() if heap.nature is Nature.BATH), None)
    if bath is not None:
        _goes(walk, bath, one, Fate.NAMED)


def _discard_parted(walk: Walk, one: Instruction, target: Target, handled: set[int]) -> None:
    if target.parted is Parted.COAT:
        _shake_off(walk, one)
        return
    there = [heap for heap in target.heaps if heap.number not in handled]
    focus = walk.live(walk.focus)
    if target.parted is Parted.SOLIDS:
        solids = there or [heap for heap in walk.table.open() if heap.nature is Nature.SOLIDS]
        if solids:
            _goes(walk, solids[0], one, Fate.NAMED)
        elif focus is not None and walk.has_liquid(focus):
            _strain(walk, replace(one, action="strain", mentions=()), [])
            _discard_parted(walk, one, target, handled)
        return
    if there and not (
        focus is not None
        and target.parted is Parted.FAT
        and there[0].nature is Nature.DRIPPINGS
        and focus is there[0]
        and False
    ):
        handled.add(there[0].number)
        if target.parted is Parted.FAT and there[0].nature is Nature.DRIPPINGS:
            _pour_fat(walk, one, [target])
            walk.set_focus(focus)
            return
        for heap in [
            there[0],
            *(other for other in there[1:] if other.nature is Nature.BATH and set(other.foods) & set(there[0].foods)),
        ]:
            handled.add(heap.number)
            _goes(walk, heap, one, Fate.NAMED)
        return
    if focus is None:
        return
    if target.parted is Parted.FAT or (target.parted is Parted.DRIPPINGS and walk.flesh(focus)):
        if focus.fat_bath:
            _drain(walk, replace(one, action="drain", mentions=()), [])
            _discard_bath(walk, one)
        else:
            _pour_fat(walk, one, [])
        return
    if walk.has_liquid(focus) or focus.soaked or focus.wet:
        if not walk.solids(focus):
            _goes(walk, focus, one, Fate.NAMED)
            return
        _drain(walk, replace(one, action="drain", mentions=()), [])
        _discard_bath(walk, one)


def _shake_off(walk: Walk, one: Instruction) -> None:
    """Shake off what is loose of a coating."""
    for heap in walk.table.open():
        if heap.coat:
            off = walk.table.node(
                heap,
                "shake-off",
                settings=settings_of(one),
                coats=sorted(heap.coat, key=str),
                text=one.text,
                span=one.span,
            )
            rest = walk.table.part(heap, off, nature=Nature.COAT, names=("excess",))
            walk.leave(rest, Departure(off, Fate.NAMED, span=one.span))
            walk.set_focus(heap)
            return


def _keep(walk: Walk, one: Instruction, objects: list[Target]) -> None:
    """Reserve: a bath that would go, an amount of it, half of a heap; or food that waits beside."""
    stored = Mark.FOR_LATER in one.marks or action(one.action).id == "store"
    if action(one.action).id == "store":
        if Mark.FOR_LATER in one.marks and walk.live(walk.focus) is not None and objects:
            for target in objects:
                for heap in target.heaps:
                    _store(walk, heap, one)
        return
    for target in objects:
        if target.mention.role is Role.OUT_OF:
            continue
        quantity = target.quantity
        if target.fresh and not target.heaps:
            continue  # it waits in its line
        heap = target.heaps[0] if target.heaps else walk.live(walk.focus)
        if target.parted in (Parted.LIQUID, Parted.FAT, Parted.DRIPPINGS):
            _keep_parted(walk, one, target, stored=stored)
            continue
        if target.parted is Parted.SOLIDS:
            continue
        if heap is None:
            continue
        if target.within and not _whole_heap(walk, heap, [food for food in target.within if food in heap.foods]):
            lifted = split_off(walk, heap, target.within, one, basis=Basis.WRITTEN)
            lifted.state = State.ASIDE
            _after_lift(walk, heap, lifted, one)
            continue
        if quantity.extent in (Extent.SHARE, Extent.REST, Extent.AMOUNT) and (
            quantity.share or quantity.grams or quantity.millilitres
        ):
            _keep_share(walk, one, heap, target, stored=stored)
            continue
        if stored or one.names:
            if one.names:
                heap.named = one.names
            _store(walk, heap, one)
            continue
        if (
            walk.solids(heap)
            and heap.cooked in ("boil", "simmer", "braise")
            and walk.has_liquid(heap)
            and target.within
        ):
            lifted = split_off(walk, heap, walk.solids(heap), one)
            lifted.state = State.ASIDE
            walk.set_focus(heap)
            continue
        if (
            walk.solids(heap)
            and (walk.grams(heap, "fat") > 0.0 or heap.fat_bath)
            and heap.hot
            and heap.cooked in ("pan-fry", "deep-fry", "stir-fry", "broil")
        ):
            lifted = split_off(
                walk,
                heap,
                [
                    *walk.solids(heap),
                    *[
                        food
                        for food in heap.foods
                        if walk.kind(food) in ("salt", "seasoning", "flour") or food in heap.coat
                    ],
                ],
                one,
            )
            lifted.state = State.ASIDE
            heap.vessel = heap.vessel or "pan"
            heap.nature = Nature.BATH
            walk.set_focus(heap)
            heap.hot = True
            continue
        heap.state = State.ASIDE
        if walk.waiting is not None:
            walk.focus = walk.live(walk.waiting) or walk.focus


def _store(walk: Walk, heap: Heap, one: Instruction) -> None:
    walk.table.settle(heap, text=one.text, span=one.span)
    assert heap.source is not None
    heap.state = State.STORED
    walk.leaves.append(Departure(heap.source, Fate.NAMED, span=one.span, name=one.names or heap.named, kept=True))


def _keep_share(walk: Walk, one: Instruction, heap: Heap, target: Target, *, stored: bool) -> None:
    walk.table.settle(heap, text=one.text, span=one.span)
    assert heap.source is not None
    quantity = target.quantity
    share = quantity.share
    if quantity.extent is Extent.REST and share is None:
        share = Interval(1.0, 1.0, 1.0)
    part = walk.table.new(last=walk.at, vessel="")
    part.names = set(heap.names) | {"reserved"}
    part.pending.append(Portion(heap.source, share, quantity.grams, quantity.millilitres))
    held = share.best if share is not None else 0.5
    for food, amount in heap.foods.items():
        part.foods[food] = amount * held
        heap.foods[food] = amount * (1.0 - held)
    part.state = State.ASIDE
    walk.table.settle(part, text=one.text, span=one.span)
    if part.source == heap.source:
        walk.table.node(part, "divide", text=one.text, span=one.span)
    if stored:
        _store(walk, part, one)
    walk.set_focus(heap)


def _keep_parted(walk: Walk, one: Instruction, target: Target, *, stored: bool) -> None:
    """Keep a liquid: what was poured off, or what is still in the pot."""
    quantity = target.quantity
    name = one.names or target.mention.name
    amount = quantity.grams is not None or quantity.millilitres is not None or quantity.share is not None
    if target.heaps:
        bath = target.heaps[0]
        if amount:
            part = walk.table.new(last=walk.at, nature=Nature.LIQUID)
            assert bath.source is not None
            part.pending.append(Portion(bath.source, quantity.share, quantity.grams, quantity.millilitres))
            walk.table.node(part, "divide", text=one.text, span=one.span, name=name)
            part.names = set(bath.names) | {"reserved", name}
            part.foods = dict(bath.foods)
            part.named = name
            bath.names = set()
            kept = part
        elif bath.nature is Nature.DRIPPINGS and not one.names and not stored:
            bath.state = State.ASIDE  # kept to be eaten
            return
        else:
            kept = bath
            kept.nature = Nature.LIQUID if bath.nature is Nature.BATH else bath.nature
            kept.named = name
            kept.names.add(name)
        if stored:
            _store(walk, kept, one)
        return
    heap = walk.live(walk.focus)
    if heap is None or not (
        walk.has_liquid(heap) or heap.wet or heap.soaked or walk.grams(heap, "fat") > 0 or walk.flesh(heap)
    ):
        return
    if not amount and walk.removed_next(heap):
        heap.named = name
        return
    if not amount and (Mark.KEPT in one.marks and one.adjunct and walk.instructions[walk.at - 1].action == "strain"):
        return
    if not walk.solids(heap) and not amount:
        heap.names |= {name, "liquid"}
        heap.nature = Nature.FOOD
        if one.names or stored:
            heap.named = name
            _store(walk, heap, one)
        return
    settings = Settings(grams=quantity.grams, millilitres=quantity.millilitres, share=quantity.share)
    fat = target.parted is Parted.FAT
    off = walk.table.node(
        heap,
        "skim" if fat else "ladle" if amount else "drain",
        settings=settings if not fat else Settings(),
        text=one.text,
        span=one.span,
    )
    part = walk.table.part(heap, off, nature=Nature.LIQUID, names=("reserved", name, *_BATH_NAMES))
    part.named = name
    if not amount:
        _move_loose(walk, heap, part)
        heap.wet = heap.fat_bath = False
    if stored:
        _store(walk, part, one)
    walk.set_focus(heap)
