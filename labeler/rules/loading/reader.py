"""The strict reader of rule files: a file is either right or refused with its name, its line and its key.

YAML files hold rules, CSV files hold long tables of rows that are alike. Numbers are read as exact decimals, dates
as dates; a key that is unknown, missing or given twice, a bad date, a rule without a paragraph or a source are
errors and never warnings, for a label is only as right as these files.
"""

from __future__ import annotations

import csv
import datetime
from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any, NoReturn

import yaml

from labeler.rules.model import RuleFileError

__all__ = ["Check", "Fields", "Where", "check_fields", "read_table", "read_yaml"]

_Base: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@dataclass(frozen=True, slots=True)
class Where:
    """A place in a rule file: the file, the path of keys, and the line where it is known."""

    file: Path
    key: str = ""
    line: int | None = None

    def at(self, key: object) -> Where:
        """The place one key further in."""
        return Where(self.file, f"{self.key}.{key}" if self.key else str(key), self.line)

    def fail(self, message: str) -> NoReturn:
        """Raise the error for this place."""
        line = f", line {self.line}" if self.line else ""
        key = f"'{self.key}': " if self.key else ""
        raise RuleFileError(f"{self.file}{line}: {key}{message}")


Check = Callable[[Any, Where], Any]
Fields = Mapping[str, tuple[Check, bool]]
"""Keys of a mapping: the check of each value, and whether the key must be there."""


def check_fields(found: object, fields: Fields, where: Where) -> dict[str, Any]:
    """A mapping with exactly these keys, each value checked.

    Raises
    ------
    RuleFileError
        For a value that is no mapping, a key that is not in `fields` (with the nearest that is), or a missing one.
    """
    if not isinstance(found, Mapping):
        where.fail(f"here a mapping of keys is wanted, not {found!r}")
    for key in found:
        if key not in fields:
            where.at(key).fail(f"unknown key{nearest(key, fields)}")
    for key, (_, required) in fields.items():
        if required and key not in found:
            where.at(key).fail("missing: this key must be given")
    return {key: fields[key][0](value, where.at(key)) for key, value in found.items()}


def nearest(word: object, known: Iterable[str]) -> str:
    """The hint for a mistyped word: the nearest known one, or the list where none is near."""
    import difflib

    names = [str(name) for name in known]
    near = difflib.get_close_matches(str(word), names, n=1)
    return f"; did you mean '{near[0]}'?" if near else f"; known here: {', '.join(sorted(names))}"


class _StrictLoader(_Base):  # type: ignore[misc]
    """YAML with exact decimals, real dates and no key given twice."""

    file: Path


def _mapping(loader: _StrictLoader, node: yaml.MappingNode) -> dict[Hashable, Any]:
    mapping: dict[Hashable, Any] = {}
    for key_node, value_node in node.value:
        key = loader.construct_object(key_node, deep=True)
        if not isinstance(key, str):
            key = key_node.value  # `no:`, `5:` and the like are words here
        if key in mapping:
            Where(loader.file, key, key_node.start_mark.line + 1).fail("this key is given twice; keep one")
        mapping[key] = loader.construct_object(value_node, deep=True)
    return mapping


def _decimal(loader: _StrictLoader, node: yaml.ScalarNode) -> Decimal:
    try:
        return Decimal(node.value.replace("_", ""))
    except ArithmeticError:
        Where(loader.file, node.value, node.start_mark.line + 1).fail("not a plain decimal number")


def _date(loader: _StrictLoader, node: yaml.ScalarNode) -> datetime.date:
    try:
        return datetime.date.fromisoformat(node.value)
    except ValueError:
        Where(loader.file, node.value, node.start_mark.line + 1).fail("no such day; dates are written 2016-07-26")


_StrictLoader.add_constructor("tag:yaml.org,2002:map", _mapping)
_StrictLoader.add_constructor("tag:yaml.org,2002:float", _decimal)
_StrictLoader.add_constructor("tag:yaml.org,2002:timestamp", _date)


def read_yaml(file: Path) -> Any:
    """The content of one YAML file, read strictly.

    Raises
    ------
    RuleFileError
        For a file that is not there, is not UTF-8 YAML, gives a key twice or holds a day that does not exist.
    """
    try:
        text = file.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        Where(file).fail(f"cannot be read: {error}")
    loader = _StrictLoader(text)
    loader.file = file
    try:
        return loader.get_single_data()
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        problem = getattr(error, "problem", None) or str(error)
        Where(file, line=mark.line + 1 if mark else None).fail(f"not valid YAML: {problem}")
    finally:
        loader.dispose()


def read_table(file: Path, fields: Fields, key: str) -> dict[str, dict[str, Any]]:
    """The rows of one CSV file by their `key` column, read strictly; an empty cell is the empty string.

    Raises
    ------
    RuleFileError
        For a file that is not there, a column that is unknown or missing, a row of another length, a cell that
        fails its check, or a key that two rows share.
    """
    rows: dict[str, dict[str, Any]] = {}
    try:
        with file.open(encoding="utf-8", newline="") as stream:
            lines = csv.reader(stream, strict=True)
            header = next(lines, [])
            check_header(header, fields, Where(file, line=1))
            for cells in lines:
                where = Where(file, line=lines.line_num)
                if len(cells) != len(header):
                    where.fail(f"{len(cells)} cells under {len(header)} columns")
                row = check_fields(dict(zip(header, cells, strict=True)), fields, where)
                if row[key] in rows:
                    where.at(key).fail(f"'{row[key]}' is given twice; keep one row")
                rows[row[key]] = row
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        Where(file).fail(f"cannot be read: {error}")
    return rows


def check_header(header: list[str], fields: Fields, where: Where) -> None:
    """The first row of a table holds each column once and no other."""
    for column in header:
        if column not in fields:
            where.at(column).fail(f"unknown column{nearest(column, fields)}")
        if header.count(column) > 1:
            where.at(column).fail("this column is given twice")
    for column, (_, required) in fields.items():
        if required and column not in header:
            where.at(column).fail("missing: this column must be given")
