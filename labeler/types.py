"""What is known, and how well: the small types that every package shares.

A figure here is never a bare number. `Interval` carries a best value with its bounds and the reason for
them; `Status` says where a nutrient figure comes from, so that a zero that was measured, a zero that was
assumed and a value that nobody knows stay three things; `Problem` is something the cook should hear about,
with a code for programs and a sentence for people.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum

__all__ = ["Interval", "LabelerError", "Problem", "Severity", "Status", "refuse", "refused"]


@dataclass(frozen=True, slots=True)
class Interval:
    """A best value with the bounds of a 95 % interval and the reason for them.

    Parameters
    ----------
    best, low, high : float
        In the unit that the owner of the interval states; ``low <= best <= high``.
    basis : str
        Where the figure comes from, in words that a cook can read.
    """

    best: float
    low: float
    high: float
    basis: str = ""

    def __post_init__(self) -> None:
        if not self.low <= self.best <= self.high:
            raise ValueError(f"an interval needs low <= best <= high, not {self.low}, {self.best}, {self.high}")

    def scaled(self, factor: float) -> Interval:
        """The same interval in another unit or for another amount; `factor` is not negative."""
        return Interval(self.best * factor, self.low * factor, self.high * factor, self.basis)


class Status(IntEnum):
    """Where a nutrient figure comes from, from the firmest to the least known.

    The order is that of trust, so the status of a sum is the largest of its terms'; a `MISSING` term makes
    the sum a lower bound. A `BOUNDED` figure lacks a value, but whatever that is the figure prints the same.
    """

    ANALYSED = 1
    CALCULATED = 2
    ASSUMED_ZERO = 3
    IMPUTED = 4
    BOUNDED = 5
    MISSING = 6

    @property
    def words(self) -> str:
        """The status as people and the JSON interface read it, such as ``"assumed zero"``."""
        return self.name.lower().replace("_", " ")


class Severity(IntEnum):
    """How much a problem matters to what is printed, from the least to the most."""

    NOTE = 1
    """Worth knowing; nothing need be done."""
    PROBLEM = 2
    """Something to settle; what is printed says how sure it is."""
    REFUSE = 3
    """What is printed would be wrong: it is not made, or made with a draft mark where the cook asks for it anyway."""


@dataclass(frozen=True, slots=True)
class Problem:
    """Something the cook should hear about: a code, a plain sentence, and what to type to mend it.

    Parameters
    ----------
    code : str
        Short and stable, words joined by hyphens, such as ``"no-such-food"``.
    message : str
        What, why and how to mend, in one or two sentences.
    line : int or None
        Line number in the recipe file, from 1; None where the problem is of the whole recipe.
    severity : Severity
        A `REFUSE` keeps labels and posts from being made.
    """

    code: str
    message: str
    line: int | None = None
    severity: Severity = Severity.PROBLEM


class LabelerError(Exception):
    """Input that cannot be used at all; its text is the one line that the cook sees."""


def refused(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Those of the problems that keep a label or a post from being made."""
    return tuple(problem for problem in problems if problem.severity is Severity.REFUSE)


def refuse(problems: Iterable[Problem], *, anyway: bool, what: str) -> None:
    """Raise LabelerError for the first problem that refuses, unless the cook asks for a draft `anyway`."""
    found = refused(problems)
    if found and not anyway:
        where = f"line {found[0].line}: " if found[0].line else ""
        raise LabelerError(f"no {what} is made: {where}{found[0].message} With --anyway it is made as a draft.")
