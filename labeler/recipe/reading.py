"""What has been made out of a line while it is being read: the slate that the readers of a line share."""

from __future__ import annotations

from dataclasses import dataclass, field

from labeler.knowledge import Problem
from labeler.recipe.model import Amount

__all__ = ["Reading"]


@dataclass
class Reading:
    """What has been made out of a line so far; `prefix` holds words of the name that stand before the unit."""

    number: int
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

    def problem(self, code: str, message: str) -> None:
        """Report a problem on this line."""
        self.problems.append(Problem(code, message, self.number))
