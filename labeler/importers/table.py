"""Recipes as a table: one ingredient a row, or one recipe a row, in columns that a heading names or in none.

Known columns are amount, unit, ingredient, preparation and part, by any of their usual names; a column of steps is the
method, and one of titles divides the rows among several recipes. A cell may hold a whole list, row by row or between
semicolons. Without a heading the cells of a row are the words of its line.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from labeler.importers.model import ImportedRecipe, ImportedSection, one_line, without_bullet
from labeler.parsing.columns import cells_of, columns_of, line_of, units_of, with_units
from labeler.parsing.inline_list import lines_in_a_row
from labeler.parsing.row_shapes import opens_with_amount
from labeler.types import LabelerError

__all__ = ["read_tables"]

_MOST_ROWS = 5000
_NAMES = frozenset({"name", "names", "item"})
"""Heads of a column of ingredients that is one of titles where another column is called that of the ingredients."""
_SEMICOLONS = re.compile(r"\s*;\s*")


@dataclass(slots=True)
class _Open:
    """A recipe while its rows are read."""

    title: str
    makes: str = ""
    parts: dict[str, list[str]] = field(default_factory=dict)
    steps: list[str] = field(default_factory=list)

    def take(self, cells: Mapping[str, str]) -> None:
        """Add what a row holds."""
        self.makes = self.makes or one_line(cells.get("makes", ""))
        names = list(_in_rows(cells.get("name", ""), listed=len(cells.keys() & {"amount", "unit", "preparation"}) == 0))
        if len(names) > 1:
            self.parts.setdefault(one_line(cells.get("part", "")), []).extend(names)
        elif names:
            whole = {column: one_line(cell) for column, cell in cells.items()} | {"name": names[0]}
            self.parts.setdefault(whole.get("part", ""), []).append(without_bullet(line_of(whole)))
        self.steps += _in_rows(cells.get("step", ""), listed=False)

    def closed(self) -> ImportedRecipe:
        """The recipe."""
        lists = tuple(ImportedSection(name, tuple(lines)) for name, lines in self.parts.items())
        method = (ImportedSection("", tuple(self.steps)),) if self.steps else ()
        return ImportedRecipe(self.title, lists, method, self.makes)


def _in_rows(cell: str, *, listed: bool) -> Iterator[str]:
    """The rows of a cell: its own, those of a list as programs write one, and where it is `listed` those between
    semicolons, or between commas where each opens with an amount."""
    for row in _of_program(cell) or cell.split("\n"):
        pieces = [piece for piece in _SEMICOLONS.split(one_line(row)) if piece] if listed else [one_line(row)]
        if len(pieces) == 1 and listed:
            by_comma = lines_in_a_row(pieces[0])
            pieces = by_comma if len(by_comma) > 1 and all(map(opens_with_amount, by_comma)) else pieces
        yield from filter(None, map(without_bullet, pieces))


def _of_program(cell: str) -> list[str]:
    """The texts of a list in brackets, as programs write them: '["1 cup milk", "2 eggs"]'; empty for anything else."""
    if not (cell.startswith("[") and cell.endswith("]")):
        return []
    try:
        found = json.loads(cell)
    except ValueError:
        quoted = re.findall(r"'((?:[^'\\]|\\.)*)'|\"((?:[^\"\\]|\\.)*)\"", cell)
        found = [one or other for one, other in quoted]
    return [str(one) for one in found if isinstance(one, (str, int, float))]


def _heads(row: list[str]) -> list[str]:
    """What each column holds; a column of names beside one of ingredients holds the titles."""
    heads = columns_of(row)
    words = [cell.casefold().strip(" :*") for cell in row]
    if heads.count("name") > 1 and "title" not in heads:
        named = [at for at, column in enumerate(heads) if column == "name" and words[at] in _NAMES]
        if len(named) < heads.count("name"):
            heads = ["title" if [at] == named[:1] else column for at, column in enumerate(heads)]
    return heads


def read_tables(text: str, source: str) -> list[ImportedRecipe]:
    """The recipes of a table, at least one.

    Parameters
    ----------
    text : str
        Cells divided by commas, semicolons or tabs. Rows under one title, and rows under none, are of one recipe.
    source : str
        For messages.

    Raises
    ------
    LabelerError
        Where it is no table or has more than 5,000 rows.
    """
    first = next((row for row in text.split("\n") if row.strip()), "")
    divider = max(",;\t", key=lambda sign: (first.count(sign), sign == ","))
    try:
        rows = [list(map(str.strip, row)) for row in csv.reader(io.StringIO(text, newline=""), delimiter=divider)]
    except csv.Error as error:
        raise LabelerError(f"{source}: is no table ({error}); save it as CSV with one ingredient a row") from None
    rows = [row for row in rows if any(row)]
    if len(rows) > _MOST_ROWS:
        raise LabelerError(f"{source}: has {len(rows):,} rows, more than a recipe has; “labeler batch” takes a table")
    top = [one_line(cell) for cell in rows[0]] if rows else []
    heading, units = _heads(top), units_of(top)
    if "name" not in heading:
        lines = [" ".join(filter(None, map(one_line, row))) for row in rows]
        return [ImportedRecipe("", (ImportedSection("", tuple(map(without_bullet, lines))),) if lines else ())]
    found: dict[str, _Open] = {}
    title = ""
    for row in rows[1:]:
        cells = cells_of(heading, with_units(units, row))
        title = one_line(cells.get("title", "")) or title
        found.setdefault(title, _Open(title)).take(cells)
    untitled = found.pop("", None) if len(found) > 1 else None
    if untitled is not None:  # rows above the first title are of its recipe
        one = next(iter(found.values()))
        one.parts = {name: [*lines, *one.parts.pop(name, [])] for name, lines in untitled.parts.items()} | one.parts
        one.steps[:0] = untitled.steps
    return [one.closed() for one in found.values()]
