"""What the paragraph that a row stands in says of it: that it heads a list, or that it ends the method."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from labeler.parsing.headings import read_heading
from labeler.parsing.markup import Mark, Row
from labeler.parsing.row_looks import has_words, like_line, like_step, tells_of_whole
from labeler.parsing.row_phrases import phrases
from labeler.parsing.row_shapes import opens_with_amount
from labeler.text.plurals import singular

__all__ = ["ends_method", "list_heads"]

_HEAD_WORDS = 4


def list_heads(rows: Sequence[Row], names_food: Callable[[str], bool] | None = None) -> frozenset[int]:
    """The places of the rows that are the names of lists: "Stock", "TOFU".

    Each opens a paragraph of ingredients with amounts, and no such paragraph but the first opens otherwise: where one
    does, the row may be an ingredient without an amount. Below a first paragraph without a name, a name is no food.
    """
    paragraphs: dict[int, list[int]] = {}
    for at, row in enumerate(rows):
        if has_words(row) and row.mark in (Mark.NONE, Mark.BULLET):
            paragraphs.setdefault(row.block, []).append(at)
    heads: list[int] = []
    bare = False
    for places in paragraphs.values():
        lines = [like_line(rows[at]) for at in places]
        if sum(lines) < 2:
            continue
        if lines[0] and not heads and not bare:
            bare = True
            continue
        if lines[0] or not lines[1] or not _may_head(rows[places[0]]):
            return frozenset()
        heads.append(places[0])
    if bare:
        told = all(_is_no_food(_worded(rows[at]), names_food) for at in heads)
        return frozenset(heads) if told else frozenset()
    return frozenset(heads) if len(heads) > 1 else frozenset()


def _worded(row: Row) -> str:
    """A row without what its brackets say."""
    return " ".join(re.sub(r"\([^()]*\)", " ", row.text).split())


def _is_no_food(text: str, names_food: Callable[[str], bool] | None) -> bool:
    """Whether a row is surely no ingredient: it has a word that no name of a food has, ends in the name of a part of a
    dish, or the table has nothing like it."""
    words = text.casefold().split()
    if set(words) & set(phrases()["heads_lines"]) or singular(words[-1]) in phrases()["part"]:
        return True
    return names_food is not None and not names_food(text)


def _may_head(row: Row) -> bool:
    text = _worded(row)
    short = 0 < len(text.split()) <= _HEAD_WORDS and text[-1:] not in ".!?,"
    told = opens_with_amount(text) or tells_of_whole(text) or read_heading(text).opens is not None
    return row.mark is Mark.NONE and short and "," not in text and not told


def ends_method(rows: Sequence[Row], at: int) -> bool:
    """Whether a paragraph behind the steps opens with an amount and is a step: "A cup of peas to a plate, stew over.".

    It is closed by a full stop, which no ingredient is.
    """
    row = rows[at]
    above = [one for one in range(at) if has_words(rows[one])]
    if row.mark is not Mark.NONE or not row.text.endswith(".") or not above or rows[above[-1]].block == row.block:
        return False
    stops = any(like_line(one) and one.text.endswith(".") for one in (*rows[:at], *rows[at + 1 :]))
    listed = any(like_line(rows[one]) for one in above)
    return like_step(rows[above[-1]]) and listed and not stops
