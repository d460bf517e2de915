"""Set the allergen room against a published taxonomy of ingredients, and list every difference with who is right.

    python reference/allergens_published.py FILE [--suspected FILE] [--page reference/allergens_published.md]

FILE is a CSV with the columns `canonical_name_en` and `allergens` (classes of Reg. (EU) 1169/2011 Annex II, joined
with `|`): an open taxonomy of 2022 under the Open Database License. `--suspected` is a CSV of rows that look wrong
to its keepers (`canonical_name_en`, `taxonomy_says`). Prints recall and the share of names that the taxonomy gives
no allergen and we do, before and after the differences in which we hold the taxonomy to be wrong; writes the page.
"""

from __future__ import annotations

import argparse
import csv
import re
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from labeler.allergens import EVERY_MARKET, assess_name
from labeler.allergens.vocabulary import load_vocabulary

VERDICTS = Path(__file__).with_name("allergens_verdicts.csv")
CLASSES = {
    "gluten": {"wheat", "rye", "barley", "oats", "triticale"},
    "nuts": {"almond", "brazil_nut", "cashew", "hazelnut", "macadamia", "pecan", "pine_nut", "pistachio", "walnut",
             "tree_nuts"},
    "milk": {"milk"}, "eggs": {"egg"}, "fish": {"fish"}, "crustaceans": {"crustaceans"}, "molluscs": {"molluscs"},
    "peanuts": {"peanut"}, "soybeans": {"soybean"}, "sesame seeds": {"sesame"}, "mustard": {"mustard"},
    "celery": {"celery"}, "lupin": {"lupin"},
}  # fmt: skip


@dataclass(frozen=True)
class Difference:
    """One allergen of one name on which we and the taxonomy differ, and who is right."""

    name: str
    allergen: str
    side: str
    asked: bool
    right: str
    why: str


@dataclass(frozen=True)
class Score:
    """Counts over a file: allergens given and found, names without any and those for which we found one."""

    names: int
    given: int
    found: int
    without: int
    added: int
    differences: tuple[Difference, ...]

    @property
    def recall(self) -> float:
        """Share of the taxonomy's allergens found, those left out that we hold to be wrong."""
        wrong = sum(d.side == "missed" and d.right != "taxonomy" for d in self.differences)
        return self.found / (self.given - wrong)

    @property
    def false(self) -> float:
        """Share of names without allergen in the taxonomy to which we give one wrongly."""
        wrong = {d.name for d in self.differences if d.side == "added" and d.right not in ("ours", "open")}
        return len(wrong) / self.without


def verdicts() -> list[tuple[str, str, re.Pattern[str], str, str]]:
    """The verdict table: side, class, pattern of names, who is right, why."""
    with VERDICTS.open(encoding="utf-8", newline="") as file:
        table = csv.DictReader(line for line in file if not line.startswith("#"))
        return [(r["side"], r["allergen"], re.compile(r["name"], re.IGNORECASE), r["right"], r["why"]) for r in table]


def judge(
    side: str, allergen: str, name: str, table: list[tuple[str, str, re.Pattern[str], str, str]]
) -> tuple[str, str]:
    """Who is right and why; "taxonomy" with no reason where the table is silent, so that nothing is excused unseen."""
    for row_side, row_allergen, pattern, right, why in table:
        if (row_side, row_allergen) == (side, allergen) and pattern.search(name):
            return right, why
    return "taxonomy", "no verdict: taken as our fault"


def read(path: Path) -> Iterator[tuple[str, set[str]]]:
    """Names with the classes that the file gives them."""
    with path.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            yield row["canonical_name_en"], set(filter(None, row["allergens"].split("|")))


