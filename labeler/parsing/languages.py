"""What a line's language makes of its numbers and units: thousands here are decimals there, "cc" a spoon or a mL.

"1.250 g Mehl" is a kilogram and a quarter, "1.250 kg" the same everywhere; "1.250 g flour" may be either, and whoever
takes it asks. Which language a text is in its words tell (``data/languages.csv``); English needs no telling.
"""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from typing import NamedTuple

from labeler.data_files import data_folder, data_rows

__all__ = ["Plain", "language_of", "plain_numbers", "plain_units"]

_FILE = data_folder("labeler.parsing") / "languages.csv"
_UNITS = data_folder("labeler.parsing") / "units_by_language.csv"
_WORD = re.compile(r"[^\W\d_]+")
# One word in so many that is of the language makes a text one of it. A choice, no source.
_SHARE = 12
# Words of a language that a text longer than one short line must have: "crème" alone makes none French. Choices.
_FEWEST, _SHORT = 2, 3
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
def _languages() -> tuple[dict[str, str], dict[str, list[str]]]:
    """Of each language the sign by which it groups; of each word its languages."""
    grouped: dict[str, str] = {}
    words: dict[str, list[str]] = {}
    for row in data_rows(_FILE):
        grouped[row["language"]] = row["grouped_by"]
        for word in row["words"].split():
            words.setdefault(word, []).append(row["language"])
    return grouped, words


@cache
def _own_units() -> dict[str, list[tuple[re.Pattern[str], str]]]:
    """Of each language the abbreviations that mean another unit elsewhere, as patterns, and what they mean."""
    found: dict[str, list[tuple[re.Pattern[str], str]]] = {}
    for row in data_rows(_UNITS):
        spelled = "|".join(r"\.?".join(spelling) for spelling in row["spellings"].split())
        pattern = re.compile(rf"(?<=\d)( ?)(?:{spelled})\b\.?(?= )", re.I)
        found.setdefault(row["language"], []).append((pattern, row["plain"]))
    return found


def language_of(text: str) -> str:
    """The language of a text, as ``data/languages.csv`` calls it; empty for English and where its words tell none.

    Examples
    --------
    >>> language_of("500 g Mehl mit Wasser mischen"), language_of("Mix the flour with water")
    ('de', '')
    """
    if not text:
        return ""
    words = [word.casefold() for word in _WORD.findall(text)]
    of_word = _languages()[1]
    counted = Counter(language for word in words for language in of_word.get(word, ()))
    (language, count), *_ = counted.most_common(1) or [("", 0)]
    told = {word for word in words if language in of_word.get(word, ())}
    enough = len(told) >= _FEWEST or len(words) <= _SHORT  # one word says it of "250 g Mehl" alone
    return language if enough and count * _SHARE >= len(words) else ""


def plain_units(text: str, language: str) -> str:
    """A tidied text in which an abbreviation that its language uses for another unit is written out."""
    for pattern, plain in _own_units().get(language, ()):
        text = pattern.sub(rf"\1{plain}", text)
    return text


def plain_numbers(text: str, language: str) -> Plain:
    """A tidied text whose thousands have no sign between them.

    Parameters
    ----------
    text : str
        A line, tidied.
    language : str
        `language_of` it or of its recipe; where that is empty, a number that may be either stays as it stands and is
        told.
    """
    by = _languages()[0].get(language, "")
    if not by:
        found = _POINTS.search(text)
        return Plain(text, found[1] if found is not None else "")
    text = _POINTS.sub(lambda number: number[1].replace(".", ""), text)
    text = _COMMA.sub(lambda number: number[1].replace(",", "."), text)
    return Plain(_SPACES.sub(lambda number: number[1].replace(" ", ""), text) if by == " " else text)
