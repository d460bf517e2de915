"""Nutrition that somebody else printed with a recipe ("Calories: 640 kcal | Protein: 18 g"): to compare, not to use."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from labeler.data_files import data_folder, data_rows
from labeler.parsing.model import NoteKind, Recipe

__all__ = ["StatedFigure", "StatedOf", "stated_nutrition"]

NUTRIENTS_FILE = data_folder("labeler.parsing") / "stated_nutrients.csv"

_KJ_IN_KCAL = 4.184  # EU 1169/2011 annex I
_MILLIGRAMS = {"g": 1000.0, "mg": 1.0, "µg": 0.001, "mcg": 0.001, "ug": 0.001}
_UNIT = r"(?:kcal|kj|calories|cal|mg|mcg|µg|ug|g)\b"
_FIGURE = r"(?<![\d.,])(?P<{0}>\d+(?:[.,]\d+)?)(?!\d|[.,]\d|\s*%)\s*(?P<{1}>" + _UNIT + r")?"
_OF = (
    (re.compile(r"\b(?:per|in|pro|pour|por) 100\s*(?:g|ml)\b", re.IGNORECASE), "100 g"),
    (
        re.compile(r"\b(?:whole|entire) (?:recipe|batch|dish)|\bin total\b|\bper (?:recipe|batch)\b", re.IGNORECASE),
        "batch",
    ),
)


class StatedOf(StrEnum):
    """What printed figures are of."""

    SERVING = "serving"
    HUNDRED_GRAMS = "100 g"
    BATCH = "batch"


@dataclass(frozen=True, slots=True)
class StatedFigure:
    """One figure that somebody else printed.

    Parameters
    ----------
    tag : str
        INFOODS tagname.
    amount : float
        In the food table's unit of it.
    of : StatedOf
        What it is of; a serving where nothing is said.
    text : str
        The words that say it.
    """

    tag: str
    amount: float
    of: StatedOf
    text: str


@cache
def _nutrients() -> dict[str, tuple[str, str, float]]:
    """Word → tagname, unit, how much of it a gram of the thing named is."""
    rows = data_rows(NUTRIENTS_FILE)
    return {word: (row["tag"], row["unit"], float(row["times"])) for row in rows for word in row["words"].split("|")}


@cache
def _pattern() -> re.Pattern[str]:
    words = "|".join(re.escape(word) for word in sorted(_nutrients(), key=len, reverse=True))
    before = rf"\b(?P<word>{words})\b\s*(?:\([^()]*\)\s*)?[:=–-]?\s*(?:of\s+|about\s+|ca\.?\s+)?"
    return re.compile(
        rf"{before}{_FIGURE.format('amount', 'unit')}|{_FIGURE.format('first', 'of')}\s*(?P<behind>{words})\b",
        re.IGNORECASE,
    )


def stated_nutrition(recipe: Recipe) -> tuple[StatedFigure, ...]:
    """The figures that a recipe's page printed, each nutrient once, in the order of the text.

    Parameters
    ----------
    recipe : Recipe
        Its notes on nutrition and the keys of its head that name a nutrient are read.
    """
    found: dict[tuple[str, StatedOf], StatedFigure] = {}
    for text in _texts(recipe):
        of = StatedOf(next((name for pattern, name in _OF if pattern.search(text)), StatedOf.SERVING))
        for match in _pattern().finditer(text):
            word = (match["word"] or match["behind"]).casefold()
            tag, unit, times = _nutrients()[word]
            amount = _in_unit(match["amount"] or match["first"], (match["unit"] or match["of"] or "").casefold(), unit)
            if amount is not None:
                found.setdefault((tag, of), StatedFigure(tag, amount * times, of, match[0].strip()))
    return tuple(found.values())


def _texts(recipe: Recipe) -> Iterator[str]:
    yield from (note.text for note in recipe.notes if note.kind is NoteKind.NUTRITION)
    for key, value in recipe.head.items():
        if key.casefold() in _nutrients() or key.casefold() in ("nutrition", "macros"):
            yield f"{key}: {value}".translate(str.maketrans('{}[]"', "     "))


def _in_unit(figure: str, text: str, unit: str) -> float | None:
    """An amount in the food table's unit; None where the unit said is none of the thing's."""
    amount = float(figure.replace(",", "."))
    if unit == "kcal":
        return amount / _KJ_IN_KCAL if text == "kj" else amount if text in ("", "kcal", "cal", "calories") else None
    if text and text not in _MILLIGRAMS:
        return None
    milligrams = amount * _MILLIGRAMS[text or unit]
    return milligrams / _MILLIGRAMS[unit]
