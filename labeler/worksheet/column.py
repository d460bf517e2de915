"""A column of a worksheet as the field of a row's dataclass: its heading, its kind, its width and what it says."""

from __future__ import annotations

from dataclasses import Field, dataclass, fields
from enum import Enum
from typing import Any

__all__ = ["Column", "Kind", "column", "columns", "hidden"]


class Kind(Enum):
    """How a value is shown: words, long words that wrap, grams, an amount of any size, a share, a whole number."""

    WORDS = "words"
    LONG = "long"
    GRAMS = "grams"
    AMOUNT = "amount"
    SHARE = "share"
    WHOLE = "whole"
    HIDDEN = "hidden"  # in the JSON only, or laid out by hand


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a sheet: field name, heading, how it is shown, its width in characters, what it says."""

    name: str
    heading: str
    kind: Kind
    width: float
    says: str


_WIDTHS = {Kind.WORDS: 18.0, Kind.LONG: 46.0, Kind.GRAMS: 11.0, Kind.AMOUNT: 12.0, Kind.SHARE: 9.0, Kind.WHOLE: 8.0}


def column(heading: str, says: str, kind: Kind = Kind.WORDS, width: float | None = None) -> dict[str, Any]:
    """Of a field of a row, what every reader of it needs to know."""
    return {"column": (heading, kind, width or _WIDTHS[kind], says)}


def hidden(says: str) -> dict[str, Any]:
    """Of a field that the JSON gives and the sheet lays out in its own way."""
    return {"column": ("", Kind.HIDDEN, 0.0, says)}


def columns(row: type) -> tuple[Column, ...]:
    """The columns of one kind of row, in order; hidden ones are left out."""
    found = []
    for item in fields(row):
        given: Field[Any] = item
        heading, kind, width, says = given.metadata["column"]
        if kind is not Kind.HIDDEN:
            found.append(Column(item.name, heading, kind, width, says))
    return tuple(found)
