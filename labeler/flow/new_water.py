"""Water of the method that is new, and water that is part of a line."""

from __future__ import annotations

from labeler.flow.heaps import Heap
from labeler.flow.ingredients import Ingredient
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.model import Extent, Mention

__all__ = ["is_from_the_tap", "is_part_of"]


def is_from_the_tap(mention: Mention, heap: Heap | None) -> bool:
    """Whether water is new: so much of it, or water that no article makes a known one ("in cold water")."""
    if mention.definite or mention.quantity.extent not in (Extent.ALL, Extent.AMOUNT):
        return False
    return heap is None or mention.name in ("water", *(f"{word} water" for word in grammar("tap water")))


def is_part_of(mention: Mention, one: Ingredient) -> bool:
    """Whether an amount is less than a line holds: a quarter cup of the water that is listed."""
    volume = mention.quantity.millilitres
    return volume is not None and one.grams > 0.0 and volume.best < 0.9 * one.grams
