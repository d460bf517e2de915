"""How far the food in the cook's hand may be from the table's figure for it.

SR28 prints a mean. What a cook buys differs from it, by as much as samples of one food differ, and more where a maker's
recipe stands behind the food or where the table itself took the value from a similar food. The standard deviations
come from the table: of the food's own samples where it has them, else pooled over its group
(``composition_spread_sr28``, made by ``reference/build_spread.py``, which says how).

The proximates are tied by mass: what protein, fat, ash and alcohol gain, carbohydrate and water lose, in the proportion
in which each can give. Energy follows from those by the food's own factors, so it is less spread than fat alone
suggests.
"""

from __future__ import annotations

from functools import cache, lru_cache
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from labeler.cooking.state.mixture import KEYS, Array, column
from labeler.foods.composition.extra_foods import extra_food
from labeler.foods.composition.food_table import load_table
from labeler.foods.composition.values import food_values, imputed_value
from labeler.foods.user_foods import UserFood
from labeler.types import Status

__all__ = ["MACROS", "SPREAD_FILE", "FoodSpread", "food_spread", "made_up", "own_spread", "spread_reason"]

SPREAD_FILE = Path(__file__).parents[1] / "foods" / "data" / "composition_spread_sr28.npy"

MACROS = ("PROCNT", "FAT", "CHOCDF", "ALC")
"""What energy comes from, in the order of `FoodSpread.drivers`."""

Z95 = 1.959963984540054
ALCOHOL_KCAL = 6.93  # kcal/g, Merrill and Watt 1973, USDA Agriculture Handbook 74, table 13

# Groups whose foods are made to somebody's recipe: baby foods, soups and sauces, sausages, breakfast cereals, baked
# products, sweets, fast foods, meals, snacks, restaurant foods. Two products of one description differ there by
# more than two samples of one product.
MADE_UP_GROUPS = frozenset({300, 600, 700, 800, 1800, 1900, 2100, 2200, 2500, 3600})
_MADE_UP_WORDS = ("dressing", "margarine", "spread", "imitation", "meatless", "substitute", "sweetened", "prepared")


class FoodSpread(NamedTuple):
    """How far one gram of a food may be from the table's figures.

    Parameters
    ----------
    sd : array (nutrients,)
        Standard deviation of each nutrient, in the table's unit per gram of food; a normal with it has the 95 %
        interval that the samples speak for.
    cv : array (nutrients,)
        The same over the value; 0 where the value is 0.
    drivers : array (5, 4)
        What one standard deviation of protein, fat, ash, alcohol and moisture changes in each of `MACROS` [g/g].
    factors : array (4,)
        Energy of each of `MACROS` [kcal/g].
    """

    sd: Array
    cv: Array
    drivers: Array
    factors: Array


@cache
def _deviations() -> NDArray[np.float16]:
    """Standard deviations per 100 g, foods by nutrients; only the rows that are asked for are read from the file."""
    rows: NDArray[np.float16] = np.load(SPREAD_FILE, mmap_mode="r", allow_pickle=False)
    return rows


@cache
def _columns() -> NDArray[np.intp]:
    table = load_table()
    return np.array([table.column[key] for key in KEYS], dtype=np.intp)


# Foods that the table lacks: what a formula states is near it, what a recipe or another table says less so. Common
# practice, no source.
_STATED_CV, _OTHER_CV = 0.03, 0.20


def _of_table(row: int, known: Array) -> Array:
    """Standard deviations of one food per 100 g, as the file has them; of a food that the table lacks, by its kind."""
    deviations = _deviations()
    if row < len(deviations):
        found: Array = deviations[row].astype(float)
        return found
    extra = extra_food(load_table().ids[row])
    stated = extra is not None and extra.kind in ("stoichiometry", "like")
    return known * (_STATED_CV if stated else _OTHER_CV)


_PLACE = {key: column(key) for key in (*MACROS, "ASH", "WATER", "ENERC_KCAL")}


@lru_cache(maxsize=256)
def own_spread(own: UserFood) -> FoodSpread:
    """Spread of one of the cook's own foods: the bounds that its package leaves, of energy too."""
    values, sd = np.zeros(len(KEYS)), np.zeros(len(KEYS))
    for at, key in enumerate(KEYS):
        value = own.per_100g.get(key)
        if value is not None:
            values[at], sd[at] = value.best / 100.0, (value.high - value.low) / 2.0 / Z95 / 100.0
    drivers = np.zeros((5, len(MACROS)))
    for driver, key in ((0, "PROCNT"), (1, "FAT"), (4, "CHOCDF"), (3, "ALC")):
        drivers[driver, MACROS.index(key)] = sd[_PLACE[key]]
    factors = np.array([4.0, 9.0, 4.0, ALCOHOL_KCAL])
    by_factors, stated = float(np.linalg.norm(drivers @ factors)), float(sd[_PLACE["ENERC_KCAL"]])
    if 0.0 < stated < by_factors:
        factors *= stated / by_factors  # the panel's energy leaves less room than its grams do
    sd[_PLACE["ENERC_KCAL"]] = min(stated, by_factors) if stated > 0.0 else by_factors
    return FoodSpread(sd, np.divide(sd, values, out=np.zeros_like(sd), where=values > 0.0), drivers, factors)


