"""What a row of a text looks like beside others: words, an ingredient, a step, what it tells of the whole dish."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from labeler.parsing.markup import Mark, Row
from labeler.parsing.row_classifier import row_kind
from labeler.parsing.row_shapes import ends_with_amount, is_sentence, opens_with_amount, plain_of, still_open
from labeler.parsing.yields import bare_yield, opening_yield, yields_in

if TYPE_CHECKING:
    from labeler.parsing.sections import SectionEntry

__all__ = [
    "ends_line", "has_footnote", "has_words", "is_talk", "kind_among_steps", "like_line", "like_step",
    "tells_of_whole", "tells_yield",
]  # fmt: skip


def has_words(row: Row) -> bool:
    """Whether a row has letters or figures and is no rule."""
    return any(sign.isalnum() for sign in row.text) and row.mark is not Mark.RULE


def kind_among_steps(row: Row) -> str:
    """As `row_kind`, for a row among steps: "Bake 40 minutes." is one, and so is "3. Save this water for the sauce"."""
    text = row.text
    kind = row_kind(plain_of(text))
    if kind == "about" and row.mark in (Mark.NUMBER, Mark.BULLET):
        return "step"
    return "step" if kind == "time" and not re.search(r":|\btime\b", text) else kind


def ends_line(last: SectionEntry | None, row: Row) -> bool:
    """Whether a row goes on with the one before it, as an ingredient line that is not at its end does."""
    if last is None or last.mark is Mark.QUOTE:
        return False
    return row.goes_on or (row.mark is Mark.NONE and row.block == last.block and still_open(last.text, row.text))


def has_footnote(lines: Sequence[SectionEntry]) -> bool:
    """Whether an ingredient bears the star of a note."""
    return any(entry.text.endswith("*") for entry in lines)


def is_talk(text: str, steps: Sequence[str]) -> bool:
    """Whether prose gives no order, below a method that gives some: whoever only tells it orders nothing."""
    orders = any(row_kind(sentence) == "step" for sentence in re.split(r"(?<=[.!?])\s+", text))
    return not orders and any(row_kind(step) == "step" for step in steps)


def tells_yield(text: str) -> bool:
    """Whether a row tells how much the recipe makes, with a word for it or without."""
    plain = plain_of(text)
    return bool(yields_in(text)) or bare_yield(plain) is not None or opening_yield(plain) is not None


def tells_of_whole(text: str) -> bool:
    """Whether a row below a title still speaks of the whole dish: how much it makes, how long it takes."""
    return tells_yield(text) or row_kind(plain_of(text)) in ("yield", "time", "about")


def like_line(row: Row) -> bool:
    """Whether a row looks like an ingredient by itself."""
    if row.mark in (Mark.HEADING, Mark.QUOTE, Mark.COMMENT, Mark.RULE) or row.goes_on or not has_words(row):
        return False
    if row.mark in (Mark.TABLE, Mark.TERM):
        return True
    kind = row_kind(plain_of(row.text))
    if kind in ("yield", "time", "about", "heading", "step") or yields_in(row.text) or opening_yield(row.text):
        return False
    return (opens_with_amount(row.text) and not is_sentence(row.text)) or ends_with_amount(row.text)


def like_step(row: Row) -> bool:
    """Whether a row looks like a step by itself."""
    if row.mark is Mark.QUOTE:
        return True
    if row.mark not in (Mark.NONE, Mark.NUMBER, Mark.BULLET) or not has_words(row):
        return False
    kind = row_kind(plain_of(row.text))
    if kind == "step":
        return True
    return kind in ("ingredient", "prose") and (
        is_sentence(row.text) or (row.mark is Mark.NUMBER and not opens_with_amount(row.text))
    )
