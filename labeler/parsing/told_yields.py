"""Taking up what the rows of a text tell of how much the recipe makes."""

from __future__ import annotations

import re

from labeler.parsing.markup import Row
from labeler.parsing.model import Note, NoteKind
from labeler.parsing.row_classifier import row_kind
from labeler.parsing.row_phrases import phrases
from labeler.parsing.sections import Sorted
from labeler.parsing.yields import (
    LAST_PIECE,
    Yield,
    bare_yield,
    only_yields,
    opening_yield,
    yields_of_row,
    yields_of_sentences,
)  # fmt: skip
from labeler.text.plurals import singular

__all__ = ["take_row", "take_sentences", "take_title", "take_yields"]

_PIECE = re.compile(rf"[(\[]([^()\[\]]*)[)\]]|{LAST_PIECE.pattern}")
_MORE_BEHIND = re.compile(r"[.!?]\s+\w")
_COUNT_BEHIND = re.compile(r"[(\[]\s*[x×]?\s*(\d{1,3}(?:\s*[-–]\s*\d{1,3})?)\s*[)\]]\s*$")
"""A part of a title that may say by itself how much it makes: in brackets, or the last behind a comma."""


def take_yields(found: Sorted, text: str, number: int, *, bare: bool = False, title: bool = False) -> list[Yield]:
    """Take the yields that a text tells; `bare` also where it, or a piece of it, says only a number of things.

    In brackets behind a `title` a number alone is what the recipe makes where the title names several pieces: "Crab
    rolls (6)"; of "Rye loaf (2)" nobody knows whether it makes two or is the second of its name.
    """
    told = yields_of_row(text)
    if not told and bare:
        pieces = (piece.span(1) if piece[1] is not None else piece.span(2) for piece in _PIECE.finditer(text))
        for start, end in [(0, len(text)), *pieces]:
            one = bare_yield(text[start:end])
            if one is not None:
                told = [one._replace(start=start or one.start, end=end)]  # a piece goes as a whole
                if end == len(text) and not start:
                    break
    counted = _COUNT_BEHIND.search(text) if title and not told else None
    if counted is not None and _names_pieces(text[: counted.start()]):
        told = [Yield("makes", counted[1], counted.start(), counted.end())]
    found.yields.extend((one, number) for one in told)
    return told


def _names_pieces(title: str) -> bool:
    """Whether a title names several things that a batch is counted in: "rolls", but not "loaf"."""
    words = re.findall(r"[^\W\d]+", title.casefold())
    return any(word in phrases()["things"] and singular(word) != word for word in words)


def take_title(found: Sorted, text: str, number: int) -> str:
    """A title without what it says of servings, which is taken."""
    told = take_yields(found, text, number, bare=True, title=True)
    if told:
        found.notes.append(Note(NoteKind.YIELD, text, number))
    for one in reversed(told):
        text = f"{text[: one.start]} {text[one.end :]}"
    text = " ".join(re.sub(r"[(\[][\s,;.&-]*(?:and)?[\s,;.&-]*[)\]]", " ", text).split())
    return text.strip(" :" if not told else " :-–—,;|./")


def take_row(found: Sorted, plain: str, row: Row, *, bare: bool) -> bool:
    """Whether a row only tells yields, or opens with a word for one, and they are taken.

    `bare` for one above every ingredient, where a number of things is told without a word, alone or as the first
    sentence of a paragraph: "Six bowls. Start early.".
    """
    first = opening_yield(plain) if bare else None
    if first is not None:
        found.yields.append((first, row.number))
        found.notes.append(Note(NoteKind.DESCRIPTION, row.text, row.number))
        return True
    told = only_yields(plain) or (bare and bare_yield(plain) is not None)
    states_yield = row_kind(plain) == "yield" and yields_of_row(plain) and _MORE_BEHIND.search(plain) is None
    if not told and not states_yield:
        return False
    take_yields(found, plain, row.number, bare=True)
    found.notes.append(Note(NoteKind.YIELD, row.text, row.number))
    return True


def take_sentences(found: Sorted, text: str, number: int) -> None:
    """Take the yields that stand in a paragraph as sentences of their own."""
    found.yields.extend((one, number) for one in yields_of_sentences(text))
