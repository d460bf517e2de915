"""How near the weights of cups and spoons come to those that a survey of foods published.

Usage: python reference/score_volumes.py PORTIONS.csv NAMES.csv [--misses N]

PORTIONS has columns food_code, description, portion_description and portion_weight_g; NAMES gives each fndds_code the
table id (ndb) that the survey's compilers chose for it. Only portions of a plain volume of a food that is one table
entry are scored; what the portion says behind its unit is the preparation. A survey portion is an estimate too.
"""

from __future__ import annotations

import argparse
import csv
import re
from collections.abc import Iterator

from labeler.foods.composition.food_table import load_table
from labeler.foods.weights.line_weight import grams
from labeler.parsing.model import Amount, Line

_PORTION = re.compile(r"(\d+/\d+|\d+(?:\.\d+)?) (cup|fl oz|tablespoon|teaspoon|quart)\b[,\s]*(.*)")
# Portions that count something else than the food as it stands in the measure.
_OTHER = re.compile(r"yield|with ice|no ice|NFS|NS as|reconstituted|equivalent|prepared")
_UNITS = {"fl oz": "fluid_ounce"}


def portions(portions_path: str, names_path: str) -> Iterator[tuple[Line, str, float]]:
    """Each scored portion as a line, its table id and its published grams."""
    with open(names_path, encoding="utf-8", newline="") as handle:
        ids = {row["fndds_code"]: row["ndb"] for row in csv.DictReader(handle) if row["kind"] == "main"}
    table = load_table()
    with open(portions_path, encoding="utf-8", newline="") as handle:
        for row in csv.DictReader(handle):
            found = _PORTION.match(row["portion_description"])
            food = ids.get(row["food_code"])
            if not found or not food or food not in table or _OTHER.search(row["portion_description"]):
                continue
            above, _, below = found[1].partition("/")
            amount = float(above) / float(below or 1)
            line = Line(
                text=f"{row['portion_description']} {row['description']}",
                amounts=(Amount(amount, amount, _UNITS.get(found[2], found[2])),),
                name=row["description"],
                preparation=found[3],
            )
            yield line, food, float(row["portion_weight_g"])


def main() -> None:
    """Print the shares within 5, 10 and 20 %, the share inside the interval, and the worst misses."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("portions")
    parser.add_argument("names")
    parser.add_argument("--misses", type=int, default=20)
    arguments = parser.parse_args()
    rows = []
    inside = 0
    for line, food, published in portions(arguments.portions, arguments.names):
        weight, problems = grams(line, food)
        if weight is None:
            continue
        inside += weight.low <= published <= weight.high
        rows.append((weight.best / published - 1, line.text, food, published, weight, problems))
    print(f"{len(rows)} portions")
    for bound in (0.05, 0.10, 0.20):
        print(f"within {bound:.0%}: {sum(abs(row[0]) <= bound for row in rows) / len(rows):.1%}")
    print(f"inside the interval: {inside / len(rows):.1%}")
    rows.sort(key=lambda row: -abs(row[0]))
    for off, text, food, published, weight, _ in rows[: arguments.misses]:
        print(f"{off:+.0%} {text} | {food} | {published:g} | {weight.best:.1f} | {weight.basis}")


if __name__ == "__main__":
    main()
