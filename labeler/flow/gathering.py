"""How an instruction brings food together: which heap it is about, what joins it, and what heat or time does to it.

Rules R2 to R5 and R8 of the flow.
"""

from __future__ import annotations

from dataclasses import replace

from labeler.flow.bind import Parted, Target
from labeler.flow.heaps import Food, Heap, Nature, State, settings_of
from labeler.flow.ingredients import Ingredient
from labeler.flow.model import Basis, FromLine, Portion, Settings
from labeler.flow.walk import Walk
from labeler.foods.food_class import FLESH, LIQUOR
from labeler.knowledge import Interval, Problem
from labeler.parsing.instructions.actions import Gathers, Handler, Heat, action
from labeler.parsing.instructions.lexicon import classes_of, is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Mention, Quantity, Role
from labeler.parsing.model import Purpose

__all__ = ["gather", "heat", "lie", "lift_out_of_bath", "targets_of"]

BATH = 150.0  # g of fat that food swims in, and that is not eaten with it: common practice, no source


def targets_of(walk: Walk, one: Instruction) -> list[Target]:
    """What the mentions of an instruction mean, without tools and the like."""
    removal = action(one.action).takes.value != "" or action(one.action).gathers is Gathers.OUT
    found = []
    for mention in one.mentions:
        if mention.role is Role.EVIDENCE:
            continue
        target = walk.resolve(mention, one, removal=removal and mention.role is not Role.INTO)
        if mention.alternative and target.unlisted:
            continue
        found.append(target)
    return found


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
    members = [t for t in targets if t.mention.role in (Role.OBJECT, Role.WITH) and not t.nothing]
    into = [
        t
        for t in targets
        if t.mention.role is Role.INTO and not t.nothing and not (t.parted is not None and not t.mention.definite)
    ]
    excepted = {one.source for t in targets if t.mention.role is Role.EXCEPT for one in t.fresh}
    heap = _heap_meant(walk, one, row.gathers, members, into)
    everything = any(t.everything for t in members)
    rest = any(t.rest for t in members)
    vague = not members and not into
    hosted = row.id in ("rub", "season", "coat", "brush", "cure", "marinate") and not any(
        t.mention.role is Role.OBJECT and (t.fresh or t.heaps) for t in members
    )
    if hosted and walk.last_named and any(walk.left[i.source] > 0.02 for i in walk.last_named):
        heap = walk.table.new(vessel=one.vessel)
        for i in walk.last_named:
            _take(walk, heap, i, Quantity())
    if heap is None:
        fresh_from_cut = [i for i in walk.last_named if walk.left[i.source] > 0.02] if vague else []
        if vague and not fresh_from_cut and not walk.unplaced(after=one.after):
            return None
        heap = walk.table.new(vessel=one.vessel)
        for i in fresh_from_cut:
            _take(walk, heap, i, Quantity())
        made_of = vague or (
            not any(t.fresh or t.heaps or t.unlisted for t in targets) and any(t.focus for t in members)
        )
        if made_of and not fresh_from_cut:
            for i in _list_of(walk, one, targets):
                if not _waits(i):
                    _take(walk, heap, i, Quantity())
    if one.vessel and not is_class(head_of(one.vessel), "vessel-plate"):
        heap.vessel = one.vessel
    begins = heap.is_empty
    under = row.heat is Heat.DRY
    for target in [*into, *members]:
        if under and target.mention.role is Role.INTO and target.fresh and all(i.kind in LIQUOR for i in target.fresh):
            tray = walk.table.new(vessel="tin", last=walk.at - 1)  # what stands under a roast
            for i in target.fresh:
                _take(walk, tray, i, target.quantity)
            continue
        _join(walk, heap, target, one, use, excepted)
    if begins and not vague and not any(mention.role is Role.OBJECT for mention in one.mentions):
        # "toss with the salt", "cook in the lard": what stands above is what it is done to.
        for i in _list_of(walk, one, targets):
            if not _waits(i) and i.source not in excepted:
                _take(walk, heap, i, Quantity())
    _bring_what_is_needed(walk, heap, one)
    spoken_of = walk.live(walk.focus)
    if spoken_of is not None and spoken_of is not heap and any(t.focus for t in members):
        merge_in(walk, heap, spoken_of, one)
    if row.heat not in (Heat.NONE, Heat.WARM) or row.handler is Handler.LIE:
        lists = {walk.by_source[food].group for food in heap.foods if isinstance(food, FromLine)}
        for i in walk.unplaced(after=one.after) if not walk.removed_next(heap) else ():
            if (
                i.kind in ("seasoning", "salt")
                and walk.binder.never_named(i)
                and not _waits(i)
                and (not lists or i.group in lists)
            ):
                _take(walk, heap, i, Quantity())  # what only seasons is in from the first heat on
    if row.heat in (Heat.FAT, Heat.BY_PLACE) and not walk.grams(heap, "fat"):
        _bring_fat(walk, heap, one)
    if everything or rest:
        group = walk.in_force(one) if not everything else frozenset[str]()
        spare = rest or (everything and not _final(walk))
        for i in walk.unplaced(after=one.after, group=group, spare_named=spare):
            if i.source not in excepted and not _waits(i):
                _take(walk, heap, i, Quantity())
        if everything:
            for other in walk.table.open():
                if (
                    other is not heap
                    and other.nature in (Nature.FOOD, Nature.LIQUID)
                    and not _excepted(other, excepted)
                    and not one.parallel
                ):
                    merge_in(walk, heap, other, one)
    elif (vague or all(t.focus for t in members)) and not walk.removed_next(heap):
        _take_unnamed(walk, heap, one)
    lists = {walk.by_source[food].group for food in heap.foods if isinstance(food, FromLine)}
    if len(lists) == 1 and len(walk.binder.groups) > 1:
        heap.names |= next(iter(lists))
    if heap.nature is not Nature.FOOD and walk.solids(heap):
        heap.nature = Nature.FOOD
    if one.names:
        heap.names.add(one.names)
    for target in into:
        word = head_of(target.mention.name)
        if target.focus and is_class(word, "product"):
            heap.names.add(word)
    walk.last_named = []
    heap.last = walk.at
    heap.fried_last = False
    if Mark.IN_OVEN in one.marks and one.minutes is None:
        heap.in_oven = True
    if Mark.IN_ITS_LIQUID in one.marks:
        heap.kept_in_liquid = True
    return None if heap.is_empty else heap


