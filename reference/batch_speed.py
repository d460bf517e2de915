"""Times a batch of invented recipes on one process and on two, and prints the ratio and the memory of the main process.

    python reference/batch_speed.py 1000

Recipes differ in their amounts and foods, so that nothing is answered from memory alone.
"""

from __future__ import annotations

import resource
import sys
import tempfile
import time
from pathlib import Path

from labeler.batch.journal import JOURNAL, Journal
from labeler.batch.run import recipes_of, run

FOODS = "flour,butter,sugar,eggs,milk,onions,carrots,rice,lentils,olive oil,salt,chicken thighs,tomatoes,cream".split(
    ","
)


def write_recipes(folder: Path, count: int) -> None:
    """Write so many recipes of six ingredients and two steps."""
    for number in range(count):
        rows = [
            f"- {50 + (number * 7 + place * 31) % 400} g {FOODS[(number + place * 3) % len(FOODS)]}"
            for place in range(6)
        ]
        text = f"---\ntitle: Dish {number}\nmakes: {2 + number % 9} boxes\n---\n" + "\n".join(rows)
        (folder / f"dish-{number:05}.md").write_text(
            text + "\n> simmer 20 minutes\n> leave to cool\n", encoding="utf-8"
        )


def main() -> None:
    """Run it on one process and on two."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "recipes"
        folder.mkdir()
        write_recipes(folder, count)
        seconds = {}
        for workers in (1, 2):
            journal = Journal(Path(place) / f"out-{workers}" / JOURNAL)
            begun = time.perf_counter()
            run(folder, journal, recipes_of(folder, Path(place) / "none"), workers=workers)
            seconds[workers] = time.perf_counter() - begun
            journal.close()
            peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
            each = seconds[workers] / count * 1000
            print(f"{workers} process: {seconds[workers]:.1f} s, {each:.0f} ms a recipe, {peak:.0f} MiB")
        print(f"two over one: {seconds[1] / seconds[2]:.2f}")


if __name__ == "__main__":
    main()
