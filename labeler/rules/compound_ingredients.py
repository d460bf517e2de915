"""Ingredients that are made of ingredients: what a bought one usually holds, where its own list is not known.

A list has to name what a compound ingredient is made of. Where the cook's larder has the package's list, that stands;
else a compound of the table is asked for with its likely list, or, where nearly every package holds the same, printed
so with a note to read the package. An oil that does not say of which plants it is must, in some markets.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from labeler.data_files import data_folder, data_rows
from labeler.text.stems import find_phrase, stems

__all__ = ["Compound", "CompoundKind", "compound", "usual_names"]

COMPOUNDS_FILE = data_folder("labeler.rules") / "compound_ingredients.csv"


class CompoundKind(StrEnum):
    """What the list does with a compound ingredient."""

    ASK = "ask"  # its own list is wanted from the package
    USUAL = "usual"  # it is printed with what it usually holds
    SOURCE = "source"  # the plants that it is of are wanted, however little there is of it


@dataclass(frozen=True, slots=True)
class Compound:
    """A compound ingredient.

    Parameters
    ----------
    words : str
        Its name in the table.
    kind : CompoundKind
    made_of : str
        Its likely list, or the words that are printed.
    """

    words: str
    kind: CompoundKind
    made_of: str


@cache
def _compounds(market: str) -> tuple[tuple[tuple[str, ...], Compound], ...]:
    """The compounds of a market by the stems of their names, the longest first."""
    rows = data_rows(COMPOUNDS_FILE)
    found = [
        (stems(row["words"]), Compound(row["words"], CompoundKind(row["kind"]), row["list"]))
        for row in rows
        if market in row["markets"].split(";")
    ]
    return tuple(sorted(found, key=lambda pair: -len(pair[0])))


def compound(name: str, market: str) -> Compound | None:
    """The compound that an ingredient is by the last words of its name, an unnamed oil by all of them; else None."""
    words = stems(name.partition(" (")[0])
    for phrase, one in _compounds(market):
        if one.kind is CompoundKind.ASK and find_phrase(phrase, words) == len(words):
            return one
        if one.kind is CompoundKind.SOURCE and phrase == words:
            return one
    return None


@cache
def usual_names(market: str) -> Mapping[str, str]:
    """The names that are printed with what they usually hold, by the plain name in lower case."""
    return MappingProxyType({one.words: one.made_of for _, one in _compounds(market) if one.kind is CompoundKind.USUAL})
