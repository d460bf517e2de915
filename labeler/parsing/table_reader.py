"""The rows of a recipe's table, one after the other: what its head says of its columns, and what each row then is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import Enum
from typing import NamedTuple

from labeler.parsing.columns import (
    cells_of,
    cells_outside,
    columns_of,
    heads_tell,
    heads_with,
    line_of,
    names_columns,
    told_rows,
    units_of,
    with_units,
)
from labeler.parsing.headings import read_heading
from labeler.parsing.row_shapes import opens_with_amount

__all__ = ["TableReader", "TableRow", "TableRowKind"]

_INGREDIENT = "ingredient"
"""How a column of foods is called."""


class TableRowKind(Enum):
    """What a row of a table is."""

    LINE = "line"
    PART = "part"
    TOLD = "told"
    COMMENT = "comment"


class TableRow(NamedTuple):
    """A row of a table as text: an ingredient, the name of a part, what is told of the dish, or a comment."""

    kind: TableRowKind
    text: str


class TableReader:
    """Reads one table."""

    def __init__(self) -> None:
        self.first: list[str] = []
        self.columns: list[str] = []
        self.units: list[str] = []
        self.heads: list[str] = []
        self.untold: list[str] = []

    def rows(
        self, cells: list[str], *, is_head: bool, bold: Sequence[bool] = (), beyond: Sequence[str] = ()
    ) -> Iterator[TableRow]:
        """What a row of cells says.

        Parameters
        ----------
        cells : list of str
        is_head : bool
            True where the table marks the row as its head.
        bold : sequence of bool
            Which cells are in bold letters; a row of one such cell alone names the part that follows.
        beyond : sequence of str
            Cells behind those that the head has.
        """
        if is_head and self._opens_columns(cells):
            yield from self._head(cells)
            return
        if self.heads:
            self.untold = [head for head in self.untold if head not in heads_with(self.heads, cells)]
            yield from (TableRow(TableRowKind.TOLD, one) for one in (*told_rows(self.heads, cells), *beyond))
            return
        if self._is_part(cells, bold) and not beyond:
            yield TableRow(TableRowKind.PART, "".join(cells).strip(" :"))
            return
        cells = with_units(self.units, cells)
        named = any(self.columns) and len(self.columns) == len(cells)
        line = line_of(cells_of(self.columns, cells)) if named else ""
        rest = cells_outside(self.columns, cells)
        words = [line, *rest] if line else list(filter(None, cells))
        text = " ".join(" ".join([*words, *beyond]).split())
        if text:
            yield TableRow(TableRowKind.LINE, text)

    def _opens_columns(self, cells: list[str]) -> bool:
        """Whether a row says what stands below it; of a further head all but a part's name in its first cell."""
        return any(columns_of(cells)) or heads_tell(cells) or (bool(self.columns) and bool(_part_above(cells)))

    def _head(self, cells: list[str]) -> Iterator[TableRow]:
        part = _part_above(cells) if self.columns and cells[:1] != self.first else ""
        if part:
            yield TableRow(TableRowKind.PART, part)
            cells = [_INGREDIENT, *cells[1:]]
        self.first, self.heads = cells[:1], []
        self.columns, self.units = columns_of(cells), units_of(cells)
        if not any(self.columns):
            self.columns, self.heads, self.untold = [], cells, list(cells)
        elif not all(self.columns):  # a column of the cook's own
            yield TableRow(TableRowKind.COMMENT, " | ".join(cells))

    def _is_part(self, cells: list[str], bold: Sequence[bool]) -> bool:
        """Whether a row has one cell alone that is no ingredient: in bold letters, or with a colon behind it."""
        filled = [at for at, cell in enumerate(cells) if cell]
        if len(filled) != 1:
            return False
        text = cells[filled[0]]
        if read_heading(text).opens is not None and not opens_with_amount(text):
            return True  # "Per serving" above what somebody else worked out
        if len(cells) < 2 and len(self.columns) < 2:
            return False
        set_apart = text.endswith(":") or (filled[0] < len(bold) and bold[filled[0]])
        return set_apart and not opens_with_amount(text)

    def end(self) -> str:
        """The heads under which no row had anything, joined; empty where there are none."""
        found = " | ".join(self.untold) if any(self.untold) else ""
        self.untold = []
        return found


def _part_above(cells: Sequence[str]) -> str:
    """The part that a further head names where a column's name would stand: "Dressing | Amount"; empty for none."""
    first, *others = cells or [""]
    named = names_columns(f"{first}|{first}")
    columns = columns_of([_INGREDIENT, *others])
    return first.strip(" :") if first and not named and others and all(columns) and len(columns) > 1 else ""
