"""The tables of a batch over a table of recipes: Parquet in parts, one file a part, whole or not there.

Columns stand in ``data/columns.csv``; each column of the files carries its meaning. The same source, settings and
edition give the same bytes, however the work was shared out.
"""

from __future__ import annotations

import base64
import io
import shutil
import zipfile
from collections.abc import Iterator, Sequence
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

from labeler.batch.output import COLUMNS_BEGIN
from labeler.batch.sources import Survey, given_names
from labeler.batch.work import TAGS
from labeler.data_files import data_folder, data_rows
from labeler.files import write_whole
from labeler.types import LabelerError

__all__ = ["Dataset", "column_names", "columns_text"]

_TYPES = {"text": "string", "number": "float64", "whole": "int64", "texts": "list"}
_KINDS = {"bool": "bool_", "int": "int64", "float": "float64", "text": "string", "nothing": "string"}
_ZIP_DATE = (1980, 1, 1, 0, 0, 0)
"""The earliest date that an archive can carry: the same bytes on any day."""


@cache
def _columns(table: str) -> tuple[tuple[str, str, str], ...]:
    """Name, type and meaning of each column of a table."""
    found: list[tuple[str, str, str]] = []
    pattern: list[tuple[str, str, str]] = []

    def end_pattern() -> None:
        for tag in TAGS:
            found.extend((name.replace("TAG", tag, 1), kind, meaning) for name, kind, meaning in pattern)
        pattern.clear()

    for row in data_rows(data_folder("labeler.batch") / "columns.csv"):
        if row["table"] == table:
            one = (row["column"], row["type"], row["meaning"])
            if one[0].startswith("TAG"):
                pattern.append(one)
            else:
                end_pattern()
                found.append(one)
    end_pattern()
    return tuple(found)


def column_names(table: str) -> tuple[str, ...]:
    """The columns of "recipes" or "lines" in their order."""
    return tuple(name for name, _, _ in _columns(table))


def columns_text() -> str:
    """The columns with their types and meanings, as a file that goes beside the tables."""
    import csv

    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(COLUMNS_BEGIN)
    for table in ("recipes", "lines"):
        writer.writerows((table, *column) for column in _columns(table))
    return stream.getvalue()


