"""Do the 95 % intervals hold what they promise? Two checks against values that nobody here made.

    python reference/check_intervals.py survey FOODS.csv INGREDIENTS.csv [--foods 400] [--seed 1] [--pin]
    python reference/check_intervals.py twins

``survey``: composite foods of the US survey (FNDDS 2015-16, public domain), whose ingredients USDA gives in grams, are
written as a vague cook would: each ingredient by the head of its name alone ("mushrooms", "cheddar cheese", "cooked
white rice"), its grams as the nearest usual fraction of a cup, spoon or piece, and the finished weight. The recipe goes
through the whole program, and its interval per 100 g is held against the value that USDA publishes for the food. Foods
with an ingredient that no kitchen has under a plain name (baby food, fast food, meals) are left out, and so are figures
that the program itself calls lower bounds. With ``--pin`` the foods are pinned and only the amounts are vague; USDA's
composition is then the table's own, so that more than 98 % may be covered.

``twins``: entries of SR28 that are one description by two makers. One of them, pinned, is the recipe; its interval is
held against the value of the other. The spread between products is estimated without the sets that are checked.

A value is covered when it lies in the interval, give or take half a unit of its last printed digit. A calibrated 95 %
interval covers 90 to 98 % of them: fewer and it promises too much, more and it frightens for nothing.
"""

from __future__ import annotations

import argparse
import csv
import itertools
import random
import re
import sys
import tempfile
from collections import Counter, defaultdict
from dataclasses import dataclass, field
from pathlib import Path

import build_spread
import numpy as np

from labeler.foods.composition.food_table import load_table
from labeler.nutrition.analysis import Figure, Nutrition, analyse
from labeler.parsing import read_recipe
from labeler.uncertainty import composition_error as composition

KEYS = {"ENERC_KCAL": 208, "FAT": 204, "PROCNT": 203, "NA": 307, "CHOCDF": 205, "SUGAR": 269, "CA": 301, "K": 306}
MUST = ("ENERC_KCAL", "FAT", "PROCNT", "NA")
BATCH_G = 1200.0
STATES = (
    "cooked",
    "rotisserie",
    "canned",
    "dried",
    "dry",
    "dehydrated",
    "frozen",
    "smoked",
    "pickled",
    "sprouted",
    "light",
)
# Ingredients that no kitchen has under a plain name: baby foods, fast foods, meals, restaurant dishes.
NOT_IN_A_KITCHEN = frozenset({300, 2100, 2200, 3600})
# Segments that say nothing in a kitchen.
TRADE = (
    "broilers or fryers",
    "broiler or fryers",
    "broiler",
    "fresh",
    "cured",
    "all classes",
    "variety meats and by-products",
)
# Heads that only sort the table and that nobody says.
UNSAID = (
    *("Spices", "Beverages", "Alcoholic beverage", "Salad dressing", "Tomato products", "Leavening agents", "Nuts"),
    *("Seeds", "Fish", "Crustaceans", "Mollusks", "Cereals", "Candies", "Snacks"),
)
# Segments behind them that name no food either.
NO_NAMES = ("carbonated", "distilled", "all", "ready-to-eat", "ready-to-drink")
# A head that so many foods share names a category and says nothing alone: the segment behind it goes before it.
SHARED = 25
FRACTIONS = (0.125, 0.25, 1 / 3, 0.5, 2 / 3, 0.75, 1, 1.25, 1.5, 1.75, 2, 2.5, 3, 3.5, 4, 5, 6, 7, 8, 9, 10, 12)
WRITTEN = {0.125: "1/8", 0.25: "1/4", 1 / 3: "1/3", 0.5: "1/2", 2 / 3: "2/3", 0.75: "3/4"}
UNITS = re.compile(r"^(cup|tbsp|tsp|slice|clove|stalk|stick|large|medium|small)\b")
SIZES = ("large", "medium", "small")


@dataclass
class Tally:
    """How often one nutrient was covered, and how wide the intervals were."""

    covered: int = 0
    below: int = 0
    above: int = 0
    widths: list[float] = field(default_factory=list)

    @property
    def count(self) -> int:
        """How many values were held against an interval."""
        return self.covered + self.below + self.above

    @property
    def share(self) -> float:
        """Share of the values that were covered."""
        return self.covered / max(self.count, 1)

    def add(self, figure: Figure, value: float, digit: float) -> str:
        """Hold a value against an interval; says on which side it lies."""
        if value > 20 * digit:
            self.widths.append((figure.high - figure.low) / 2 / value)
        if value < figure.low - digit / 2 * 1.0001:
            self.below += 1
            return "below"
        if value > figure.high + digit / 2 * 1.0001:
            self.above += 1
            return "above"
        self.covered += 1
        return ""


