"""A food's values as the kitchen counts them: the table's own, then imputed ones, with what stands behind each.

The table wins wherever it has a value, but for fats of 2015 that the law of a market has since replaced.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from labeler.foods.composition.food_table import load_table
from labeler.foods.composition.imputation import Imputed, imputed_values, todays_values
from labeler.types import Status

__all__ = ["FoodValues", "food_values", "imputed_value"]


class FoodValues(NamedTuple):
    """Values of one food per 100 g in the table's units, by column of the table.

    Parameters
    ----------
    best : array
        NaN where missing.
    width : array
        Half of the 95 % interval of an imputed value; NaN where the value is the table's own or missing.
    status : array of int
        `Status` of each.
    """

    best: NDArray[np.float64]
    width: NDArray[np.float64]
    status: NDArray[np.uint8]


def imputed_value(food: str, key: str, market: str = "") -> Imputed | None:
    """What stands for a value of the table that is missing or no longer holds; None where the table's own counts.

    Parameters
    ----------
    food : str
        Table id; KeyError where it is not in the table.
    key : str
        INFOODS tagname.
    market : str
        Whose law overrules fats of 2015; empty for the table as it stands.
    """
    today = todays_values(food, market).get(key) if market else None
    if today is not None:
        return today
    return imputed_values(food).get(key) if np.isnan(load_table().value(food, key)) else None


@lru_cache(maxsize=4096)
def food_values(food: str, market: str = "") -> FoodValues:
    """The values of a food, imputed where the table has none.

    Parameters
    ----------
    food : str
        Table id; KeyError where it is not in the table.
    market : str
        Whose law overrules fats of 2015; empty for the table as it stands.
    """
    table = load_table()
    row = table.position[food]
    best, status = table.values[row].copy(), table.status[row].copy()
    width = np.full(best.shape, np.nan)
    lacking = np.isnan(best)
    status[lacking] = Status.MISSING
    standing = {key: one for key, one in imputed_values(food).items() if lacking[table.column[key]]}
    for key, one in (standing | dict(todays_values(food, market) if market else {})).items():
        at = table.column[key]
        best[at], width[at], status[at] = one.best, (one.high - one.low) / 2.0, one.status
    return FoodValues(best, width, status)
