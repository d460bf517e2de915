"""Draining, rinsing, wiping, straining, skimming: which heap is meant, which side stays, what the bath is called."""

from __future__ import annotations

from dataclasses import replace

from labeler.flow.curd import hang, is_curd
from labeler.flow.heaps import Heap, Nature, settings_of
from labeler.flow.kind_sets import COOKING_WATER, HOLDS_NO_LIQUID
from labeler.flow.model import Basis, Departure, Fate, FromLine, Settings
from labeler.flow.parting import split_off
from labeler.flow.removal_objects import heap_about, pieces_named, whole_heap
from labeler.flow.target import Parted, Target
from labeler.flow.walk import Walk
from labeler.foods.food_class import DISSOLVES, LIQUOR
from labeler.parsing.instructions.actions import Handler, Heat, Trait, action, has, heat_of
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Mark
from labeler.parsing.instructions.vessels import VesselKind
from labeler.parsing.model import LineState
from labeler.types import Interval, Problem

__all__ = ["BATH_NAMES", "bath_names", "clean", "drain", "goes", "move_loose", "pour_fat"]
# What a line may say of a dry food by which water is on it, or in it.
_WET_STATES = frozenset({LineState.SOAKED, LineState.COOKED, LineState.BOILED, LineState.WITH_LIQUID, LineState.RINSED})
_JUICE = Interval(0.55, 0.4, 0.7, "juice that a squeezed fruit gives: common practice, no source")


BATH_NAMES = (
    "liquid",
    "water",
    "cooking water",
    "brine",
    "marinade",
    "juice",
    "juices",
    "liquor",
    "syrup",
    "cooking liquid",
    "soaking water",
    "pasta water",
    "whey",
    "soaking liquid",
    "pickling liquid",
)
# What nobody calls the water that food was boiled or soaked in and nothing was stirred into.
_STIRRED_NAMES = ("marinade", "juice", "juices", "syrup", "whey")
_WATER_NAMES = tuple(name for name in BATH_NAMES if name not in _STIRRED_NAMES)
FAT_NAMES = ("liquid", "oil", "fat", "frying oil", "frying fat", "cooking oil", "syrup")


def bath_names(walk: Walk, heap: Heap) -> tuple[str, ...]:
    """What a cook calls what food lies in, by what it is."""
    if not walk.has_liquid(heap) and (heap.fat_bath or walk.grams(heap, "fat") > 0.0):
        return FAT_NAMES
    around = {walk.kind(food) for food in heap.foods if walk.is_loose(heap, food)}
    return _WATER_NAMES if heap.wet and around <= COOKING_WATER else BATH_NAMES


def drain(walk: Walk, one: Instruction, objects: list[Target]) -> None:
    """Part the liquid that surrounds food, the fat or the drippings: what the words name, else what there is.

    Parameters
    ----------
    walk : Walk
        The state of the walk; it is changed.
    one : Instruction
    objects : list of Target
        What it is done to; empty for what is in focus.
    """
    parted = next((t for t in objects if t.parted is not None), None)
    if parted is not None and parted.parted in (Parted.FAT, Parted.DRIPPINGS):
        pour_fat(walk, one, objects)
        return
    if parted is not None and parted.parted is Parted.COAT:
        return  # "letting the excess drip off": what clings stays
    heap = heap_about(walk, one, [t for t in objects if t.parted is None], wet=True)
    if heap is None or _is_dry(walk, heap):
        walk.problems.append(_nothing_runs_off(one))
        return
    if is_curd(walk, heap):
        hang(walk, one, heap)
        return
    if Mark.PAPER in one.marks and _has_taken_up_its_fat(walk, heap):
        walk.set_focus(heap)
        return
    if heap.rinsed and one.minutes is None and not walk.has_liquid(heap):
        walk.set_focus(heap)
        return  # what clings after rinsing is the model's business
    if heap.nature is Nature.BATH and heap.parted_from is not None and not walk.solids(heap):
        goes(walk, heap, one, Fate.NAMED)
        return
    if one.minutes is not None and not heap.soaked and not heap.rinsed and walk.grams(heap, "salt") > 0.0:
        walk.table.node(
            heap, "cure", settings=Settings(minutes=one.minutes, marks=one.marks), text=one.text, span=one.span
        )
    heap.fried_last = False
    inside = pieces_named(walk, heap, objects)
    if inside and not whole_heap(walk, heap, inside):
        lifted = split_off(walk, heap, inside, one, basis=Basis.WRITTEN)
        walk.set_focus(lifted)
        return
    dry_pan = has(heap.cooked, Trait.RENDERS) and not walk.has_liquid(heap) and not heap.fat_bath
    if dry_pan and not {Mark.PAPER, Mark.RACK} & one.marks and (walk.flesh(heap) or walk.grams(heap, "fat")):
        pour_fat(walk, replace(one, action="drain"), [])
        return
    warm = not heap.cooked or has(heap.cooked, Trait.WARMS)  # raw, or a hot liquid was poured over it
    raw = walk.solids(heap) and warm and not heap.soaked and walk.has_liquid(heap)
    if raw and one.minutes is None and any(walk.grams_of(food) for food in heap.foods if walk.kind(food) in LIQUOR):
        walk.table.node(
            heap,
            "stand",
            text=one.text,
            span=one.span,
            basis=Basis.ASSUMED,
            why="it lay in its liquid for a time that nobody says",
        )
    off = walk.table.node(heap, "drain", settings=settings_of(one), text=one.text, span=one.span)
    bath = walk.table.part(heap, off, nature=Nature.BATH, names=bath_names(walk, heap))
    move_loose(walk, heap, bath)
    heap.wet = heap.fat_bath = False
    bath.named = one.names
    if one.names:
        bath.names.add(one.names)
    walk.set_focus(heap)