def _list_of(walk: Walk, one: Instruction, targets: list[Target]) -> list[Ingredient]:
    """The lines that "mix", or "mix the rub", is about: the list of that name, else the first that is not used."""
    group = walk.in_force(one)
    there = walk.unplaced(after=one.after, group=group)
    if group or len(walk.binder.groups) == 0 or not there:
        return there
    said = {word for t in targets for word in t.mention.name.split(" ")}
    named = [i for i in there if i.group & said]
    first = named[0].group if named else there[0].group
    return [i for i in there if i.group == first]


def _bring_what_is_needed(walk: Walk, heap: Heap, one: Instruction) -> None:
    """An action that needs a bath takes the listed liquid, salt and sugar that stand above and that no later step names."""
    row = action(one.action)
    bath = one.action in ("brine", "marinate", "pickle", "soak", "ferment")
    if not (row.heat is Heat.WET or bath) or not heap.foods or walk.has_liquid(heap) or one.parallel:
        return
    if not walk.solids(heap) or heap.cooked:
        return
    if Mark.WATER in one.marks or one.water is not None:
        return
    wanted = (
        {"water", "salt", "sugar", "seasoning", "liquid"}
        if one.action in ("brine", "ferment", "soak")
        else LIQUOR | {"salt", "sugar", "seasoning", "fat"}
    )
    if row.heat is Heat.WET:
        watery = any(i.kind == "water" for i in walk.unplaced(after=one.after))
        wanted = {"water", "salt"} if watery else set()
    bones = any(is_bony(walk, food) for food in heap.foods)
    lists = {walk.by_source[food].group for food in heap.foods if isinstance(food, FromLine)}
    for i in walk.unplaced(after=one.after):
        if (lists and i.group not in lists) or _waits(i):
            continue
        if i.kind in wanted or (bones and walk.binder.never_named(i)):
            _take(walk, heap, i, Quantity())


def is_bony(walk: Walk, food: Food) -> bool:
    """Whether a food is bones, shells or the like."""
    found = walk.by_source.get(food) if isinstance(food, FromLine) else None
    return found is not None and bool({"bone", "carcass", "shell", "knuckle"} & (found.words | found.more))


