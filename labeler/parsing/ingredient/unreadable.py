"""What stands where an amount stands and is none: "-5 g salt", "1e400 g water", "1/0 cup flour", "1.2.3 g salt".

Such a line keeps its food and has no amount at all: neither the digits that happen to be in it nor a usual amount may
stand in for what nobody can read.
"""

from __future__ import annotations

import re

from labeler.parsing.ingredient.amounts import read_unit
from labeler.parsing.ingredient.draft import LineDraft
from labeler.parsing.numbers import read_quantity
from labeler.parsing.units import kind

__all__ = ["take_unreadable"]

_NEGATIVE = re.compile(r"-[\d.,/]*\d")
_LOST = re.compile(r"[?\ufffd]+ ?(?=[a-z])", re.I)
_POWER = re.compile(r"\d[\d.,]*e[+-]?\d+(?![\w/])", re.I)
_NO_NUMBER = re.compile(r"(?:nan|[+-]?inf(?:inity)?|[+-]?∞)(?= )", re.I)
_DIGITS = re.compile(r"[\d.,/]*\d[\d.,/]*")


def take_unreadable(work: str, reading: LineDraft) -> str:
    """The line without an amount that is none, which is noted and reported; unchanged where its amount can be read."""
    negative = _NEGATIVE.match(work)
    if negative is not None:
        return _without(
            work,
            negative.end(),
            reading,
            "amount-negative",
            "is less than nothing and is not counted. Write how much goes in; a dash that opens a list has a space "
            "behind it.",
        )
    end = _bad_number(work)
    if end is None:
        return work
    return _without(work, end, reading, "amount-unreadable", "is no number and is not counted. Write how much goes in.")


def _bad_number(work: str) -> int | None:
    """Where a number ends that is none; None where the line opens with one, or with none at all."""
    power = _POWER.match(work)
    if power is not None:
        return power.end()
    measured = _LOST.match(work) or _NO_NUMBER.match(work)
    if measured is not None:
        return measured.end() if _LOST.match(work) or _is_measure(work, measured.end()) else None
    digits = _DIGITS.match(work)
    if digits is None:
        return None
    quantity = read_quantity(work)
    if quantity is None:  # "1/0 cup"; but "80/20 ground beef" and "7up" are no amounts
        return digits.end() if "/" in digits[0] and _is_measure(work, digits.end()) else None
    left = digits[0][quantity.end :].rstrip(".,")
    return digits.end() if left else None


def _is_measure(work: str, end: int) -> bool:
    unit = read_unit(work, end)
    return unit is not None and kind(unit.name) in ("mass", "volume")


def _without(work: str, end: int, reading: LineDraft, code: str, says: str) -> str:
    """The line behind the number and its unit, with a problem that quotes them."""
    unit = read_unit(work, end)
    end = unit.end if unit is not None else end
    text = work[:end].strip()
    reading.unreadable = True
    reading.notes.append(text)
    reading.problem(code, f"“{text}” {says}")
    return work[end:].lstrip(" .:;)-").removeprefix("of ")