class Dataset:
    """The folder of the tables.

    Parameters
    ----------
    folder : Path
    survey : Survey
        With the columns that are carried through.
    labels : bool
        Whether there is an archive of labels for each part.
    """

    def __init__(self, folder: Path, survey: Survey, *, labels: bool) -> None:
        try:
            self._arrow, self._parquet = import_module("pyarrow"), import_module("pyarrow.parquet")
        except ImportError:
            raise LabelerError(
                "a table of recipes is answered as Parquet, which needs pyarrow; install it with: "
                "pip install 'labeler[cluster]'"
            ) from None
        self.folder = folder
        self._labels = labels
        self._called = given_names(survey.kinds, frozenset(column_names("recipes")))
        self._kinds = survey.kinds
        given = [
            self._arrow.field(self._called[name], survey.types[name] if kind == "arrow" else self._type(_KINDS[kind]))
            for name, kind in survey.kinds.items()
        ]
        self._schemas = {
            "recipes": self._arrow.schema([*self._fields("recipes"), *given]),
            "lines": self._arrow.schema(self._fields("lines")),
        }

    @property
    def signature(self) -> str:
        """What the files look like: another signature makes them be written again."""
        return f"{self._labels} {self._schemas['recipes']} {self._schemas['lines']}"

    def _type(self, name: str) -> Any:
        return self._arrow.list_(self._arrow.string()) if name == "list" else getattr(self._arrow, name)()

    def _fields(self, table: str) -> list[Any]:
        return [
            self._arrow.field(name, self._type(_TYPES[kind]), metadata={"meaning": meaning})
            for name, kind, meaning in _columns(table)
        ]

    def paths(self, number: int) -> dict[str, Path]:
        """The files of a part by their table."""
        kinds = {"recipes": "parquet", "lines": "parquet"} | ({"labels": "zip"} if self._labels else {})
        return {table: self.folder / table / f"part-{number:06}.{ending}" for table, ending in kinds.items()}

    def sizes(self, number: int) -> str:
        """The sizes of a part's files [bytes]; empty where one is not there."""
        try:
            return " ".join(str(path.stat().st_size) for path in self.paths(number).values())
        except OSError:
            return ""

    def write(self, number: int, rows: Sequence[tuple[dict[str, Any], dict[str, Any]]]) -> str:
        """Write the files of a part from entries, each with what its row carries through; their sizes.

        Raises LabelerError where one cannot be written; what stood there before stays.
        """
        tables = {
            "recipes": [self._recipe(entry) | self._carried(given) for entry, given in rows],
            "lines": [{"id": entry["file"]} | line for entry, _ in rows for line in entry.get("lines", ())],
        }
        for table, path in self.paths(number).items():
            path.parent.mkdir(parents=True, exist_ok=True)
            if table == "labels":
                write_whole(str(path), _archive(entry for entry, _ in rows))
                continue
            stream = io.BytesIO()
            self._parquet.write_table(
                self._arrow.Table.from_pylist(tables[table], schema=self._schemas[table]), stream, compression="zstd"
            )
            write_whole(str(path), stream.getvalue())
        return self.sizes(number)

    def _recipe(self, entry: dict[str, Any]) -> dict[str, Any]:
        row = {name: entry.get(name) for name in column_names("recipes")}
        row["id"] = entry["file"]
        for name in ("contains", "read_the_package", "problems", "held_back", "label_lacks"):
            row[name] = list(dict.fromkeys(entry.get(name, ())))
        for tag, (best, low, high, status) in entry.get("per_serving", {}).items():
            row |= {tag: best, f"{tag}_low": low, f"{tag}_high": high, f"{tag}_status": status}
        return row

    def _carried(self, given: dict[str, Any]) -> dict[str, Any]:
        return {
            called: _as_text(given.get(name)) if self._kinds[name] in ("text", "nothing") else given.get(name)
            for name, called in self._called.items()
        }

    def drop_from(self, number: int) -> None:
        """Take away the parts from a number on, which a shorter source no longer has."""
        for table in ("recipes", "lines", "labels"):
            for path in sorted((self.folder / table).glob("part-*")):
                told = path.stem.removeprefix("part-")
                if told.isdigit() and int(told) >= number:
                    path.unlink(missing_ok=True)
        if not self._labels:
            shutil.rmtree(self.folder / "labels", ignore_errors=True)

    def entries(self, number: int) -> Iterator[dict[str, Any]]:
        """What a report needs of the rows of a part."""
        columns = ["id", "outcome", "said", "problems", "contains", "label_lacks", "held_back"]
        with self._parquet.ParquetFile(self.paths(number)["recipes"]) as file:
            for piece in file.iter_batches(columns=columns):
                for row in piece.to_pylist():
                    yield row | {"file": row["id"]}


def _as_text(value: Any) -> str | None:
    """A carried value as text: text as it is, anything else as JSON."""
    import json

    if value is None:
        return None
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False, default=str)
    return text.encode("utf-8", "replace").decode("utf-8")


def _archive(entries: Iterator[dict[str, Any]]) -> bytes:
    """The labels of a part, stored as they are; the same bytes for the same labels."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_STORED) as archive:
        for place, entry in enumerate(entries):
            if entry.get("label"):
                name = "".join(sign if sign.isalnum() or sign in "-_." else "_" for sign in entry["file"])[:80]
                told = zipfile.ZipInfo(f"{place:06}-{name}.pdf", _ZIP_DATE)
                told.external_attr = 0o644 << 16
                archive.writestr(told, base64.b64decode(entry["label"]))
    return stream.getvalue()