def _bring_fat(walk: Walk, heap: Heap, one: Instruction) -> None:
    """What food is fried in, where the words do not say it: the hot fat that waits, else the line that is for frying."""
    if walk.has_liquid(heap) and action(one.action).heat is Heat.BY_PLACE:
        return
    for other in walk.table.open():
        if other is not heap and other.nature is Nature.FOOD and walk.only_medium(other) and walk.grams(other, "fat"):
            walk.table.merge(heap, other)
            return
    for i in walk.unplaced(after=one.after):
        frying = getattr(i.line.line, "purpose", None) is Purpose.FRYING
        if frying or (i.kind == "fat" and walk.binder.never_named(i)):
            _take(walk, heap, i, Quantity())
            if frying:
                return


def _final(walk: Walk) -> bool:
    return all(not later.mentions for later in walk.ahead())


def _excepted(heap: Heap, excepted: set[FromLine]) -> bool:
    return any(food in excepted for food in heap.foods)


def _waits(one: Ingredient) -> bool:
    """Whether a line's own words keep it for the table or for another use."""
    return getattr(one.line.line, "purpose", None) in (
        Purpose.SERVING,
        Purpose.GARNISH,
        Purpose.GREASING,
        Purpose.FRYING,
    )


def _take_unnamed(walk: Walk, heap: Heap, one: Instruction) -> None:
    """R5: what no step names goes into the first that names nothing of its list."""
    row = action(one.action)
    gathers = row.heat not in (Heat.NONE, Heat.WARM) or row.id in ("mix", "layer", "fill", "knead", "add", "reduce")
    if heap.foods and not gathers:
        return
    group = walk.in_force(one)
    lists = {walk.by_source[food].group for food in heap.foods if isinstance(food, FromLine)}
    for i in walk.unplaced(after=one.after, group=group):
        if walk.binder.never_named(i) and not _waits(i) and not (walk.binder.groups and lists and i.group not in lists):
            _take(walk, heap, i, Quantity())


def _heap_meant(
    walk: Walk, one: Instruction, gathers: Gathers, members: list[Target], into: list[Target]
) -> Heap | None:
    """The heap that an instruction works on; None where it begins a new one."""
    focus = walk.live(walk.focus)
    row = action(one.action)
    for target in into:
        if target.heaps and target.parted is None and target.quantity.share is None:
            return target.heaps[0]
        if target.parted is not None and not target.mention.definite:
            continue
        if target.focus and focus is not None and target.confidence >= 1.0:
            if any(t.focus for t in members if t.mention.role is Role.OBJECT):  # "pour it over them"
                others = [heap for heap in walk.table.open() if heap is not focus and heap.nature is Nature.FOOD]
                return others[0] if others else focus
            return focus
        if target.parted is not None and target.heaps:
            return target.heaps[0] if not any(t.heaps for t in members) else _first_heap(members)
        if target.parted is not None and focus is not None and (walk.has_liquid(focus) or target.parted is Parted.FAT):
            return focus
    objects = [t for t in members if t.mention.role is Role.OBJECT]
    parted = [t.heaps[0] for t in objects if t.parted is not None and t.heaps]
    if (
        parted
        and len(objects) == len(members) == 1
        and not into
        and (one.vessel or focus is None or focus.number == parted[0].parted_from)
    ):
        parted[0].vessel = one.vessel or parted[0].vessel
        return parted[0]
    if any(t.fresh for t in into):
        held = _first_heap(members)
        if held is not None and row.heat is not Heat.NONE:
            return held
        if not objects and (row.heat is not Heat.NONE or gathers in (Gathers.ON, Gathers.INTO)):
            return focus
        return None if not any(t.focus for t in objects) or focus is None else focus
    vessel = _vessel_heap(walk, one)
    if vessel is not None and not any(t.focus for t in objects):
        held = _first_heap(objects)
        return vessel if row.heat is Heat.NONE or held is None else held
    held = _first_heap(objects)
    if held is not None and gathers is not Gathers.INTO:
        return held
    if any(t.focus or t.everything for t in objects) and focus is not None:
        return focus
    if one.parallel:
        return held
    new_place = Mark.NEW_VESSEL in one.marks
    fresh = bool(objects) and all(t.fresh or t.unlisted for t in objects)
    hosts = [t for t in objects if any(i.kind not in ("salt", "seasoning", "sugar") for i in t.fresh)]
    if row.id in ("season", "rub", "coat", "brush", "cure") and hosts:
        return None  # what is salted or rubbed is a heap of its own
    if gathers in (Gathers.INTO, Gathers.ON):
        if new_place and fresh and not _only_pan(walk, focus):
            return None
        if (
            gathers is Gathers.ON
            and fresh
            and focus is not None
            and any(t.fresh or t.unlisted for t in members if t.mention.role is Role.WITH)
        ):
            return None
        if held is not None and held is focus:
            return focus
        return focus if not (held is not None and focus is None) else held
    if not objects:
        withs = [t for t in members if t.mention.role is Role.WITH]
        held = _first_heap(withs)
        return focus or held
    if gathers is Gathers.NEW:
        if focus is not None and walk.only_medium(focus) and focus.hot and not new_place:
            return focus
        return held
    if (
        row.handler is Handler.LIE
        and fresh
        and focus is not None
        and not one.parallel
        and walk.has_liquid(focus)
        and not walk.solids(focus)
        and Mark.WATER not in one.marks
    ):
        return focus
    if row.heat in (Heat.FAT, Heat.BY_PLACE, Heat.WET) and fresh and focus is not None and not new_place:
        if walk.only_medium(focus) and row.heat is not Heat.WET:
            return focus
        if (
            focus.hot
            and not focus.cooked
            and not walk.solids(focus)
            and row.heat is Heat.WET
            and walk.has_liquid(focus)
        ):
            return focus
        if focus.vessel and Mark.SAME_VESSEL in one.marks:
            return focus
    return held


