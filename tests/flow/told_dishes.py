"""Dishes told in words, weighed and cooked: what of each line is eaten, and what the dish weighs."""

from __future__ import annotations

from functools import cache

from labeler.cooking.kept import kept_shares
from labeler.cooking.pipeline import cook
from labeler.cooking.state.ledger import Dish
from labeler.foods.model import WeighedRecipe
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe


def cooked(text: str) -> tuple[WeighedRecipe, Dish]:
    """A recipe, weighed and cooked."""
    weighed = weigh(read_recipe(text))
    return weighed, cook(weighed)


@cache
def kept_of(text: str) -> dict[str, float]:
    """The best kept share of each line of a recipe, by its words."""
    weighed, dish = cooked(text)
    assert dish.flow is not None
    found = kept_shares(weighed, dish, dish.flow, dish.carried)
    return {
        weighed.parts[place.part].lines[place.index].line.text: share.best
        for place, share in found.items()
        if place.listed and share is not None
    }


def made(lines: str, method: str) -> tuple[WeighedRecipe, Dish]:
    """A dish of one part, weighed and cooked."""
    return cooked(f"# Dish\n{lines}\n> {method}\n")


def kept(lines: str, method: str) -> dict[str, float]:
    """The best kept share of each line of a dish of one part."""
    return kept_of(f"# Dish\n{lines}\n> {method}\n")


def grams(lines: str, method: str) -> float:
    """What a dish of one part weighs [g]."""
    return float(made(lines, method)[1].mix.total_mass[0])
