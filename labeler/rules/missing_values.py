"""Which line of a recipe leaves a printed figure open, and what would close it.

A label that says "not known" or "at least" owes the cook the reason: a food that the table does not have, an amount
that nobody gave, or a figure that the table lacks for one food.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from labeler.cooking.state.mixture import Item
from labeler.foods.composition.food_table import load_table
from labeler.nutrition.analysis import Nutrition
from labeler.nutrition.totals import FIGURE_KEYS, Figure, missing_amounts
from labeler.rules.declaration import Declaration, bounded, quantities
from labeler.rules.market import load_market
from labeler.rules.panel_plan import plan_of
from labeler.types import Problem, Status

__all__ = ["needed_for", "open_values", "settled"]

# Of all that a figure misses, a line that could bring less than this share does not leave it open.
_SHARE = 0.05


def settled(figures: Mapping[str, Figure], market: str) -> dict[str, Figure]:
    """Figures with the status bounded where something is missing that changes nothing that the market prints.

    Parameters
    ----------
    figures : mapping
        Of one serving or of 100 g, by tagname.
    market : str
        Whose rounding counts; LabelerError for one that is not known.
    """
    known = bounded(figures, market)
    return {key: replace(one, status=Status.BOUNDED) if key in known else one for key, one in figures.items()}


def needed_for(tagnames: Collection[str], market: str) -> frozenset[str]:
    """The tagnames that there must be figures of for `settled` to tell the status of some."""
    return plan_of(load_market(market)).together_with(tagnames)


def open_values(nutrition: Nutrition, declared: Declaration, values: Mapping[str, Any]) -> Iterator[Problem]:
    """One problem for each food that leaves figures of a label open.

    Parameters
    ----------
    nutrition : Nutrition
        Of the recipe.
    declared : Declaration
        As printed.
    values : mapping
        The figures that it was declared from.
    """
    lines = [line for line in declared if not line.known and line.requirement == "mandatory" and not line.same_line_as]
    if not lines:
        return
    wanted = quantities(values, declared.market)
    mix = nutrition.dish.mix
    could = missing_amounts(mix)
    opened: dict[str, _Opened] = {}
    for line in lines:
        name = " ".join(line.label.replace("{amount}", "").split())
        keys = [FIGURE_KEYS.index(key) for key in dict.fromkeys(wanted[line.id].missing) if key in FIGURE_KEYS]
        for at, item in enumerate(mix.items):
            if any(_opens(could[:, key], at) for key in keys):
                one = opened.setdefault(item.food or item.name, _Opened(item))
                one.figures.setdefault(name)
                one.lines.setdefault(item.line)
    for one in sorted(opened.values(), key=lambda one: min(one.lines)):
        numbers = sorted(one.lines)
        where = f" (lines {', '.join(map(str, numbers))})" if len(numbers) > 1 else ""
        message = f"{_why(one.item)}{where} and leaves open: {', '.join(one.figures)}. {_mend(one.item)}"
        yield Problem("value-open", message, numbers[0])


@dataclass
class _Opened:
    """A food that leaves figures open: an item of it, which figures, and on which lines it stands."""

    item: Item
    figures: dict[str, None] = field(default_factory=dict)
    lines: dict[int, None] = field(default_factory=dict)


def _opens(could: np.ndarray[Any, Any], at: int) -> bool:
    """Whether an item could bring a fair share of all that a figure misses."""
    amount = float(could[at])
    whole = float(could.sum())
    return amount > 0.0 and (np.isinf(amount) or (np.isfinite(whole) and amount >= _SHARE * whole))


def _why(item: Item) -> str:
    if not item.weighed:
        return f"“{item.name}” has no weight"
    if item.food is None:
        return f"“{item.name}” is no food of the table"
    return f"“{item.name}” ({load_table().describe(item.food)}) has no such figure in the table"


def _mend(item: Item) -> str:
    if not item.weighed:
        return "Give its line an amount in grams, such as “2 g”, or leave it out."
    if item.food is None:
        return "Pin a food in its line, as {food ...}, or put its package into your larder (labeler larder add)."
    return "Put its package into your larder (labeler larder add), or pin a food that has one, as {food ...}."
