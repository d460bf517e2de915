"""Three digits behind a full stop, a comma or a space: thousands in one language, decimals in the other.

"1.250 g Mehl" is a kilogram and a quarter, "1.250 kg" the same everywhere; "1.250 g flour" may be either, and whoever
takes it asks. Which way a text writes its numbers its words tell (``data/grouped_numbers.csv``).
"""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from typing import NamedTuple

from labeler.data_files import data_folder, data_rows

__all__ = ["Plain", "grouped_by", "plain_numbers"]

_FILE = data_folder("labeler.parsing") / "grouped_numbers.csv"
_WORD = re.compile(r"[^\W\d_]+")
# One word in so many that is of the language makes a text one of it. A choice, no source.
_SHARE = 12
# Grams and millilitres by their hundreds: a kitchen scale shows no thousandths of either, as kilograms and litres have.
_OF_SMALL = r"(?= ?(?:g|gr|gm|grams?|grammes?|gramm|grammi|gramos|gramas|ml|mls|millilit(?:er|re)s?)\b)"
_OF_LARGE = r"(?= ?(?:kg|kgs|kilos?|kilograms?|kilogrammes?|l|lit(?:er|re)s?|litri|litros|lt|ltr)\b)"
_POINTS = re.compile(rf"(?<![\d.,/])([1-9]\d{{0,2}}(?:\.\d{{3}})+){_OF_SMALL}", re.I)
_SPACES = re.compile(
    rf"(?<![\d.,/] )(?<![\d.,/])([1-9]\d? \d{{3}}){_OF_SMALL}(?! ?[a-z]+ (?:tin|can|jar|pack)s?\b)", re.I
)
_COMMA = re.compile(rf"(?<![\d.,/])(\d{{1,3}},\d{{3}}){_OF_LARGE}", re.I)


class Plain(NamedTuple):
    """A text with its grouped numbers as plain ones, and the first that may be thousands or decimals, or empty."""

    text: str
    unclear: str = ""


@cache
def _languages() -> dict[str, list[str]]:
    """Of each word the signs by which its languages group."""
    found: dict[str, list[str]] = {}
    for row in data_rows(_FILE):
        for word in row["words"].split():
            found.setdefault(word, []).append(row["grouped_by"])
    return found


def grouped_by(text: str) -> str:
    """The sign by which a text's language groups thousands, "." or " "; empty where its words tell no such language.

    Examples
    --------
    >>> grouped_by("500 g Mehl mit Wasser mischen"), grouped_by("Mix the flour with water")
    ('.', '')
    """
    if not text:
        return ""
    words = [word.casefold() for word in _WORD.findall(text)]
    counted: Counter[str] = Counter()
    for word in words:
        counted.update(set(_languages().get(word, ())))
    (sign, count), *_ = counted.most_common(1) or [("", 0)]
    return sign if count * _SHARE >= len(words) and count else ""


def plain_numbers(text: str, by: str) -> Plain:
    """A tidied text whose thousands have no sign between them.

    Parameters
    ----------
    text : str
        A line, tidied.
    by : str
        The sign by which its language groups (`grouped_by`); where that is empty, a number that may be either stays
        as it stands and is told.
    """
    if not by:
        found = _POINTS.search(text)
        return Plain(text, found[1] if found is not None else "")
    text = _POINTS.sub(lambda number: number[1].replace(".", ""), text)
    text = _COMMA.sub(lambda number: number[1].replace(",", "."), text)
    return Plain(_SPACES.sub(lambda number: number[1].replace(" ", ""), text) if by == " " else text)
