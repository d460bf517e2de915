"""What a plain name means by market: milk is semi-skimmed in one and fortified in another (``market_defaults.csv``)."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import NamedTuple

from labeler.data_files import data_folder, data_rows
from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.name_words import words
from labeler.foods.model import Match

__all__ = ["by_market"]

DEFAULTS_FILE = data_folder("labeler.foods") / "market_defaults.csv"
_PLAIN_MEANING = 0.8  # a match less sure than this is a stand-in, which no market sells under the name


class _Default(NamedTuple):
    food: str
    names: frozenset[frozenset[str]]
    markets: frozenset[str]
    takes: str
    confidence: float
    note: str


@cache
def _defaults() -> tuple[_Default, ...]:
    rows = data_rows(DEFAULTS_FILE)
    return tuple(
        _Default(
            row["food"],
            frozenset(frozenset(words(name)) for name in row["names"].split("|") if name),
            frozenset(row["markets"].split()),
            row["takes"],
            float(row["confidence"]),
            row["note"],
        )
        for row in rows
    )


def by_market(found: Match, name: str, market: str) -> Match:
    """What a market sells under a name, where that is another entry of the table.

    Parameters
    ----------
    found : Match
        What the name means in the US, whose table it is.
    name : str
        The food of the line.
    market : str
        Whose market.
    """
    if found.food is None or found.confidence < _PLAIN_MEANING:
        return found
    stated = frozenset(words(name))
    for row in _defaults():
        if row.food == found.food and market in row.markets and (not row.names or stated in row.names):
            return replace(
                found,
                food=row.takes,
                description=load_table().describe(row.takes),
                confidence=min(found.confidence, row.confidence),
                reason=row.note,
                alternatives=(row.food, *(one for one in found.alternatives if one != row.takes)),
            )
    return found
