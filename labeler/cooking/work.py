"""A part while it is made: what is in the pot, what came in and what left."""

from __future__ import annotations

from dataclasses import dataclass, field

from labeler.cooking.state.ledger import Count, Entry, Stage
from labeler.cooking.state.mixture import Mixture, empty, join
from labeler.cooking.state.phases import together
from labeler.cooking.state.sampling import Sampler
from labeler.knowledge import Interval, Problem
from labeler.parsing.handling import Step

__all__ = ["Work"]


@dataclass
class Work:
    """A part while it is made.

    Parameters
    ----------
    title : str
    draws : Sampler
    focus, rest : Mixture or None
        What the last step was about, and everything else.
    added : list of Entry
        What came in.
    stages : list of Stage
        What was done.
    problems : list of Problem
    pieces : Count or None
        How many pieces it makes, and what one is called.
    measured : Interval or None
        Weight that the cook measured last [g].
    waiting : list of Step
        Liquids to keep that have not been poured off yet.
    hot : bool
        True where the pot was just cooked.
    lain : bool
        True where food has lain in liquor or under salt.
    said : set of str
        Every word of the handling so far.
    holders : set of int
        Lines of the food that has taken liquor up.
    salting : str
        The words that put salt, sugar or a rub on food; empty where none have.
    about : tuple of str
        The food that it was put on: what lies in it next.
    aside : set of int
        Lines of food that was lifted out of the pot and waits beside it.
    """

    title: str
    draws: Sampler
    focus: Mixture | None = None
    rest: Mixture | None = None
    added: list[Entry] = field(default_factory=list)
    stages: list[Stage] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    pieces: Count | None = None
    measured: Interval | None = None
    waiting: list[Step] = field(default_factory=list)
    hot: bool = False
    lain: bool = False
    said: set[str] = field(default_factory=set)
    holders: set[int] = field(default_factory=set)
    salting: str = ""
    about: tuple[str, ...] = ()
    aside: set[int] = field(default_factory=set)

    @property
    def pot(self) -> Mixture:
        """Everything in the part now."""
        parts = [mix for mix in (self.focus, self.rest) if mix is not None and mix.items]
        return together(parts) if parts else empty(self.draws.rows)

    def add(self, entry: Entry) -> None:
        """Put something in."""
        self.added.append(entry)
        self.put_back(entry.mix)

    def put_back(self, mix: Mixture) -> None:
        """Put something in that was in the part before."""
        self.rest = mix if self.rest is None else join([self.rest, mix])

    def pour_in(self, juice: Mixture) -> None:
        """Let juice run into what the last step was about."""
        if self.focus is None or not self.focus.items:
            self.put_back(juice)
        else:
            self.focus = together([self.focus, juice])