def vague_name(food: str, heads: Counter[str]) -> str:
    """The head of a description, with the word that makes it a food of its own and its state, in lower case.

    "Cheese, cheddar" is cheddar cheese, "Spices, pepper, black" pepper, "Mushrooms, white, raw" mushrooms, and
    "Chicken, broiler, rotisserie, BBQ, thigh, meat only" roasted chicken meat.
    """
    description = re.sub(r"\([^)]*\)", "", load_table().describe(food))
    segments = [segment.strip() for segment in description.split(",") if segment.strip()]
    name, *rest = [segment for segment in segments if segment not in TRADE]
    if name in UNSAID and rest:
        # "Tomato products, canned, puree" is tomato puree: a word of state alone names nothing.
        named = [segment for segment in rest if segment.lower() not in (*STATES, *NO_NAMES)]
        sort = "tomato " if name.startswith("Tomato") else ""
        name = f"{sort}{named[0]}" if named else f"{rest[0]} {name}"
    elif rest and (heads[name] > SHARED or len(segments) == 2):
        name = f"{rest[0]} {name}"
    states = [word for word in STATES if re.search(rf"\b{word}\b", description, re.I) and word not in name.lower()]
    said = " ".join([*states[:1], name, *(["meat"] if "meat only" in segments else [])]).lower()
    return said.replace("rotisserie", "roasted").replace("-like", "")


def household(food: str, grams: float) -> tuple[str, str]:
    """An amount as the nearest usual fraction of a measure of the food, and the form that the measure is of.

    Of the measures that the table has, the first of the largest unit that is not less than a fraction of one; grams
    in steps of 1, 5 or 10 where it has none.
    """
    best: tuple[float, str, str] | None = None
    for measure in load_table().measures(food):
        unit = UNITS.match(measure.text)
        if unit is None or measure.grams <= 0:
            continue
        count = grams / (measure.grams / measure.amount)
        low = {"cup": 0.23, "tbsp": 0.9, "tsp": 0.12}.get(unit[1], 0.6)
        if low <= count <= 12.5 and (best is None or (unit[1] != best[1] and count < best[0])):
            form = re.match(r"cup,? ([a-z]+)", measure.text)
            best = count, unit[1], form[1] if form else ""
    if best is None:
        step = 1.0 if grams < 10 else 5.0 if grams < 100 else 10.0
        return f"{max(step, round(grams / step) * step):g} g", ""
    count = min(FRACTIONS, key=lambda fraction: abs(np.log(fraction / best[0])))
    whole, part = int(count), count - int(count)
    nearest = next((text for value, text in WRITTEN.items() if abs(value - part) < 1e-6), "")
    written = " ".join(piece for piece in (str(whole) if whole else "", nearest) if piece)
    unit = best[1]
    return (f"{written} {unit}" if unit in SIZES or count <= 1 else f"{written} {unit}s"), best[2]


def survey(foods: Path, ingredients: Path, *, count: int, seed: int, pin: bool, show: int) -> dict[str, Tally]:
    """Coverage over a random sample of survey foods; prints the first `show` values that are not covered."""
    table = load_table()
    heads = Counter(description.split(",")[0].strip() for description in table.descriptions)
    lines: dict[str, list[tuple[str, float]]] = defaultdict(list)
    with ingredients.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            lines[row["food_code"]].append((row["base_code"].zfill(5), float(row["g_per_100g_final"])))
    with foods.open(encoding="utf-8", newline="") as stream:
        rows = [row for row in csv.DictReader(stream) if from_a_kitchen([food for food, _ in lines[row["food_code"]]])]
    random.Random(seed).shuffle(rows)
    tallies = {key: Tally() for key in KEYS}
    for row in rows[:count]:
        text = recipe_text(lines[row["food_code"]], heads, pin=pin)
        found = analyse(read_recipe(text))
        for key, number in KEYS.items():
            if row[str(number)] and not found.per_100g[key].lower_bound:
                published = float(row[str(number)])
                side = tallies[key].add(found.per_100g[key], published, digit(key))
                if side and key in MUST and show > 0:
                    show -= 1
                    report_miss(row["description"], key, published, found)
    return tallies


def from_a_kitchen(foods: list[str]) -> bool:
    """Whether a survey food has two ingredients or more, all of which a kitchen has."""
    table = load_table()
    groups = {int(table.group_codes[table.position[food]]) for food in foods}
    return len(set(foods)) > 1 and not groups & NOT_IN_A_KITCHEN


