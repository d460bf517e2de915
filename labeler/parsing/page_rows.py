"""Rows of the page that a recipe stands on, and not of the recipe: dates, who wrote it, what a reader may press."""

from __future__ import annotations

import re
from functools import cache

from labeler.parsing.row_phrases import one_of, phrases

__all__ = ["is_page_row", "opens_comment"]

_LONGEST = 80
_WORD = re.compile(r"[^\W_]+")
_FIGURES = re.compile(r"\d{1,4}(?:[./-]\d{1,4}){2}(?:\s+(?:at\s+)?\d{1,2}[:.]\d{2}(?:\s*[ap]\.?m\.?)?)?", re.IGNORECASE)
_OF_A_DATE = re.compile(
    r"\d{1,2}(?:st|nd|rd|th)?|\d{4}|\d{1,2}(?:[ap]m)?|[ap]m|at|on|of|the|posted|published|updated|m"
)
_BY = re.compile(r"(?:recipe\s+|written\s+|posted\s+|words\s+)?by:?(?:\s+[A-ZÀ-Þ][\w.'’-]*){1,4}", re.UNICODE)
_WHOLE = re.compile(rf"\W*{one_of('page_row')}\W*", re.IGNORECASE)
_OPENS = re.compile(rf"\W*{one_of('page_opening')}(?!\w)|©", re.IGNORECASE)
_SPEAKS = re.compile(
    rf"(?P<who>[^.:!?]{{1,40}}?)\s+{one_of('speaks')}(?:\s+on\b[^.]{{1,40}})?\s*(?:\.\.\.|…|:)", re.IGNORECASE
)


def is_page_row(text: str) -> bool:
    """Whether a whole row is a date, a byline or something to press: "Friday, February 4, 2011", "Post a comment"."""
    stated = text.strip()
    if not stated or len(stated) > _LONGEST:
        return False
    if _is_date(stated) or _BY.fullmatch(stated) or _WHOLE.fullmatch(stated):
        return True
    return _OPENS.match(stated) is not None


def opens_comment(text: str) -> bool:
    """Whether a row says who wrote the comment below it: "Erin said...", "Old Tom says:"."""
    return _SPEAKS.fullmatch(text.strip()) is not None


@cache
def _months() -> frozenset[str]:
    return frozenset(phrases()["month"])


def _is_date(text: str) -> bool:
    """Whether a row is nothing but a date, in words or in figures."""
    if _FIGURES.fullmatch(text):
        return True
    words = [word.casefold() for word in _WORD.findall(text)]
    named = [word for word in words if word in _months()]
    rest = [word for word in words if word not in _months() and word not in phrases()["weekday"]]
    return (
        bool(named)
        and any(word.isdigit() or word[0].isdigit() for word in rest)
        and all(_OF_A_DATE.fullmatch(word) for word in rest)
    )
