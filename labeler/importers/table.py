"""A recipe as a table: one ingredient a row, in columns that a heading names or in none.

Known columns are amount, unit, ingredient, preparation and part, by any of their usual names; a column of steps is
the method. Without a heading the cells of a row are the words of its line.
"""

from __future__ import annotations

import csv
import io

from labeler.importers.model import ImportedRecipe, ImportedSection, one_line, without_bullet
from labeler.parsing.columns import cells_of, columns_of, line_of, units_of, with_units
from labeler.types import LabelerError

__all__ = ["read_table"]

_MOST_ROWS = 5000


def read_table(text: str, source: str) -> ImportedRecipe:
    """A table as a `ImportedRecipe`.

    Parameters
    ----------
    text : str
        Cells divided by commas, semicolons or tabs.
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
        rows = [[one_line(cell) for cell in row] for row in csv.reader(io.StringIO(text), delimiter=divider)]
    except csv.Error as error:
        raise LabelerError(f"{source}: is no table ({error}); save it as CSV with one ingredient a row") from None
    rows = [row for row in rows if any(row)]
    if len(rows) > _MOST_ROWS:
        raise LabelerError(f"{source}: has {len(rows):,} rows, more than a recipe has; give one recipe")
    heading, units = (columns_of(rows[0]), units_of(rows[0])) if rows else ([], [])
    if "name" not in heading:
        lines = [" ".join(filter(None, row)) for row in rows]
        return ImportedRecipe("", (ImportedSection("", tuple(map(without_bullet, lines))),) if lines else ())
    title = makes = ""
    parts: dict[str, list[str]] = {}
    steps: list[str] = []
    for row in rows[1:]:
        cells = cells_of(heading, with_units(units, row))
        title, makes = title or cells.get("title", ""), makes or cells.get("makes", "")
        if cells.get("name"):
            parts.setdefault(cells.get("part", ""), []).append(without_bullet(line_of(cells)))
        if cells.get("step"):
            steps.append(cells["step"])
    return ImportedRecipe(
        title,
        tuple(ImportedSection(name, tuple(lines)) for name, lines in parts.items()),
        (ImportedSection("", tuple(steps)),) if steps else (),
        makes,
    )
