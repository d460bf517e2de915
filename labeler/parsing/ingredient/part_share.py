"""How much of another part an ingredient line takes where words tell it: all, two thirds, 40 %, the rest.

The words of the part's own title tell nothing: "1 batch Whole lemon curd" is a batch and not the whole of it.
"""

from __future__ import annotations

import re
from collections import Counter
from functools import cache

from labeler.parsing.instructions.grammar import fractions
from labeler.parsing.instructions.model import Extent, Quantity
from labeler.parsing.model import Line
from labeler.types import Interval

__all__ = ["share_of_part"]


@cache
def _pattern() -> re.Pattern[str]:
    def any_of(kind: str) -> str:
        return "|".join(sorted(map(re.escape, fractions(kind)), key=len, reverse=True))

    return re.compile(
        rf"\b(?:(?P<all>{any_of('all')})\b|(?P<rest>{any_of('rest')})\b"
        rf"|(?:(?P<many>{any_of('many')})[\s-]+)?(?P<part>{any_of('part')})s?\b"
        r"|(?P<percent>\d+(?:[.,]\d+)?)\s*%)",
        re.IGNORECASE,
    )


def share_of_part(line: Line, title: str) -> Quantity | None:
    """The share of a part that the words of a line take of it.

    Parameters
    ----------
    line : Line
        As read; it names the part.
    title : str
        Of the part, or the name of what a part keeps.

    Returns
    -------
    Quantity or None
        ``SHARE`` with the share (0 to 1), ``REST`` for what the other lines leave; None where no word tells a share.
    """
    of_title = Counter(map(_word, _pattern().finditer(title)))
    told: list[re.Match[str]] = []
    for found in reversed(list(_pattern().finditer(line.text))):
        if of_title[_word(found)] > 0:  # the title stands behind the words that tell how much of it
            of_title[_word(found)] -= 1
        else:
            told.insert(0, found)
    counted = any(amount.role == "main" for amount in line.amounts)
    told = [found for found in told if not (counted and _word(found) == _OF_EACH)]
    return next((quantity for found in told if (quantity := _quantity(found)) is not None), None)


_OF_EACH = "whole"
"""Behind a number it tells of each piece: "3 whole cakes"."""


def _word(found: re.Match[str]) -> str:
    return str(found["all"] or found["rest"] or found["part"] or found[0]).casefold()


def _quantity(found: re.Match[str]) -> Quantity | None:
    if found["rest"]:
        return Quantity(Extent.REST)
    if found["all"]:
        share = 1.0
    elif found["percent"]:
        share = float(found["percent"].replace(",", ".")) / 100.0
    else:
        share = fractions("many")[(found["many"] or "a").lower()] * fractions("part")[found["part"].lower()]
        if share >= 1.0:
            return None  # "2 half cakes" are pieces
    return Quantity(Extent.SHARE, Interval(share, share, share, found[0]))
