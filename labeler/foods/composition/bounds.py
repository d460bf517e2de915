"""The most that a value can be which nobody knows: by its whole, by its source, by its food group, by its kind.

A fatty acid is no more than the fat, trans fat no more than a share of it by where the fat comes from, sugars and
fibre no more than the carbohydrate, anything no more than the 97.5 percentile of its food group. A food that no one
found is bounded by its name: a spice by the richest spices, a colour by what carries it, salt by salt; a name that says
nothing may be the richest food that there is. ``unknown_kinds.csv`` has the kinds.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, lru_cache

import numpy as np
from numpy.typing import NDArray

from labeler.data_files import data_folder, data_rows
from labeler.foods.composition.food_table import TABLE_FILE, FoodTable, load_table
from labeler.foods.matching.name_words import words
from labeler.percentiles import percentile
from labeler.text.plurals import singular

__all__ = ["missing_bound", "richest", "stand_in", "unknown_bound", "unknown_kind"]

KINDS_FILE = data_folder("labeler.foods.composition") / "unknown_kinds.csv"
Array = NDArray[np.float64]

_FATTY = ("F4D", "F6D", "F8D", "F10", "F12", "F14", "F16", "F18", "F20", "F22", "FASAT", "FAMS", "FAPU", "FATRN")
_CARBOHYDRATE = ("SUGAR", "FIBTG")
_OTHER_PART = {"SUGAR": "FIBTG", "FIBTG": "SUGAR"}
# Most trans fat in the fat of ruminants, in other fat, and in fat that may be partly hydrogenated [g/g]: ruminant
# fat holds 2 to 6 %, refined oil under 2 %, shortenings of old up to 35 % (SR28's own foods lie under these in 99 %).
_RUMINANT, _OTHER, _HYDROGENATED = 0.06, 0.02, 0.35
_RUMINANT_GROUPS = frozenset({100, 1300, 1700})
_MADE_GROUPS = frozenset({400, 1800, 1900, 2100, 2500, 3600, 600, 800, 1400, 2200, 300})
_OIL = re.compile(r"^(?:Oil|Fish oil|Lard|Fat)\b(?!.*hydrogenated)", re.IGNORECASE)


@cache
def _group_bound(group: int, key: str) -> float:
    """97.5 percentile of a nutrient among the foods of a group [per 100 g]; of all foods where it has none."""
    table = load_table()
    values = table.values[:, table.column[key]]
    known = values[(table.group_codes == group) & np.isfinite(values)]
    if known.size == 0:
        known = values[np.isfinite(values)]
    return percentile(np.sort(known), 0.975)


def _trans_share(row: int) -> float:
    table = load_table()
    group = int(table.group_codes[row])
    if group in _RUMINANT_GROUPS:
        return _RUMINANT
    if group in _MADE_GROUPS and not _OIL.search(table.descriptions[row]):
        return _HYDROGENATED
    return _OTHER


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
    row = table.position[food]
    bound = _group_bound(int(table.group_codes[row]), key)
    if key == "FATRN":
        return min(bound, _trans_share(row) * table.value(food, "FAT"))
    whole = "FAT" if key.startswith(_FATTY) else "CHOCDF" if key in _CARBOHYDRATE else None
    if whole is not None:
        limit = table.value(food, whole)
        if np.isfinite(limit):
            bound = min(bound, limit)
            other = table.value(food, _OTHER_PART[key]) if key in _OTHER_PART else np.nan
            if np.isfinite(other):  # what of the carbohydrate is fibre is no sugar
                bound = min(bound, max(limit - other, 0.0))
    return bound


@cache
def richest() -> Array:
    """The most that any food of the release has of each nutrient [per g], by column of the table; lye is no food."""
    most: Array = np.nanmax(FoodTable(TABLE_FILE).values, axis=0) / 100.0
    return most


@cache
def _kinds() -> tuple[tuple[str, frozenset[str], tuple[int, ...], Mapping[str, float]], ...]:
    rows = data_rows(KINDS_FILE)
    return tuple(
        (
            row["kind"],
            frozenset(singular(word) for word in row["words"].split("|")),
            tuple(int(group) for group in row["groups"].split()),
            {key: float(value) for key, _, value in (pair.partition("=") for pair in row["at_most"].split())},
        )
        for row in rows
    )


@lru_cache(maxsize=4096)
def unknown_kind(name: str) -> str:
    """The kind of an ingredient that no food was found for, by its name; empty where the name says none."""
    tokens = words(name)
    return next((kind for kind, named, _, _ in _kinds() if named.intersection(tokens)), "")


@cache
def _stand_ins() -> Mapping[str, tuple[str, str]]:
    rows = data_rows(KINDS_FILE)
    return {
        singular(word): (row["kind"], row["stands_in"])
        for row in rows
        if row["stands_in"]
        for word in row["words"].split("|")
    }


def stand_in(head: str) -> tuple[str, str] | None:
    """The kind that a head tells, and the food that is counted for an unknown one of it; None where it tells none.

    Parameters
    ----------
    head : str
        The word of a name that says what the thing is, in normal form.
    """
    return _stand_ins().get(head)


@cache
def _kind_bound(kind: str) -> Array:
    table = load_table()
    _, _, groups, stated = next(row for row in _kinds() if row[0] == kind)
    if groups:
        values = table.values[np.isin(table.group_codes, groups)]
        measured = np.isfinite(values).any(axis=0)
        bound = richest().copy()  # what nobody has measured in the kind may be as much as in any food
        bound[measured] = np.nanpercentile(values[:, measured], 97.5, axis=0) / 100.0
    else:
        bound = np.zeros(len(table.nutrients))
    for key, most in stated.items():
        bound[table.column[key]] = most / 100.0
    # Parts of a fat that is stated are no more than it.
    for part in ("FASAT", "FAMS", "FAPU"):
        bound[table.column[part]] = min(bound[table.column["FAT"]], bound[table.column[part]] or np.inf)
    bound[table.column["FATRN"]] = min(bound[table.column["FATRN"]], _OTHER * bound[table.column["FAT"]])
    return np.minimum(bound, richest())


def unknown_bound(kind: str) -> Array:
    """The most that an ingredient without a food can hold of each nutrient [per g], by column of the table.

    Parameters
    ----------
    kind : str
        As `unknown_kind` tells it; empty where nothing is known of it.
    """
    return _kind_bound(kind) if kind else richest()
