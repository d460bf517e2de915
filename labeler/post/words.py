"""The post's fixed words in each language, from data/; those that the label has too are the label's.

Figures keep the text of the market's rules, with the decimal mark and the few phrases of the language in it. What the
cook wrote is never translated.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from labeler.allergens.vocabulary import allergen_names
from labeler.label.words import words as label_words

__all__ = ["LANGUAGES", "figure_words", "line_name", "name_allergen", "words"]

LANGUAGES = ("en", "fr", "es", "de", "it")
DATA = Path(__file__).with_name("data")
_POINT = re.compile(r"(?<=\d)\.(?=\d)")
_PHRASES = ("at least", "less than", "not known")


@cache
def rows(name: str) -> tuple[Mapping[str, str], ...]:
    """The rows of a data file; lines that begin with # are its notes."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return tuple(MappingProxyType(row) for row in csv.DictReader(line for line in file if line[:1] != "#"))


@cache
def words(language: str) -> Mapping[str, str]:
    """The fixed words by key, the label's and the post's.

    Raises
    ------
    LabelerError
        There is no such language.
    """
    own = label_words(language)
    return MappingProxyType({**own, **{row["key"]: row[language] for row in rows("words.csv")}})


@cache
def _lines() -> Mapping[str, Mapping[str, str]]:
    return {row["en"]: row for row in rows("line_names.csv")}


def line_name(name: str, language: str) -> str:
    """A line of the nutrition table, or a note below it, in a language; in English where there is no word for it."""
    row = _lines().get(name)
    return name if language == "en" or row is None else row[language]


def figure_words(text: str, language: str) -> str:
    """A figure as the rules print it ("at least 2.5 g") with the phrases and the decimal mark of a language."""
    if language == "en":
        return text
    for phrase in _PHRASES:
        text = text.replace(phrase, line_name(phrase, language))
    return _POINT.sub(words(language)["decimal"], text)


@cache
def _allergens() -> Mapping[str, Mapping[str, str]]:
    return {row["allergen"]: row for row in rows("allergen_names.csv")}


def name_allergen(allergen: str, names: tuple[str, ...], language: str) -> tuple[str, ...]:
    """What an allergen is called in a language.

    Parameters
    ----------
    allergen : str
        Id.
    names : tuple of str
        What the assessment calls it in English; a species stays beside the other language's word for its class.
    language : str
    """
    row = _allergens().get(allergen)
    if language == "en" or row is None:
        return names
    plain = allergen_names()[allergen]
    return tuple(dict.fromkeys(row[language] if name == plain else f"{row[language]} ({name})" for name in names))