def _only_pan(walk: Walk, focus: Heap | None) -> bool:
    return focus is not None and focus.hot and walk.only_medium(focus)


def _first_heap(targets: list[Target]) -> Heap | None:
    return next((t.heaps[0] for t in targets if t.heaps and t.parted is None), None)


def _vessel_heap(walk: Walk, one: Instruction) -> Heap | None:
    """The heap in the vessel that an instruction names as known ("the pan", "the same bowl")."""
    if not one.vessel or Mark.NEW_VESSEL in one.marks or Mark.SAME_VESSEL not in one.marks:
        return None
    if is_class(head_of(one.vessel), "vessel-plate", "vessel-oven") and action(one.action).heat is not Heat.NONE:
        return None
    found = walk.heap_with_vessel(one.vessel)
    if found is None and is_class(head_of(one.vessel), "vessel-pan", "vessel-pot", "vessel-oven"):
        focus = walk.live(walk.focus)
        drip = walk.drippings()
        if drip is not None and is_class(head_of(one.vessel), "vessel-oven", "vessel-pan"):
            return drip
        if focus is not None and focus.hot:
            return focus
        hot = [heap for heap in walk.table.open() if heap.hot]
        return hot[0] if hot else None
    return found


def _take(walk: Walk, heap: Heap, one: Ingredient, quantity: Quantity, *, film: bool = False) -> None:
    drawn = walk.draw(one, quantity, film=film)
    if drawn is not None:
        walk.table.put(heap, [drawn[0]], [(one.source, drawn[1])])


def merge_in(walk: Walk, heap: Heap, other: Heap, one: Instruction, *, share: Interval | None = None) -> None:
    """Put a heap into another one; what it was only boiled in is poured off first."""
    if (
        other.wet
        and not other.covered_with_water
        and other.cooked in ("boil", "blanch", "simmer")
        and walk.solids(other)
        and not any(walk.kind(food) in LIQUOR for food in other.foods)
    ):
        bath = lift_out_of_bath(walk, other, one, why="the cooking water is poured off before")
        bath.last = -1
    walk.table.merge(heap, other, share=share)


def _join(walk: Walk, heap: Heap, target: Target, one: Instruction, use: str, excepted: set[FromLine]) -> None:
    """Put what a mention means into a heap."""
    for i in target.fresh:
        if i.source not in excepted:
            _take(walk, heap, i, _share_of_each(target))
    quantity = target.quantity
    for other in target.heaps:
        if other is heap or other.state is State.GONE:
            continue
        if target.parted is not None and target.mention.role is Role.INTO and not target.mention.definite:
            continue
        if target.within and not _is_most(walk, other, target.within):
            taken = split_off(walk, other, target.within, one)
            walk.table.merge(heap, taken)
        elif quantity.extent is Extent.SHARE and quantity.share is not None:
            merge_in(walk, heap, other, one, share=quantity.share)
        elif (
            quantity.extent is Extent.AMOUNT
            and Mark.EACH not in one.marks
            and (quantity.grams or quantity.millilitres) is not None
            and target.parted is not None
        ):
            walk.table.merge(heap, other, amount=Portion(FromLine(0), None, quantity.grams, quantity.millilitres))
        else:
            merge_in(walk, heap, other, one)
        if target.parted is not None:
            break
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


