"""Data files of the package, opened as resources of it; tables are comma-separated values under remarks with "#"."""

from __future__ import annotations

import csv
from importlib.resources import files
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

__all__ = ["data_folder", "data_rows"]


def data_folder(package: str) -> Traversable:
    """The folder `data` of a room ("labeler.parsing")."""
    return files(package) / "data"


def data_rows(file: Traversable) -> list[dict[str, str]]:
    """The rows of a table, each by the names of its columns.

    Parameters
    ----------
    file : Traversable or Path
        UTF-8; lines that begin with "#" are remarks and belong to no row.

    Raises
    ------
    ValueError
        Where a row has more cells than the table has columns; those that it lacks are empty.
    """
    with file.open(encoding="utf-8") as stream:
        rows = csv.reader(line for line in stream if not line.startswith("#"))
        columns = next(rows)
        return [dict(zip(columns, row + [""] * (len(columns) - len(row)), strict=True)) for row in rows if row]