def recipe_text(parts: list[tuple[str, float]], heads: Counter[str], *, pin: bool = False) -> str:
    """A survey food as a vague cook would write it; with `pin` every food is said by its id."""
    grams: dict[str, float] = defaultdict(float)
    for food, per_100g in parts:
        grams[food] += per_100g * BATCH_G / 100.0
    written = []
    for food, amount in grams.items():
        if amount > 0:
            measure, form = household(food, amount)
            pinned = f" {{food {food}}}" if pin else ""
            written.append(f"- {measure} {vague_name(food, heads)}{', ' + form if form else ''}{pinned}")
    return "---\nserves: 4\n---\n" + "\n".join(written) + f"\n> weighs {BATCH_G:g} g\n"


def report_miss(description: str, key: str, published: float, found: Nutrition) -> None:
    """Print one value that is not covered, and what the lines were taken for."""
    figure = found.per_100g[key]
    print(f"{description}: {key} {published:g} not in {figure.low:.1f} to {figure.high:.1f} ({figure.best:.1f})")
    for _, line in found.lines:
        taken = line.match.description[:50] if line.match else ""
        print(f"    {line.line.text} -> {taken} {line.grams.best if line.grams else 0:.0f} g")


def twins() -> dict[str, Tally]:
    """Coverage of one maker's product by the interval of another's, over all pairs of neighbours in every set of twins.

    The spreads are estimated twice, each time from every second set, and checked on the sets that were left out.
    """
    table = load_table()
    sets = build_spread.twin_sets(table)
    tallies = {key: Tally() for key in KEYS}
    with tempfile.TemporaryDirectory() as folder:
        for half in (0, 1):
            file = Path(folder) / f"{half}.npy"
            np.save(file, build_spread.food_deviations(build_spread.build(sets[1 - half :: 2])))
            composition.SPREAD_FILE = file
            composition._deviations.cache_clear()
            composition.food_spread.cache_clear()
            for rows in sets[half::2]:
                for one, two in itertools.pairwise([*rows, rows[0]] if len(rows) > 2 else rows):
                    hold_twin(table.ids[one], table.ids[two], tallies)
    return tallies


def hold_twin(one: str, two: str, tallies: dict[str, Tally]) -> None:
    """Hold the interval of 100 g of one food against the values of another, where both are known and differ."""
    table = load_table()
    known = {key: table.value(two, key) for key in KEYS}
    if all(table.value(one, key) == value for key, value in known.items()):
        return  # one entry copied from the other says nothing
    found = analyse(read_recipe(f"---\nserves: 1\n---\n- 100 g food {{food {one}, 100 g}}\n"))
    for key, value in known.items():
        if np.isfinite(value) and not found.per_100g[key].lower_bound:
            tallies[key].add(found.per_100g[key], value, digit(key))


def digit(key: str) -> float:
    """One unit of the last digit that the table prints of a nutrient."""
    table = load_table()
    return float(10.0 ** -table.nutrients[table.column[key]].decimals)


def markdown(tallies: dict[str, Tally]) -> str:
    """The result as a table."""
    rows = [
        "| nutrient | values | covered | too low an interval | too high | median half-width |",
        "|---|---|---|---|---|---|",
    ]
    for key, tally in tallies.items():
        width = f"{np.median(tally.widths):.0%}" if tally.widths else ""
        share = f"{tally.share:.1%}" if tally.count else ""
        rows.append(f"| {key} | {tally.count} | {share} | {tally.above} | {tally.below} | {width} |")
    return "\n".join(rows)


def main() -> int:
    """Run one check; status 1 where a nutrient that must be covered 90 to 98 % of the time is not."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    kinds = parser.add_subparsers(dest="kind", required=True)
    one = kinds.add_parser("survey")
    one.add_argument("foods", type=Path)
    one.add_argument("ingredients", type=Path)
    one.add_argument("--foods", dest="count", type=int, default=400)
    one.add_argument("--seed", type=int, default=1)
    one.add_argument("--pin", action="store_true", help="pin the foods, so that only the amounts are vague")
    one.add_argument("--show", type=int, default=0, help="print so many values that are not covered")
    kinds.add_parser("twins")
    options = parser.parse_args()
    if options.kind == "twins":
        tallies = twins()
    else:
        tallies = survey(
            options.foods,
            options.ingredients,
            count=options.count,
            seed=options.seed,
            pin=options.pin,
            show=options.show,
        )
    print(markdown(tallies))
    most = 1.0 if options.kind == "survey" and options.pin else 0.98
    return 0 if all(0.90 <= tallies[key].share <= most for key in MUST) else 1


if __name__ == "__main__":
    sys.exit(main())
