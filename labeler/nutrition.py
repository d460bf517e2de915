"""What is in a serving, in 100 g and in the batch, and how sure that is.

The kitchen says what ended up in the dish; here it is added up and divided. Each figure carries the worst status of
the values behind it. A value that the table does not have counts nothing in the best estimate and up to its bound in
the high end: a fatty acid cannot be more than the fat, sugars and fibre not more than the carbohydrate, and nothing
more than the 97.5 percentile of its food group. Such a sum is a lower bound and says so, unless everything that is
missing could not change it by a hundredth.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from labeler.foods.added_sugars import added_sugar_share
from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.foods.table import load_table
from labeler.foods.weigh import weigh
from labeler.kitchen.ledger import Dish, Ledger
from labeler.kitchen.mix import CONSTITUENTS, KEYS, Array, Item, Mix
from labeler.kitchen.run import cook
from labeler.knowledge import Problem, Status
from labeler.portion import Portion, portion
from labeler.recipe.model import Recipe

__all__ = ["Figure", "LedgerRow", "Nutrition", "PartFigures", "analyse"]

DRAWS = 2000
# Missing values that together could add less than this share of the known sum do not make it a lower bound.
NEGLIGIBLE = 0.01

_FATTY = ("F4D", "F6D", "F8D", "F10", "F12", "F14", "F16", "F18", "F20", "F22", "FASAT", "FAMS", "FAPU", "FATRN")
_CARBOHYDRATE = ("SUGAR", "FIBTG")


@dataclass(frozen=True, slots=True)
class Figure:
    """One nutrient figure.

    Parameters
    ----------
    best, low, high : float
        Best estimate and 95 % interval, in the table's unit.
    status : Status
        The least trusted of the values behind it.
    """

    best: float
    low: float
    high: float
    status: Status

    @property
    def lower_bound(self) -> bool:
        """True where a value behind it is missing, so that the best estimate is the least that it can be."""
        return self.status == Status.MISSING

    def scaled(self, factor: float) -> Figure:
        """The figure for another amount of the food; `factor` is not negative."""
        return replace(self, best=self.best * factor, low=self.low * factor, high=self.high * factor)


@dataclass(frozen=True, slots=True)
class LedgerRow:
    """One line of a part's account: the step, what became of it, how many grams, and how that was worked out."""

    step: str
    stream: str
    grams: float
    basis: str


@dataclass(frozen=True, slots=True)
class PartFigures:
    """One part: grams in, grams kept, the account between them, and its composition per 100 g."""

    title: str
    grams_in: float
    grams_kept: float
    ledger: tuple[LedgerRow, ...]
    per_100g: dict[str, Figure]


@dataclass(frozen=True, slots=True)
class Nutrition:
    """The nutrition of a recipe.

    Parameters
    ----------
    title : str
    servings : float
        How many servings the batch makes.
    serving_g : float
        Weight of one [g].
    serving_basis : str
        Where the division comes from, in words.
    per_serving, per_100g, batch : dict of str to Figure
        By INFOODS tagname, in the table's units.
    energy_check : float
        Energy of a serving by the general factors 4, 4, 9 and 7 kcal/g [kcal].
    parts : tuple of PartFigures
    lines : tuple of (part title, WeighedLine)
    problems : tuple of Problem
    weigh_next : tuple of mappings
        What to measure for surer figures, the most useful first.
    weighed, dish : WeighedRecipe, Dish
        What the figures come from.
    """

    title: str
    servings: float
    serving_g: float
    serving_basis: str
    per_serving: dict[str, Figure]
    per_100g: dict[str, Figure]
    batch: dict[str, Figure]
    energy_check: float
    parts: tuple[PartFigures, ...]
    lines: tuple[tuple[str, WeighedLine], ...]
    problems: tuple[Problem, ...]
    weigh_next: tuple[Mapping[str, Any], ...]
    portion: Portion
    weighed: WeighedRecipe
    dish: Dish


@cache
def _group_bound(group: int, key: str) -> float:
    """97.5 percentile of a nutrient among the foods of a group [per 100 g]; of all foods where the group has none."""
    table = load_table()
    values = table.values[:, table.column[key]]
    known = values[(table.group_codes == group) & np.isfinite(values)]
    if known.size == 0:
        known = values[np.isfinite(values)]
    return float(np.percentile(known, 97.5))


