"""Which food of the table some words of the method name by themselves."""

from __future__ import annotations

from functools import cache

from labeler.foods.matching.match import match_food
from labeler.foods.matching.name_words import read_name
from labeler.foods.matching.partial_match import meaning
from labeler.foods.model import Match
from labeler.foods.resolve import SURE

__all__ = ["is_food_word", "known_food"]

_SURE_FOOD = 0.55  # confidence in a food below which a word of the method is not taken for one: a choice, no source


def known_food(name: str) -> Match | None:
    """The table food that some words of the method name for certain; None where they name none."""
    for wanted in dict.fromkeys((name, read_name(name).head)):
        hit = match_food(wanted) if wanted else None
        sure = _SURE_FOOD if wanted and meaning(read_name(wanted)) is not None else SURE  # "bitter" is no gourd
        if hit is not None and hit.food is not None and hit.confidence >= sure and not hit.read_as:
            return hit
    return None


@cache
def is_food_word(word: str) -> bool:
    """Whether a word is the name of a food by itself: "lime" is, "brown" only tells what another food is like."""
    return meaning(read_name(word)) is not None
