"""The phrases of ``data/row_phrases.csv``, by class, ready to stand in a pattern."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping
from functools import cache

from labeler.data_files import data_folder, data_rows

__all__ = ["first_words", "needs", "one_of", "phrases"]


@cache
def phrases() -> Mapping[str, tuple[str, ...]]:
    """Every class of phrases."""
    found: dict[str, list[str]] = defaultdict(list)
    for row in data_rows(data_folder("labeler.parsing") / "row_phrases.csv"):
        found[row["class"]].append(row["phrase"])
    return {name: tuple(rows) for name, rows in found.items()}


def one_of(*classes: str) -> str:
    """A group of a pattern that takes any phrase of some classes, the longest first; a space is any white space."""
    every = {phrase for name in classes for phrase in phrases()[name]}
    ordered = sorted(every, key=lambda phrase: (-len(phrase), phrase))
    return "(?:" + "|".join(re.escape(phrase).replace(r"\ ", r"\s+") for phrase in ordered) + ")"


def first_words(*classes: str) -> frozenset[str]:
    """The first word of every phrase of some classes; ValueError where a phrase has none."""
    found = [re.search(r"\w+", phrase.lower()) for name in classes for phrase in phrases()[name]]
    if None in found:
        raise ValueError(f"{', '.join(classes)}: a phrase without a word")
    return frozenset(word[0] for word in found if word is not None)


@cache
def needs() -> tuple[str, ...]:
    """Everything that leads up to a list told in a sentence: "you need", "we will also want"."""
    found = phrases()
    also = ("", *(f" {word}" for word in found["needs_also"]))
    return tuple(f"{who}{more} {word}" for who in found["needs_who"] for more in also for word in found["needs_word"])
