"""Shares of what is in hand that a clause tells: in words, numerals and per cent."""

from __future__ import annotations

import re

from labeler.parsing.instructions.grammar import fractions, grammar
from labeler.types import Interval

__all__ = ["share_left"]

_PARTS, _MANY = fractions("part"), fractions("many")
# A fraction in numerals is one where it is of something, or where nothing is measured behind "by" and "to".
_FRACTION = re.compile(
    r"(?:(?P<dir>by|to)\s+)?(?:about\s+|roughly\s+|at least\s+)?(?<![\d.,/])(?P<over>\d)\s*/\s*(?P<under>\d)(?![\d/])"
    r"(?=\s+(?:of\s+)?(?:the|its|their)\b|\s*(?:[.,;)]|$))",
    re.IGNORECASE,
)
_SHARE = re.compile(
    r"(?:(?P<dir>by|to|lose[sd]?|lost|losing|loses about|evaporates?)\s+)?(?:about\s+|roughly\s+|at least\s+|only\s+)?"
    rf"(?:(?P<many>{'|'.join(_MANY)})[\s-]+)?(?P<part>{'|'.join(_PARTS)})s?\b"
    r"(?P<hour>\s+(?:of\s+)?(?:an?\s+)?(?:hour|minute|dozen|pint|cup|teaspoon|tablespoon|inch|pound|kilo|lit(?:re|er)|day))?",
    re.IGNORECASE,
)
_PERCENT = re.compile(
    r"(?:(?P<dir>by|to|loses?|lost|losing|evaporates?)\s+)?(?:about\s+)?(?P<low>\d+(?:[.,]\d+)?)"
    r"(?:\s*(?:-|to)\s*(?P<high>\d+(?:[.,]\d+)?))?\s*(?:%|per ?cent)",
    re.IGNORECASE,
)
_IS_LOST = re.compile(rf"\s+of\b[^.,;]{{0,60}}?\b(?:{'|'.join(sorted(grammar('lost')))})\b", re.IGNORECASE)


def share_left(words: str) -> tuple[Interval | None, str]:
    """What is left of something by the words of a clause, and the words without it.

    "By" and losses are turned into what is left: "reduced by two thirds" and "until 2/3 of it has evaporated" leave a
    third. "50 % power" and "2 % milk" are no shares of what is in the pot.
    """
    share: Interval | None = None
    for pattern in (_PERCENT, _SHARE, _FRACTION):
        at = 0
        while hit := pattern.search(words, at):
            at = hit.end()
            groups = hit.groupdict()
            direction = (groups.get("dir") or "").lower()
            if groups.get("hour") or (not direction and not re.match(r"\s+(?:of|left|its|the|their)\b", words[at:])):
                continue
            if not direction and _IS_LOST.match(words, at):
                direction = "by"  # "until two thirds of the liquid has evaporated"
            if pattern is _PERCENT:
                low = float(hit["low"].replace(",", ".")) / 100.0
                high = float((hit["high"] or hit["low"]).replace(",", ".")) / 100.0
                if low > 1.0 or high > 1.0:
                    continue
            elif pattern is _FRACTION:
                if not 0 < int(hit["over"]) < int(hit["under"]):
                    continue
                low = high = int(hit["over"]) / int(hit["under"])
            else:
                low = high = _MANY.get((hit["many"] or "a").lower(), 1) * _PARTS[hit["part"].lower()]
                if low > 1.0:
                    continue
            low, high = min(low, high), max(low, high)
            if direction and direction != "to":
                low, high = 1.0 - high, 1.0 - low
            share = Interval((low + high) / 2.0, low, high, hit[0].strip())
            words = words[: hit.start()] + " " * (hit.end() - hit.start()) + words[hit.end() :]
    return share, words
