"""Which table food a larder food is like: the one that its name and its panel point to.

The name gives the candidates, the panel chooses among them: of two foods that the name may mean, the one whose energy,
fat, carbohydrate, protein and sodium are nearer to what is printed. Without a name that the table knows the panel
alone chooses, among foods that people use.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.match import search_foods
from labeler.larder.model import LarderFood
from labeler.types import Interval

__all__ = ["Like", "nearest_food"]

# What is compared, with what is added before the logarithm so that "0 g" and "0.4 g" are alike [table unit].
_COMPARED = {"ENERC_KCAL": 20.0, "FAT": 1.0, "CHOCDF": 1.0, "PROCNT": 1.0, "NA": 50.0, "SUGAR": 2.0, "FIBTG": 1.0}
_FLOOR = 0.35
# What an unsure name costs beside a panel that differs by a factor e in one nutrient; common practice, no source.
_UNSURE = 2.0
# A name candidate this far from the panel is another food; a panel with so many figures can choose alone.
_FAR = 1.5
_TELLING = 3
_SURE = 0.6


@dataclass(frozen=True, slots=True)
class Like:
    """A table food that a larder food is like: why, whether to look at it again, and whether the cook named it."""

    food: str
    reason: str
    doubtful: bool
    named: bool = False


def nearest_food(food: LarderFood, per_100g: Mapping[str, Interval]) -> Like | None:
    """The table food that a larder food is like.

    Parameters
    ----------
    food : LarderFood
        Its `like` settles it, as an id or a name.
    per_100g : mapping
        What its panel gives per 100 g, by tagname.

    A `like` that is no food of the table counts for nothing: the answer is then not `named`.
    """
    table = load_table()
    if food.like in table:
        return Like(food.like, "named in the larder", doubtful=False, named=True)
    asked = search_foods(food.like) if food.like else ()
    if asked and asked[0].confidence >= _FLOOR:
        return Like(asked[0].food, f"“{food.like}” in the larder", doubtful=False, named=True)
    candidates: dict[str, float] = {}
    for name in food.names:
        for candidate in search_foods(name):
            candidates[candidate.food] = max(candidates.get(candidate.food, 0.0), candidate.confidence)
    fitting = {one: sure for one, sure in candidates.items() if sure >= _FLOOR}
    telling = len([key for key in _COMPARED if key in per_100g]) >= _TELLING
    if fitting:
        costs = {one: _distance(one, per_100g) + _UNSURE * (1 - sure) for one, sure in fitting.items()}
        best = min(costs, key=lambda one: (costs[one], one))
        far = _distance(best, per_100g) > _FAR
        if not far or not telling:
            return Like(best, "nearest by name and panel", far or fitting[best] < _SURE)
    if not telling:
        return None
    return Like(_by_panel(per_100g), "nearest by its panel, as no food of that name has such figures", True)


def _distance(food: str, per_100g: Mapping[str, Interval]) -> float:
    """How far a table food is from a panel: the root of the sum of squared differences of logarithms."""
    table = load_table()
    total = 0.0
    for key, shift in _COMPARED.items():
        value = table.value(food, key)
        if key in per_100g and not math.isnan(value):
            inside = min(max(value, per_100g[key].low), per_100g[key].high)
            total += math.log((value + shift) / (inside + shift)) ** 2
    return math.sqrt(total)


def _by_panel(per_100g: Mapping[str, Interval]) -> str:
    """The food that people use whose composition is nearest to a panel."""
    table = load_table()
    rows = np.flatnonzero(table.survey_uses > 0)
    total = np.zeros(len(rows))
    for key, shift in _COMPARED.items():
        if key in per_100g:
            values = np.nan_to_num(table.values[rows, table.column[key]])
            inside = np.clip(values, per_100g[key].low, per_100g[key].high)
            total += np.log((values + shift) / (inside + shift)) ** 2
    return table.ids[int(rows[np.argmin(total)])]
