"""Numbers of steps that lost their full stop, or stand inside a row: "1 Mix it all", "#2 Bake it", "Step one: mix.",
"Mix it all. 2) Bake it.". What counts up from one before sentences of the method numbers them and is no amount.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from labeler.parsing.markup import Mark, Row
from labeler.parsing.row_classifier import row_kind
from labeler.parsing.row_phrases import one_of
from labeler.parsing.row_shapes import is_sentence, plain_of
from labeler.text.deferred_pattern import pattern_when_used

__all__ = ["with_step_numbers"]

_BARE = pattern_when_used(r"(?:#\s?)?(?P<number>\d{1,2})\s?[/:–-]?\s+(?P<rest>(?=[A-ZÀ-Þ]).*)")
_LETTERED = pattern_when_used(r"\(?(?P<letter>[a-h])[.)]\s+(?P<rest>\S.*)")
_IN_WORDS = pattern_when_used(rf"step\s+{one_of('number_word')}\s*[.:)–-]+\s+(?=\S)", re.IGNORECASE)
_ALONE = pattern_when_used(r"step\s*\d{1,2}\s*[.:)]?|\d{1,2}\s*[.)]", re.IGNORECASE)
_INSIDE = pattern_when_used(r"(?<=[.!?;])\s+\(?(?P<number>\d{1,2})[.)]\s+(?=[A-ZÀ-Þ])")


def with_step_numbers(rows: Sequence[Row]) -> list[Row]:
    """Rows with each step that such a number opens as a numbered row of its own."""
    rows = list(_below_numbers(rows))
    numbered = _counted(rows)
    found: list[Row] = []
    for at, row in enumerate(rows):
        spoken = _IN_WORDS.match(row.text) if row.mark is Mark.NONE else None
        if at in numbered:
            row = replace(row, mark=Mark.NUMBER, level=1, text=numbered[at], linked="")
        elif spoken is not None:
            row = replace(row, mark=Mark.NUMBER, level=1, text=row.text[spoken.end() :], linked="")
        found += _apart(row) if row.mark in (Mark.NONE, Mark.NUMBER) else [row]
    return found


def _below_numbers(rows: Sequence[Row]) -> Iterator[Row]:
    """Rows with the number of a step that stands on a row of its own given to the row below it."""
    number: Row | None = None
    for row in rows:
        if row.mark is Mark.NONE and not row.goes_on and _ALONE.fullmatch(row.text):
            if number is not None:
                yield number
            number = row
            continue
        if number is not None and row.mark is Mark.NONE and row.text and number.block <= row.block <= number.block + 1:
            yield replace(row, mark=Mark.NUMBER, level=1)
        else:
            if number is not None:
                yield number
            yield row
        number = None
    if number is not None:
        yield number


def _counted(rows: Sequence[Row]) -> dict[int, str]:
    """What stands behind numbers that count up from one before steps, by the row: at least two."""
    found: dict[int, str] = {}
    run: dict[int, str] = {}
    for at, row in enumerate(rows):
        told = _number_of(row) if row.mark is Mark.NONE and not row.goes_on else None
        if told is None:
            continue
        number, rest = told
        if not _is_step(rest) and not (len(run) > 1 and number == len(run) + 1):
            continue
        run = {**run, at: rest} if number == len(run) + 1 else {at: rest} if number == 1 else {}
        if len(run) > 1:
            found |= run
    return found


def _number_of(row: Row) -> tuple[int, str] | None:
    """The number before a row, letters counted too ("b) Boil it"), and what stands behind it."""
    bare, letter = _BARE.fullmatch(row.text), _LETTERED.fullmatch(row.text)
    if bare is not None:
        return int(bare["number"]), bare["rest"]
    return (ord(letter["letter"]) - ord("a") + 1, letter["rest"]) if letter is not None else None


def _is_step(text: str) -> bool:
    return row_kind(plain_of(text)) == "step" or is_sentence(text)


def _apart(row: Row) -> Iterator[Row]:
    """A row that holds several numbered steps as one a step."""
    ends = list(_INSIDE.finditer(row.text))
    if not ends or [int(one["number"]) for one in ends] != list(range(2, len(ends) + 2)):
        yield row
        return
    starts = [0, *(one.end() for one in ends)]
    for start, end in zip(starts, [*(one.start() for one in ends), len(row.text)], strict=True):
        yield replace(row, text=row.text[start:end], mark=Mark.NUMBER, level=max(row.level, 1), linked="")
