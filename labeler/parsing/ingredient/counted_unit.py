"""The unit that a count speaks of, with the words that may stand between: "2 large handfuls", "1 firmly packed cup"."""

from __future__ import annotations

import re

from labeler.parsing.ingredient.amounts import Unit, read_unit
from labeler.parsing.ingredient.draft import LineDraft
from labeler.parsing.line_words import ADJECTIVES, FILLING_OF, FILLINGS, PACKINGS, PREPARATIONS, SHAPES, SIZE_OF
from labeler.parsing.units import kind

__all__ = ["BEFORE_UNIT", "NEXT_WORD", "Ahead", "look_ahead", "note_passed"]

BEFORE_UNIT = ADJECTIVES | FILLINGS | PACKINGS | PREPARATIONS | SHAPES | frozenset(SIZE_OF)
"""Words that may stand between a number and its unit."""
NEXT_WORD = re.compile(r" ([A-Za-z]+(?:-[A-Za-z]+)*)")
_LIKENED = re.compile(r" ([a-z0-9]+-(?:sized?|finger|length)|extra large)\b", re.I)
# "1 strip steak", "2 cube steaks", "2 square slices": here the unit word is no unit.
_NOT_A_UNIT_BEFORE = frozenset("steak steaks roast roasts eye eyes slice slices piece pieces".split(" "))
_CUTS = frozenset("strip cube square round rib chunk bar log block ball".split())
_NEEDS_OF = frozenset(["round", "rounds", "pot", "pots", "log", "leaf"])
_RIB_FOODS = frozenset(["celery", "chard", "fennel", "rhubarb", "romaine"])


def _is_unit_here(text: str, unit: Unit) -> bool:
    """Whether the word that spells a unit is one here: "1 strip steak" has none."""
    if kind(unit.name) != "count":
        return True
    following = NEXT_WORD.match(text, unit.end)
    if unit.name in _CUTS and following is not None and following[1].lower() in _NOT_A_UNIT_BEFORE:
        return False
    word = text[: unit.end].rsplit(" ", 1)[-1].lower()
    return not (word in _NEEDS_OF and not text.startswith(" of ", unit.end))


def _stalk(text: str, unit: Unit) -> Unit | None:
    """A rib is a stalk of celery and the like, and no unit of anything else ("8 short ribs")."""
    if unit.name != "rib":
        return unit
    rest = text[unit.end :].lower().replace(",", " ").split()[:4]
    return unit._replace(name="stalk") if any(word in _RIB_FOODS for word in rest) else None


class Ahead:
    """A unit ahead of a position, and the words that were passed over to reach it."""

    __slots__ = ("passed", "unit")

    def __init__(self, unit: Unit | None, passed: list[str]) -> None:
        self.unit = unit
        self.passed = passed


def look_ahead(text: str, at: int) -> Ahead:
    """The unit at `at`, with at most four words of size or filling before it."""
    passed: list[str] = []
    while True:
        unit = read_unit(text, at)
        if unit is not None and _is_unit_here(text, unit):
            unit = _stalk(text, unit)
            return Ahead(unit, passed if unit is not None else [])
        if len(passed) == 4:
            return Ahead(None, [])
        word = NEXT_WORD.match(text, at)
        if word is not None and (lowered := word[1].lower()) in BEFORE_UNIT:
            end = word.end()
        else:
            likened = _LIKENED.match(text, at)
            if likened is None:
                return Ahead(None, [])
            lowered, end = likened[1].lower().replace(" ", "-"), likened.end()
        passed.append(lowered)
        at = end
        if text.startswith((",", " or ", " to ", " and "), at):
            if not text.startswith((" to ", " or "), at):
                return Ahead(None, [])
            other = NEXT_WORD.match(text, at + 3)
            if other is None or other[1].lower() not in SIZE_OF:
                return Ahead(None, [])
            at = other.end()


def note_passed(ahead: Ahead, reading: LineDraft) -> tuple[bool, str]:
    """Put away the words that stood before a unit; returns whether they make the amount loose, and how full it is."""
    if ahead.unit is None:
        return False, ""
    counted = kind(ahead.unit.name) == "count"
    loose, filling = False, ""
    packed = []
    for word in ahead.passed:
        if word in FILLINGS or word in PACKINGS:
            loose = loose or word in FILLINGS
            filling = filling or FILLING_OF.get(word, "")
            if word in PACKINGS:
                packed.append(word.replace("-", " "))
        elif word in PREPARATIONS:
            packed.append(word)  # "3 peeled cloves garlic"
        elif word in SIZE_OF:
            if counted:
                reading.size = reading.size or SIZE_OF[word]
            else:
                loose = True
        elif "-" in word and word.endswith(("size", "sized", "finger", "length")):
            reading.notes.append(word)
        elif word not in SHAPES:
            reading.prefix.append(word)
    if packed:
        reading.preparations.append(" ".join(packed))
    return loose, filling
