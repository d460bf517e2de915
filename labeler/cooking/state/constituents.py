"""From the food table to a `Mixture`: how a food's nutrients and its mass divide over what can move on its own.

Per gram of food the masses are water, fat and alcohol as analysed; salt as 2.542 times the sodium, at most the
ash; sugars, at most the carbohydrate; other solutes, which are the ash that is neither salt nor bound to calcium,
and what the proximates leave unexplained up to 100 % (the acid of a vinegar); and solids, the rest. A row
sums to exactly 1, whatever the rounding of the table, because solids take up the difference.

Energy divides by the food's own factors (protein, fat, carbohydrate; 4, 9 and 4 kcal/g where the table has none,
and 6.93 kcal/g for alcohol: Merrill and Watt 1973, USDA Agriculture Handbook 74), scaled to the table's energy.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import numpy as np
from numpy.typing import NDArray

from labeler.cooking.state.mixture import CONSTITUENTS, KEYS, Array, Item, Mixture, column
from labeler.data_files import data_folder, data_rows
from labeler.foods.composition.food_table import load_table
from labeler.foods.composition.values import food_values
from labeler.foods.user_foods import UserFood
from labeler.types import Status

__all__ = ["mix_of_foods"]

DATA = data_folder("labeler.cooking")

SALT_PER_SODIUM = 2.542  # g NaCl per g Na: 58.44 / 22.99
BOUND_ASH_PER_CALCIUM = 2.5  # g ash per g Ca, calcium carbonate (CaCO3/Ca = 40.08 -> 100.09)
ALCOHOL_KCAL = 6.93  # kcal/g, Merrill and Watt 1973, table 13
# Cholesterol that goes with one gram of the depot fat of meat [mg]: SR28 beef tallow 1.09, lard 0.95, chicken fat
# 0.85; the rest sits in cell walls and stays with the lean.
CHOLESTEROL_IN_DEPOT_FAT = 1.0
FLESH_GROUPS = frozenset({500, 700, 1000, 1300, 1500, 1700})

WATER, FAT, SOLIDS, SALT, SUGAR, SOLUTES, ALCOHOL = range(len(CONSTITUENTS))


@cache
def _carriers() -> tuple[NDArray[np.intp], Array]:
    """Constituent and mobile share of each nutrient, in the order of KEYS."""
    rows = {row["key"]: row for row in data_rows(DATA / "constituents.csv")}
    formula = ("ENERC_KCAL", "CHOCDF", "ASH")
    carrier = [SOLIDS if key in formula else CONSTITUENTS.index(rows[key]["constituent"]) for key in KEYS]
    mobile = [1.0 if key in formula else float(rows[key]["mobile"]) for key in KEYS]
    return np.array(carrier, dtype=np.intp), np.array(mobile)


@cache
def _columns() -> NDArray[np.intp]:
    table = load_table()
    return np.array([table.column[key] for key in KEYS], dtype=np.intp)


@cache
def food_constituents(food: str, market: str = "") -> tuple[Array, Array, NDArray[np.uint8]]:
    """Mass (constituents,), nutrients (constituents, nutrients) per gram, and status (nutrients,) of a table food.

    What the table lacks is imputed where it can be; a market's law overrules fats of 2015. Raises KeyError for an id
    that is not in the table.
    """
    table = load_table()
    row = table.position[food]
    values = food_values(food, market)
    known = np.nan_to_num(values.best[_columns()] / 100.0)
    status = values.status[_columns()]
    factors = [
        default if np.isnan(own) else float(own)
        for own, default in zip(table.energy_factors[row, 1:], (4.0, 9.0, 4.0), strict=True)
    ]
    flesh = int(table.group_codes[row]) in FLESH_GROUPS
    return *divide(known, carbohydrate_kcal=factors[2], fat_kcal=factors[1], flesh=flesh), status


def divide(values: Array, *, carbohydrate_kcal: float, fat_kcal: float, flesh: bool) -> tuple[Array, Array]:
    """Divide the nutrients of one gram of food over its constituents.

    Parameters
    ----------
    values : array (nutrients,)
        Amount per gram in the order of `KEYS`, 0 where missing.
    carbohydrate_kcal, fat_kcal : float
        Energy factors of the food [kcal/g].
    flesh : bool
        True for meat, poultry, fish and sausages, whose cholesterol is mostly not in the fat.

    Returns
    -------
    weight : array (constituents,), sums to 1
    composition : array (constituents, nutrients), columns sum to `values`
    """
    get = {
        key: float(values[column(key)])
        for key in ("WATER", "FAT", "ALC", "ASH", "NA", "SUGAR", "CHOCDF", "PROCNT", "CA", "ENERC_KCAL", "CHOLE")
    }
    salt = min(SALT_PER_SODIUM * get["NA"] / 1000.0, get["ASH"])
    bound = min(get["ASH"] - salt, BOUND_ASH_PER_CALCIUM * get["CA"] / 1000.0)
    unbound = get["ASH"] - salt - bound
    sugar = min(get["SUGAR"], get["CHOCDF"])
    explained = get["WATER"] + get["FAT"] + get["ALC"] + get["ASH"] + get["CHOCDF"] + get["PROCNT"]

    weight = np.zeros(len(CONSTITUENTS))
    weight[[WATER, FAT, SALT, SUGAR, ALCOHOL]] = get["WATER"], get["FAT"], salt, sugar, get["ALC"]
    weight[SOLUTES] = unbound + max(0.0, 1.0 - explained)
    moving = float(weight.sum())
    if moving > 1.0:  # the table's rounding leaves less than nothing for solids
        weight /= moving
        moving = 1.0
    weight[SOLIDS] = 1.0 - moving

    carrier, mobile = _carriers()
    composition = np.zeros((len(CONSTITUENTS), len(KEYS)))
    at = np.arange(len(KEYS))
    composition[SOLIDS] = values * (1.0 - mobile)
    composition[carrier, at] += values * mobile

    energy = np.zeros(len(CONSTITUENTS))
    energy[[FAT, SUGAR, ALCOHOL]] = fat_kcal * get["FAT"], carbohydrate_kcal * sugar, ALCOHOL_KCAL * get["ALC"]
    over = float(energy.sum())
    if over > get["ENERC_KCAL"]:
        energy *= get["ENERC_KCAL"] / over
    _put(composition, "ENERC_KCAL", energy, get["ENERC_KCAL"])

    carbohydrate = np.zeros(len(CONSTITUENTS))
    carbohydrate[SUGAR] = sugar
    _put(composition, "CHOCDF", carbohydrate, get["CHOCDF"])

    ash = np.zeros(len(CONSTITUENTS))
    ash[[SALT, SOLUTES]] = salt, unbound
    _put(composition, "ASH", ash, get["ASH"])

    if flesh:
        cholesterol = np.zeros(len(CONSTITUENTS))
        cholesterol[FAT] = min(get["CHOLE"], CHOLESTEROL_IN_DEPOT_FAT * get["FAT"])
        _put(composition, "CHOLE", cholesterol, get["CHOLE"])
    return weight, composition


def _put(composition: Array, key: str, moving: Array, whole: float) -> None:
    """Set one nutrient's column: the moving shares as given, and the solids what is left of the whole."""
    moving[SOLIDS] = 0.0
    moving[SOLIDS] = whole - float(moving.sum())
    composition[:, column(key)] = moving


