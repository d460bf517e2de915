"""What a rule is: its words, its figures, and where it stands in the law.

Every rule of every market is one entry of a data file. It carries the paragraph, the day from which it holds
(or why that day is not known), how well its text could be read, and the works it was read in, so that any printed
figure can be traced to the line of law behind it.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from labeler.types import LabelerError

__all__ = ["READINGS", "Rule", "RuleFileError", "Source"]

# How well the text of a rule could be read, best first, and what a person is told.
READINGS: Mapping[str, str] = {
    "two sources": "read in two or more sources",
    "one source": "read in one source",
    "2015 edition": "read in the 2015 edition of the code only; no later change known",
    "common practice": "common practice, no source",
    "memory": "from memory: confirm before relying on it",
}


class RuleFileError(LabelerError):
    """A rule file that cannot be used; the text names the file, the key, what is wrong and how to mend it."""


@dataclass(frozen=True, slots=True)
class Source:
    """A work in which rules were read: its title, its edition, and what kind of text it is."""

    id: str
    title: str
    edition: str
    kind: str


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of one market.

    Parameters
    ----------
    id : str
        Unique within the market, such as ``"total_fat"``.
    market : str
        Id of the market whose file states the rule.
    kind : str
        What sort of rule it is, which settles the keys of `data`.
    summary : str
        The rule in our own words.
    paragraph : str
        Where it stands in the law.
    since : date or None
        First day on which it holds; None where that is not known.
    since_basis : str
        Where the day comes from, or why there is none.
    status : str
        A key of `READINGS`: how well the text could be read.
    sources : tuple of Source
        The works it was read in.
    quote : str
        Words that must be printed as they stand; empty where there are none.
    note : str
        What a reader should know beside it.
    data : mapping
        The figures, checked against the schema of `kind`.
    """

    id: str
    market: str
    kind: str
    summary: str
    paragraph: str
    since: datetime.date | None
    since_basis: str
    status: str
    sources: tuple[Source, ...]
    quote: str = ""
    note: str = ""
    data: Mapping[str, Any] = field(default_factory=dict)

    @property
    def reading(self) -> str:
        """How well the text could be read, in words."""
        return READINGS[self.status]

    @property
    def dated(self) -> str:
        """The first day of the rule with its basis, in words."""
        day = f"in force since {self.since.isoformat()}" if self.since else "date not recorded"
        return f"{day} ({self.since_basis})"

    @property
    def cited(self) -> str:
        """The works it was read in, in words."""
        return "; ".join(f"{source.title} ({source.edition})" for source in self.sources)
