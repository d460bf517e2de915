"""An ingredient list that stands in one row, as lines: "2 eggs, beaten, flour; 1 l milk" is three.

A list may also be told in sentences: "For the brine you'll need 1 litre of water and 80 g of salt.".
"""

from __future__ import annotations

import re
from typing import NamedTuple

from labeler.parsing.ingredient.name import only_describes
from labeler.parsing.row_phrases import needs
from labeler.parsing.row_shapes import opens_with_amount

__all__ = ["ToldList", "lines_in_a_row", "told_lists"]

_SENTENCE = re.compile(r"(?<=[^\W\d_][.!?])\s+(?=[^\W\d_a-z])|(?<=[)][.!?])\s+")
_NEEDS = re.compile(
    r"(?:(?P<group>(?:for|to make) (?:the |an? |your )?[^\d:,.]{2,40}?),?\s+)?"
    rf"(?P<head>{'|'.join(needs())})\s*:?\s+(?P<foods>[^:]+)".replace("'", "['’]"),
    re.IGNORECASE,
)
_FOR = re.compile(r"(?P<group>for (?:the|an?|your) [^\d:,.]{2,40}):\s+(?P<foods>[^:]+)", re.IGNORECASE)

_BREAK = re.compile(r"\s*([;•·|]|,(?!\d))\s*")
_LONGEST = 14
"""Words of the longest line that a sentence lists."""
_GOES_ON = frozenset(
    "to for at in with without plus or and into from on about as if until cut well very finely roughly thinly freshly "
    "lightly coarsely preferably optional your any of such including".split()
)
"""First words of what is said of the food before it; common practice of recipe writing, no source."""


def lines_in_a_row(text: str, *, last: bool = False) -> list[str]:
    """The lines of a list in one row; a piece behind a comma that only describes stays with the food before it.

    `last` for a list told as a sentence, whose last food stands behind "and".
    """
    found: list[str] = []
    depth, start, sign = 0, 0, ";"
    for piece in [*_BREAK.finditer(text), None]:
        end = piece.start() if piece is not None else len(text)
        depth += text.count("(", start, end) - text.count(")", start, end)
        if piece is not None and depth > 0:
            continue
        words = text[start:end].strip()
        if words and found and sign == "," and _belongs(words):
            found[-1] = f"{found[-1]}, {words}"
        elif words:
            found.append(words)
        depth, start, sign = 0, piece.end() if piece is not None else end, piece[1] if piece is not None else ""
    before, joined, after = found[-1].rpartition(" and ") if found and last else ("", "", "")
    if joined and (opens_with_amount(after) or after.startswith(("the ", "some "))):
        found[-1:] = [before, after]
    if found:
        found[-1] = found[-1].rstrip(" .")
    return [line for line in found if line]


def _belongs(piece: str) -> bool:
    """Whether a piece behind a comma says something of the food before it."""
    first = piece.split()[0].casefold()
    return not opens_with_amount(piece) and (first in _GOES_ON or first.endswith("ed") or only_describes(piece))


class ToldList(NamedTuple):
    """Ingredients told in a sentence: what leads up to them ("You need"), what they are for, and their lines."""

    head: str
    group: str
    lines: list[str]


def told_lists(text: str, *, begun: bool = False) -> list[ToldList | str]:
    """The sentences of a row, those that list ingredients as lists; empty where none does.

    Where another row has `begun` a list, one food is enough: "You also want 1 kg herring.".
    """
    found: list[ToldList | str] = []
    for sentence in _SENTENCE.split(text) if any(sign.isdigit() for sign in text) else ():
        told = _told_list(sentence, begun=begun or any(isinstance(one, ToldList) for one in found))
        if told is not None:
            found.append(told)
        elif found and isinstance(found[-1], str):
            found[-1] = f"{found[-1]} {sentence}"
        else:
            found.append(sentence)
    return found if any(isinstance(one, ToldList) for one in found) else []


def _told_list(sentence: str, *, begun: bool) -> ToldList | None:
    """The ingredients that one sentence lists; of "For the sauce: ..." alone where another did before it."""
    needs, headed = _NEEDS.fullmatch(sentence), _FOR.fullmatch(sentence) if begun else None
    told = needs or headed
    if told is None:
        return None
    lines = lines_in_a_row(told["foods"].rstrip(" .!"), last=True)
    counted = sum(map(opens_with_amount, lines))
    if not counted or counted * 2 < len(lines) or any(len(line.split()) > _LONGEST for line in lines):
        return None
    if len(lines) < 2 and not begun:
        return None
    return ToldList(needs["head"] if needs is not None else "", told["group"] or "", lines)
