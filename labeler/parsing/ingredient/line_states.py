"""What an ingredient line says beside its food: the state that it goes in, what it is for, a further use.

The words stand in ``data/line_states.csv``. A state counts where it changes weight, composition or where the food's
liquid goes; the matched food may be in it already ("canned beans, drained"), which is for the flow to judge.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from typing import NamedTuple

from labeler.data_files import data_folder, data_rows
from labeler.parsing.model import Line, LineState, Purpose
from labeler.text.deferred_pattern import DeferredPattern, needed_by_any, phrase_pattern, words_in

__all__ = ["STATES_FILE", "states_of", "with_states"]

STATES_FILE = data_folder("labeler.parsing") / "line_states.csv"
_DRAINED_WEIGHT = re.compile(r"\bdrained (?:weight|wt)\b", re.IGNORECASE)
_MORE = frozenset({"extra", "more", "some", "additional"})
"""Words that mean more of the same food; "plus a knob" does only where it is said for what."""
_OFFERED = re.compile(r"\b(?:or|if|until)\b[^,;()]*$", re.IGNORECASE)


class _Words(NamedTuple):
    says: str
    value: str
    pattern: DeferredPattern


@cache
def _table() -> tuple[_Words, ...]:
    return tuple(
        _Words(row["says"], row["value"], phrase_pattern(row["phrases"].split("|"), between=r"[\s-]+"))
        for row in data_rows(STATES_FILE)
    )


@cache
def _needed() -> frozenset[str] | None:
    """Words, one of which stands in every line that says something of the table."""
    return needed_by_any(words.pattern for words in _table())


def with_states(line: Line) -> Line:
    """The line with what it says of states, purpose and further use.

    Parameters
    ----------
    line : Line
        As read; what is offered ("or cooked") is no state.
    """
    text = _DRAINED_WEIGHT.sub("", re.sub(r"\s+", " ", line.text)).replace("’", "'")
    needed = _needed()
    if needed is not None and needed.isdisjoint(words_in(text)):
        return line
    if not any(words.pattern.search(text) for words in _table()):
        return line
    before, extra = _extra(text)
    return replace(
        line,
        states=states_of(before),
        purpose=_purpose(before),
        divided=any(words.pattern.search(before) for words in _table() if words.says == "divided"),
        extra=extra,
    )


def _extra(text: str) -> tuple[str, Purpose | None]:
    """What stands before "plus extra ...", and what the extra is for."""
    for words in _table():
        found = words.pattern.search(text) if words.says == "extra" else None
        if found is None:
            continue
        behind = text[found.end() :]
        purpose = _purpose(behind)
        words_of_it = found[0].lower().split()
        joined = words_of_it[0] in ("plus", "and", "with") and not _MORE.isdisjoint(words_of_it)
        if purpose is not None or joined:
            return text[: found.start()], purpose or Purpose.OTHER
    return text, None


def states_of(text: str) -> frozenset[LineState]:
    """What some words say was done to a food before."""
    found = set()
    taken_back = {words.value for words in _table() if words.says == "not" and words.pattern.search(text)}
    for words in _table():
        if words.says != "state" or words.value in taken_back:
            continue
        for match in words.pattern.finditer(text):
            if not _OFFERED.search(text[: match.start()]):
                found.add(LineState(words.value))
                break
    return frozenset(found)


def _purpose(text: str) -> Purpose | None:
    """What the food is for: the purpose that is told first."""
    found = [
        (match.start(), Purpose(words.value))
        for words in _table()
        if words.says == "purpose" and (match := words.pattern.search(text)) is not None
    ]
    return min(found, key=lambda one: one[0])[1] if found else None
