"""Hold imputed values against a national table that nothing here was made from.

    python reference/check_independent.py COMPOSITIONS.csv [LINES.csv]

COMPOSITIONS.csv are the Indian Food Composition Tables 2017 (T. Longvah et al., National Institute of Nutrition,
Hyderabad) as a table, grams per 100 g, a row a food and a column a component; `independent_pairs.csv` says which
of its foods are which of SR28. Printed is how often a value imputed for an SR28 food is within one printed step of the
other table's per 100 g, and inside its interval; beside it, as the yardstick, how often the values that SR28 knows of
the same foods are: samples of two countries differ, whoever prints them. LINES.csv has the columns `file` and `text`;
the lines of one file are a recipe of four servings, and each figure of a serving that an imputed value goes into is
worked out once with it and once with the other table's value in its place.
"""

from __future__ import annotations

import argparse
import csv
from collections import defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path

import numpy as np

from labeler.foods.composition.food_table import TABLE_FILE, FoodTable
from labeler.foods.composition.imputation import imputed_values
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe

PAIRS = Path(__file__).with_name("independent_pairs.csv")
# The other table's column of each value and what turns its grams into SR28's unit. Of vitamin D only cholecalciferol of
# animals: its ergocalciferol of cereals and leaves (41 µg in 100 g of finger millet) is in no other table.
COLUMNS = {"FASAT": ("fasat", 1.0), "FIBTG": ("fibtg", 1.0), "SUGAR": ("fsugar", 1.0), "CHOLE": ("cholc", 1e3),
           "VITD": ("chocal", 1e6), "CA": ("ca", 1e3), "FE": ("fe", 1e3), "K": ("k", 1e3),
           "NA": ("na", 1e3)}  # fmt: skip
# One printed step (21 CFR 101.9(c)); vitamin D a tenth of a microgram.
STEP = {"FASAT": 0.5, "FIBTG": 1.0, "SUGAR": 1.0, "CHOLE": 5.0, "VITD": 0.1,
        "CA": 10.0, "FE": 0.1, "K": 10.0, "NA": 10.0}  # fmt: skip
SERVINGS = 4


def other_table(path: Path) -> dict[str, dict[str, float]]:
    """Values of the other table by SR28 food and tagname, in SR28's units; what it prints as nothing is left out."""
    with path.open(encoding="utf-8", newline="") as stream:
        rows = csv.reader(stream)
        heads = [head.rpartition("; ")[2] for head in next(rows)]
        by_code = {row[0]: dict(zip(heads, row, strict=True)) for row in rows}
    found = {}
    with PAIRS.open(encoding="utf-8", newline="") as stream:
        for pair in csv.DictReader(line for line in stream if not line.startswith("#")):
            row = by_code[pair["code"]]
            values = {key: float(row[name]) * unit for key, (name, unit) in COLUMNS.items()}
            found[pair["food"]] = {key: value for key, value in values.items() if value > 0.0}
    return found


def table_of_foods(table: FoodTable, others: Mapping[str, Mapping[str, float]]) -> None:
    """Print values of foods, imputed and known, against the other table's."""
    print(
        "| value | imputed: n | within a step | in its interval | known: n | within a step |\n|---|---|---|---|---|---|"
    )
    for key, step in STEP.items():
        guessed, known = [], []
        for food, values in others.items():
            if key not in values:
                continue
            own, imputed = table.value(food, key), imputed_values(food).get(key)
            near = max(step, 0.1 * values[key]) if key in ("CA", "FE", "K", "NA") else step
            if not np.isnan(own):
                known.append(abs(own - values[key]) <= near)
            elif imputed is not None:
                guessed.append((abs(imputed.best - values[key]) <= near, imputed.low <= values[key] <= imputed.high))
        first, second = (share([hit[at] for hit in guessed]) for at in (0, 1))
        print(f"| {key} | {len(guessed)} | {first} | {second} | {len(known)} | {share(known)} |")


def share(hits: list[bool]) -> str:
    """Per cent of hits; a dash where there are none."""
    return f"{100 * np.mean(hits):.0f}" if hits else "–"


def servings(lines: Path) -> Iterator[dict[str, float]]:
    """Grams of each food in a serving, recipe by recipe."""
    texts: dict[str, list[str]] = defaultdict(list)
    with lines.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            texts[row["file"]].append(row["text"])
    for found in texts.values():
        recipe = read_recipe("---\ntitle: Lines\nserves: 4\n---\n" + "".join(f"- {text}\n" for text in found))
        grams: dict[str, float] = defaultdict(float)
        for line in (line for part in weigh(recipe).parts for line in part.lines):
            if line.match is not None and line.match.food is not None and line.grams is not None:
                grams[line.match.food] += line.grams.best / SERVINGS
        yield dict(grams)


def table_of_recipes(table: FoodTable, others: Mapping[str, Mapping[str, float]], lines: Path) -> None:
    """Print how often a serving's figure stays within one printed step when the other table's values stand in."""
    hits: dict[str, list[bool]] = {key: [] for key in STEP}
    for grams in servings(lines):
        for key, step in STEP.items():
            moved, met = 0.0, False
            for food, amount in grams.items():
                imputed = imputed_values(food).get(key)
                if imputed is not None and key in others.get(food, {}) and np.isnan(table.value(food, key)):
                    moved, met = moved + amount / 100.0 * (imputed.best - others[food][key]), True
            if met:
                hits[key].append(abs(moved) <= step)
    print("| value | figures of a serving | within a step |\n|---|---|---|")
    for key, found in hits.items():
        print(f"| {key} | {len(found)} | {share(found)} |")
    together = [hit for found in hits.values() for hit in found]
    print(f"| all | {len(together)} | {share(together)} |")


def main() -> None:
    """Print both tables."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("compositions", type=Path)
    parser.add_argument("lines", type=Path, nargs="?")
    options = parser.parse_args()
    table, others = FoodTable(TABLE_FILE), other_table(options.compositions)
    table_of_foods(table, others)
    if options.lines:
        print()
        table_of_recipes(table, others, options.lines)


if __name__ == "__main__":
    main()
