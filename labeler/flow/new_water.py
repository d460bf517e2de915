"""Water of the method that is new, and water that is part of a line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.flow.heaps import Heap
from labeler.flow.ingredients import Ingredient
from labeler.flow.kind_sets import NO_PIECES, SEASONS
from labeler.flow.target import Target
from labeler.foods.food_class import LIQUOR, WATER_TAKERS
from labeler.foods.matching.name_words import words
from labeler.parsing.instructions.actions import Gathers, Handler, Heat, action
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import head_of
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Mention, Role
from labeler.types import Interval

__all__ = [
    "BACK_TO_BOIL",
    "brings_water",
    "fills_vessel",
    "goes_into_water",
    "is_called",
    "is_from_the_tap",
    "is_other_water",
    "is_part_of",
    "sets_water_on",
    "told_water",
]


def is_from_the_tap(mention: Mention, heap: Heap | None) -> bool:
    """Whether water is new: so much of it, or water that no article makes a known one ("in cold water")."""
    if mention.definite or mention.quantity.extent not in (Extent.ALL, Extent.AMOUNT, Extent.SOME):
        return False
    return heap is None or mention.name in ("water", *(f"{word} water" for word in grammar("tap water")))


_FAR_MORE = 1.5  # times what a line holds: a choice, no source


def is_other_water(mention: Mention, one: Ingredient) -> bool:
    """Whether a phrase that names a line of water by its word means other water: "a bowl of ice water".

    So does an amount that is far more than the line holds: "in 1 litre of water" of 125 mL.
    """
    if one.kind == "water" and one.grams > 0.0 and mention.quantity.millilitres is not None:
        return mention.quantity.millilitres.best > _FAR_MORE * one.grams
    if one.kind != "water" or mention.definite or mention.quantity.extent is Extent.AMOUNT:
        return False
    return mention.water_in_vessel or (mention.name != "water" and not is_called(mention, one))


def is_part_of(mention: Mention, one: Ingredient) -> bool:
    """Whether an amount is less than a line holds: a quarter cup of the water that is listed."""
    volume = mention.quantity.millilitres
    return volume is not None and one.grams > 0.0 and volume.best < 0.9 * one.grams


def is_called(mention: Mention, one: Ingredient) -> bool:
    """Whether a line calls its water so, with more than the bare word: "with warm water" of "330 g warm water"."""
    said = frozenset(words(mention.name))
    return len(said) > 1 and said <= one.words | one.more


def brings_water(targets: Sequence[Target]) -> bool:
    """Whether water covers the food: not where a line or the words say how much, and not where it is only a little."""
    return not any(
        any(i.kind == "water" for i in t.fresh)
        or (t.unlisted and t.mention.quantity.extent is Extent.AMOUNT)
        or (t.mention.role is Role.OBJECT and t.mention.quantity.extent is Extent.SOME)
        or (t.mention.role is Role.OBJECT and t.mention.water_in_vessel)
        for t in targets
    )


def _lies_in_water(targets: Sequence[Target]) -> bool:
    """Whether food goes into water that nobody lists: "soak the onion in a bowl of ice water"."""
    return any(
        t.mention.role is Role.INTO and (t.nothing or t.unlisted) and t.mention.name.rsplit(" ", 1)[-1] == "water"
        for t in targets
    )


def _is_water(t: Target) -> bool:
    return t.mention.name.rsplit(" ", 1)[-1] == "water" and not t.fresh and not t.heaps


def sets_water_on(targets: Sequence[Target]) -> bool:
    """Whether new water is heated by itself: "bring a pot of water to the boil", "put some water on to boil"."""
    objects = [t for t in targets if t.mention.role is Role.OBJECT]
    if any(t.mention.water_in_vessel and not t.mention.definite for t in objects):
        return True
    plain = all(_is_water(t) and t.quantity.extent in (Extent.ALL, Extent.SOME) for t in objects)
    return bool(objects) and plain and not any(t.mention.definite for t in objects)


def goes_into_water(targets: Sequence[Target], *, water_on: bool, adds: bool, just_now: bool) -> bool:
    """Whether food goes into water that has been set on, or that the words call hot and no line lists.

    "Add the pasta to the water", "drop the dumplings into boiling salted water"; an action that only adds puts fresh
    pieces there too, and where the step before has set the water on (`just_now`), without a word of it.
    """
    into = [t for t in targets if t.mention.role is Role.INTO and _is_water(t)]
    things = [t for t in targets if t.mention.role is Role.OBJECT]
    alone = adds and just_now and all(t.mention.role is Role.OBJECT for t in targets)
    if water_on and (into or alone) and any(t.fresh for t in things):
        return True
    hot = any(grammar("hot water") & set(t.mention.name.split()) and not t.mention.definite for t in into)
    pieces = adds and any(i.kind not in LIQUOR | NO_PIECES | SEASONS | WATER_TAKERS for t in things for i in t.fresh)
    return hot and (pieces or any(t.focus or t.heaps for t in things))


def fills_vessel(one: Instruction, targets: Sequence[Target]) -> bool:
    """Whether water is put into a vessel that is not in use yet, and to no food: "fill a bowl with cold water"."""
    objects = [t for t in targets if t.mention.role is Role.OBJECT]
    water = any(t.mention.role is Role.WITH and t.mention.name.rsplit(" ", 1)[-1] == "water" for t in targets)
    vessels = all(is_class(head_of(t.mention.name), "vessel-") and not t.heaps for t in objects)
    listed = any(i.kind == "water" for t in targets for i in t.fresh)
    return bool(objects) and water and vessels and not listed and Mark.NEW_VESSEL in one.marks


BACK_TO_BOIL = Interval(1.0, 0.5, 3.0, "until the water boils again: common practice, no source")
_SCALD = Interval(5.0, 1.0, 15.0, "boiling water that is poured over food stays on it: common practice, no source")


def told_water(one: Instruction, targets: list[Target]) -> tuple[Instruction, list[Target]]:
    """An instruction with the water of its words: that of a line is no more water, and what lies in new water does.

    New water that is poured over food that nothing has taken yet is what that lies in by itself.
    """
    row = action(one.action)
    if any(i.kind == "water" for t in targets for i in t.fresh):
        return replace(one, water=None, marks=one.marks - {Mark.WATER}), targets  # "in the 1.6 litres water"
    if row.gathers in (Gathers.INTO, Gathers.ON) and row.heat is Heat.NONE and _pours_water_on(targets):
        into = [replace(t, mention=replace(t.mention, role=Role.OBJECT)) for t in targets if t.fresh]
        marks = one.marks | {Mark.WATER, Mark.NEW_VESSEL}
        return replace(one, action="soak", marks=marks, minutes=one.minutes or _SCALD), into
    if row.handler is Handler.LIE and _lies_in_water(targets):
        return replace(one, marks=one.marks | {Mark.WATER}), targets
    return one, targets


def _pours_water_on(targets: Sequence[Target]) -> bool:
    """ "Pour boiling water over the onions"."""
    objects = [t for t in targets if t.mention.role is Role.OBJECT]
    into = [t for t in targets if t.mention.role is Role.INTO and not t.nothing]
    fresh = bool(into) and all(t.fresh for t in into)
    return bool(objects) and fresh and all(t.nothing and _is_water(t) for t in objects)
