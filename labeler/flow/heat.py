"""What heat an instruction brings to a heap: the method that a general verb means, the water and the fat of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.flow.cooking_method import cooking_method
from labeler.flow.heaps import Heap, Nature, settings_of
from labeler.flow.looking_ahead import ahead, removed_next
from labeler.flow.model import Basis, FromLine, FromNode, Settings
from labeler.flow.parting import BATH, lift_out_of_bath
from labeler.flow.target import Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import LIQUOR
from labeler.parsing.instructions.actions import Action, Heat, Takes, Trait, action, has
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Instruction, Mark, Role
from labeler.parsing.instructions.vessels import VesselKind, vessel_kinds
from labeler.parsing.model import Purpose
from labeler.types import Interval, Problem

__all__ = ["goes_on_as", "heat"]

_JUICY = 0.5  # share of fruit, tomato and sugar from which food boils in its own juice: common practice, no source
_MOIST = 0.15  # share of juicy fruit from which on food simmers in its own juice: common practice, no source


# --- heat and time ---------------------------------------------------------------------------------------------------


def heat(walk: Walk, one: Instruction, heap: Heap, targets: list[Target]) -> None:
    """Bring heat to a heap."""
    name = cooking_method(walk, one, heap)
    row = action(name)
    settings = _settings(walk, one, heap, row)
    if heap.cooked and heap.last == walk.at - 1 and one.minutes is None and row.heat is Heat.WARM:
        heap.hot = True
        return
    if action(one.action).heat is Heat.BY_PLACE and heap.fat_bath and one.minutes is None and not heap.pending:
        walk.set_focus(heap)
        return  # "fry in batches. Cook until golden": how long it fries
    _leave_bath(walk, one, heap, row)
    drained = removed_next(walk, heap)
    marks = set(settings.marks)
    closed = VesselKind.CLOSED in vessel_kinds(heap.vessel) or VesselKind.CLOSED in one.vessel_kinds
    if (heap.covered or closed) and Mark.UNCOVERED not in marks:
        marks.add(Mark.COVERED)
    heap.covered = Mark.COVERED in marks
    if Trait.IN_LIQUID in row.traits:
        _water(walk, heap, marks, drained=drained, boils=Trait.ROLLING in row.traits)
    settings = replace(settings, marks=frozenset(marks))
    fat = walk.grams(heap, "fat")
    swims = row.heat is Heat.FAT and fat > BATH and not _butter(walk, heap)
    if Trait.IN_PAN in row.traits and swims:
        name = "deep-fry"
    off = walk.table.node(heap, name, settings=settings, text=one.text, span=one.span, drained=drained)
    if row.heat is Heat.WET:
        walk.swollen |= set(walk.dry_takers(heap))
    heap.hot, heap.cooked, heap.fried_last = True, name, True
    if Trait.IN_FAT in row.traits and (row.heat is Heat.WET or fat > 0.0):
        heap.fat_bath = True
    heap.fat_bath |= row.heat is Heat.FAT and swims and _is_lifted_out_of_fat(walk, one, heap, targets)
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


def goes_on_as(walk: Walk, heap: Heap) -> str:
    """The action by which hot food goes on cooking: as it did, unless it lies no more in what it cooked in."""
    was = action(heap.cooked).heat
    left = was is Heat.WET and not (heap.wet or walk.has_liquid(heap))
    return "cook" if left or (was is Heat.FAT and walk.has_liquid(heap)) else heap.cooked


def _is_lifted_out_of_fat(walk: Walk, one: Instruction, heap: Heap, targets: Sequence[Target]) -> bool:
    """Whether food that swims in fat is fried in it, and the fat is not part of the dish."""
    brought = any(t.fresh or t.within or t.heaps for t in targets if t.mention.role is Role.OBJECT)
    if brought or _is_hot_for_frying(walk, heap) or _for_frying(walk, heap):
        return True
    return bool(heap.coat or Mark.GENTLE not in one.marks) and _in_named_fat(walk, targets)


def _settings(walk: Walk, one: Instruction, heap: Heap, row: Action) -> Settings:
    """Time and heat of an instruction; the oven's, where it tells none."""
    settings = settings_of(one)
    if row.heat is Heat.WET and settings.core is not None and _sets(walk, heap, settings.core):
        settings = replace(settings, core=None, marks=settings.marks | {Mark.SETTING_POINT})
    if settings.celsius is None and row.heat is Heat.DRY and walk.oven is not None:
        settings = replace(settings, celsius=walk.oven)
    if row.heat is Heat.DRY and one.celsius is not None:
        walk.oven = one.celsius
    return settings


def _leave_bath(walk: Walk, one: Instruction, heap: Heap, row: Action) -> None:
    """What goes from a bath to dry heat, fat or steam is lifted out of it before."""
    if row.heat in (Heat.DRY, Heat.FAT) and heap.soaked and Trait.WITH_LIQUID not in row.traits:
        _leave_marinade(walk, one, heap)
    if row.heat in (Heat.DRY, Heat.FAT, Heat.STEAM, Heat.MICROWAVE) and heap.wet and heap.cooked:
        bath = lift_out_of_bath(walk, heap, one, why="the cooking water is poured off before")
        bath.last = walk.at