def own_constituents(own: UserFood) -> tuple[Array, Array, NDArray[np.uint8]]:
    """The same as `food_constituents` for one of the cook's own foods: its values, with the factors of its like."""
    table = load_table()
    row = table.position[own.like] if own.like is not None else -1
    values = np.zeros(len(KEYS))
    status = np.full(len(KEYS), Status.MISSING, dtype=np.uint8)
    for at, key in enumerate(KEYS):
        value = own.per_100g.get(key)
        if value is not None:
            values[at], status[at] = value.best / 100.0, value.status
    factors = table.energy_factors[row, 1:] if row >= 0 else np.full(3, np.nan)
    _, fat_kcal, carbohydrate_kcal = (
        default if np.isnan(one) else float(one) for one, default in zip(factors, (4.0, 9.0, 4.0), strict=True)
    )
    flesh = row >= 0 and int(table.group_codes[row]) in FLESH_GROUPS
    return *divide(values, carbohydrate_kcal=carbohydrate_kcal, fat_kcal=fat_kcal, flesh=flesh), status


@cache
def _unknown_food() -> tuple[Array, Array, NDArray[np.uint8]]:
    """A food that nobody found: all solids, every nutrient missing."""
    weight = np.zeros(len(CONSTITUENTS))
    weight[SOLIDS] = 1.0
    status = np.full(len(KEYS), Status.MISSING, dtype=np.uint8)
    return weight, np.zeros((len(CONSTITUENTS), len(KEYS))), status


def _constituents(item: Item) -> tuple[Array, Array, NDArray[np.uint8]]:
    if not item.weighed or (item.food is None and item.own is None):
        return _unknown_food()
    if item.own is not None:
        return own_constituents(item.own)
    assert item.food is not None
    return food_constituents(item.food, item.market)


def mix_of_foods(items: Sequence[Item], grams: Array) -> Mixture:
    """A mix of foods as weighed, those of the cook's own by their packages.

    Parameters
    ----------
    items : sequence of Item
        Each with its table id, or None for a food that was not found (its mass counts, its nutrients are missing).
    grams : array (draws, items)
        Edible weight [g], not negative.

    Raises
    ------
    KeyError
        For a table id that does not exist.
    """
    blocks = [_constituents(item) for item in items]
    if not blocks:
        raise ValueError("a mix needs at least one item; use empty()")
    weight, composition, status = (np.stack(block) for block in zip(*blocks, strict=True))
    by_item = np.asarray(grams, dtype=float).T
    held = np.repeat(by_item[:, None, :], len(CONSTITUENTS), axis=1).transpose(2, 0, 1)
    return Mixture(tuple(items), held, weight, composition, status)
