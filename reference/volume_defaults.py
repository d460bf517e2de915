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


def main() -> None:
    """Print the table."""
    table = load_table()
    weights: dict[tuple[str, int | None], list[float]] = defaultdict(list)
    pooled: dict[tuple[str, int | None], list[float]] = defaultdict(list)
    for food, group in zip(table.ids, table.group_codes.tolist(), strict=True):
        own: dict[str, list[float]] = defaultdict(list)
        for measure in households(food):
            if measure.millilitres:
                for form in measure.forms or {"plain"}:
                    own[form].append(measure.grams / measure.millilitres * CUP_ML)
        for form, found in own.items():
            weights[form, group].append(float(np.median(found)))
        if own:
            every = float(np.median([weight for found in own.values() for weight in found]))
            weights["any", group].append(every)
            weights["any", None].append(every)
        if group in MEATS:
            for form, found in own.items():
                for meat in MEATS:
                    pooled[form, meat].append(float(np.median(found)))
    for (form, meat), found in pooled.items():
        if len(weights[form, meat]) < FEWEST:
            weights[form, meat] = found
        if form == "chopped" and len(weights["any", meat]) < FEWEST:
            weights["any", meat] = found
    sys.stdout.write(HEAD)
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(["key", "food", "groups", "best", "low", "high", "basis"])
    for (form, group), found in sorted(weights.items(), key=lambda entry: (entry[0][0], entry[0][1] or 9999)):
        if form == "plain" or len(found) < FEWEST:
            continue
        low, best, high = np.percentile(found, [5, 50, 95])
        name = table.group_names[group] if group is not None else "any food"
        basis = f"usual cup of {name}{'' if form == 'any' else ', ' + form}: median of {len(found)} foods (SR28)"
        writer.writerow([form, "", group or "", f"{best:.3g}", f"{low:.3g}", f"{high:.3g}", basis])


if __name__ == "__main__":
    main()
