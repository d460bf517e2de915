"""Where the recipes of a batch come from: a folder, or tables of recipes as JSON Lines, CSV or Parquet.

A table has a row a recipe: a column of ids, a column with the recipe as text in any form that `importers` reads, and
any more columns, which are carried through. It is gone through twice, a piece at a time: `survey` finds what is wrong
before anything is begun, and `rows_of` gives the recipes.
"""

from __future__ import annotations

import glob
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from labeler.batch.table_files import READERS, Row, TableFile
from labeler.types import LabelerError

__all__ = ["Names", "Survey", "given_names", "rows_of", "survey", "tables_of"]

Kind = str
"""How values of a carried column are written: "bool", "int", "float", "text", or "arrow" for a type of Parquet's."""


@dataclass(frozen=True, slots=True)
class Names:
    """What the columns of a table are called."""

    id: str = "id"
    text: str = "text"


@dataclass(slots=True)
class Survey:
    """What a source holds.

    Parameters
    ----------
    count : int
        Recipes.
    kinds : dict of str to str
        Carried columns in the order in which they were met, each with its kind.
    types : dict of str to object
        The Parquet type of each column of the kind "arrow".
    """

    count: int = 0
    kinds: dict[str, Kind] = field(default_factory=dict)
    types: dict[str, Any] = field(default_factory=dict)


def tables_of(source: str) -> list[Path] | None:
    """The tables that a source names, by name; None where it names a folder or files of one recipe each.

    Raises LabelerError where it names nothing, or tables and other files.
    """
    paths = files_of(source)
    if paths is None:
        return None
    tables = [path for path in paths if path.suffix.lower() in READERS]
    if tables and len(tables) < len(paths):
        other = next(path for path in paths if path not in tables)
        raise LabelerError(f"{source}: names tables of recipes and other files ({other.name}); name one kind at a time")
    return tables or None


def files_of(source: str) -> list[Path] | None:
    """The files that a source names, by name; None for a folder.

    Raises LabelerError where there is none.
    """
    place = Path(source)
    if place.is_dir():
        return None
    if place.is_file():
        return [place]
    if not any(sign in source for sign in "*?["):
        raise LabelerError(
            f"{source}: there is no such file or folder; give a folder of recipes, or a table of them that ends in "
            f"{', '.join(sorted(READERS))}"
        )
    found = sorted(Path(one) for one in glob.glob(source, recursive=True) if Path(one).is_file())
    if not found:
        raise LabelerError(f"{source}: no file is called so; put the pattern into quotes and check it")
    return found


def survey(paths: list[Path], names: Names) -> Survey:
    """Go through tables once: count their recipes, and find what their carried columns hold.

    Raises
    ------
    LabelerError
        Where a file cannot be read, a column lacks, an id is missing or no id, or two ids are alike; the message names
        the file and the row.
    """
    found = Survey()
    with _Seen() as seen:
        for path in paths:
            table = READERS[path.suffix.lower()](path, names.id, names.text)
            for row in table.rows():
                seen.add(row.id, f"{path}:{row.number}")
                found.count += 1
                for name, value in row.given.items():
                    _note(found, table, name, value)
    if not found.count:
        raise LabelerError(f"{', '.join(map(str, paths[:3]))}: no row in it; a row is a recipe")
    return found


def rows_of(paths: list[Path], names: Names) -> Iterator[Row]:
    """The recipes of tables, file by file and row by row; raises as `survey`."""
    for path in paths:
        yield from READERS[path.suffix.lower()](path, names.id, names.text).rows()


def given_names(kinds: dict[str, Kind], own: frozenset[str]) -> dict[str, str]:
    """What carried columns are called in the output: as they are, with “given_” before one that the output has too."""
    taken, called = set(own), {}
    for name in kinds:
        other = name
        while other in taken:
            other = f"given_{other}"
        taken.add(other)
        called[name] = other
    return called


def _note(found: Survey, table: TableFile, name: str, value: Any) -> None:
    """Widen the kind of a carried column by one value; a column of Parquet has its type from the file."""
    before = found.kinds.get(name)
    stated = table.type_of(name)
    if stated is not None:
        if before is None:
            found.kinds[name], found.types[name] = "arrow", stated
        elif before != "arrow" or not found.types[name].equals(stated):
            found.kinds[name] = "text"
        return
    kind = _kind_of(value)
    if before is None or before == "nothing":
        found.kinds[name] = kind
    elif kind not in (before, "nothing"):
        found.kinds[name] = "float" if {before, kind} == {"int", "float"} else "text"


def _kind_of(value: Any) -> Kind:
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "bool"
    if isinstance(value, int):
        return "int" if -(2**63) <= value < 2**63 else "text"
    return "float" if isinstance(value, float) else "text"


class _Seen:
    """The ids met so far, on disk where they are many, so that memory does not grow with them."""

    def __enter__(self) -> _Seen:
        import sqlite3

        self._base = sqlite3.connect("")  # a file of SQLite's own that goes away with it
        self._base.execute("CREATE TABLE seen (id TEXT PRIMARY KEY, place TEXT) WITHOUT ROWID")
        return self

    def __exit__(self, *rest: object) -> None:
        self._base.close()

    def add(self, name: str, place: str) -> None:
        """Note an id; LabelerError where it was noted before."""
        import sqlite3

        try:
            self._base.execute("INSERT INTO seen VALUES (?, ?)", (name, place))
        except sqlite3.IntegrityError:
            first = self._base.execute("SELECT place FROM seen WHERE id = ?", (name,)).fetchone()[0]
            raise LabelerError(
                f"{place}: the id “{name[:80]}” stands a second time (first in {first}); each recipe needs its own, "
                "for by it it is done once"
            ) from None
