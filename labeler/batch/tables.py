"""The tables and the report of a batch, written from its journal, recipe by recipe in the order of their names."""

from __future__ import annotations

import csv
import os
import tempfile
from collections import Counter
from collections.abc import Iterable, Iterator
from importlib import import_module
from pathlib import Path
from typing import Any, TextIO

from labeler.batch.journal import Journal
from labeler.batch.output import REPORT_TITLE, TABLE_BEGINS
from labeler.batch.work import TAGS
from labeler.types import LabelerError
from labeler.worksheet.cells import would_run

__all__ = ["csv_cell", "table_row", "write_csv", "write_parquet", "write_report"]

_ROWS_AT_ONCE = 1000
_MOST_LISTED = 1000
_MOST_NAMED = 5
"""Recipes that the report names of each thing it counts; the table has all."""
_PLAIN = (
    *TABLE_BEGINS,
    "servings",
    "serving_g",
    "contains",
    "read_the_package",
    "problems",
    "held_back",
    "label_lacks",
    "said",
)


def _columns() -> list[str]:
    return [*_PLAIN, *(name for tag in TAGS for name in (tag, f"{tag}_low", f"{tag}_high", f"{tag}_status"))]


def table_row(entry: dict[str, Any]) -> dict[str, Any]:
    """One recipe as a row: figures per serving; lists with semicolons; what is not known is empty."""
    row: dict[str, Any] = {key: entry.get(key) for key in _PLAIN}
    for key in ("contains", "read_the_package", "problems", "held_back", "label_lacks"):
        row[key] = "; ".join(dict.fromkeys(entry.get(key, ())))
    for tag in TAGS:
        best, low, high, status = entry.get("per_serving", {}).get(tag) or (None, None, None, None)
        row |= {tag: best, f"{tag}_low": low, f"{tag}_high": high, f"{tag}_status": status}
    return row


def csv_cell(value: Any) -> Any:
    """A value as a cell that no spreadsheet takes for a formula: text that would run gets an apostrophe before it."""
    return f"'{value}" if isinstance(value, str) and would_run(value) else value


class _Whole:
    """A text file that takes its place only when it is whole."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def __enter__(self) -> TextIO:
        handle, self._beside = tempfile.mkstemp(dir=self.path.parent, prefix=f".{self.path.name}.")
        self._stream = open(handle, "w", encoding="utf-8", errors="replace", newline="")
        return self._stream

    def __exit__(self, kind: object, *rest: object) -> None:
        self._stream.close()
        if kind is None:
            os.chmod(self._beside, 0o644)
            os.replace(self._beside, self.path)
        else:
            Path(self._beside).unlink(missing_ok=True)


def write_csv(path: Path, journal: Journal, files: list[str]) -> None:
    """Write the table as CSV."""
    with _Whole(path) as stream:
        writer = csv.DictWriter(stream, _columns())
        writer.writeheader()
        for entry in journal.entries(files):
            writer.writerow({name: csv_cell(value) for name, value in table_row(entry).items()})


def write_parquet(path: Path, journal: Journal, files: list[str]) -> None:
    """Write the table as Parquet, a thousand rows at a time; LabelerError where pyarrow is not installed."""
    try:
        arrow, parquet = import_module("pyarrow"), import_module("pyarrow.parquet")
    except ImportError:
        raise LabelerError(
            f"{path}: Parquet needs pyarrow; install it, or leave --parquet off and take the CSV"
        ) from None
    numbers = {"servings", "serving_g", *(f"{tag}{end}" for tag in TAGS for end in ("", "_low", "_high"))}
    schema = arrow.schema([(name, arrow.float64() if name in numbers else arrow.string()) for name in _columns()])
    beside = path.with_name(f".{path.name}.part")
    with parquet.ParquetWriter(beside, schema) as writer:
        for rows in _chunks(journal, files):
            writer.write_table(arrow.Table.from_pylist(rows, schema=schema))
    os.replace(beside, path)


def _chunks(journal: Journal, files: list[str]) -> Iterator[list[dict[str, Any]]]:
    rows: list[dict[str, Any]] = []
    for entry in journal.entries(files):
        rows.append(table_row(entry))
        if len(rows) == _ROWS_AT_ONCE:
            yield rows
            rows = []
    if rows:
        yield rows


def write_report(path: Path, entries: Iterable[dict[str, Any]]) -> Counter[str]:
    """Write the report in Markdown: how many, what was refused and why, what is open most often and in which recipes;
    returns the counts.

    Of what was refused or held back it names the first thousand, so that it stays something to read.
    """
    outcomes: Counter[str] = Counter()
    codes, lacks, allergens = _Counted(), _Counted(), _Counted()
    failed, held = _Listed(), _Listed()
    for entry in entries:
        outcomes[entry["outcome"]] += 1
        codes.add(entry.get("problems"), entry["file"])
        allergens.add(entry.get("contains"), entry["file"])
        lacks.add(entry.get("label_lacks"), entry["file"])
        if entry.get("held_back"):
            held.add(f"{entry['file']}: {', '.join(entry['held_back'])}")
        if entry["outcome"] != "done":
            failed.add(f"{entry['file']}: {entry.get('said', '')} ({entry['outcome']})")
    with _Whole(path) as stream:
        stream.write(f"{REPORT_TITLE}\n\n")
        told = {
            "done": "recipes done",
            "refused": "refused, as their input cannot be used",
            "fault": "faults of the program",
        }
        for outcome, words in told.items():
            stream.write(f"- {outcomes[outcome]:,} {words}\n")
        failed.write(stream, "Not done")
        held.write(stream, "No label or post without --anyway")
        for title, counted in (
            ("What is open, by recipes", codes),
            ("What labels lack, by recipes", lacks),
            ("Allergens contained, by recipes", allergens),
        ):
            counted.write(stream, title)
        stream.write("\nFigures are calculated from the recipes, not analysed; allergens not found are no promise.\n")
    return outcomes


class _Listed:
    """Rows of a list, of which the first are written and the rest counted."""

    def __init__(self) -> None:
        self._rows: list[str] = []
        self._more = 0

    def add(self, row: str) -> None:
        """One row more."""
        if len(self._rows) < _MOST_LISTED:
            self._rows.append(row)
        else:
            self._more += 1

    def write(self, stream: TextIO, title: str) -> None:
        """Write the list under a heading; nothing where it is empty."""
        if self._rows:
            stream.write(f"\n## {title}\n\n")
            stream.writelines(f"- {row}\n" for row in self._rows)
        if self._more:
            stream.write(f"\nand {self._more:,} more, which stand in the table\n")


class _Counted:
    """In how many recipes something is, with the names of the first."""

    def __init__(self) -> None:
        self._numbers: Counter[str] = Counter()
        self._files: dict[str, list[str]] = {}

    def add(self, found: Iterable[str] | None, file: str) -> None:
        """What was found in one recipe, each once."""
        for name in set(found or ()):
            self._numbers[name] += 1
            files = self._files.setdefault(name, [])
            if len(files) < _MOST_NAMED:
                files.append(file)

    def write(self, stream: TextIO, title: str) -> None:
        """Write a row each under a heading, the most frequent first; nothing where nothing was found."""
        if self._numbers:
            stream.write(f"\n## {title}\n\n")
        for name, number in sorted(self._numbers.items(), key=_most):
            more = f" and {number - _MOST_NAMED:,} more" if number > _MOST_NAMED else ""
            stream.write(f"- {name}: {number:,} ({', '.join(self._files[name])}{more})\n")


def _most(counted: tuple[str, int]) -> tuple[int, str]:
    return -counted[1], counted[0]