@cache
def missing_bound(food: str, key: str) -> float:
    """The most that a missing value can reasonably be, per 100 g in the table's unit.

    Parameters
    ----------
    food : str
        Table id; KeyError where it is not in the table.
    key : str
        INFOODS tagname.
    """
    table = load_table()
    bound = _group_bound(int(table.group_codes[table.position[food]]), key)
    whole = "FAT" if key.startswith(_FATTY) else "CHOCDF" if key in _CARBOHYDRATE else None
    if whole is not None:
        limit = table.value(food, whole)
        if np.isfinite(limit):
            bound = min(bound, limit)
    return bound


def _bounds(items: tuple[Item, ...], status: NDArray[np.uint8]) -> Array:
    """What the missing values of each item could be at most, per gram of it, shape (items, nutrients)."""
    bounds = np.zeros(status.shape)
    for at, item in enumerate(items):
        if item.food is not None:
            for place in np.flatnonzero(status[at] == Status.MISSING):
                bounds[at, place] = missing_bound(item.food, KEYS[place]) / 100.0
    return bounds


def _quantiles(draws: Array) -> tuple[Array, Array]:
    low, high = np.percentile(draws, (2.5, 97.5), axis=0)
    return low, high


def figures(best: Mix, spread: Mix | None, divisor: Array, divisor_spread: Array | None) -> dict[str, Figure]:
    """Nutrients of a mix divided by something, as figures.

    Parameters
    ----------
    best : Mix
        One draw, the best estimate.
    spread : Mix or None
        Draws of the same, for the interval.
    divisor, divisor_spread : array (1,), (draws,)
        What to divide by: 1 for the whole, servings, or grams over 100.

    Returns
    -------
    dict
        One figure for each key that the kitchen follows, and ``SUGAR_ADDED``.
    """
    solids = CONSTITUENTS.index("solids")
    weight = best.held[:, :, solids]  # grams of the ingredient as weighed: what a missing value is per gram of
    present = weight[0] > 0.0
    added = np.array([_added_share(item) for item in best.items], dtype=float).reshape(-1, 3)  # best, low, high by item

    sugar = best.of("SUGAR")
    totals = np.concatenate([best.total, (sugar @ added[:, 0])[:, None]], axis=1)[0] / divisor[0]
    missing = weight[0] @ _bounds(best.items, best.status) / divisor[0]
    missing = np.append(missing, missing[KEYS.index("SUGAR")] if added[:, 2].any() else 0.0)

    low, high = totals.copy(), totals.copy()
    low[-1], high[-1] = (sugar[0] @ added[:, at] / divisor[0] for at in (1, 2))
    if spread is not None and divisor_spread is not None:
        sugar_spread = spread.of("SUGAR")
        draws_low = np.concatenate([spread.total, (sugar_spread @ added[:, 1])[:, None]], axis=1)
        draws_high = np.concatenate([spread.total, (sugar_spread @ added[:, 2])[:, None]], axis=1)
        low = np.minimum(low, _quantiles(draws_low / divisor_spread[:, None])[0])
        high = np.maximum(high, _quantiles(draws_high / divisor_spread[:, None])[1])
    high = high + missing

    unmatched = any(item.food is None for item, here in zip(best.items, present, strict=True) if here)
    lacking = best.status == Status.MISSING
    # An assumed zero adds nothing to the doubt about a sum; only a sum of nothing else is one.
    ranks = np.where(best.status == Status.ASSUMED_ZERO, 0, best.status)
    status = ranks[present].max(axis=0, initial=0)
    without = np.where(lacking, 0, ranks)[present].max(axis=0, initial=0)
    found: dict[str, Figure] = {}
    for place, key in enumerate((*KEYS, "SUGAR_ADDED")):
        source = KEYS.index("SUGAR") if key == "SUGAR_ADDED" else place
        kind = Status(int(status[source]) or Status.ASSUMED_ZERO)
        if kind == Status.MISSING and not unmatched and missing[place] <= NEGLIGIBLE * totals[place]:
            # What is missing can be nothing, or next to nothing: bounded, so known as far as a guess is known.
            kind = Status.IMPUTED if missing[place] > 0 else Status(int(without[source]) or Status.ASSUMED_ZERO)
        if key == "SUGAR_ADDED" and kind != Status.MISSING:
            kind = Status.IMPUTED if (added[present, 1] != added[present, 2]).any() else max(kind, Status.CALCULATED)
        found[key] = Figure(float(totals[place]), float(low[place]), float(high[place]), kind)
    return found


