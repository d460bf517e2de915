"""The unit that stands behind its food, or is its food: "2 garlic cloves", "8 cloves", "1 chicken stock cube"."""

from __future__ import annotations

import re
from dataclasses import replace

from labeler.parsing.ingredient.draft import LineDraft
from labeler.parsing.ingredient.name import only_describes, share_head
from labeler.parsing.line_words import ADJECTIVES, FORMS, SHAPES
from labeler.parsing.units import TRAILING, canonical_unit, kind, plural

__all__ = ["settle_unit", "take_form"]

_JOINT = re.compile(r" (?:with|in|from) ", re.I)
_CUBE = "cube"
_MOST_CUBES = 12
_BROTH = re.compile(rf"\b(?:{'|'.join(sorted(TRAILING[_CUBE]))})s?$", re.I)


def _trailing_unit(name: str) -> tuple[str, str] | None:
    """A unit that stands behind its food ("garlic cloves", "thyme sprigs"), as (food, unit)."""
    head, space, last = name.rpartition(" ")
    unit = canonical_unit(last) if space else None
    foods = TRAILING.get(unit) if unit is not None else None
    if unit is None or foods is None:
        return None
    before = head.rsplit(" ", 1)[-1].lower()
    unit = "stalk" if unit == "rib" else unit
    if "*" in foods:
        return None if before in ADJECTIVES else (head, unit)
    return (head, unit) if before in foods else None


def settle_unit(food: str, choices: int, reading: LineDraft) -> str:
    """Settle a count with its unit: one that stands behind the food, or one that is the food ("8 cloves").

    The first `choices` alternatives share a phrase with the food, and so its unit ("cinnamon or cassia stick").
    """
    main = reading.amounts[0]
    if main.unit is not None:
        if kind(main.unit) != "count" or (food and not only_describes(food)):
            return _cube_of(food, main.unit)
        reading.amounts[0] = replace(main, unit=None)
        return f"{food} {plural(main.unit) if main.high > 1 else main.unit}".strip()
    joint = _JOINT.search(food)
    stem, behind = (food[: joint.start()], food[joint.start() :]) if joint is not None else (food, "")
    own = _trailing_unit(stem)
    shared = [_trailing_unit(choice) for choice in reading.alternatives[:choices]]
    settling = own or (shared[-1] if shared else None)
    if settling is None and _BROTH.search(stem) and main.high <= _MOST_CUBES:
        reading.amounts[0] = replace(main, unit=_CUBE)  # "1 chicken stock": nothing else is counted so
        return _cube_of(food, _CUBE)
    if settling is None:
        return food
    reading.amounts[0] = replace(main, unit=settling[1])
    for at, one in enumerate(shared):
        if one is not None:
            reading.alternatives[at] = _cube_of(*one)
    if own is None:  # "1 chicken or vegetable stock cube"
        return _cube_of(share_head([food, shared[-1][0]])[0], settling[1]) if shared and shared[-1] else food
    stem = own[0]
    while (first := stem.partition(" "))[2] and first[0].lower() in SHAPES:
        stem = first[2]  # "2 fat garlic cloves"
    return f"{_cube_of(stem, own[1])}{behind}"


def _cube_of(food: str, unit: str) -> str:
    """The food with its cube where that makes another food of it: a stock cube is no stock, a butter cube butter."""
    return f"{food.removesuffix('s')} {_CUBE}" if unit == _CUBE and _BROTH.search(food) else food


def take_form(food: str, reading: LineDraft) -> str:
    """The form of a measured food is how it is prepared: "1 cup carrot chunks", "1/2 cup pecan halves"."""
    head, space, last = food.rpartition(" ")
    if not space or last.lower() not in FORMS or kind(reading.amounts[0].unit) not in ("mass", "volume"):
        return food
    if canonical_unit(last) == _CUBE and _BROTH.search(head):
        return food  # "10 g beef stock cubes"
    reading.preparations.append(last)
    return head