def _share_of_each(target: Target) -> Quantity:
    quantity = target.quantity
    return (
        quantity
        if len(target.fresh) == 1 or quantity.extent is Extent.SHARE
        else Quantity(quantity.extent if quantity.extent is not Extent.AMOUNT else Extent.ALL, quantity.share)
    )


def _is_most(walk: Walk, heap: Heap, foods: list[Food]) -> bool:
    """Whether naming some foods of a heap names the heap: any member names it, unless it stands in a bath of its own."""
    solid = walk.solids(heap)
    named = [food for food in foods if food in heap.foods]
    if not named or not solid:
        return True
    wet = heap.wet or heap.fat_bath
    return not wet or len(solid) > len(named)


def split_off(
    walk: Walk, heap: Heap, foods: list[Food], one: Instruction, *, basis: Basis = Basis.IMPLIED, why: str = ""
) -> Heap:
    """Lift some foods out of a heap into one of their own; what stays is the old heap."""
    here = [food for food in foods if food in heap.foods]
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
    lifted.names = {name for name in heap.names if name in ()}
    for food in here:
        lifted.foods[food] = heap.foods.pop(food)
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


def lift_out_of_bath(walk: Walk, heap: Heap, one: Instruction, *, why: str, drain: bool = True) -> Heap:
    """Pour off the bath that food has been boiled or fried in, where what follows takes that for granted."""
    off = walk.table.node(heap, "drain", text=one.text, span=one.span, basis=Basis.IMPLIED, why=why)
    bath = walk.table.part(heap, off, nature=Nature.BATH, names=("cooking water", "water", "liquid", "oil"))
    heap.wet = heap.fat_bath = heap.soaked = False
    for food in list(heap.foods):
        if walk.kind(food) in LIQUOR | {"salt"} or (walk.kind(food) == "fat" and heap.nature is Nature.FOOD):
            bath.foods[food] = heap.foods[food]
    del drain
    return bath


# --- heat and time ---------------------------------------------------------------------------------------------------


def heat(walk: Walk, one: Instruction, heap: Heap, targets: list[Target]) -> None:
    """Bring heat to a heap."""
    name = _method(walk, one, heap)
    row = action(name)
    settings = settings_of(one)
    if settings.celsius is None and row.heat is Heat.DRY and walk.oven is not None:
        settings = replace(settings, celsius=walk.oven)
    if row.heat is Heat.DRY and one.celsius is not None:
        walk.oven = one.celsius
    if heap.cooked and heap.last == walk.at - 1 and one.minutes is None and row.heat is Heat.WARM:
        heap.hot = True
        return
    if row.heat in (Heat.DRY, Heat.FAT) and heap.soaked and name not in ("bake",):
        _leave_marinade(walk, one, heap, name)
    if row.heat is not Heat.WET and heap.wet and heap.cooked:
        walk_bath = lift_out_of_bath(walk, heap, one, why="the cooking water is poured off before")
        walk_bath.last = walk.at
    drained = walk.removed_next(heap)
    marks = set(settings.marks)
    if heap.covered and Mark.UNCOVERED not in marks:
        marks.add(Mark.COVERED)
    heap.covered = Mark.COVERED in marks
    if row.heat is Heat.WET and name != "confit":
        _water(walk, heap, marks, targets, drained=drained)
    settings = replace(settings, marks=frozenset(marks))
    fat = walk.grams(heap, "fat")
    swims = row.heat is Heat.FAT and fat > BATH and not _butter(walk, heap)
    if name == "pan-fry" and swims:
        name = "deep-fry"
    off = walk.table.node(heap, name, settings=settings, text=one.text, span=one.span, drained=drained)
    heap.hot, heap.cooked, heap.fried_last = True, name, True
    if name == "confit" or (row.heat is Heat.FAT and fat > 0.0 and row.id == "deep-fry"):
        heap.fat_bath = True
    if (
        row.heat is Heat.FAT
        and swims
        and (
            any(t.fresh or t.within or t.heaps for t in targets if t.mention.role is Role.OBJECT)
            or _for_frying(walk, heap)
        )
    ):
        heap.fat_bath = True
    if row.heat is Heat.DRY and walk.flesh(heap):
        walk.table.part(
            heap,
            off,
            nature=Nature.DRIPPINGS,
            names=("drippings", "pan juices", "juices", "tin"),
            foods=walk.flesh(heap),
            vessel="tin",
        )
    walk.set_focus(heap)