def score(path: Path) -> Score:
    """Every name of the file assessed for eu and set against its classes."""
    table = verdicts()
    names = given = found = without = added = 0
    differences: dict[tuple[str, str, str], Difference] = {}
    for name, classes in read(path):
        assessment = assess_name(name, market=EVERY_MARKET)
        ours = {kind for kind, ids in CLASSES.items() if ids & assessment.allergens}
        asked = {kind for kind, ids in CLASSES.items() if ids & assessment.possible}
        names += 1
        given += len(classes)
        found += len(classes & ours)
        if not classes:
            without += 1
            added += bool(ours)
        for side, kinds in (("missed", classes - ours), ("added", ours - classes)):
            for kind in sorted(kinds):
                right, why = judge(side, kind, name, table)
                differences[name, kind, side] = Difference(name, kind, side, kind in asked, right, why)
    return Score(names, given, found, without, added, tuple(differences.values()))


def page(result: Score) -> str:
    """The differences as a page in Markdown."""
    lines = [
        "# Where we and a published taxonomy differ",
        "",
        "Made by `allergens_published.py` from an open ingredient taxonomy of 2022 (Open Database License) and the",
        "verdicts of `allergens_verdicts.csv`. *missed*: the taxonomy gives the allergen and we do not; *added*: the",
        "other way round. Classes are those of Reg. (EU) 1169/2011 Annex II. A difference without a verdict counts as",
        "our fault; *open* means that the name alone does not settle it.",
        "",
        "| | |",
        "|---|---|",
        f"| names | {result.names} |",
        f"| allergens that the taxonomy gives | {result.given} |",
        f"| of them found | {result.found} ({result.found / result.given:.1%}) |",
        f"| of them found, wrong ones left out | {result.recall:.1%} |",
        f"| names to which the taxonomy gives none | {result.without} |",
        f"| of them, names to which we give one | {result.added} ({result.added / result.without:.1%}) |",
        f"| of them wrongly, by the verdicts | {result.false:.1%} |",
        "",
    ]
    for side in ("missed", "added"):
        lines += [f"## {side.capitalize()}", "", "| name | allergen | right | why |", "|---|---|---|---|"]
        chosen = sorted((d for d in result.differences if d.side == side), key=lambda d: (d.allergen, d.name.lower()))
        for d in chosen:
            asked = " (the package is asked)" if d.asked else ""
            lines.append(f"| {d.name} | {d.allergen} | {d.right} | {d.why}{asked} |")
        lines.append("")
    return "\n".join(lines)


def main() -> None:
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("file", type=Path)
    parser.add_argument("--suspected", type=Path)
    parser.add_argument("--page", type=Path)
    chosen = parser.parse_args()
    begin = time.process_time()
    load_vocabulary()
    loaded = time.process_time()
    assess_name("zorblatt", market="eu")  # an unknown word: the library that mends slips is imported
    names = [name for name, _ in read(chosen.file)]
    start = time.process_time()
    for name in names:
        assess_name(name, market="eu")
    rate = len(names) / (time.process_time() - start)
    print(f"vocabulary loaded in {1000 * (loaded - begin):.0f} ms; {rate:,.0f} names a second on one core")
    result = score(chosen.file)
    print(f"names {result.names}, allergens given {result.given}")
    print(f"found {result.found} ({result.found / result.given:.2%})")
    print(f"recall, wrong ones left out: {result.recall:.2%}")
    print(f"names without: {result.without}; we give one to {result.added}; wrongly: {result.false:.2%}")
    counts = Counter((d.side, d.right) for d in result.differences)
    for (side, right), count in sorted(counts.items()):
        print(f"{side}, right {right}: {count}")
    if chosen.suspected:
        with chosen.suspected.open(encoding="utf-8", newline="") as file:
            suspected = {row["canonical_name_en"].lower() for row in csv.DictReader(file)}
        agreed = sum(d.name.lower() in suspected for d in result.differences)
        print(f"differences that the taxonomy's keepers suspect too: {agreed} of {len(suspected)} suspected rows")
    for d in result.differences:
        if d.right == "taxonomy":
            print(f"no verdict: {d.side} {d.allergen} of {d.name!r}")
    if chosen.page:
        chosen.page.write_text(page(result), encoding="utf-8")


if __name__ == "__main__":
    main()
