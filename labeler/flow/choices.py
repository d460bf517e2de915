"""What the words of a method leave open, and which way each is read.

Where a phrase, a sieve or an "or" can be read in more than one way, the walk asks `Choices` which way to go. The first
is taken unless another was asked for, and every question is kept, so that the method can be walked again with one of
them answered otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from types import MappingProxyType

from labeler.parsing.instructions.model import Span

__all__ = ["Choice", "Choices", "Doubt", "Option", "Question", "likely"]


class Doubt(Enum):
    """What is left open."""

    INSTEAD = "instead"  # one of two things is done: "bake them, or fry them"
    OFFERED = "offered"  # it may be left undone: "drain if you like"
    SIDE = "side"  # which side of a sieve is kept
    MEANT = "meant"  # which food or mixture a phrase means
    EATEN = "eaten"  # whether what nothing more is said of is eaten
    PUT_AWAY = "put away"  # whether the servings count what is put away for another day


@dataclass(frozen=True, slots=True)
class Question:
    """One thing that is left open at one place of the method.

    Parameters
    ----------
    doubt : Doubt
    span : Span
        The words that leave it open.
    about : str
        What it is about, in the cook's words; tells two questions of the same words apart.
    """

    doubt: Doubt
    span: Span
    about: str = ""


@dataclass(frozen=True, slots=True)
class Option:
    """One way to read it.

    Parameters
    ----------
    name : str
        In words, to show.
    weight : float
        How likely it is, 0 to 1.
    """

    name: str
    weight: float


@dataclass(frozen=True, slots=True)
class Choice:
    """A question with the ways that there are, and the one that was taken, by its place among them."""

    question: Question
    options: tuple[Option, ...]
    taken: int = 0


def likely(*names: str, weights: Sequence[float]) -> tuple[Option, ...]:
    """Options by their names and weights, which sum to 1."""
    return tuple(Option(name, weight) for name, weight in zip(names, weights, strict=True))


@dataclass
class Choices:
    """Answers to what is left open, and the questions that came up.

    Parameters
    ----------
    answers : mapping of Question to int
        Ways to take in place of the first, by their place.
    found : list of Choice
        What was asked, in the order of the method.
    """

    answers: Mapping[Question, int] = field(default_factory=lambda: MappingProxyType({}))
    found: list[Choice] = field(default_factory=list)

    def pick(self, question: Question, options: Sequence[Option]) -> int:
        """Which of the options to take, by its place: the one that was asked for, else the first."""
        taken = min(self.answers.get(question, 0), len(options) - 1)
        if all(one.question != question for one in self.found):
            self.found.append(Choice(question, tuple(options), taken))
        return taken
