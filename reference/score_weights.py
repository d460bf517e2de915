"""How near weights from cups and counts come to the weights that the same recipe lines give beside them.

Usage: python reference/score_weights.py LINES.csv COLUMN [--misses N]

Many lines say their amount twice, "2 cups/250 grams flour", "1 large onion (about 10 ounces)". The weight is taken
away, the line is weighed by what is left, and the two are compared: the cook's weight is the better one. A weight
beside a count is as bought, so what is not eaten comes off it first.
"""

from __future__ import annotations

import argparse
import csv
from dataclasses import replace

from labeler.foods.resolve import weigh_line
from labeler.foods.weights.line_weight import grams
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.model import Amount, Line
from labeler.parsing.units import grams_per, kind


def says_both(line: Line, heavy: list[Amount], light: list[Amount]) -> bool:
    """True for a line that gives one weight and the same amount in cups or pieces."""
    added = any(other.role == "plus" for other in line.amounts)
    return len(heavy) == 1 and heavy[0].role != "each" and bool(light) and not added


def main() -> None:
    """Print the shares within 10, 20 and 30 % for volumes and for counts, the share inside the interval, and misses."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("lines")
    parser.add_argument("column")
    parser.add_argument("--misses", type=int, default=20)
    arguments = parser.parse_args()
    found: dict[str, list[tuple[float, bool, str]]] = {"volume": [], "count": []}
    with open(arguments.lines, encoding="utf-8", newline="") as handle:
        texts = list(dict.fromkeys(row[arguments.column] for row in csv.DictReader(handle)))
    for text in texts:
        line = read_line(text)
        heavy = [amount for amount in line.amounts if grams_per(amount.unit)]
        light = [amount for amount in line.amounts if not grams_per(amount.unit)]
        if not says_both(line, heavy, light):
            continue
        food = weigh_line(line).match
        if food is None or food.food is None or food.confidence < 0.8:
            continue
        first = replace(light[0], role="main")
        way = kind(first.unit)
        if way not in found:
            continue
        told, _ = grams(replace(line, amounts=(replace(heavy[0], role="main"),)), food.food)
        taken, _ = grams(replace(line, amounts=(first,)), food.food)
        if told is None or taken is None or not told.best:
            continue
        truth = told.best if way == "count" else (heavy[0].low + heavy[0].high) / 2 * (grams_per(heavy[0].unit) or 0)
        inside = taken.low * 0.97 <= truth <= taken.high * 1.03
        found[way].append(
            (taken.best / truth - 1, inside, f"{text.strip()[:90]} | {truth:.0f} | {taken.best:.0f} | {taken.basis}")
        )
    show(found, misses=arguments.misses)


def show(found: dict[str, list[tuple[float, bool, str]]], *, misses: int) -> None:
    """Print the shares and the worst misses."""
    for way, rows in found.items():
        if not rows:
            continue
        print(f"{way}: {len(rows)} lines")
        for bound in (0.1, 0.2, 0.3):
            print(f"  within {bound:.0%}: {sum(abs(row[0]) <= bound for row in rows) / len(rows):.1%}")
        print(f"  inside the interval: {sum(row[1] for row in rows) / len(rows):.1%}")
        for off, _, words in sorted(rows, key=lambda row: -abs(row[0]))[:misses]:
            print(f"  {off:+.0%} {words}")


if __name__ == "__main__":
    main()
