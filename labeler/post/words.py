"""The post's fixed words in each language, from data/; those that the label has too are the label's."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from labeler.label.words import words as label_words

__all__ = ["rows", "words"]

DATA = Path(__file__).with_name("data")


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
