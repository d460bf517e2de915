"""What a line settles in braces: ``{food 15028, 454 g, retention 0801*0802}``."""

from __future__ import annotations

import re

from labeler.parsing.ingredient.amounts import read_measures
from labeler.parsing.ingredient.draft import LineDraft
from labeler.parsing.model import Pin
from labeler.parsing.units import grams_per, kind

__all__ = ["read_pin"]

_BRACES = re.compile(r"\{([^{}]*)\}")
_FOOD = re.compile(r"\d{1,5}")
_CODES = re.compile(r"\d{1,4}(?:\*\d{1,4})*")


def _mistake(item: str, reading: LineDraft) -> None:
    from difflib import get_close_matches

    key = item.split()[0].lower().rstrip(":")
    reading.notes.append(item)
    near = get_close_matches(key, ("food", "retention"), 1)
    hint = f"; did you mean “{near[0]}”?" if near and near[0] != key else ""
    reading.problem(
        "pin-unreadable",
        f"“{item}” in braces is not understood{hint or '.'} Write “food” and the five digits that `labeler foods` "
        "gives, a weight as “454 g”, or “retention” and a code of four digits.",
    )


def _grams(item: str) -> float | None:
    """The weight [g] that an item states in any unit of mass, or None."""
    measures = read_measures(item, 0)
    if measures is None or measures.end != len(item) or kind(measures.amounts[0].unit) != "mass":
        return None
    amount = measures.amounts[0]
    return (amount.low + amount.high) / 2 * (grams_per(amount.unit) or 0.0)


def read_pin(text: str, reading: LineDraft) -> tuple[str, Pin | None]:
    """Take the braces out of a tidied line; returns the rest and what they settle, None where they settle nothing.

    What cannot be read is reported in `reading` and settles nothing: an unknown word, a food id that is no number of
    up to five digits, a weight that is not more than zero, a second pair of braces.
    """
    found = _BRACES.search(text)
    if found is None:
        reading.problem(
            "pin-unreadable",
            "A brace has no partner; write a weight as “{454 g}”, or a food by the id that `labeler foods` gives.",
        )
        return " ".join(text.replace("{", " ").replace("}", " ").split()), None
    food: str | None = None
    grams: float | None = None
    retention: list[str] = []
    last = ""
    items = [" ".join(item.split()) for item in re.split(r"[,;]", found[1])]
    for item in filter(None, items):
        key, _, value = item.partition(" ")
        key = key.lower().rstrip(":=")
        weight = _grams(item)
        if key == "food" and food is None and _FOOD.fullmatch(value):
            food = value.zfill(5)
        elif key == "retention" and value and all(_CODES.fullmatch(word) for word in value.split()):
            retention += [code.zfill(4) for word in value.split() for code in word.split("*")]
        elif last == "retention" and _CODES.fullmatch(item):
            retention += [code.zfill(4) for code in item.split("*")]
            key = "retention"
        elif weight is not None and weight > 0 and grams is None:
            grams = weight
        else:
            _mistake(item, reading)
        last = key
    if not any(items):
        reading.problem(
            "pin-unreadable",
            "The braces are empty; write a weight as “{454 g}”, or a food by the id that `labeler foods` gives.",
        )
    rest = f"{text[: found.start()]} {text[found.end() :]}"
    if "{" in rest or "}" in rest:
        reading.problem("pin-unreadable", "Only the first pair of braces is read; put everything into one pair.")
        rest = rest.replace("{", " ").replace("}", " ")
    settled = food is not None or grams is not None or bool(retention)
    return " ".join(rest.split()), Pin(food, grams, tuple(retention)) if settled else None
