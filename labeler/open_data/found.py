"""What a service gives for one food, cleaned and in the larder's own form, with everything that is odd about it."""

from __future__ import annotations

import datetime
import html
import math
import re
import unicodedata
from dataclasses import dataclass
from typing import Any

from labeler.larder.model import LarderFood
from labeler.types import Problem

__all__ = ["FoundFood", "clean", "day_of", "figure", "number_of"]

_TAGS = re.compile(r"<[^<>]{0,200}>")
_MARKED = re.compile(r"(?<!\w)_+([^_]{1,80}?)_+(?!\w)")


@dataclass(frozen=True)
class FoundFood:
    """A food as a service has it.

    Parameters
    ----------
    food : LarderFood
        Ready for the larder, its source, licence and date filled in.
    address : str
        Where it can be looked at.
    changed : date or None
        When the service last changed it.
    problems : tuple of Problem
        What was left out, contradicts itself or was taken for something.
    """

    food: LarderFood
    address: str
    changed: datetime.date | None
    problems: tuple[Problem, ...]


def clean(value: Any, limit: int = 300) -> str:
    """Text as a person may see it: one line, without tags, marks, control or direction signs; "" for what is no text.

    A number is written out; longer text is cut at `limit`.
    """
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        return ""
    text = html.unescape(_TAGS.sub(" ", str(value)[: 4 * limit]))
    text = _MARKED.sub(r"\1", text)
    kept = "".join(
        " " if sign.isspace() else sign for sign in text if sign.isspace() or unicodedata.category(sign)[0] != "C"
    )
    kept = " ".join(kept.split())
    return kept if len(kept) <= limit else kept[:limit].rsplit(" ", 1)[0]


def number_of(value: Any) -> float | None:
    """A number that a service gives as one or as text; None for anything else, for what is negative or endless."""
    if isinstance(value, bool):
        return None
    if isinstance(value, str):
        try:
            value = float(value.strip().replace(",", "."))
        except ValueError:
            return None
    if not isinstance(value, (int, float)):
        return None
    try:
        number = float(value)
    except OverflowError:
        return None
    return number if math.isfinite(number) and 0.0 <= number < 1e7 else None


def figure(number: float, unit: str) -> str:
    """A number as a panel would print it: up to four figures, which cuts off what binary sums leave."""
    text = f"{number:.4g}"
    if "e" in text:
        text = f"{float(text):.10f}".rstrip("0").rstrip(".")
    return f"{text} {unit}".strip()


def day_of(value: Any) -> datetime.date | None:
    """A day from seconds since 1970, ``2026-03-02`` or ``3/2/2026`` (month first); None for anything else."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        try:
            return datetime.datetime.fromtimestamp(value, datetime.UTC).date()
        except (OverflowError, OSError, ValueError):
            return None
    if isinstance(value, str):
        text = value.strip()
        if text.isdigit() and len(text) > 8:
            return day_of(int(text[:12]))
        month_first = re.fullmatch(r"(\d{1,2})/(\d{1,2})/(\d{4})", text)
        try:
            if month_first:
                return datetime.date(int(month_first[3]), int(month_first[1]), int(month_first[2]))
            return datetime.date.fromisoformat(text[:10])
        except ValueError:
            return None
    return None
