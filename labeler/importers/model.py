"""A recipe as it was found elsewhere, before it is written down as one of ours."""

from __future__ import annotations

import html
import re
import unicodedata
from dataclasses import dataclass
from typing import Any

from labeler.parsing.model import NoteKind
from labeler.types import Problem

__all__ = ["ImportedRecipe", "ImportedSection", "one_line", "without_bullet"]

_TAGS = re.compile(r"<[^<>]{0,2000}>")
_SIGNS = "-*+•·●○◦▪■□▢☐☑✓✔‣⁃∙➢►–—"
_BULLET = re.compile(rf"^(?:[{_SIGNS}]\s*|\[[ xX]?\]\s+|\d{{1,2}}[.)]\s+(?=\d|[A-Za-z]))+(?=\S)|^[{_SIGNS}\s]+$")


@dataclass(frozen=True, slots=True)
class ImportedSection:
    """A group of ingredients or of steps under one heading; an empty heading for what stands under none."""

    title: str
    rows: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ImportedRecipe:
    """A recipe from elsewhere.

    Parameters
    ----------
    title : str
    ingredients, steps : tuple of ImportedSection
        In their order.
    makes : str
        What it says of its yield ("4 servings"); empty where it says nothing.
    source : str
        Where it comes from, as it says itself: an address or an author.
    notes : tuple of (NoteKind, str)
        What is neither: tips, times, nutrition that somebody printed, who wrote it.
    problems : tuple of Problem
        What was passed over or taken for something.
    """

    title: str
    ingredients: tuple[ImportedSection, ...]
    steps: tuple[ImportedSection, ...] = ()
    makes: str = ""
    source: str = ""
    notes: tuple[tuple[NoteKind, str], ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def size(self) -> int:
        """How many ingredient lines it has."""
        return sum(len(section.rows) for section in self.ingredients)


def one_line(value: Any, limit: int = 4000) -> str:
    """Text in one line, without mark-up and entities, control and direction signs; "" for what is no text or number."""
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        return ""
    text = str(value)[: 4 * limit]
    for _ in range(2):  # pages escape their text, and some escape it twice
        text = html.unescape(text)
    text = _TAGS.sub(" ", text)
    kept = "".join(
        " " if sign.isspace() else sign
        for sign in text
        if sign.isspace() or unicodedata.category(sign) not in ("Cc", "Cf", "Co", "Cs", "Cn")
    )
    return " ".join(kept.split())[:limit]


def without_bullet(row: str) -> str:
    """A row without the mark or the number that its list gave it."""
    return _BULLET.sub("", row).strip()
