"""The fixed words of labels in each language, and the names of nutrients and allergens, from data/.

Figures keep the text of the market's rules, with the decimal mark and the few phrases of the language in it. What the
cook wrote is never translated. Two languages side by side, as Canada asks for, are written ``"en+fr"``.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from labeler.data_files import data_folder, data_rows
from labeler.types import LabelerError

__all__ = ["LANGUAGES", "figure_words", "line_name", "name_allergen", "rows", "tongues", "words"]

LANGUAGES = ("en", "fr", "es", "de", "it")
DATA = data_folder("labeler.label")
_POINT = re.compile(r"(?<=\d)\.(?=\d)")
_PHRASES = ("at least", "less than", "not known")
BETWEEN = " / "


@cache
def rows(name: str) -> tuple[Mapping[str, str], ...]:
    """The rows of a data file; lines that begin with # are its notes."""
    return tuple(MappingProxyType(row) for row in data_rows(DATA / name))


def tongues(language: str) -> tuple[str, ...]:
    """The languages that stand side by side in a language as typed, one or two.

    Raises
    ------
    LabelerError
        There is no such language in the files.
    """
    found = tuple(language.split("+"))
    for one in found:
        if one not in LANGUAGES:
            known = ", ".join(LANGUAGES)
            raise LabelerError(f"no label words in the language {one!r}; there are {known}, and two as en+fr")
    return found


def beside(texts: tuple[str, ...]) -> str:
    """The same in two languages, once where both say it alike."""
    return BETWEEN.join(dict.fromkeys(texts))


@cache
def words(language: str) -> Mapping[str, str]:
    """The fixed words by key; raises LabelerError for a language that the files do not have."""
    spoken = tongues(language)
    fixed = {row["key"]: beside(tuple(row[one] for one in spoken)) for row in rows("words.csv")}
    decimal = next(row[spoken[0]] for row in rows("words.csv") if row["key"] == "decimal")
    return MappingProxyType(fixed | {"decimal": decimal})


@cache
def _lines() -> Mapping[str, Mapping[str, str]]:
    return {row["en"]: row for row in rows("line_names.csv")}


def line_name(name: str, language: str) -> str:
    """A line of the nutrition table, or a note below it, in a language; in English where there is no word for it."""
    row = _lines().get(name)
    return name if row is None else beside(tuple(row[one] for one in tongues(language)))


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
    from labeler.allergens.vocabulary import allergen_names

    row = _allergens().get(allergen)
    if language == "en" or row is None:
        return names
    plain = allergen_names()[allergen]
    spoken = beside(tuple(plain if one == "en" else row[one] for one in tongues(language)))
    return tuple(dict.fromkeys(spoken if name == plain else f"{spoken} ({name})" for name in names))