def made_up(row: int) -> bool:
    """Whether the food of a table row is made to somebody's recipe, so that products of its description differ."""
    table = load_table()
    if int(table.group_codes[row]) in MADE_UP_GROUPS or table.manufacturers[row]:
        return True
    described = table.descriptions[row].lower()
    return any(word in described for word in _MADE_UP_WORDS)


@cache
def food_spread(food: str, market: str = "") -> FoodSpread:
    """Spread of one food of the table, in a market whose law may overrule it; raises KeyError for an unknown id.

    An imputed value has the interval that it was imputed with.
    """
    row = load_table().position[food]
    values = food_values(food, market)
    known, width = np.nan_to_num(values.best[_columns()]), values.width[_columns()]
    sd = np.where(np.isnan(width), _of_table(row, known), width / Z95)
    drivers, water, factors = _balance(row, known, sd)
    sd[_PLACE["CHOCDF"]] = np.linalg.norm(drivers[:, MACROS.index("CHOCDF")])
    sd[_PLACE["WATER"]] = water
    sd[_PLACE["ENERC_KCAL"]] = np.linalg.norm(drivers @ factors)
    cv = np.divide(sd, known, out=np.zeros_like(sd), where=known > 0.0)
    return FoodSpread(sd / 100.0, cv, drivers / 100.0, factors)


def _balance(row: int, known: Array, sd: Array) -> tuple[Array, float, Array]:
    """Mass balance of one food: drivers of the macros [g/100 g], SD of water [g/100 g] and energy factors [kcal/g].

    Whatever protein, fat, ash and alcohol gain together, carbohydrate and water lose: carbohydrate the share
    s_C² / (s_C² + s_W²) of it, the conditional mean of a normal given its sum with another; and both trade a
    moisture of SD s_C s_W / sqrt(s_C² + s_W²) between them. Food without carbohydrate gives only water.
    """
    protein, fat, ash, alcohol = (float(sd[_PLACE[key]]) for key in ("PROCNT", "FAT", "ASH", "ALC"))
    free_carbohydrate = float(sd[_PLACE["CHOCDF"]]) if known[_PLACE["CHOCDF"]] > 0.0 else 0.0
    free_water = float(sd[_PLACE["WATER"]])
    both = free_carbohydrate**2 + free_water**2
    share = free_carbohydrate**2 / both if both > 0.0 else 0.0
    moisture = free_carbohydrate * free_water / np.sqrt(both) if both > 0.0 else 0.0
    rest = np.array([protein, fat, ash, alcohol])
    drivers = np.zeros((5, len(MACROS)))
    drivers[0, 0], drivers[1, 1], drivers[3, 3] = protein, fat, alcohol
    drivers[:4, 2] = -share * rest
    drivers[4, 2] = moisture
    water = float(np.hypot((1.0 - share) * np.linalg.norm(rest), moisture))
    own = load_table().energy_factors[row, 1:]
    kcal = [default if np.isnan(one) else float(one) for one, default in zip(own, (4.0, 9.0, 4.0), strict=True)]
    return drivers, water, np.array([*kcal, ALCOHOL_KCAL])


def spread_reason(food: str, key: str) -> str:
    """In words, what the spread of one figure of a food rests on; raises KeyError for an unknown food or nutrient."""
    table = load_table()
    row, at = table.position[food], table.column[key]
    imputed = imputed_value(food, key)
    if imputed is not None:
        return f"the value is imputed from {imputed.reason}"
    if key in ("ENERC_KCAL", "CHOCDF", "WATER"):
        return "follows from the other proximates by the balance of mass"
    count, error = int(table.samples[row, at]), table.standard_errors[row, at]
    if count >= 3 and error > 0.0:
        reason = f"{count} samples of it in SR28"
    else:
        reason = f"SR28's foods of its group ({table.group_names[int(table.group_codes[row])]})"
    if made_up(row):
        reason += ", and how products of one description differ"
    if table.status[row, at] == Status.IMPUTED:
        reason += "; the table imputes it, so also how similar foods differ"
    return reason
