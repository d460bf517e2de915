"""Tables of recipes as files, read a piece at a time: JSON Lines, CSV, Parquet."""

from __future__ import annotations

import csv
import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

from labeler.files import MAX_BYTES
from labeler.types import LabelerError

__all__ = ["READERS", "Row", "TableFile"]

_ROWS_AT_ONCE = 256


@dataclass(frozen=True, slots=True)
class Row:
    """A recipe of a table.

    Parameters
    ----------
    id : str
    data : bytes
        Its text as UTF-8; empty where the cell is.
    given : dict of str to object
        The other columns.
    number : int
        Of the row in its file: the line where a file has lines.
    """

    id: str
    data: bytes
    given: dict[str, Any]
    number: int


class TableFile:
    """A table of recipes; a kind of file each reads its own `cells`.

    Parameters
    ----------
    path : Path
    id_column, text_column : str
    """

    def __init__(self, path: Path, id_column: str, text_column: str) -> None:
        self.path = path
        self._id = id_column
        self._text = text_column

    def type_of(self, name: str) -> Any:
        """The type that the file states for a column; None where it states none."""
        return None

    def cells(self) -> Iterator[tuple[int, dict[str, Any]]]:
        """The rows with their numbers."""
        raise NotImplementedError

    def rows(self) -> Iterator[Row]:
        """The recipes in the order of the file.

        Raises
        ------
        LabelerError
            Where the file cannot be read, or a row has no id or no cell for the recipe.
        """
        try:
            for number, cells in self.cells():
                yield self._row(number, cells)
        except OSError as error:
            reason = (error.strerror or str(error)).lower()
            raise LabelerError(f"{self.path}: cannot be read ({reason}); check the file and your permissions") from None

    def _row(self, number: int, cells: dict[str, Any]) -> Row:
        where = f"{self.path}:{number}"
        for column, option in ((self._id, "--id"), (self._text, "--text")):
            if column not in cells:
                has = ", ".join(list(cells)[:12]) or "none"
                raise LabelerError(
                    f"{where}: there is no column “{column}” (there are: {has}); name the right one with {option}"
                )
        name, text = cells.pop(self._id), cells.pop(self._text)
        if isinstance(name, bool) or not isinstance(name, str | int) or not str(name).strip():
            raise LabelerError(
                f"{where}: “{self._id}” is empty or neither text nor a whole number; give each row its id"
            )
        if not str(name).isprintable():
            raise LabelerError(f"{where}: “{self._id}” holds signs that cannot be printed; give each row a plain id")
        if text is not None and not isinstance(text, str):
            kind = type(text).__name__
            raise LabelerError(f"{where}: “{self._text}” is a {kind}, not text; name the recipes' column with --text")
        return Row(str(name), (text or "").encode("utf-8", "surrogatepass"), cells, number)


class _JsonLines(TableFile):
    def cells(self) -> Iterator[tuple[int, dict[str, Any]]]:
        with self.path.open("rb") as stream:
            number = 0
            while line := stream.readline(MAX_BYTES + 1):
                number += 1
                if len(line) > MAX_BYTES:
                    raise LabelerError(f"{self.path}:{number}: the line is over {MAX_BYTES / 1e6:.0f} MB; split it")
                if line.strip():
                    yield number, self._object(number, line)

    def _object(self, number: int, line: bytes) -> dict[str, Any]:
        try:
            found = json.loads(line.decode("utf-8-sig"))
        except UnicodeDecodeError:
            raise LabelerError(f"{self.path}:{number}: is not UTF-8; write the file as UTF-8") from None
        except (ValueError, RecursionError) as error:
            raise LabelerError(f"{self.path}:{number}: is no JSON ({error}); write one object a line") from None
        if not isinstance(found, dict):
            raise LabelerError(f"{self.path}:{number}: is JSON, but no object; write one object a line")
        return found


class _Csv(TableFile):
    def cells(self) -> Iterator[tuple[int, dict[str, Any]]]:
        csv.field_size_limit(MAX_BYTES)
        with self.path.open(encoding="utf-8-sig", newline="") as stream:
            rows = csv.reader(stream, strict=True)
            columns: list[str] | None = None
            try:
                for row in rows:
                    if columns is None:
                        columns = self._columns(row)
                    elif row:
                        yield rows.line_num, self._by_column(rows.line_num, columns, row)
            except UnicodeDecodeError:
                raise LabelerError(f"{self.path}:{rows.line_num + 1}: is not UTF-8; save the table as UTF-8") from None
            except csv.Error as error:
                raise LabelerError(f"{self.path}:{rows.line_num}: is no CSV ({error}); save the table again") from None

    def _columns(self, row: list[str]) -> list[str]:
        twice = next((name for name in row if row.count(name) > 1), None)
        if twice is not None:
            raise LabelerError(f"{self.path}:1: the column “{twice}” stands twice; rename one")
        return row

    def _by_column(self, number: int, columns: list[str], row: list[str]) -> dict[str, Any]:
        if len(row) > len(columns):
            raise LabelerError(
                f"{self.path}:{number}: the row has {len(row)} cells and the table {len(columns)} columns; put text "
                "with commas into quotes"
            )
        return dict(zip(columns, [*row, *[None] * (len(columns) - len(row))], strict=True))


class _Parquet(TableFile):
    def __init__(self, path: Path, id_column: str, text_column: str) -> None:
        super().__init__(path, id_column, text_column)
        self._types: dict[str, Any] = {}

    def type_of(self, name: str) -> Any:
        """As the schema of the file states it."""
        return self._types.get(name)

    def cells(self) -> Iterator[tuple[int, dict[str, Any]]]:
        try:
            arrow, parquet = import_module("pyarrow"), import_module("pyarrow.parquet")
        except ImportError:
            raise LabelerError(
                f"{self.path}: reading Parquet needs pyarrow; install it with: pip install 'labeler[cluster]'"
            ) from None
        number = 0
        try:
            with parquet.ParquetFile(self.path) as file:
                self._types = {one.name: one.type for one in file.schema_arrow}
                for piece in file.iter_batches(batch_size=_ROWS_AT_ONCE):
                    for cells in piece.to_pylist():
                        number += 1
                        yield number, cells
        except arrow.ArrowException as error:
            first = str(error).partition("\n")[0][:200]
            raise LabelerError(f"{self.path}: is no Parquet that can be read ({first}); write it again") from None


READERS: dict[str, Callable[[Path, str, str], TableFile]] = {
    ".jsonl": _JsonLines,
    ".ndjson": _JsonLines,
    ".csv": _Csv,
    ".parquet": _Parquet,
    ".pq": _Parquet,
}
"""Endings of tables of recipes."""