_SETS = (103.0, 106.5)  # °C at which boiling jam sets at sea level: common practice, no source


def _sets(walk: Walk, heap: Heap, core: Interval) -> bool:
    """Whether a heat is that of the setting point: of fruit or juice with sugar, and of no meat."""
    sweet = walk.grams(heap, "sugar", "sweet") > 0.2 * walk.grams(heap)
    return sweet and _SETS[0] <= core.best <= _SETS[1] and not walk.flesh(heap)


def _fat_used_later(walk: Walk) -> bool:
    """Whether a later step uses the fat: "pour the hot oil over"."""
    return any(
        is_class(head_of(mention.name), "byproduct-fat")
        for one in ahead(walk)
        if action(one.action).takes is Takes.NOTHING
        for mention in one.mentions
    )


def _in_named_fat(walk: Walk, targets: Sequence[Target]) -> bool:
    """ "Fry in the oil": what it is done to is in hand, and what it swims in is named; fried gently, it may stay in."""
    if any(t.mention.role is Role.OBJECT for t in targets) or _fat_used_later(walk):
        return False
    named = [food for t in targets if t.mention.role is Role.INTO for food in (*(i.source for i in t.fresh), *t.within)]
    return bool(named) and all(walk.kind(food) == "fat" for food in named)


_FRYING = 150.0  # °C from which on a bath of fat is one to fry in, and no oil that is flavoured: common practice


def _is_hot_for_frying(walk: Walk, heap: Heap) -> bool:
    """Whether the words have brought the fat of a heap to the heat at which food is fried in it."""
    stack = [portion.source for portion in heap.pending] + ([heap.source] if heap.source is not None else [])
    while stack:
        source = stack.pop()
        if isinstance(source, FromNode):
            node = walk.table.nodes[source.node]
            if node.settings.celsius is not None and node.settings.celsius.best >= _FRYING:
                return True
            stack += [portion.source for portion in node.inputs]
    return False


def _for_frying(walk: Walk, heap: Heap) -> bool:
    return any(
        walk.by_source[food].line.line.purpose is Purpose.FRYING for food in heap.foods if isinstance(food, FromLine)
    )


def _butter(walk: Walk, heap: Heap) -> bool:
    """Whether the fat holds water, as butter does: nothing is fried afloat in it."""
    from labeler.foods.matching.name_words import words

    return any(
        walk.kind(food) == "fat" and "butter" in words(walk.by_source[food].line.line.name)
        for food in heap.foods
        if isinstance(food, FromLine)
    )


def _water(walk: Walk, heap: Heap, marks: set[Mark], *, drained: bool, boils: bool) -> None:
    """What food boils in where no line lists it (R8, need of the action).

    What simmers with a liquid that the words tell, or with tomatoes and the like, gets no more water than that.
    """
    if any(
        isinstance(food, FromLine) and (walk.by_source[food].part or walk.by_source[food].line.kept is not None)
        for food in heap.foods
    ):
        marks.discard(Mark.WATER)  # what another part made is what it boils in
        return
    listed = walk.grams(heap, *LIQUOR)
    solid = max(walk.grams(heap) - listed, 1.0)
    enough = listed > 0.1 * solid
    takers = walk.thirsty(heap) if not has(heap.cooked, Trait.IN_PLENTY) else []
    if has(heap.cooked, Trait.IN_LIQUID) and not heap.wet and not {Mark.WATER, Mark.SALTED_WATER, Mark.FRESH} & marks:
        return
    if takers and listed < 0.9 * sum(walk.grams_of(food) * heap.foods[food] for food in takers) and not heap.wet:
        enough = enough and listed > 0.5 * sum(walk.grams_of(food) * heap.foods[food] for food in takers)
    asked = Mark.WATER in marks or Mark.SALTED_WATER in marks
    if Mark.SALTED_WATER in marks and walk.grams(heap, "salt") > 0.0:
        marks.discard(Mark.SALTED_WATER)  # it is salted with the salt of the list
        marks.add(Mark.WATER)
    if heap.wet or (enough and not (asked and listed < 0.3 * solid)):
        marks.discard(Mark.WATER)
        if heap.wet:
            marks.discard(Mark.SALTED_WATER)
        return
    juicy = {"fruit", "tomato", "sugar", "sauce", "sweet", "fat", "salt", "seasoning", *LIQUOR}
    foods = list(heap.foods)
    juice = walk.grams(heap, "fruit", "tomato", "sugar") / max(walk.grams(heap), 1.0)
    told = juice > _JUICY if boils else listed > 0.0 or juice > _MOIST
    wants = (
        asked
        or takers
        or drained
        or (
            not told
            and walk.solids(heap)
            and not all(walk.kind(food) in juicy for food in foods)
            and _boils_in_water(walk, heap)
        )
    )
    if wants:
        marks.add(Mark.WATER)
        heap.wet = True


def _boils_in_water(walk: Walk, heap: Heap) -> bool:
    fat = walk.grams(heap, "fat")
    return fat < 0.02 * max(walk.grams(heap), 1.0)


def _leave_marinade(walk: Walk, one: Instruction, heap: Heap) -> None:
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
