"""Score how names of eight kitchens are understood: right, asked about, or silently wrong.

    python reference/score_kitchens.py [NAMES.csv] [--show]

NAMES.csv has `kitchen`, `must_say` (a regular expression for the table's description) and `names` (separated by |);
without one the project's own list in tests/ is taken. A name is asked about where no food is found or the match is no
surer than what the program reports as weak.
"""

from __future__ import annotations

import argparse
import csv
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from labeler.foods.matching.match import match_food
from labeler.foods.resolve import SURE

NAMES = Path(__file__).resolve().parents[1] / "tests" / "data" / "kitchen_names.csv"


def rows(path: Path) -> Iterator[tuple[str, str, str]]:
    """Kitchen, expression and name."""
    with path.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(line for line in stream if not line.startswith("#")):
            for name in row["names"].split("|"):
                yield row["kitchen"], row["must_say"], name


def judge(must_say: str, name: str) -> str:
    """``"right"``, ``"asked"`` or ``"wrong"``."""
    found = match_food(name)
    if found.food is not None and re.search(must_say, found.description, re.IGNORECASE):
        return "right"
    return "asked" if found.food is None or found.confidence <= SURE else "wrong"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("names", type=Path, nargs="?", default=NAMES)
    parser.add_argument("--show", action="store_true")
    options = parser.parse_args()
    counts: Counter[tuple[str, str]] = Counter()
    for kitchen, must_say, name in rows(options.names):
        verdict = judge(must_say, name)
        counts[kitchen, verdict] += 1
        if options.show and verdict != "right":
            found = match_food(name)
            print(f"{verdict:6} {kitchen:18} {name:32} {found.food} {found.confidence:.2f} {found.description[:60]}")
    for kitchen in dict.fromkeys(kitchen for kitchen, _ in counts):
        total = sum(n for (other, _), n in counts.items() if other == kitchen)
        told = ", ".join(f"{100 * counts[kitchen, v] / total:.1f} % {v}" for v in ("right", "asked", "wrong"))
        print(f"{kitchen:18} {total:4} names: {told}")


if __name__ == "__main__":
    main()
