"""The method as a flow: what enters where and in what share, what leaves and why, what is the dish.

A `Flow` has one `PartFlow` for each part of the recipe. A part is a list of nodes in the order in which they are done;
each takes portions of lines, of unlisted foods and of earlier nodes, and gives two things: what goes on (`Port.KEPT`)
and what was parted from it (`Port.OFF`: the brine of a drained food, the fat that was skimmed, the pot that food was
lifted out of). Whatever no node takes is either the dish or leaves; the flow says which, and why.

Laws: no node takes from a later one; the shares of a source sum to at most 1, and what they leave is in the dish or
leaves; every string here is for showing.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from labeler.flow.choices import Choice
from labeler.parsing.instructions.model import Mark, Span, Unread
from labeler.types import Interval, Problem

__all__ = [
    "Basis",
    "Departure",
    "Fate",
    "Flow",
    "FromLine",
    "FromNode",
    "FromUnlisted",
    "Naming",
    "Node",
    "PartFlow",
    "Port",
    "Portion",
    "Reading",
    "Settings",
    "Source",
    "Unlisted",
]


class Basis(Enum):
    """How a node or a departure is known."""

    WRITTEN = "written"
    IMPLIED = "implied"  # what is written takes it for granted
    ASSUMED = "assumed"  # a choice between readings


class Port(Enum):
    """Which of the two results of a node."""

    KEPT = "kept"
    OFF = "off"


class Fate(Enum):
    """Why something leaves."""

    NAMED = "named"  # the words say so
    TRADE = "trade"  # its class leaves by trade: bath, brine, rinse, bones, spent aromatics, frying fat
    INFERRED = "inferred"  # the best of several readings
    OTHER_WAY = "other way"  # only a way of the method needs it that is not taken
    LEFT_OVER = "left over"  # each piece has had the amount that the words give it


@dataclass(frozen=True, slots=True)
class FromLine:
    """An ingredient line: its place in its part, and which of its foods (0 the main one)."""

    index: int
    food: int = 0


@dataclass(frozen=True, slots=True)
class FromUnlisted:
    """A food that only the method names: its place in `PartFlow.unlisted`."""

    index: int


@dataclass(frozen=True, slots=True)
class FromNode:
    """One of the two results of an earlier node: the node's place in `PartFlow.nodes`."""

    node: int
    port: Port = Port.KEPT


Source = FromLine | FromUnlisted | FromNode


@dataclass(frozen=True, slots=True)
class Portion:
    """What a node takes of a source.

    Parameters
    ----------
    source : Source
    share : Interval or None
        Part of the whole source, 0 to 1; None for all that is left of it.
    grams, millilitres : Interval or None
        So much of it instead, never more than there is [g], [mL].
    all_but : bool
        True where the amount is what stays behind.
    basis : Basis
    """

    source: Source
    share: Interval | None = None
    grams: Interval | None = None
    millilitres: Interval | None = None
    all_but: bool = False
    basis: Basis = Basis.WRITTEN

    @property
    def takes_all(self) -> bool:
        """Whether nothing of the source is left behind it."""
        return self.share is None and self.grams is None and self.millilitres is None


@dataclass(frozen=True, slots=True)
class Unlisted:
    """A food that the method adds and no line lists.

    Parameters
    ----------
    name : str
        In the cook's words.
    food : str or None
        Table id.
    grams : Interval or None
        What is assumed of it [g]; None where nobody knows, and then it makes lower bounds.
    span : Span
    reason : str
        Where the amount comes from.
    """

    name: str
    food: str | None
    grams: Interval | None
    span: Span
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Settings:
    """The figures of a node, as `Instruction` explains them."""

    minutes: Interval | None = None
    celsius: Interval | None = None
    core: Interval | None = None
    grams: Interval | None = None
    millilitres: Interval | None = None
    share: Interval | None = None
    pieces: Interval | None = None
    piece: str = ""
    water: Interval | None = None
    salt: Interval | None = None
    marks: frozenset[Mark] = frozenset()
    left: Interval | None = None
    """Frying fat that is left afterwards, as weighed [g]."""


