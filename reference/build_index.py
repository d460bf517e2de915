"""Build the search index over the bundled table's food names, with the lexicon of kitchen names in normal form.

Usage::

    python reference/build_index.py

Run it after any change of the bundled table, of ``labeler/foods/matching/name_words.py`` or of the ``food_*.csv``
files. The output is one compressed NumPy archive: the words, for each word the foods that carry it with the place in
the description (0 first part, 1 second, 2 later, 3 another name of the food) and what the word costs a food that
carries it unasked [hundredths], the weight of each word (its inverse document frequency, hundredths), what each food
starts from, what all its words cost it together [both hundredths] and the lexicon's keys. Same inputs, same bytes.
"""

from __future__ import annotations

import argparse
import csv
import math
import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from archive import write

from labeler.foods.composition.food_table import FoodTable, load_table
from labeler.foods.matching.name_words import words
from labeler.foods.matching.search import INDEX_FILE, PRIOR
from labeler.foods.matching.synonyms import LEXICON_FILE, keys_of, read_lexicon
from labeler.text.plurals import singular

COSTS_FILE = LEXICON_FILE.with_name("food_word_costs.csv")

# SR28 opens these descriptions with the kind of thing; the thing itself is the second part.
KIND_FIRST = frozenset(
    "spice nut seed fish crustacean mollusk beverage candy snack cereal oil sauce soup sweetener syrup sugar leavening"
    " agent cheese game meat alcoholic sausage topping frosting dessert gravy fat".split()
)
DEFAULT_COST = {0: 1.0, 1: 1.05, 2: 0.4, 3: 0.0}
BRAND_COST = 1.0
MAKER_COST = 0.4
GROUP_COST = {300: 1.7, 2100: 1.1, 3600: 0.8, 3500: 0.6, 2200: 0.2, 2500: 0.2, 800: 0.2}
_BRAND = re.compile(r"\b(?:[A-Z]['A-Z&\-]{2,}|Mc[A-Z]+)\b")
_LISTS = re.compile("USDA|URMIS|NFSMI|IMPS")  # buyers' lists and their numbers, not names
_NOT_BRANDS = frozenset({"BBQ", "NFS", "RTE", "USDA", "DHA", "ARA", "URMIS", "NFSMI"})


def read_costs() -> dict[str, float]:
    """Cost of each word listed in the costs file."""
    costs: dict[str, float] = {}
    with COSTS_FILE.open(encoding="utf-8", newline="") as handle:
        for row in csv.DictReader(line for line in handle if not line.startswith("#")):
            for word in row["words"].split("|"):
                costs[singular(word)] = float(row["cost"])
    return costs


def parts(description: str) -> list[str]:
    """A description by its commas and brackets; text in brackets stays with the rest as its own part."""
    return [part for part in re.split(r"[,()]", description) if part.strip()]


def placed_words(description: str, other_name: str) -> Iterator[tuple[str, int]]:
    """Each plain word of a food with its place, the best place first."""
    segments = [words(part) for part in parts(description)]
    segments = [segment for segment in segments if segment]
    first = 0
    if len(segments) > 1 and all(word in KIND_FIRST for word in segments[0]):
        first = 1
    for at, segment in enumerate(segments):
        place = 0 if at <= first else min(at - first, 2)
        for word in segment:
            yield word, place
    if not _LISTS.search(other_name):
        for word in words(other_name):
            yield word, 3


def text(value: str) -> np.ndarray:
    """A text as a block of its UTF-8 bytes."""
    return np.frombuffer(value.encode(), dtype=np.uint8)


def build(table: FoodTable) -> dict[str, np.ndarray]:
    """Every member of the index, by name."""
    costs = read_costs()
    postings: dict[str, list[tuple[int, int, float]]] = {}
    still: list[float] = []
    burden: list[float] = []
    for row, description in enumerate(table.descriptions):
        if table.ids[row].startswith("7"):  # foods that the table lacks are found by their names in the lexicon alone
            still.append(0.0)
            burden.append(0.0)
            continue
        brands = {word for found in _BRAND.findall(description) if found not in _NOT_BRANDS for word in words(found)}
        best: dict[str, int] = {}
        for word, place in placed_words(description, table.common_names[row]):
            best[word] = min(place, best.get(word, 9))
        paid = 0.0
        for word, place in best.items():
            cost = 0.0 if place == 3 else costs.get(word, DEFAULT_COST[place])
            if word in brands:
                cost = max(cost, BRAND_COST)
            paid += cost
            postings.setdefault(word, []).append((row, place, cost))
        maker = MAKER_COST if table.manufacturers[row] or brands else 0.0
        group = GROUP_COST.get(int(table.group_codes[row]), 0.0)
        still.append(PRIOR * math.log1p(int(table.survey_uses[row])) - maker - group)
        burden.append(paid)
    ordered = sorted(postings)
    starts = np.cumsum([0] + [len(postings[word]) for word in ordered])
    flat = [posting for word in ordered for posting in postings[word]]
    total = len(table)
    weights = [math.log(1 + total / len(postings[word])) for word in ordered]
    lexicon = read_lexicon()
    keys = {"\t".join(keys_of(name)): number for number, entry in enumerate(lexicon) for name in entry.names}
    # Names that hold an "and" are kept once more, so that "oil and butter" is not taken for butter oil.
    joined = (name for entry in lexicon for name in entry.names if re.search(r"\b(?:and|n)\b|&", name))
    keys |= {f"&{keys_of(name)[0]}\t": -1 for name in joined}
    entries = [f"{entry.food}\t{entry.confidence:g}\t{entry.note}\t{' '.join(entry.also)}" for entry in lexicon]
    return {
        "words": text("\n".join(ordered)),
        "starts": starts.astype(np.int32),
        "rows": np.array([row for row, _, _ in flat], dtype=np.int16),
        "places": np.array([place for _, place, _ in flat], dtype=np.uint8),
        "costs": np.array([round(cost * 100) for _, _, cost in flat], dtype=np.int16),
        "weights": np.array([round(weight * 100) for weight in weights], dtype=np.int16),
        "still": np.array([round(value * 100) for value in still], dtype=np.int16),
        "burden": np.array([round(value * 100) for value in burden], dtype=np.int16),
        "lexicon_keys": text("\n".join(f"{key}\t{number}" for key, number in keys.items())),
        "lexicon_entries": text("\n".join(entries)),
    }


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("-o", "--output", type=Path, default=INDEX_FILE)
    options = parser.parse_args()
    members = build(load_table())
    write(members, options.output)
    print(f"{options.output}: {options.output.stat().st_size:,} bytes, {members['rows'].size:,} postings")


if __name__ == "__main__":
    main()
