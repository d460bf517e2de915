"""Make labeler/foods/data/volume_defaults.csv: what a cup weighs by food group and form, from SR28's own measures.

Usage: python reference/volume_defaults.py > labeler/foods/data/volume_defaults.csv
"""

from __future__ import annotations

import csv
import sys
from collections import defaultdict

import numpy as np

from labeler.foods.composition.food_table import load_table
from labeler.foods.weights.household_measures import CUP_ML, households

MEATS = (500, 1000, 1300, 1700)
"""Poultry, pork, beef, lamb and game fill a cup alike, and SR28 has cups of few of them: they share their measures."""

FEWEST = 8
"""A group and form with fewer foods than this says nothing of its own."""

HEAD = """\
# What a US cup (236.588 mL) weighs [g] by SR28 food group and form: the median of the group's own cup and spoon
# measures, low and high their 5th and 95th percentiles. For foods without a measure and without a close relative.
# Made by reference/volume_defaults.py from SR28 (public domain).
"""


Cups = dict[tuple[str, int | None], list[float]]
"""Grams of a cup, one for each food, by form and food group; None for any group."""


def own_cups(food: str) -> dict[str, list[float]]:
    """Grams of a cup of one food by each of its measures, by the form that the measure speaks of."""
    own: dict[str, list[float]] = defaultdict(list)
    for measure in households(food):
        if measure.millilitres:
            for form in measure.forms or {"plain"}:
                own[form].append(measure.grams / measure.millilitres * CUP_ML)
    return own


def cups_by_group() -> Cups:
    """Every food of the table, under its own group and, for any form, under all groups."""
    table = load_table()
    weights: Cups = defaultdict(list)
    pooled: Cups = defaultdict(list)
    for food, group in zip(table.ids, table.group_codes.tolist(), strict=True):
        own = own_cups(food)
        middles = {form: float(np.median(found)) for form, found in own.items()}
        for form, middle in middles.items():
            weights[form, group].append(middle)
            for meat in MEATS if group in MEATS else ():
                pooled[form, meat].append(middle)
        if own:
            every = float(np.median([weight for found in own.values() for weight in found]))
            weights["any", group].append(every)
            weights["any", None].append(every)
    pool_meats(weights, pooled)
    return weights


def pool_meats(weights: Cups, pooled: Cups) -> None:
    """Give a kind of meat with too few measures those of all kinds."""
    for (form, meat), found in pooled.items():
        if len(weights[form, meat]) < FEWEST:
            weights[form, meat] = found
        if form == "chopped" and len(weights["any", meat]) < FEWEST:
            weights["any", meat] = found


def main() -> None:
    """Print the table."""
    table = load_table()
    sys.stdout.write(HEAD)
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(["key", "food", "groups", "best", "low", "high", "basis"])
    for (form, group), found in sorted(cups_by_group().items(), key=lambda entry: (entry[0][0], entry[0][1] or 9999)):
        if form == "plain" or len(found) < FEWEST:
            continue
        low, best, high = np.percentile(found, [5, 50, 95])
        name = table.group_names[group] if group is not None else "any food"
        basis = f"usual cup of {name}{'' if form == 'any' else ', ' + form}: median of {len(found)} foods (SR28)"
        writer.writerow([form, "", group or "", f"{best:.3g}", f"{low:.3g}", f"{high:.3g}", basis])


if __name__ == "__main__":
    main()
