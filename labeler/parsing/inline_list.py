"""An ingredient list that stands in one row, as lines: "2 eggs, beaten, flour; 1 l milk" is three."""

from __future__ import annotations

import re

from labeler.parsing.ingredient.name import only_describes
from labeler.parsing.row_shapes import opens_with_amount

__all__ = ["lines_in_a_row"]

_BREAK = re.compile(r"\s*([;•·|]|,(?!\d))\s*")
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
