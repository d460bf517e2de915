"""Find the cooked entry of every raw food of the bundled table, and how much a cook gets of it.

    python reference/build_yields.py labeler/cooking/data/cooked_entries_sr28.csv

Reads nothing but the bundled table. Two entries are a pair when their SR28 descriptions agree in everything but state
and method ("raw" and "cooked, roasted"; cut, trim, grade, lean and skin must agree). The yield of a pair is derived by
`yield_factors.conserved_yield`; where SR28's own weight table states one ("steak (yield from 483 g raw meat)",
or the same unit for raw and cooked), it is listed beside it. Prints the fit of derived to stated yields, from which the
constants in labeler/cooking/models/yield_factors.py come.
"""

from __future__ import annotations

import csv
import re
import sys
from collections import defaultdict
from pathlib import Path

import numpy as np

from labeler.cooking.models.yield_factors import conserved_yield, conserved_yields
from labeler.foods.composition.food_table import load_table
from labeler.foods.food_class import FLESH, WATER_TAKERS, kind_of

HEADER = """\
# Raw foods of USDA SR28 (2015) with the entry of the same food cooked, and the cooked weight per raw weight.
# `derived` by conserving protein and zinc, `stated` by SR28's own weight table where it is.
# Made by reference/build_yields.py from the bundled table; SR28 is public domain (US Department of Agriculture).
"""
METHODS = {
    "roasted": "roast",
    "baked": "bake",
    "dry heat": "bake",
    "broiled": "broil",
    "grilled": "broil",
    "barbecued": "broil",
    "pan-fried": "pan-fry",
    "pan-broiled": "pan-fry",
    "pan-browned": "pan-fry",
    "fried": "pan-fry",
    "scrambled": "pan-fry",
    "braised": "braise",
    "stewed": "simmer",
    "simmered": "simmer",
    "poached": "simmer",
    "moist heat": "steam",
    "boiled": "boil",
    "hard-boiled": "boil",
    "steamed": "steam",
    "microwaved": "microwave",
    "cooked": "cooked",
    "heated": "heat",
}
STATE = re.compile(
    r"^(?:raw|cooked|unheated|unprepared|uncooked|fresh|dry|drained|with(?:out)? (?:added )?salt(?: added)?|"
    r"not breaded|may have been previously frozen|frozen|enriched|unenriched|regular|parboiled|"
    + "|".join(METHODS)
    + r")$"
)
RAW = frozenset({"raw", "unheated", "uncooked", "dry", "unprepared"})
# What must agree between the two entries of a pair, whatever else does not.
MUST_AGREE = re.compile(
    r"lean|trimmed|skin|meat only|%|choice|select|prime|grade|ground|canned|added|light|dark|low|imported|zealand|"
    r"australian|farmed|wild|giblets|neck|back|tofu|sweetened|breaded|batter|flour|coated|stuffed|juice|leaves|tops|"
    r"drumstick|thigh|breast|wing|leg|grass|patties|frozen|sirloin|ribeye|steak|roast|shoulder"
)
CUTS = frozenset({"drumstick", "thigh", "breast", "wing", "leg", "back", "neck"})
WITH_SALT = re.compile(r"with (?:added )?salt|with salt added")
STATED = re.compile(
    r"(?:from|weighing)\s+(?:1 raw \w+ weighing |raw \w+ weighing )?"
    r"(?P<raw>\d+(?:\.\d+)?(?:/\d)?)\s?(?P<unit>g|lbs?|oz)\b",
    re.IGNORECASE,
)
GRAMS = {"g": 1.0, "lb": 453.59, "lbs": 453.59, "oz": 28.35}


def tokens(description: str) -> list[str]:
    """A description as its comma-parted words in lower case, what stands in parentheses left out."""
    plain = re.sub(r"\([^)]*\)", "", description.lower()).replace("cooked simmered", "cooked, simmered")
    return [" ".join(token.split()) for token in plain.split(",")]


def core(words: list[str]) -> frozenset[str]:
    """What is left of a description without state and method."""
    left = frozenset(word for word in words if not STATE.match(word))
    return left - {"dark meat", "light meat"} if left & CUTS else left  # a named cut says which meat it is


