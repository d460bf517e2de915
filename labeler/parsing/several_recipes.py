"""Several recipes in one text: where each begins, and whether they are the parts of one dish.

Each has a list of ingredients of its own under a heading of its own. Parts of one dish stand under its title, and the
method of one speaks of another ("pour the filling into the crust"); recipes of a collection do not know each other.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from dataclasses import replace

from labeler.parsing.headings import Opens, opens_what, read_heading
from labeler.parsing.markup import Mark, Row
from labeler.parsing.row_classifier import row_kind
from labeler.parsing.row_shapes import is_sentence, opens_with_amount, plain_of
from labeler.parsing.yields import only_yields, without_yields
from labeler.text.plurals import singular

__all__ = ["split_recipes"]

_MOST_WORDS = 8
_GAP = 3
"""Rows from one block to the next with two blank rows between them."""
_SHORTEST = 4


def split_recipes(rows: list[Row]) -> list[list[Row]]:
    """Rows of several recipes apart; those of one recipe, whatever its parts, stay together."""
    starts = _headed(rows) or _served(rows) or _plain(rows)
    if len(starts) < 2 or _is_one_dish(rows, starts):
        return [rows]
    ends = [*starts[1:], len(rows)]
    before = [replace(row, mark=Mark.COMMENT) for row in rows[: starts[0]]]
    pieces = [rows[start:end] for start, end in zip(starts, ends, strict=True)]
    return [[*before, *pieces[0]], *pieces[1:]]


def _headed(rows: list[Row]) -> list[int]:
    """Where headings of one level stand that each have a list of ingredients under a deeper one, or a bold one."""
    heads = [at for at, row in enumerate(rows) if row.mark is Mark.HEADING]
    lists = [at for at in heads if read_heading(rows[at].text).opens is Opens.INGREDIENTS]
    loose = [at for at, row in enumerate(rows) if row.mark is Mark.NONE and opens_what(row.text) == "ingredients"]
    above = [max((one for one in heads if one < at and rows[one].level < rows[at].level), default=-1) for at in lists]
    above += [max((one for one in heads if one < at), default=-1) for at in loose]
    level = {rows[at].level for at in above if at >= 0}
    return sorted(set(above)) if len(set(above)) > 1 and -1 not in above and len(level) == 1 else []


def _served(rows: list[Row]) -> list[int]:
    """Where headings of one level stand that each tell how many their list serves, as no part of a dish does."""
    heads = [at for at, row in enumerate(rows) if row.mark is Mark.HEADING]
    for level in sorted({rows[at].level for at in heads}):
        found = []
        for at in (one for one in heads if rows[one].level == level):
            end = next((one for one in heads if one > at and rows[one].level <= level), len(rows))
            if any(row.mark is Mark.BULLET or opens_with_amount(row.text) for row in rows[at + 1 : end]):
                told = (one for row in rows[at + 1 : end] for one in only_yields(plain_of(row.text)))
                found.append((at, any(one.key == "serves" for one in told)))
        if len(found) > 1:
            return [at for at, _ in found] if all(served for _, served in found) else []
    return []


def _plain(rows: list[Row]) -> list[int]:
    """Where titles stand in a text without headings that has "Ingredients" and "Method" more than once.

    Every list but the first must have a row above it that stands apart as a title does, below the method before.
    """
    opened = [(at, opens_what(row.text)) for at, row in enumerate(rows) if row.mark is Mark.NONE]
    known = [(at, opens) for at, opens in opened if opens in ("ingredients", "steps")]
    lists = [at for at, opens in known if opens == "ingredients"]
    if len(lists) < 2 or any(row.mark is Mark.HEADING for row in rows):
        return []
    starts = [0]
    for before, at in itertools.pairwise(lists):
        method = next((one for one, opens in known if before < one < at and opens == "steps"), None)
        titles = [] if method is None else [one for one in range(method + 2, at) if _stands_apart(rows, one)]
        if not titles:
            return []
        starts.append(titles[0])
    return starts


def _stands_apart(rows: list[Row], at: int) -> bool:
    """Whether a row may be the title of another recipe: short, first of its block, in capitals or below a gap."""
    row, before = rows[at], rows[at - 1]
    text = row.text
    below_list = before.mark in (Mark.BULLET, Mark.NUMBER) and row.text.isupper()
    if row.mark is not Mark.NONE or (before.block == row.block and before.mark is not Mark.RULE and not below_list):
        return False
    if len(text.split()) > _MOST_WORDS or text[-1:] in ".,;:" or is_sentence(text) or opens_with_amount(text):
        return False
    apart = row.number - before.number >= _GAP or before.mark is Mark.RULE
    return (apart or text.isupper() or row.bold) and row_kind(plain_of(text)) not in ("yield", "time", "about", "step")


def _is_one_dish(rows: list[Row], starts: list[int]) -> bool:
    """Whether one title stands over all, and the method of one part speaks of another."""
    level = rows[starts[0]].level
    over = any(row.mark is Mark.HEADING and row.level < level for row in rows[: starts[0]])
    if level and not over:
        return False
    pieces = [rows[start:end] for start, end in zip(starts, [*starts[1:], len(rows)], strict=True)]
    names = [_title_words(_first_words(piece)) for piece in pieces]
    shared = frozenset.intersection(*names)
    return any(
        (names[other] - shared - names[at]) & set(_method_words(piece))
        for at, piece in enumerate(pieces)
        for other in range(len(pieces))
        if other != at
    )


def _first_words(rows: list[Row]) -> str:
    """The first row of a piece that is not of the page around it."""
    return next((row.text for row in rows if row.text and row_kind(plain_of(row.text)) != "about"), "")


def _title_words(title: str) -> frozenset[str]:
    words = re.findall(r"[^\W\d_]+", without_yields(title).casefold())
    return frozenset(singular(word) for word in words if len(word) >= _SHORTEST)


def _method_words(rows: list[Row]) -> Iterator[str]:
    """The words of the method of a piece, in the singular."""
    listed = False
    for row in rows[1:]:
        opens = read_heading(row.text).opens if row.mark in (Mark.HEADING, Mark.NONE) else None
        listed = listed if opens is None else opens is Opens.STEPS
        if listed and opens is None:
            yield from (singular(word) for word in re.findall(r"[^\W\d_]+", row.text.casefold()))