_TAKEN_UP = 0.1  # of the food: so much fat food takes up in the oven, and none runs off: common practice, no source


def _has_taken_up_its_fat(walk: Walk, heap: Heap) -> bool:
    """Whether roast food that gives no fat has so little that paper finds none to take: potatoes, and no chops."""
    roasted = heat_of(heap.cooked) is Heat.DRY and not walk.flesh(heap) and not walk.has_liquid(heap)
    return roasted and walk.grams(heap, "fat") < _TAKEN_UP * walk.grams(heap)


def _is_dry(walk: Walk, heap: Heap) -> bool:
    """Whether nothing can run off a heap: a dough; foods that are dry as bought, and nothing has been done to them."""
    if set(heap.foods) <= heap.bound and not (heap.wet or heap.fat_bath) and not walk.flesh(heap):
        return True
    prepared = any(
        walk.by_source[food].line.line.states & _WET_STATES for food in heap.foods if isinstance(food, FromLine)
    )  # the line says so
    untouched = not (heap.cooked or heap.soaked or heap.rinsed or heap.wet or heap.lain or prepared)
    return untouched and bool(heap.foods) and all(walk.kind(food) in HOLDS_NO_LIQUID for food in heap.foods)


def _nothing_runs_off(one: Instruction) -> Problem:
    return Problem(
        "nothing-runs-off",
        f"“{one.text}”: nothing is there that could run off, so nothing is poured away. Write before it what the food "
        "is cooked or soaked in, or take it out.",
        one.span.line,
    )


def move_loose(walk: Walk, heap: Heap, bath: Heap) -> None:
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


def clean(walk: Walk, one: Instruction, objects: list[Target], handler: Handler) -> None:
    """Rinse, squeeze or pat dry what the words name, apart from the heap that it is in where it is not all of that.

    Parameters
    ----------
    walk : Walk
        The state of the walk; it is changed.
    one : Instruction
    objects : list of Target
    handler : Handler
        ``RINSE``, ``SQUEEZE`` or ``PAT``.
    """
    if handler is Handler.PAT and objects and all(t.nothing and not t.waste for t in objects):
        return  # "wipe the rims of the jars"
    if handler is Handler.PAT and objects and all(t.parted is Parted.SOLIDS and not t.heaps for t in objects):
        return  # "scrape the brown bits off": what sticks to the pan goes into what is in it
    if objects and all(t.waste for t in objects) and walk.live(walk.focus) is None:
        walk.last_named = walk.main_flesh()  # "dry the rind": the joint is meant
        return
    swollen = next((t.heaps[0] for t in objects if t.heaps and _only_dissolves(walk, t.heaps[0])), None)
    if handler is Handler.SQUEEZE and swollen is not None:
        walk.set_focus(swollen)  # gelatine, which holds no more than its own water
        return
    vessel_only = (
        bool(one.vessel)
        and not any(t.fresh or t.within or t.focus or t.waste for t in objects)
        and handler in (Handler.PAT, Handler.RINSE)
    )
    if vessel_only and objects and all(is_class(head_of(t.mention.name), "vessel-") for t in objects):
        _wipe_pan(walk, one)
        walk.table.washed = bool(one.vessel_kinds & {VesselKind.PAN, VesselKind.POT, VesselKind.BOWL})
        return
    about = [
        t
        for t in objects
        if not (t.within and all(walk.kind(food) in DISSOLVES for food in t.within))
        and t.parted is None
        and not t.waste
    ]
    heap = heap_about(walk, one, about, wet=handler is not Handler.PAT and not _has_just_run_off(walk))
    if heap is None:
        return
    inside = [food for t in about for food in t.within if food in heap.foods]
    if inside and handler is Handler.SQUEEZE and all(walk.kind(food) == "seasoning" for food in inside):
        return  # a tea bag, a bundle of herbs: what it gives stays in the liquid
    if inside and not whole_heap(walk, heap, inside):
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
        bath = walk.table.part(heap, off, nature=Nature.BATH, names=BATH_NAMES)
        move_loose(walk, heap, bath)
        heap.wet = heap.fat_bath = False
    settings = settings_of(one)
    juiced = handler is Handler.SQUEEZE and _is_juiced(walk, heap)
    if juiced:
        settings = replace(settings, share=_JUICE)
    off = walk.table.node(heap, one.action, settings=settings, text=one.text, span=one.span)
    other = walk.table.part(
        heap, off, nature=Nature.BATH, names=("juice", "juices", "liquid", "whey") if handler is Handler.SQUEEZE else ()
    )
    heap.rinsed = handler is Handler.RINSE
    if juiced:
        other.nature = Nature.FOOD
        other.foods = dict(heap.foods)
        heap.nature = Nature.SOLIDS
        walk.set_focus(other)
        walk.last_named = []
        return
    if handler is not Handler.SQUEEZE:
        walk.leave(other, Departure(off, Fate.NAMED, span=one.span))
    walk.set_focus(heap)
    walk.last_named = []