def _for_frying(walk: Walk, heap: Heap) -> bool:
    return any(
        getattr(walk.by_source[food].line.line, "purpose", None) is Purpose.FRYING
        for food in heap.foods
        if isinstance(food, FromLine)
    )


def _butter(walk: Walk, heap: Heap) -> bool:
    """Whether the fat holds water, as butter does: nothing is fried afloat in it."""
    from labeler.foods.words import words

    return any(
        walk.kind(food) == "fat" and "butter" in words(walk.by_source[food].line.line.name)
        for food in heap.foods
        if isinstance(food, FromLine)
    )


def _method(walk: Walk, one: Instruction, heap: Heap) -> str:
    """R8: what a general verb means, by vessel, medium and content."""
    row = action(one.action)
    wet = walk.has_liquid(heap) or Mark.WATER in one.marks or one.water is not None or Mark.SALTED_WATER in one.marks
    if row.id == "simmer" and not wet and walk.grams(heap, "fat") > BATH and not walk.dry_takers(heap):
        return "confit"
    if row.id == "braise" and walk.only_medium(heap):
        return "heat"
    if row.id == "pan-fry" and (walk.only_medium(heap) or not heap.foods):
        return "heat"
    if (
        one.verb == "cook"
        and row.id == "bake"
        and not wet
        and walk.grams(heap, "fat") > BATH
        and (one.celsius is None or one.celsius.best < 150.0)
    ):
        return "confit"
    if row.heat is not Heat.BY_PLACE:
        return row.id
    if heap.in_oven and Mark.FLAME not in one.marks:
        return "bake"
    if Mark.IN_OVEN in one.marks or (is_class(head_of(one.vessel), "vessel-oven") if one.vessel else False):
        return "bake"
    if Mark.GRILL in one.marks:
        return "broil"
    if walk.dry_takers(heap) and walk.liquid_share(heap) < 0.9 and (not heap.hot or not walk.grams(heap, "fat") or wet):
        return "boil" if not walk.has_liquid(heap) else "simmer"
    if wet and walk.liquid_share(heap) > 0.12:
        return "simmer"
    if heap.wet:
        return "simmer"
    fat = walk.grams(heap, "fat")
    if not walk.has_liquid(heap) and fat > BATH and Mark.GENTLE in one.marks:
        return "confit"
    if fat > 0.0 or walk.flesh(heap) or (one.vessel and is_class(head_of(one.vessel), "vessel-pan")):
        return "pan-fry"
    return "simmer" if walk.has_liquid(heap) else "pan-fry"


def _water(walk: Walk, heap: Heap, marks: set[Mark], targets: list[Target], *, drained: bool) -> None:
    """What food boils in where no line lists it (R8, need of the action)."""
    if any(
        isinstance(food, FromLine) and (walk.by_source[food].part or walk.by_source[food].line.kept is not None)
        for food in heap.foods
    ):
        marks.discard(Mark.WATER)  # what another part made is what it boils in
        return
    listed = walk.grams(heap, *LIQUOR)
    solid = max(walk.grams(heap) - listed, 1.0)
    enough = listed > 0.1 * solid
    takers = walk.dry_takers(heap) if heap.cooked not in ("boil", "simmer", "blanch") else []
    if (
        heap.cooked in ("boil", "simmer", "blanch", "braise")
        and not heap.wet
        and not {Mark.WATER, Mark.SALTED_WATER, Mark.FRESH} & marks
    ):
        return
    if takers and listed < 0.9 * sum(walk.grams_of(food) * heap.foods[food] for food in takers) and not heap.wet:
        enough = enough and listed > 0.5 * sum(walk.grams_of(food) * heap.foods[food] for food in takers)
    asked = Mark.WATER in marks or Mark.SALTED_WATER in marks
    if heap.wet or (enough and not (asked and listed < 0.3 * solid)):
        marks.discard(Mark.WATER)
        if heap.wet:
            marks.discard(Mark.SALTED_WATER)
        return
    juicy = {"fruit", "tomato", "sugar", "sauce", "sweet", "fat", "salt", "seasoning", *LIQUOR}
    foods = [food for food in heap.foods]
    wants = (
        asked
        or takers
        or drained
        or (walk.solids(heap) and not all(walk.kind(food) in juicy for food in foods) and _boils_in_water(walk, heap))
    )
    if wants:
        marks.add(Mark.WATER)
        heap.wet = True
    del targets


