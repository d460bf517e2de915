"""A sheet that is not yet a file: headings, rows of cells, and formulas with the values that they give."""

from __future__ import annotations

from dataclasses import dataclass

from labeler.worksheet.column import Column

__all__ = ["FIRST", "HEAD", "Cell", "Live", "Row", "Sheet", "letter"]

HEAD, FIRST = 4, 5
"""Row of the headings, and the first row below it."""


@dataclass(frozen=True, slots=True)
class Live:
    """A formula, without its equals sign, and the value that it gives."""

    formula: str
    value: float


Cell = str | float | int | Live | None


@dataclass(frozen=True, slots=True)
class Row:
    """One row of cells; `role` is "row", "total", "note" or "heading"."""

    cells: tuple[Cell, ...]
    role: str = "row"


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet.

    Parameters
    ----------
    name, about : str
        On its tab, and the sentence under its title.
    head : tuple of Column
    rows : tuple of Row
        From row `FIRST` on.
    fixed : int
        How many columns stay in sight.
    listed : bool
        True where the rows of role "row" are a list that can be sorted and filtered.
    """

    name: str
    about: str
    head: tuple[Column, ...]
    rows: tuple[Row, ...]
    fixed: int = 1
    listed: bool = True

    def at(self, heading: str) -> str:
        """Letters of the column of that field name."""
        return letter(next(at for at, one in enumerate(self.head) if one.name == heading))


def letter(at: int) -> str:
    """Letters of a column, from 0: A, B ... Z, AA."""
    letters = ""
    at += 1
    while at:
        at, rest = divmod(at - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
