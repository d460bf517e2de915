"""Checks of single values in rule files: words, numbers, days, lists. Each returns the value in its proper type."""

from __future__ import annotations

import datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

from labeler.rules.loading.reader import Check, Fields, Where, check_fields, nearest

__all__ = [
    "amount",
    "cell_fraction",
    "cell_number",
    "count",
    "day",
    "fields_of",
    "fraction",
    "list_of",
    "map_of",
    "number",
    "one_of",
    "positive",
    "separated",
    "text",
    "truth",
    "words",
]


def text(value: Any, where: Where) -> str:
    """Words, not empty."""
    if not isinstance(value, str) or not value.strip():
        where.fail(f"words are wanted here, not {value!r}")
    return value.strip()


def words(value: Any, where: Where) -> str:
    """Words that may be empty, as in a table's cell."""
    if not isinstance(value, str):
        where.fail(f"words are wanted here, not {value!r}")
    return value.strip()


def truth(value: Any, where: Where) -> bool:
    """true or false."""
    if not isinstance(value, bool):
        where.fail(f"true or false is wanted here, not {value!r}")
    return value


def number(value: Any, where: Where) -> Decimal:
    """A finite number, exact."""
    if isinstance(value, bool) or not isinstance(value, (int, Decimal)):
        where.fail(f"a number is wanted here, not {value!r}")
    return Decimal(value)


def positive(value: Any, where: Where) -> Decimal:
    """A number above zero."""
    found = number(value, where)
    if found <= 0:
        where.fail(f"a number above zero is wanted here, not {value}")
    return found


def amount(value: Any, where: Where) -> Decimal:
    """A number, not negative."""
    found = number(value, where)
    if found < 0:
        where.fail(f"an amount is not negative: {value}")
    return found


def count(value: Any, where: Where) -> int:
    """A whole number, not negative."""
    if isinstance(value, bool) or not isinstance(value, int) or value < 0:
        where.fail(f"a whole number is wanted here, not {value!r}")
    return value


def cell_number(value: Any, where: Where) -> Decimal | None:
    """A number in a table's cell; None where the cell is empty, which means that the law sets none."""
    if value == "":
        return None
    try:
        found = Decimal(str(value))
    except ArithmeticError:
        where.fail(f"a number is wanted here, not {value!r}")
    return found if found.is_finite() else where.fail(f"a number is wanted here, not {value!r}")


def day(value: Any, where: Where) -> datetime.date | None:
    """A day, or null where `since_basis` says why there is none."""
    if value is not None and not isinstance(value, datetime.date):
        where.fail(f"a date such as 2016-07-26, or null, is wanted here, not {value!r}")
    return value


def one_of(*known: str) -> Check:
    """One word of a fixed few."""

    def check(value: Any, where: Where) -> str:
        if value not in known:
            where.fail(f"{value!r} is not known here{nearest(value, known)}")
        return str(value)

    return check


def list_of(check: Check) -> Check:
    """A list whose items all pass one check; it may be empty."""

    def check_list(value: Any, where: Where) -> tuple[Any, ...]:
        if not isinstance(value, list):
            where.fail(f"a list is wanted here, not {value!r}")
        return tuple(check(item, where.at(place)) for place, item in enumerate(value))

    return check_list


def map_of(check: Check) -> Check:
    """A mapping with free keys whose values all pass one check."""

    def check_map(value: Any, where: Where) -> dict[str, Any]:
        if not isinstance(value, dict) or not value:
            where.fail(f"a mapping is wanted here, not {value!r}")
        return {key: check(item, where.at(key)) for key, item in value.items()}

    return check_map


def fields_of(fields: Fields) -> Check:
    """A mapping with these keys."""

    def check(value: Any, where: Where) -> dict[str, Any]:
        return check_fields(value, fields, where)

    return check


def fraction(value: Any, where: Where) -> Fraction:
    """A positive number that may be a fraction or mixed: ``1/4``, ``1 2/3``, ``0.5``."""
    try:
        found = sum((Fraction(part) for part in str(value).split()), Fraction(0))
    except (ValueError, ZeroDivisionError):
        found = Fraction(0)
    if found <= 0:
        where.fail(f"a number or fraction above zero is wanted here, not {value!r}")
    return found


def cell_fraction(value: Any, where: Where) -> Fraction | None:
    """A fraction in a table's cell; None where the cell is empty, which means that the law sets no figure."""
    return None if value == "" else fraction(value, where)


def separated(value: Any, where: Where) -> tuple[str, ...]:
    """Words parted by semicolons in a table's cell."""
    return tuple(part.strip() for part in words(value, where).split(";") if part.strip())
