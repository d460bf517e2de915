"""Score name matching on a file of names with the foods they mean, beside a plain full-text search.

Usage::

    python reference/score_names.py NAMES.csv [--query query] [--food ndb] [--half first|second] [--misses 40]

The file has a column of names and a column of table ids (several ids for one name may stand with | between). Printed
for this program and for SQLite FTS5 (bm25, porter stemming, the words of the name joined by OR, over the same
descriptions) in the same run: how often the first answer is right, how often one of the first five is, and names per
second in one process. ``--half`` keeps the names whose SHA-256 is even (first) or odd (second), so that one half can be
looked at and the other only counted.
"""

from __future__ import annotations

import argparse
import csv
import hashlib
import re
import sqlite3
import time
from collections.abc import Callable
from pathlib import Path

from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.match import search_foods


def read(path: Path, query: str, food: str, half: str | None) -> list[tuple[str, frozenset[str]]]:
    """The names of a file with the ids that count as right."""
    pairs: dict[str, set[str]] = {}
    with path.open(encoding="utf-8-sig", newline="") as handle:
        for row in csv.DictReader(handle):
            pairs.setdefault(row[query], set()).update(part.strip().zfill(5) for part in row[food].split("|"))
    wanted = {"first": 0, "second": 1, None: None}[half]
    return [
        (name, frozenset(right))
        for name, right in pairs.items()
        if wanted is None or hashlib.sha256(name.encode()).digest()[0] % 2 == wanted
    ]


def full_text_search() -> Callable[[str], list[str]]:
    """The comparison: five ids for a name by bm25 over the descriptions."""
    table = load_table()
    base = sqlite3.connect(":memory:")
    base.execute("CREATE VIRTUAL TABLE food USING fts5(description, tokenize='porter unicode61')")
    base.executemany("INSERT INTO food(rowid, description) VALUES (?, ?)", list(enumerate(table.descriptions)))

    def search(name: str) -> list[str]:
        query = " OR ".join(f'"{word}"' for word in re.findall(r"\w+", name.lower()))
        if not query:
            return []
        rows = base.execute("SELECT rowid FROM food WHERE food MATCH ? ORDER BY bm25(food) LIMIT 5", (query,))
        return [table.ids[row] for (row,) in rows]

    return search


def ours(name: str) -> list[str]:
    """Five ids for a name by this program."""
    return [candidate.food for candidate in search_foods(name)]


def score(
    label: str, search: Callable[[str], list[str]], names: list[tuple[str, frozenset[str]]]
) -> list[tuple[str, frozenset[str], list[str]]]:
    """Print one line of results; the names whose first answer is wrong."""
    for name, _ in names[:50]:
        search(name)
    start = time.perf_counter()
    answers = [search(name) for name, _ in names]
    taken = time.perf_counter() - start
    first = sum(bool(answer) and answer[0] in right for answer, (_, right) in zip(answers, names, strict=True))
    five = sum(bool(right & set(answer)) for answer, (_, right) in zip(answers, names, strict=True))
    count = len(names)
    print(
        f"{label:>24}: first {first}/{count} = {first / count:.1%}, among five {five / count:.1%},"
        f" {count / taken:,.0f} names/s"
    )
    return [
        (name, right, answer)
        for answer, (name, right) in zip(answers, names, strict=True)
        if not answer or answer[0] not in right
    ]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("names", type=Path)
    parser.add_argument("--query", default="query", help="column of the names")
    parser.add_argument("--food", default="ndb", help="column of the table ids")
    parser.add_argument("--half", choices=["first", "second"], help="only one half, by a hash of the name")
    parser.add_argument("--misses", type=int, default=0, help="print this many names that went wrong")
    options = parser.parse_args()
    table = load_table()
    names = read(options.names, options.query, options.food, options.half)
    wrong = score("this program", ours, names)
    score("full-text search (bm25)", full_text_search(), names)
    for name, right, answer in wrong[: options.misses]:
        print(f"\n{name}")
        for food in sorted(right):
            print(f"   wanted {food} {table.describe(food) if food in table else '(not in the table)'}")
        for food in answer[:2]:
            print(f"      got {food} {table.describe(food)}")


if __name__ == "__main__":
    main()
