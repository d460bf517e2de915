"""Whether a food with alcohol in it is a drink: surely, surely not, or a question for the cook.

A brandy sauce or a fish soup with wine is no drink, though both flow. The words stand in ``data/drinks.csv``; what
else a food is called comes from the reference amounts.
"""

from __future__ import annotations

from contextlib import suppress
from enum import Enum
from functools import cache
from pathlib import Path

from labeler.data_files import data_folder, data_rows
from labeler.rules.loading.reader import Where
from labeler.rules.makeup import Makeup, MakeupCondition, conditions
from labeler.rules.model import Rule
from labeler.rules.reference_amounts import named_reference, propose_reference
from labeler.text.stems import find_phrase, head_and_aside, stems
from labeler.types import LabelerError

__all__ = ["DrinkVerdict", "drink_verdict"]

_DATA = data_folder("labeler.rules") / "drinks.csv"
_SURELY_NAMED = 0.8
"""Confidence from which on a name settles the reference amount: it ends in its words."""
_OF_SOLIDS = frozenset({"g", "cup", "tbsp", "tsp"})


class DrinkVerdict(Enum):
    """What is known of whether a food is a drink."""

    YES = "a drink"
    NO = "no drink"
    UNSURE = "a question"


@cache
def _words(by: str) -> tuple[str, ...]:
    (row,) = (row for row in data_rows(_DATA) if row["by"] == by)
    return tuple(row["is"].split("|"))


@cache
def _makeup() -> tuple[MakeupCondition, ...]:
    return conditions(_words("makeup")[0], Where(Path(str(_DATA))))


def drink_verdict(name: str, makeup: Makeup, *, liquid: bool, kind: str = "", strength: str = "") -> DrinkVerdict:
    """Whether a food with alcohol is a drink.

    Parameters
    ----------
    name : str
        Name of the food; its last words before "with", "in" and the like are what it is.
    makeup : Makeup
    liquid : bool
        Whether it goes by millilitres, which sauces and soups do as well: alone it settles nothing.
    kind : str
        The reference amount that the cook names; empty where none is.
    strength : str
        What the cook says of its alcohol, as "25 % vol" or "no"; empty where nothing is.
    """
    if strength.casefold() in ("no", "false"):
        return DrinkVerdict.NO
    reference = _reference(name, kind)
    drinks = reference is not None and reference.data["id"] in _words("reference")
    if reference is not None and not drinks and reference.data["unit"] in _OF_SOLIDS:
        return DrinkVerdict.NO
    head = stems(head_and_aside(name)[0])
    named = drinks or any(find_phrase(stems(words), head) == len(head) for words in _words("name"))
    made_so = all(condition.holds(makeup) for condition in _makeup())
    if liquid and (strength or (named and made_so)):
        return DrinkVerdict.YES
    return DrinkVerdict.UNSURE if liquid or named or strength else DrinkVerdict.NO


def _reference(name: str, kind: str) -> Rule | None:
    """The reference amount that the cook names, or that the name settles, of the US, which has a table of them."""
    with suppress(LabelerError):
        if kind:
            return named_reference(kind, "us")
    sure = [one.rule for one in propose_reference(name, market="us") if one.confidence >= _SURELY_NAMED]
    return sure[0] if sure else None