@dataclass(frozen=True, slots=True)
class Node:
    """One thing that is done to one heap of food.

    Parameters
    ----------
    action : str
        Id of a row of actions.csv; "gather" where food only comes together.
    inputs : tuple of Portion
    settings : Settings
    selects : tuple of FromLine or FromUnlisted
        Which foods the action is about, where it is not about the whole heap: what is lifted out, taken away, coated.
    coats : tuple of FromLine or FromUnlisted or FromNode
        What the selected foods are coated with.
    text, span
        The words that ask for it.
    vessel : str
    basis : Basis
    why : str
        What is taken for granted, to show.
    drained : bool
        True where the liquid around the food goes before anything else is cooked.
    served_last : bool
        True where nothing is cooked or added after it.
    name : str
        What its result is called.
    """

    action: str
    inputs: tuple[Portion, ...]
    settings: Settings = field(default_factory=Settings)
    selects: tuple[Source, ...] = ()
    coats: tuple[Source, ...] = ()
    text: str = ""
    span: Span = field(default_factory=lambda: Span(1))
    vessel: str = ""
    basis: Basis = Basis.WRITTEN
    why: str = ""
    drained: bool = False
    served_last: bool = False
    name: str = ""


@dataclass(frozen=True, slots=True)
class Departure:
    """What leaves: all that is left of a source that no node takes and that is not in the dish.

    `name` is what the cook calls it where another part may use it ("brine", "drippings"); `into` the title of the part
    that it is meant for; `in_jar` is true of what lies around the food as it is sold, and is not eaten with it.
    """

    source: Source
    fate: Fate
    basis: Basis = Basis.WRITTEN
    span: Span | None = None
    name: str = ""
    into: str = ""
    kept: bool = False
    in_jar: bool = False


@dataclass(frozen=True, slots=True)
class Naming:
    """Which foods of the list the words of one instruction name, whatever was made of the instruction.

    Parameters
    ----------
    span : Span
        Of the instruction.
    place : int
        Its place among the instructions of its part.
    foods : frozenset of FromLine
        Foods that it names by their name, their class ("the spices") or the title of their list.
    brings : bool
        True where it may put them into something: cutting, washing and taking away do not.
    removes : bool
        True where what it names goes: thrown away, skimmed, strained out.
    solids, liquid : bool
        True where it names what a sieve holds back; what surrounds food: a liquid of the list, the marinade, the fat.
    keeps_liquid : bool
        True where it names a liquid as what is strained or kept, so that what a sieve holds back is what goes.
    titled : bool
        True where it says the title that stands above every line of the recipe: nobody knows which lines are meant.
    """

    span: Span
    place: int
    foods: frozenset[FromLine] = frozenset()
    brings: bool = False
    removes: bool = False
    solids: bool = False
    liquid: bool = False
    keeps_liquid: bool = False
    titled: bool = False


@dataclass(frozen=True, slots=True)
class Reading:
    """Another way to read the method that changes the figures.

    Parameters
    ----------
    probability : float
        How likely it is, 0 to 1.
    choice : Choice
        What the words leave open.
    option : int
        Which of its options is taken here, by its place.
    """

    probability: float
    choice: Choice
    option: int


@dataclass(frozen=True, slots=True)
class PartFlow:
    """The flow of one part.

    `dish` are the sources whose rest is the part as made; `choices` is all that its words leave open, `readings` what
    of that changes the figures of the recipe, which is known once it is cooked; `called_after` are the meat, fish and
    poultry of its title.
    """

    title: str
    nodes: tuple[Node, ...]
    unlisted: tuple[Unlisted, ...] = ()
    dish: tuple[Source, ...] = ()
    leaves: tuple[Departure, ...] = ()
    unread: tuple[Unread, ...] = ()
    readings: tuple[Reading, ...] = ()
    problems: tuple[Problem, ...] = ()
    namings: tuple[Naming, ...] = ()
    choices: tuple[Choice, ...] = ()
    called_after: frozenset[FromLine] = frozenset()


@dataclass(frozen=True, slots=True)
class Flow:
    """The flow of a recipe, part by part in the order of the file."""

    parts: tuple[PartFlow, ...]