def _boils_in_water(walk: Walk, heap: Heap) -> bool:
    fat = walk.grams(heap, "fat")
    return fat < 0.02 * max(walk.grams(heap), 1.0)


def _leave_marinade(walk: Walk, one: Instruction, heap: Heap, name: str) -> None:
    """Food that goes from a brine or a marinade to dry heat is lifted out of it, unless the words keep it."""
    heap.soaked = False
    flesh = walk.flesh(heap)
    liquid = walk.grams(heap, *LIQUOR)
    if not flesh or liquid < 0.06 * walk.grams(heap) or Mark.IN_ITS_LIQUID in one.marks or heap.cooked:
        return
    off = walk.table.node(
        heap,
        "drain",
        text=one.text,
        span=one.span,
        basis=Basis.ASSUMED,
        why="the food is lifted out of its liquid first",
    )
    bath = walk.table.part(heap, off, nature=Nature.BATH, names=("marinade", "brine", "liquid"))
    for food in list(heap.foods):
        if walk.kind(food) in LIQUOR:
            bath.foods[food] = heap.foods[food]
    walk.problems.append(
        Problem(
            "lifted-out-assumed",
            f"“{one.text}”: it is taken that the food is lifted out of its liquid and what is left of that is thrown "
            "away. Write “drain” before it, or “in its marinade” if all of it is cooked and eaten.",
            one.span.line,
        )
    )
    del name


def lie(walk: Walk, one: Instruction, heap: Heap) -> None:
    """Let food lie in what is around it, or under salt."""
    row = action(one.action)
    solids = walk.solids(heap)
    liquid = walk.has_liquid(heap)
    salted = walk.grams(heap, "salt", "sugar") > 0.005 * max(walk.grams(heap), 1.0)
    if one.action == "stand":
        if heap.cooked in ("roast", "bake", "broil", "smoke", "pan-fry") and walk.flesh(heap) and not liquid:
            walk.set_focus(heap)
            return
        steeps = (
            [food for food in heap.foods if walk.kind(food) == "seasoning"]
            if liquid and one.minutes is not None and one.minutes.best >= 60.0
            else []
        )
        matters = (
            (solids or steeps)
            and (liquid or salted)
            and one.minutes is not None
            and not heap.pureed
            and not walk.grams(heap, "flour") > 0.2 * walk.grams(heap)
        )
        if not matters:
            if one.pieces is not None:
                return
            walk.set_focus(heap)
            return
    marks = set(one.marks)
    if one.action == "soak" and not liquid and not heap.wet:
        marks.add(Mark.WATER)
        heap.wet = True
    settings = replace(settings_of(one), marks=frozenset(marks), grams=None, millilitres=None, share=None)
    if settings.minutes is None and row.minutes is not None:
        settings = replace(settings, minutes=_later_time(walk, one))
    walk.table.node(heap, one.action, settings=settings, text=one.text, span=one.span, drained=walk.removed_next(heap))
    heap.soaked = heap.lain = True
    known = settings.minutes or row.minutes
    heap.steeped = heap.steeped or (known is not None and known.best >= 700.0)
    walk.set_focus(heap)


def _later_time(walk: Walk, one: Instruction) -> Interval | None:
    """The time of "leave overnight" that follows "rub with the salt"."""
    for later in walk.instructions[walk.at + 1 : walk.at + 4]:
        row = action(later.action)
        if row.handler is Handler.LIE and later.minutes is not None:
            return None
        if row.handler is not Handler.NONE:
            break
    return None


def flesh_kinds() -> frozenset[str]:
    """Kinds that drip when they are roasted."""
    return FLESH


def mentions_product(mention: Mention) -> bool:
    """Whether a phrase names something made."""
    return "product" in classes_of(head_of(mention.name))
