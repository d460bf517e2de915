"""The post's fixed words in each language, from data/; those that the label has too are the label's."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from labeler.data_files import data_folder, data_rows
from labeler.label.words import words as label_words

__all__ = ["rows", "words"]

DATA = data_folder("labeler.post")


@cache
def rows(name: str) -> tuple[Mapping[str, str], ...]:
    """The rows of a data file; lines that begin with # are its notes."""
    return tuple(MappingProxyType(row) for row in data_rows(DATA / name))


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
