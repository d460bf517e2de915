"""Print how fast the program is, as ratios against something measured in the same run.

Usage::

    python reference/speed.py RECIPE [--lines LINES.txt] [--names NAMES.txt] [--recipes FOLDER]

LINES and NAMES hold one ingredient line or one food name a row, answered by whole processes, and again on one core
with nothing kept of any row; FOLDER holds recipes, of which each stage is timed in one process that has loaded its
tables. Wall-clock seconds mean little on a shared machine,
so each figure stands beside a yardstick: importing pandas for whole processes and for opening the table, and SQLite's
full-text search (FTS5, bm25, porter stemmer, words joined by OR) over the same descriptions for food names.
"""

from __future__ import annotations

import argparse
import re
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

from labeler.processes import set_up

REPEATS = 7


def best_of(
    call: Callable[[], object], repeats: int = REPEATS, *, clock: Callable[[], float] = time.perf_counter
) -> float:
    """The shortest of several runs [s]: the one that the rest of the machine disturbed least."""
    times = []
    for _ in range(repeats):
        start = clock()
        call()
        times.append(clock() - start)
    return min(times)


def process(*arguments: str) -> Callable[[], object]:
    """A call that runs a whole Python process."""
    return lambda: subprocess.run([sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL)


def full_text_rate(names: list[str]) -> float:
    """Names answered per second by SQLite FTS5 over the table's descriptions."""
    from labeler.foods.composition.food_table import load_table

    base = sqlite3.connect(":memory:")
    base.execute("CREATE VIRTUAL TABLE foods USING fts5(description, tokenize='porter')")
    base.executemany("INSERT INTO foods VALUES (?)", [(text,) for text in load_table().descriptions])
    start = time.perf_counter()
    for name in names:
        words = re.findall(r"\w+", name)
        if words:
            query = " OR ".join(f'"{word}"' for word in words)
            base.execute(
                "SELECT rowid FROM foods WHERE foods MATCH ? ORDER BY bm25(foods) LIMIT 5", (query,)
            ).fetchall()
    return len(names) / (time.perf_counter() - start)


def command_rate(command: str, rows: list[str], *options: str) -> float:
    """Rows answered per second by a whole `labeler` process."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "rows.txt"
        path.write_text("\n".join(rows) + "\n", encoding="utf-8")
        return len(rows) / best_of(process("-m", "labeler", command, *options, str(path), "--json"), 3)


def core_rate(command: str, rows: list[str], *, warm: int = 20) -> float:
    """Distinct rows answered per second of one core's time, in a process that has answered a few others before."""
    from labeler.cli import json_lines

    answers = {
        "foods": json_lines.food_answers,
        "lines": lambda some: json_lines.line_answers(some, "-"),
        "allergens": lambda some: json_lines.allergen_answers(some, "-", market="us"),
    }[command]
    spent = 0.0
    for at in range(0, len(rows), json_lines.WORTH_SHARING - 1):  # so few at a time stay in this process
        some = rows[at : at + json_lines.WORTH_SHARING - 1]
        if at == 0:
            some, first = some[warm:], some[:warm]
            list(answers(first))
        start = time.process_time()
        list(answers(some))
        spent += time.process_time() - start
    return (len(rows) - warm) / spent


def stages(folder: Path) -> Iterator[tuple[str, float]]:
    """Each stage of a recipe with its processor time [s], the mean over the recipes of a folder that can be read."""
    from labeler.allergens import assess
    from labeler.batch.run import recipes_of
    from labeler.batch.work import TAGS
    from labeler.cooking.pipeline import cook
    from labeler.foods.resolve import weigh
    from labeler.importers.read_any import read_recipe_file
    from labeler.nutrition.analysis import DRAWS, analyse
    from labeler.types import LabelerError

    files, recipes = [], []
    for path in recipes_of(folder, folder / "batch"):
        try:
            recipes.append(read_recipe_file(path))
            files.append(path)
        except LabelerError:
            continue
    weighed = [weigh(recipe) for recipe in recipes]

    def each(call: Callable[[Any], object], items: Sequence[Any]) -> float:
        return best_of(lambda: [call(item) for item in items], 3, clock=time.process_time) / len(items)

    yield "read", each(read_recipe_file, files)
    yield "weigh", each(weigh, recipes)
    yield "cook, best estimates alone", each(cook, weighed)
    yield f"cook, {DRAWS:,} draws", each(lambda one: cook(one, draws=DRAWS), weighed)
    yield "all after reading, best estimates alone", each(lambda one: analyse(one, draws=0), recipes)
    yield f"all after reading, intervals of {len(TAGS)}", each(lambda one: analyse(one, nutrients=TAGS), recipes)
    yield "allergens", each(assess, weighed)


def report(what: str, figure: str, bound: str) -> None:
    print(f"{what:<58} {figure:>18}   wanted {bound}")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("recipe", type=Path)
    parser.add_argument("--lines", type=Path)
    parser.add_argument("--names", type=Path)
    parser.add_argument("--recipes", type=Path)
    options = parser.parse_args()
    set_up()

    bare = best_of(process("-c", "pass"))
    pandas = best_of(process("-c", "import pandas"))
    nutrition = best_of(process("-m", "labeler", "nutrition", str(options.recipe)))
    table = best_of(
        process("-c", "from labeler.foods.composition.food_table import load_table as t; t().values; t().descriptions")
    )
    numpy = best_of(process("-c", "import numpy"))
    helped = best_of(process("-m", "labeler", "--help"))
    report("labeler --help / import pandas (whole processes)", f"{helped / pandas:.2f}", "<= 0.4")
    report("labeler nutrition / import pandas (whole processes)", f"{nutrition / pandas:.2f}", "<= 1.6")
    report(
        "opening the table / importing pandas (numpy's import aside)",
        f"{(table - numpy) / (pandas - bare):.2f}",
        "<= 0.25",
    )
    if options.names:
        names = options.names.read_text(encoding="utf-8").split("\n")
        names = list(dict.fromkeys(name for name in names if name.strip()))
        rate, yardstick = command_rate("foods", names), full_text_rate(names)
        report(f"labeler foods, {len(names):,} distinct names", f"{rate:,.0f} names/s", ">= 3,000 names/s")
        report("labeler foods / SQLite FTS5 bm25 on the same names", f"{rate / yardstick:.2f}", ">= 1")
        report(
            "names on one core, the start left out", f"{core_rate('foods', names):,.0f} names/s", ">= 20,000 names/s"
        )
    if options.lines:
        lines = options.lines.read_text(encoding="utf-8").split("\n")
        lines = list(dict.fromkeys(line for line in lines if line.strip()))
        rate = command_rate("lines", lines)
        report(f"labeler lines, {len(lines):,} lines", f"{rate:,.0f} lines/s", ">= 2,000 lines/s")
        rate = command_rate("allergens", lines, "--lines")
        report(f"labeler allergens --lines, {len(lines):,} lines", f"{rate:,.0f} lines/s", "as fast as lines")
        for command in ("lines", "allergens"):
            rate = core_rate(command, lines)
            report(f"{command} on one core, the start left out", f"{rate:,.0f} lines/s", ">= 10,000 lines/s")
    if options.recipes:
        for what, seconds in stages(options.recipes):
            report(f"a recipe: {what} / import pandas", f"{seconds / pandas:.4f}", "as little as may be")


if __name__ == "__main__":
    main()
