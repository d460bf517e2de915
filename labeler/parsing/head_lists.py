"""Ingredients and steps that a page keeps as lists in its head, as the rows that they would be in its text."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from labeler.parsing.columns import cells_of, columns_of, line_of
from labeler.parsing.headings import Opens, read_heading
from labeler.parsing.markup import Mark, Row
from labeler.parsing.row_shapes import opens_with_amount

__all__ = ["rows_of_head"]

_SECTION = ("section", "group", "part", "heading", "name", "title", "for")
_LISTED = (Opens.INGREDIENTS, Opens.STEPS)


def rows_of_head(head: dict[str, Any], source: Sequence[str], first: int, body: Sequence[Row]) -> list[Row]:
    """The rows of the lists in a head, which are taken out of it; none where the text has ingredients of its own.

    Parameters
    ----------
    head : dict
        As `labeler.parsing.front_matter.read_front` gives it.
    source : sequence of str
        The rows of the head as written, for the numbers of the lines.
    first : int
        How many rows of the file stand above them.
    body : sequence of Row
        The rows of the text below the head.
    """
    listed = {key: opens for key in head if (opens := read_heading(key.replace("_", " ")).opens) in _LISTED}
    if Opens.INGREDIENTS not in listed.values() or any(
        opens_with_amount(row.text) or read_heading(row.text).opens is Opens.INGREDIENTS for row in body
    ):
        return []
    found: list[Row] = []
    for key, opens in sorted(listed.items(), key=lambda item: _LISTED.index(item[1])):
        items = list(_items(head[key], level=2))
        if items:
            del head[key]
            numbers = _Numbers(source, first, key)
            found.append(Row(key, numbers.key, Mark.HEADING, level=2, block=-len(found) - 1))
            mark = Mark.BULLET if opens is Opens.INGREDIENTS else Mark.NUMBER
            found += [
                Row(text, numbers.of(text), Mark.HEADING, level=level, block=found[-1].block)
                if level
                else Row(text, numbers.of(text), mark, level=1, block=found[-1].block)
                for text, level in items
            ]
    return found


def _items(value: object, *, level: int) -> Iterator[tuple[str, int]]:
    """The items of a list as (text, 0), the names of lists within it as (name, level of a heading)."""
    if isinstance(value, str):
        told = _unpacked(value)
        if not isinstance(told, str):
            yield from _items(told, level=level)
            return
        for one in told.splitlines():
            yield from _text(one)
    elif isinstance(value, Mapping):
        plain = not any(isinstance(cell, (list, Mapping)) for cell in value.values())
        columns = columns_of(list(map(str, value)))
        cells = cells_of(columns, [str(cell or "") for cell in value.values()])
        if plain and line_of(cells):
            unknown = [pair for column, pair in zip(columns, value.items(), strict=True) if not column]
            yield " ".join(" ".join([line_of(cells), *_asides(unknown)]).split()), 0
            return
        named = next((inner for key, inner in value.items() if key in _SECTION and isinstance(inner, str)), "")
        if named:  # "- section: Broth", its items beside it
            yield named, level + 1
            for inner in value.values():
                yield from _items(inner, level=level + 1) if isinstance(inner, (list, Mapping)) else ()
            return
        for name, inner in value.items():
            if isinstance(inner, (list, Mapping)):
                yield str(name), level + 1
                yield from _items(inner, level=level + 1)
            else:  # "- salt: 1 tsp" is a key to YAML
                yield from _text(f"{inner} {name}" if opens_with_amount(str(inner)) else f"{name}: {inner}")
    elif isinstance(value, list):
        for one in value:
            yield from _items(one, level=level)
    elif value is not None:
        yield from _text(str(value))


def _asides(pairs: Iterable[tuple[object, object]]) -> Iterator[str]:
    """What an ingredient says beside its own columns, in brackets: "optional: yes" is "(optional)"."""
    for key, value in pairs:
        if value is True:
            yield f"({key})"
        elif value not in (None, False, ""):
            yield f"({key}: {value})"


def _unpacked(value: str) -> object:
    """What the reader of heads packed as JSON, as it takes only plain values; the text where it is none."""
    try:
        return json.loads(value) if value[:1] in ("[", "{") else value
    except ValueError:
        return value


def _text(text: str) -> Iterator[tuple[str, int]]:
    plain = " ".join(re.sub(r"^\s*(?:[-*•+]|\d{1,2}[.)])\s+", "", text).split())
    if plain:
        yield plain, 0


class _Numbers:
    """Where in the file the items of a list stand."""

    def __init__(self, source: Sequence[str], first: int, key: str) -> None:
        named = re.compile(rf"\s*[\"\']?{re.escape(key)}[\"\']?\s*[:=]", re.IGNORECASE)
        self.source, self.first = source, first
        self.at = next((at for at, row in enumerate(source) if named.match(row)), 0)
        self.key = first + self.at + 1

    def of(self, text: str) -> int:
        """The number of the next row that holds the beginning of a text; that of the row before where none does."""
        for at in range(self.at, len(self.source)):
            if text[:12] in self.source[at]:
                self.at = at
                break
        return self.first + self.at + 1
