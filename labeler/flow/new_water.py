"""Water of the method that is new, and water that is part of a line."""

from __future__ import annotations

from collections.abc import Sequence

from labeler.flow.heaps import Heap
from labeler.flow.ingredients import Ingredient
from labeler.flow.target import Target
from labeler.foods.matching.name_words import words
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.model import Extent, Mention, Role

__all__ = ["brings_water", "is_called", "is_from_the_tap", "is_part_of"]


def is_from_the_tap(mention: Mention, heap: Heap | None) -> bool:
    """Whether water is new: so much of it, or water that no article makes a known one ("in cold water")."""
    if mention.definite or mention.quantity.extent not in (Extent.ALL, Extent.AMOUNT, Extent.SOME):
        return False
    return heap is None or mention.name in ("water", *(f"{word} water" for word in grammar("tap water")))


def is_part_of(mention: Mention, one: Ingredient) -> bool:
    """Whether an amount is less than a line holds: a quarter cup of the water that is listed."""
    volume = mention.quantity.millilitres
    return volume is not None and one.grams > 0.0 and volume.best < 0.9 * one.grams


def is_called(mention: Mention, one: Ingredient) -> bool:
    """Whether a line calls its water so, with more than the bare word: "with warm water" of "330 g warm water"."""
    said = frozenset(words(mention.name))
    return len(said) > 1 and said <= one.words | one.more


def brings_water(targets: Sequence[Target]) -> bool:
    """Whether water covers the food: not where a line lists it, and not where only a little of it is added."""
    return not any(
        any(i.kind == "water" for i in t.fresh)
        or (t.mention.role is Role.OBJECT and t.mention.quantity.extent is Extent.SOME)
        or (t.mention.role is Role.OBJECT and t.mention.water_in_vessel)
        for t in targets
    )
