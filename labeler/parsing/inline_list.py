"""An ingredient list that stands in one row, as lines: "2 eggs, beaten, flour; 1 l milk" is three.

A list may also be told in sentences: "For the brine you'll need 1 litre of water and 80 g of salt.".
"""

from __future__ import annotations

import re
from typing import NamedTuple

from labeler.parsing.ingredient.line import read_line
from labeler.parsing.ingredient.name import only_describes
from labeler.parsing.row_phrases import needs
from labeler.parsing.row_shapes import opens_with_amount
from labeler.parsing.units import canonical_unit, kind
from labeler.text.deferred_pattern import pattern_when_used

__all__ = ["ToldList", "lines_in_a_row", "run_together", "told_lists"]

_SENTENCE = pattern_when_used(r"(?<=[^\W\d_][.!?])\s+(?=[^\W\d_a-z])|(?<=[)][.!?])\s+")
_NEEDS = pattern_when_used(
    r"(?:(?P<group>(?:for|to make) (?:the |an? |your )?[^\d:,.]{2,40}?),?\s+)?"
    rf"(?P<head>{'|'.join(needs())})\s*:?\s+(?P<foods>[^:]+)".replace("'", "['’]"),
    re.IGNORECASE,
)
_FOR = pattern_when_used(r"(?P<group>for (?:the|an?|your) [^\d:,.]{2,40}):\s+(?P<foods>[^:]+)", re.IGNORECASE)

_BREAK = pattern_when_used(r"\s*([;•·|]|,(?!\d))\s*")
_JOINS = pattern_when_used(r"(?:and|&|plus)\s+", re.IGNORECASE)
_STOP = pattern_when_used(r"(?<=[^\W\d_]{4})[.!]\s+(?=[A-ZÀ-Þ\d½¼¾⅓⅔⅛])")
"""The end of a sentence that a list goes on behind; a unit or "oz." before it is shorter or known."""
_AMOUNT_INSIDE = pattern_when_used(r"(?<=[^\W\d_)])[\s,;]+(?=(?:\d[\d./½¼¾⅓⅔⅛]*|[½¼¾⅓⅔⅛])\s?(?P<unit>[^\W\d_]+)\b)")
_JOINS_ON = pattern_when_used(r"(?:\b(?:or|plus|and|x|of|to)|[/+(-])$", re.IGNORECASE)
_SIZES = frozenset({"large", "medium", "small"})
_SHORTEST_RUN = 6
_FEWEST_RUN = 3
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
    sentences = [] if last else _STOP.split(text)
    if len(sentences) > 1 and not any(canonical_unit(one.split()[-1]) for one in sentences[:-1]):
        return [line for one in sentences for line in lines_in_a_row(one)]
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


def run_together(text: str) -> list[str]:
    """The lines of a list that lost its row breaks: "125 g butter 125 g sugar 2 large eggs"; empty where it is none.

    Each must open with an amount of its own and name something; commas may stand between or not.
    """
    if not opens_with_amount(text) or len(text.split()) < _SHORTEST_RUN:
        return []
    listed = lines_in_a_row(text)
    starts = [one.start() for one in _AMOUNT_INSIDE.finditer(text) if _measures(one)]
    pieces = [text[start:end].strip(" ,;") for start, end in zip([0, *starts], [*starts, len(text)], strict=True)]
    for lines in (listed, [piece for piece in pieces if piece]):
        named = all(opens_with_amount(one) and read_line(one).name and len(one.split()) < _LONGEST for one in lines)
        if len(lines) >= _FEWEST_RUN and named and not any(_JOINS_ON.search(one) for one in lines):
            return lines
    return []


def _measures(found: re.Match[str]) -> bool:
    """Whether a word behind a figure measures what follows: a weight, a volume, or a size."""
    known = canonical_unit(found["unit"])
    return (known is not None and kind(known) in ("mass", "volume")) or found["unit"].casefold() in _SIZES


def _belongs(piece: str) -> bool:
    """Whether a piece behind a comma says something of the food before it."""
    first = piece.split()[0].casefold()
    joined = _JOINS.match(piece)
    if joined is not None and opens_with_amount(piece[joined.end() :]):
        return False  # "and 1 tsp salt" is the last of the list
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
