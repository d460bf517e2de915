"""Score cup and spoon weights: lines with what they weigh by published household measures.

    python reference/score_cups.py [LINES.csv] [--show]

LINES.csv has `line` and `grams`; without one the project's own list in tests/ is taken. Printed: how many are answered
and how many are within 15 %.
"""

from __future__ import annotations

import argparse
import csv
from pathlib import Path

from labeler.foods.resolve import weigh_line
from labeler.parsing.ingredient.line import read_line

LINES = Path(__file__).resolve().parents[1] / "tests" / "data" / "cup_weights.csv"
WITHIN = 0.15


def main() -> None:
    """Print the score."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("lines", type=Path, nargs="?", default=LINES)
    parser.add_argument("--show", action="store_true")
    options = parser.parse_args()
    count = answered = near = 0
    with options.lines.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(line for line in stream if not line.startswith("#")):
            weighed = weigh_line(read_line(row["line"]))
            true, found = float(row["grams"]), weighed.grams
            count, answered = count + 1, answered + (found is not None)
            good = found is not None and abs(found.best / true - 1) <= WITHIN
            near += good
            if options.show and not good:
                food = weighed.match.description[:40] if weighed.match else ""
                ends = "" if found is None else f"{found.best:.0f} ({found.low:.0f}-{found.high:.0f}) "
                told = "nothing" if found is None else f"{ends}{found.basis}"
                print(f"{row['line']:38} {true:6g}  {told[:90]} | {food}")
    print(f"{count} lines, {answered} answered, {near} within 15 % ({100 * near / count:.1f} %)")


if __name__ == "__main__":
    main()