def pairs() -> list[tuple[int, int, str]]:
    """Rows of raw and cooked entries of the same food, with the method."""
    table = load_table()
    raw: dict[str, list[tuple[int, frozenset[str]]]] = defaultdict(list)
    words = [tokens(description) for description in table.descriptions]
    for row, parts in enumerate(words):
        if RAW & set(parts):
            raw[parts[0]].append((row, core(parts)))
    found = []
    for row, parts in enumerate(words):
        method = next((METHODS[part] for part in reversed(parts) if part in METHODS), None)
        if method is None or RAW & set(parts) or WITH_SALT.search(table.descriptions[row]):
            continue
        best: tuple[int, int] | None = None
        for candidate, rest in raw[parts[0]]:
            differ = core(parts) ^ rest
            if table.group_codes[candidate] != table.group_codes[row] or any(
                MUST_AGREE.search(word) for word in differ
            ):
                continue
            if len(differ) <= 1 and (best is None or len(differ) < best[0]):
                best = (len(differ), candidate)
        if best is not None:
            found.append((best[1], row, method))
    return found


def stated_yield(raw: int, cooked: int) -> float | None:
    """Cooked per raw weight by SR28's weight table, or None where it does not say."""
    table = load_table()
    cooked_measures = table.measures(table.ids[cooked])
    for measure in cooked_measures:
        said = STATED.search(measure.text)
        if said and "refuse" not in measure.text.lower() and "ready" not in measure.text and "bone" not in measure.text:
            number = said["raw"]
            weight = float(number.split("/")[0]) / float(number.split("/")[1]) if "/" in number else float(number)
            return measure.grams / measure.amount / (weight * GRAMS[said["unit"].lower()])
    units = {
        measure.text: measure.grams / measure.amount
        for measure in table.measures(table.ids[raw])
        if "yield from" in measure.text.lower()
    }
    for measure in cooked_measures:
        if measure.text in units and units[measure.text] >= 20.0:
            return measure.grams / measure.amount / units[measure.text]
    return None


NOT_MUSCLE = re.compile(
    r"variety meats|giblets|skin only|separable fat|(?:neck|back), meat only|liver|heart|gizzard|brain|kidney|tongue",
    re.I,
)


def report(rows: list[tuple[int, int, str, float | None]]) -> None:
    """Print how derived yields stand to stated ones: the raw ratios, the fitted weight and bias, and the spread."""
    table = load_table()
    used = []
    for raw, cooked, _, stated in rows:
        if stated is None or kind_of(table.ids[raw]) not in FLESH or NOT_MUSCLE.search(table.descriptions[cooked]):
            continue
        protein, zinc = conserved_yields(table.ids[raw], table.ids[cooked])
        red = int(table.group_codes[raw]) in (1000, 1300)
        used.append((protein, zinc, stated, red))
    protein, zinc, stated, red = (np.array(column) for column in zip(*used, strict=True))
    print(f"{len(stated)} pairs of muscle meat with a stated yield")
    target = np.log(stated / protein)
    design = np.column_stack([red, ~red, np.log(zinc / protein)]).astype(float)
    weights = np.ones(len(target))
    for _ in range(50):  # Huber weights: a few stated yields are of another trim than the pair
        root = np.sqrt(weights)[:, None]
        fit = np.linalg.lstsq(design * root, target * root[:, 0], rcond=None)[0]
        rest = np.abs(target - design @ fit)
        weights = np.minimum(1.0, 1.5 * 1.4826 * np.median(rest) / np.maximum(rest, 1e-9))
    print(f"ln bias: beef and pork {fit[0]:+.3f}, other {fit[1]:+.3f}; weight of zinc {fit[2]:.2f}")
    error = np.log(stated) - np.log(protein) - design @ fit
    print(f"95 % of |ln error| below {np.quantile(np.abs(error), 0.95):.3f}, standard deviation {error.std():.3f}")


def main() -> int:
    """Write the table and print the fit."""
    if len(sys.argv) != 2:
        print(__doc__)
        return 2
    table = load_table()
    rows = []
    for raw, cooked, method in pairs():
        kind = kind_of(table.ids[raw])
        if kind in FLESH or kind in WATER_TAKERS or kind in ("egg", "flour"):
            rows.append((raw, cooked, method, stated_yield(raw, cooked)))
    report(rows)
    with Path(sys.argv[1]).open("w", encoding="utf-8", newline="") as stream:
        stream.write(HEADER)
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(["kind", "raw", "cooked", "method", "derived", "low", "high", "stated"])
        for raw, cooked, method, stated in sorted(rows):
            derived = conserved_yield(table.ids[raw], table.ids[cooked])
            if derived is None:
                continue
            figures = [f"{value:.3f}" for value in (derived.best, derived.low, derived.high)]
            ids = [kind_of(table.ids[raw]), table.ids[raw], table.ids[cooked], method]
            writer.writerow([*ids, *figures, f"{stated:.3f}" if stated else ""])
    print(f"{len(rows)} pairs")
    return 0


if __name__ == "__main__":
    sys.exit(main())
