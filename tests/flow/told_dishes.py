"""Dishes told in words, weighed and cooked: what of each line is eaten, and what the dish weighs."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from labeler.cooking.kept import kept_shares
from labeler.cooking.pipeline import cook
from labeler.cooking.state.ledger import Dish
from labeler.foods.model import WeighedRecipe
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe
from labeler.types import Severity


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


@dataclass(frozen=True)
class Told:
    """A dish told in words, and what a cook would expect of it.

    Parameters
    ----------
    lines, method : str
    shares : dict
        By how a line begins, the least and the most that is eaten of it, 0 to 1.
    weight : tuple of float or None
        The least and the most that the dish weighs [g].
    problems : frozenset of str
        Codes of problems that are told.
    """

    lines: str
    method: str
    shares: dict[str, tuple[float, float]]
    weight: tuple[float, float] | None = None
    problems: frozenset[str] = frozenset()


def check(told: Told) -> None:
    """Assert that a dish is read as a cook would, and that what leaves in silence is told only where it should be."""
    _, dish = made(told.lines, told.method)
    found = kept(told.lines, told.method)
    for opening, (low, high) in told.shares.items():
        share = next(share for line, share in found.items() if line.startswith(opening))
        assert low <= round(share, 3) <= high, opening
    if told.weight is not None:
        assert told.weight[0] <= float(dish.mix.total_mass[0]) <= told.weight[1]
    codes = {problem.code for problem in dish.problems}
    assert told.problems <= codes
    if not told.problems:
        assert [guard for guard in dish.guards if guard.severity >= Severity.PROBLEM] == []
