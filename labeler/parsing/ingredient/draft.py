"""What has been made out of a line while it is being read: the slate that the readers of a line share."""

from __future__ import annotations

from dataclasses import dataclass, field

from labeler.parsing.ingredient.remarks import Remark
from labeler.parsing.model import Amount
from labeler.types import Problem

__all__ = ["LineDraft"]


@dataclass
class LineDraft:
    """What has been made out of a line so far.

    `food` is the name once it is known, `prefix` holds words of it that stand before the unit, and `further` the
    phrases that begin with another amount of another food; `unreadable` where what stands for the amount is none.
    `language` is the recipe's where that is known, and `unclear` a number of the line that may
    be thousands or decimals.
    """

    number: int
    food: str = ""
    amounts: list[Amount] = field(default_factory=list)
    preparations: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    prefix: list[str] = field(default_factory=list)
    alternatives: list[str] = field(default_factory=list)
    size: str | None = None
    optional: bool = False
    to_taste: bool = False
    derived: str | None = None
    each: bool = False
    further: list[str] = field(default_factory=list)
    unreadable: bool = False
    language: str = ""
    unclear: str = ""
    remarks: tuple[Remark, ...] = ()

    def problem(self, code: str, message: str) -> None:
        """Report a problem on this line."""
        self.problems.append(Problem(code, message, self.number))
