"""Check the kitchen against USDA's survey foods: weights, codes and retention given, nutrients computed.

    python reference/check_fndds.py FOODS.csv INGREDIENTS.csv

FOODS.csv has the published values per 100 g of each food, in columns named by SR nutrient number, and
`water_change_g_per_100g`; INGREDIENTS.csv has `food_code`, `base_code`, `g_per_100g_final` and `retention_chain`
(codes joined by "*"). Source: USDA Food and Nutrient Database for Dietary Studies 2015-16 (public domain). Each food is
put together by the same functions that the kitchen uses; a value agrees when it is within one unit of the last digit
that USDA prints. Ends with status 1 if one of the ten main values of any food does not.
"""

from __future__ import annotations

import csv
import sys
from collections import defaultdict
from pathlib import Path

import numpy as np

from labeler.cooking.models.evaporation import lose_water
from labeler.cooking.models.retention_factors import retain
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.mixture import KEYS, Item, Mixture, join
from labeler.foods.composition.food_table import load_table

MAIN = (208, 203, 204, 205, 307, 301, 303, 306, 269, 291)
TAP_WATER = "14411"


def dish(lines: list[dict[str, str]], water_change: float) -> Mixture:
    """One survey food, 100 g as published, from its ingredient lines."""
    items = [Item("", at, row["base_code"], row["base_code"].zfill(5)) for at, row in enumerate(lines)]
    grams = np.array([[float(row["g_per_100g_final"]) for row in lines]])
    chains = {at: [code for code in row["retention_chain"].split("*") if code] for at, row in enumerate(lines)}
    mix, _ = retain(mix_of_foods(items, grams), chains)
    if water_change > 0.0:
        water = Item("", 0, "water", TAP_WATER)
        # FNDDS adds plain water, not a table food: its minerals do not count.
        gained = mix_of_foods([water], np.array([[water_change]]))
        return join([mix, Mixture(gained.items, gained.held, gained.weight, gained.composition * 0.0, gained.status)])
    kept, _ = lose_water(mix, np.array([-water_change]))
    return kept


def check(foods: Path, ingredients: Path) -> tuple[int, dict[int, list[str]], int]:
    """How many foods were checked, the misses by nutrient number, and how many foods are right in all main values."""
    lines: dict[str, list[dict[str, str]]] = defaultdict(list)
    with ingredients.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            lines[row["food_code"]].append(row)
    numbers = {nutrient.key: nutrient.number for nutrient in load_table().nutrients}
    misses: dict[int, list[str]] = defaultdict(list)
    count = right = 0
    with foods.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            count += 1
            total = dish(lines[row["food_code"]], float(row["water_change_g_per_100g"])).total[0]
            good = True
            for at, key in enumerate(KEYS):
                number = numbers[key]
                printed = row.get(str(number))
                if not printed:
                    continue
                digits = last_digit(number)
                if abs(total[at] - float(printed)) > digits * 1.0000001:
                    misses[number].append(f"{row['food_code']} {row['description']}: {total[at]:.4f}, not {printed}")
                    good = good and number not in MAIN
            right += good
    return count, misses, right


def last_digit(number: int) -> float:
    """One unit of the last digit in which USDA prints a nutrient."""
    decimals = {nutrient.number: nutrient.decimals for nutrient in load_table().nutrients}
    return float(10.0 ** -decimals[number])


def main() -> int:
    """Run the check on two files and print what it finds."""
    if len(sys.argv) != 3:
        print(__doc__)
        return 2
    count, misses, right = check(Path(sys.argv[1]), Path(sys.argv[2]))
    names = {nutrient.number: nutrient.key for nutrient in load_table().nutrients}
    for number, found in sorted(misses.items(), key=lambda pair: -len(pair[1])):
        mark = "main" if number in MAIN else "other"
        print(f"{names[number]:14} {mark:6} {len(found):5} foods differ, such as {found[0]}")
    print(f"{right} of {count} foods agree in all ten main values")
    return 0 if right == count else 1


if __name__ == "__main__":
    sys.exit(main())
