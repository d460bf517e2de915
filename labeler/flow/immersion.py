"""Food that lies in liquid or under salt, and when standing does anything."""

from __future__ import annotations

from dataclasses import replace

from labeler.flow.heaps import Heap, settings_of
from labeler.flow.looking_ahead import removed_next
from labeler.flow.model import Basis, Settings
from labeler.flow.walk import Walk
from labeler.parsing.instructions.actions import Handler, Trait, action, has
from labeler.parsing.instructions.model import Instruction, Mark
from labeler.types import Interval

__all__ = ["lie"]

_COLLAPSES = 720.0  # min that soft fruit lies in a quarter of its weight of sugar or more: common practice, no source


def lie(walk: Walk, one: Instruction, heap: Heap) -> None:
    """Let food lie in what is around it, or under salt."""
    row = action(one.action)
    solids = walk.solids(heap)
    liquid = walk.has_liquid(heap)
    salted = walk.grams(heap, "salt", "sugar") > 0.005 * max(walk.grams(heap), 1.0)
    if Trait.STANDS in row.traits:
        if has(heap.cooked, Trait.RESTS) and walk.flesh(heap) and not liquid:
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
    if _blooms(walk, one, heap):
        return
    marks = set(one.marks)
    steeps_in_fat = walk.grams(heap, "fat") > 0.3 * walk.grams(heap)
    if Trait.IN_WATER in row.traits and not liquid and not heap.wet and not steeps_in_fat:
        marks.add(Mark.WATER)
        heap.wet = True
    if heap.poured_hot:
        marks.add(Mark.HOT)
        heap.poured_hot = False
    settings = replace(settings_of(one), marks=frozenset(marks), grams=None, millilitres=None, share=None)
    if settings.minutes is None and row.minutes is not None:
        settings = replace(settings, minutes=_later_time(walk))
    walk.table.node(heap, one.action, settings=settings, text=one.text, span=one.span, drained=removed_next(walk, heap))
    heap.soaked = heap.lain = True
    fruit, sugar = walk.grams(heap, "fruit"), walk.grams(heap, "sugar")
    long = settings.minutes is not None and settings.minutes.best >= _COLLAPSES
    heap.collapsed = heap.collapsed or (long and fruit > 0.0 and sugar > 0.25 * fruit)
    known = settings.minutes or row.minutes
    heap.steeped = heap.steeped or (known is not None and known.best >= 700.0)
    walk.set_focus(heap)


_DRUNK = Interval(5.0, 3.0, 8.0, "water that gelatine takes up, per weight of it: common practice, no source")


def _blooms(walk: Walk, one: Instruction, heap: Heap) -> bool:
    """Gelatine alone in water that no line lists takes up its own water, whatever there is of it, and no more."""
    alone = bool(heap.foods) and all(walk.kind(food) == "powder" for food in heap.foods)
    if not alone or Mark.WATER not in one.marks or heap.wet:
        return False
    water = Settings(water=_DRUNK.scaled(walk.grams(heap)))
    why = "gelatine takes up its own water"
    walk.table.node(heap, "thin", settings=water, text=one.text, span=one.span, basis=Basis.IMPLIED, why=why)
    walk.set_focus(heap)
    return True


def _later_time(walk: Walk) -> Interval | None:
    """The time of "leave overnight" that follows "rub with the salt"."""
    for later in walk.instructions[walk.at + 1 : walk.at + 4]:
        row = action(later.action)
        if row.handler is Handler.LIE and later.minutes is not None:
            return None
        if row.handler is not Handler.NONE:
            break
    return None
