"""Dates as a market has them printed: their words, and day, month and year in its order."""

from __future__ import annotations

import datetime
from typing import Any

from labeler.parsing.model import Recipe
from labeler.rules.market import load_market

__all__ = ["date_text", "date_words", "day_of", "has_date_form"]


def day_of(value: Any) -> datetime.date | None:
    """The day that a value of the head means: a date, or one that stands in quotes; None for anything else."""
    if isinstance(value, str):
        try:
            return datetime.date.fromisoformat(value.strip())
        except ValueError:
            return None
    return value if isinstance(value, datetime.date) else None


def has_date_form(market: str) -> bool:
    """Whether a market has its own signs for the months, the same in each of its languages."""
    return bool(load_market(market).setting("date_months"))


def date_text(value: Any, market: str) -> str:
    """A date of the head as it is printed: the month in words, or year, month and day in the market's signs.

    Anything that is no day is printed as written. Day, month and year: Regulation (EU) 1169/2011, Annex X; year, month
    in two letters and day: Food and Drug Regulations B.01.007(4) and (5).
    """
    day = day_of(value)
    if day is None:
        return "" if value is None else str(value)
    months = load_market(market).setting("date_months")
    if months:
        return f"{day.year} {months[day.month - 1]} {day.day:02}"
    return f"{day.day} {day:%B} {day.year}"


def date_words(recipe: Recipe, market: str) -> str:
    """The words that a market wants before the date, where it has its own."""
    stated = load_market(market).setting("date_words") or {}
    return str(stated.get("use_by" if "use by" in recipe.head else "best_before", ""))
