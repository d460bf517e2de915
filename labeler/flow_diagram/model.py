"""What a flow diagram shows, as plain data: boxes, what comes in, what goes on, what leaves, and the dish.

Nothing here is a sentence to be read again: words are for showing, figures for the width of arrows.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from labeler.types import Interval

__all__ = [
    "Arrow",
    "Box",
    "DishPicture",
    "FlowPicture",
    "Inflow",
    "Kind",
    "Load",
    "Missing",
    "Move",
    "Origin",
    "Outflow",
    "PartPicture",
    "Remark",
]


class Origin(Enum):
    """Where what comes in comes from."""

    LINE = "line"
    PART = "part"  # a line that takes from another part
    STEP = "step"  # an earlier step, whose heap is not drawn all the way
    UNLISTED = "unlisted"  # only the method names it
    TAKEN_FOR_GRANTED = "taken for granted"  # nothing names it: the water that covers the food


class Kind(Enum):
    """What leaves."""

    FOOD = "food"
    SPENT = "spent"  # bath, brine, rinse, cooking water, bones, what goes into the air
    ONWARD = "onward"  # another part takes it


@dataclass(frozen=True, slots=True)
class Load:
    """What an arrow carries.

    Parameters
    ----------
    grams : Interval or None
        Weight [g]; None where nobody knows.
    dry : float
        Its dry matter and salt [g], 0 where nobody knows.
    names : tuple of str
        Its ingredients, the heaviest first.
    values : tuple of (str, float, bool)
        Some of its nutrients: tagname, amount in the table's unit, and whether that is all of it that is known.
    """

    grams: Interval | None = None
    dry: float = 0.0
    names: tuple[str, ...] = ()
    values: tuple[tuple[str, float, bool], ...] = ()


@dataclass(frozen=True, slots=True)
class Box:
    """One thing that is done.

    Parameters
    ----------
    number : str
        The step's number.
    words : str
        The cook's words, or what is taken for granted.
    details : tuple of str
        Its figures, to show ("45 min").
    vessel : str
    implied : bool
        True where the words do not say it: drawn dashed, with `why`.
    why : str
    """

    number: str
    words: str
    details: tuple[str, ...] = ()
    vessel: str = ""
    implied: bool = False
    why: str = ""


@dataclass(frozen=True, slots=True)
class Inflow:
    """What comes into a box from the list.

    Parameters
    ----------
    to : int or None
        Place of the box in its part; None for what goes straight into the part as made.
    name : str
        In the cook's words.
    load : Load
    share : float or None
        Part of the line, 0 to 1; None for all of it.
    origin : Origin
    part : int or None
        Place of the part that it is taken from.
    implied : bool
    """

    to: int | None
    name: str
    load: Load
    share: float | None = None
    origin: Origin = Origin.LINE
    part: int | None = None
    implied: bool = False


@dataclass(frozen=True, slots=True)
class Move:
    """What goes on from a box.

    Parameters
    ----------
    source : int
        Place of the box that it comes from.
    off : bool
        True for what was parted from the food there.
    to : int or None
        Place of the box that takes it; None for the part as made.
    load : Load
    name : str
        What the cook calls it; empty for nothing.
    implied : bool
    """

    source: int
    off: bool
    to: int | None
    load: Load
    name: str = ""
    implied: bool = False


@dataclass(frozen=True, slots=True)
class Outflow:
    """What leaves.

    Parameters
    ----------
    source : int or None
        Place of the box that it leaves; None for a line that no box takes.
    name : str
    load : Load
    kind : Kind
    of : str
        Which share of which ingredients leaves with it, to show ("79 % of the pork"); empty for little of any.
    implied : bool
        True where it is the best of several readings, or no word says it.
    part : int or None
        Place of the part that it goes to.
    why : str
        What is doubtful about it, to show: that no word says so; empty for nothing.
    """

    source: int | None
    name: str
    load: Load
    kind: Kind
    of: str = ""
    implied: bool = False
    part: int | None = None
    why: str = ""


@dataclass(frozen=True, slots=True)
class Arrow:
    """What can be said of one arrow of a drawing.

    Parameters
    ----------
    words : str
        What it is and where it goes.
    load : Load
    part : int
        Place of the part that it is drawn in.
    box : int or None
        Place of the box that it comes from or goes to; None for the part as made.
    outflow : Outflow or None
        What leaves, where it leaves.
    """

    words: str
    load: Load
    part: int
    box: int | None = None
    outflow: Outflow | None = None


@dataclass(frozen=True, slots=True)
class Remark:
    """Words that were not understood, or a question that they leave open (`asks`).

    `before` is the place of the box that it stands before.
    """

    before: int
    text: str
    asks: bool = False


@dataclass(frozen=True, slots=True)
class PartPicture:
    """One part. `served` is True where it is, or is part of, the dish; `times` is how often it is made.

    `left_over` is the weight of it that nothing takes [g].
    """

    title: str
    boxes: tuple[Box, ...]
    inflows: tuple[Inflow, ...]
    moves: tuple[Move, ...]
    outflows: tuple[Outflow, ...]
    made: Load
    remarks: tuple[Remark, ...] = ()
    served: bool = True
    times: float = 1.0
    left_over: float = 0.0


@dataclass(frozen=True, slots=True)
class Missing:
    """An ingredient of which a good part is not in the dish; `kept` is the share that is, None if nobody knows."""

    name: str
    kept: float | None
    kind: Kind


@dataclass(frozen=True, slots=True)
class DishPicture:
    """The dish: what it weighs, its heaviest ingredients [g], how many more it has, and what is not in it.

    `unplaced` are the foods that are in it though no step takes them.
    """

    load: Load
    heaviest: tuple[tuple[str, float], ...]
    more: int
    missing: tuple[Missing, ...]
    unplaced: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FlowPicture:
    """A whole flow diagram.

    Parameters
    ----------
    title : str
    parts : tuple of PartPicture
    dish : DishPicture
    put_in, leaves : Load
        All that was put in, and what of it is not in the dish.
    food_leaves : float
        Weight of the food among what leaves, baths and the like left out [g].
    """

    title: str
    parts: tuple[PartPicture, ...]
    dish: DishPicture
    put_in: Load
    leaves: Load
    food_leaves: float = 0.0