def _has_just_run_off(walk: Walk) -> bool:
    """Whether what lay around the food in hand was poured off: that is rinsed, whatever else lies in a bath."""
    focus = walk.live(walk.focus)
    baths = (heap for heap in walk.table.open() if heap.nature is Nature.BATH)
    return focus is not None and any(bath.parted_from == focus.number for bath in baths)


def _only_dissolves(walk: Walk, heap: Heap) -> bool:
    """Whether nothing is in a heap but what dissolves, without liquid."""
    return bool(heap.foods) and all(walk.kind(food) in DISSOLVES for food in heap.foods)


def _is_juiced(walk: Walk, heap: Heap) -> bool:
    """Whether what is squeezed is raw fruit, whose juice is wanted: a lemon, and no spinach."""
    fresh = not heap.cooked and not heap.lain and not heap.soaked
    return fresh and bool(heap.foods) and all(walk.kind(food) == "fruit" for food in heap.foods)


def _wipe_pan(walk: Walk, one: Instruction) -> None:
    """ "Wipe the pan": what was left in it goes."""
    for heap in walk.table.open():
        if heap.nature is Nature.BATH or (walk.only_medium(heap) and heap.parted_from is not None):
            goes(walk, heap, one, Fate.NAMED)
            return


def goes(walk: Walk, heap: Heap, one: Instruction, fate: Fate, basis: Basis = Basis.WRITTEN) -> None:
    """Let a heap leave.

    Parameters
    ----------
    walk : Walk
        The state of the walk; it is changed.
    heap : Heap
    one : Instruction
        By which it leaves.
    fate : Fate
        Why.
    basis : Basis
        How that is known.
    """
    walk.table.settle(heap, text=one.text, span=one.span)
    assert heap.source is not None
    walk.leave(heap, Departure(heap.source, fate, basis, one.span, heap.named))


def pour_fat(walk: Walk, one: Instruction, objects: list[Target]) -> None:
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
        else heap or heap_about(walk, one, [t for t in objects if t.parted is None])
    )
    if heap is None:
        return
    if heap is drip and focus is not None and focus is not drip:
        _tin(walk, one, focus, drip)
    if heap.nature is Nature.BATH and not walk.solids(heap) and action(one.action).handler is not Handler.SKIM:
        extent = next((t.quantity.extent for t in objects), None)
        if extent is not Extent.ALL_BUT:
            goes(walk, heap, one, Fate.NAMED)
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
    if beside and walk.flesh(roast) and has(roast.cooked, Trait.IN_TIN):
        stays = split_off(walk, roast, beside, one, why="the roast is lifted out, the rest stays in the tin")
        walk.table.merge(drip, stays)
        drip.foods = {food: share for food, share in drip.foods.items() if food not in roast.foods}  # its juices stay
        drip.nature = Nature.FOOD
        drip.vessel = "tin"
        roast.parted_from = None