def _added_share(item: Item) -> tuple[float, float, float]:
    if item.food is None:
        return 0.0, 0.0, 0.0
    share = added_sugar_share(item.food)
    return share.best, share.low, share.high


def energy_by_general_factors(per: Mapping[str, Figure]) -> float:
    """Energy from protein, carbohydrate, fat and alcohol by 4, 4, 9 and 7 kcal/g [kcal]: a check, not the figure.

    The general factors are those of 21 CFR 101.9(c)(1)(i)(B), with 7 kcal/g for alcohol (common practice, no source).
    """
    factors = {"PROCNT": 4.0, "CHOCDF": 4.0, "FAT": 9.0, "ALC": 7.0}
    return sum(factor * per[key].best for key, factor in factors.items())


def _part_figures(ledger: Ledger) -> PartFigures:
    rows = [LedgerRow("in", entry.name or entry.stream, entry.grams.best, "as weighed") for entry in ledger.added]
    for stage in ledger.stages:
        rows.extend(LedgerRow(stage.text, entry.stream, entry.grams.best, stage.method) for entry in stage.streams)
        if not stage.streams:
            rows.append(LedgerRow(stage.text, "nothing leaves", 0.0, stage.method))
    kept = ledger.grams.best
    rows.append(LedgerRow("kept", "in the part", kept, ledger.measured.basis if ledger.measured else "what is left"))
    grams_in = sum(entry.grams.best for entry in ledger.added)
    per_100g: dict[str, Figure] = {}
    if kept > 0:
        spread = ledger.kept.rows(1) if ledger.kept.draws > 1 else None
        divisor_spread = None if spread is None else spread.total_mass / 100.0
        per_100g = figures(ledger.kept.rows(0, 1), spread, np.array([kept / 100.0]), divisor_spread)
    return PartFigures(ledger.part, grams_in, kept, tuple(rows), per_100g)


def analyse(recipe: Recipe, *, market: str | None = None, draws: int = DRAWS) -> Nutrition:
    """The nutrition of a recipe, from its text alone.

    Parameters
    ----------
    recipe : Recipe
        As `labeler.read_recipe` gives it.
    market : str or None
        Whose cups and spoons the recipe means; None takes the head's `market`, else us.
    draws : int
        Draws for the intervals, seeded from the recipe's text so that the same text gives the same interval; 0 for
        best estimates alone. Best estimates do not depend on it.

    Returns
    -------
    Nutrition
        What could not be read, found or weighed is among its problems, and the figures are then lower bounds.
    """
    weighed = weigh(recipe, market=market or str(recipe.head.get("market") or "us"))
    dish = cook(weighed, draws=draws, seed=int(recipe.digest[:12] or "0", 16))
    mass = dish.mix.total_mass
    divided = portion(recipe, dish)
    spread_mass = None if dish.spread is None else dish.spread.total_mass
    ones = None if spread_mass is None else np.ones_like(spread_mass)
    batch = figures(dish.mix, dish.spread, np.ones(1), ones)
    if mass[0] > 0:
        per_100g = figures(dish.mix, dish.spread, mass / 100.0, None if spread_mass is None else spread_mass / 100.0)
    else:
        per_100g = {key: figure.scaled(0.0) for key, figure in batch.items()}
    if divided.by_weight:
        per_serving = {key: figure.scaled(divided.grams / 100.0) for key, figure in per_100g.items()}
    else:
        per_serving = {key: figure.scaled(1.0 / divided.count) for key, figure in batch.items()}
    lines = tuple((part.title, line) for part in weighed.parts for line in part.lines)
    problems = dict.fromkeys(
        (
            *weighed.problems,
            *(problem for _, line in lines for problem in line.problems),
            *dish.problems,
            *divided.problems,
        )
    )
    return Nutrition(
        title=recipe.title,
        servings=divided.count,
        serving_g=divided.grams,
        serving_basis=divided.basis,
        per_serving=per_serving,
        per_100g=per_100g,
        batch=batch,
        energy_check=energy_by_general_factors(per_serving),
        parts=tuple(_part_figures(ledger) for ledger in dish.ledgers),
        lines=lines,
        problems=tuple(problems),
        weigh_next=(),
        portion=divided,
        weighed=weighed,
        dish=dish,
    )
