"""What the cook wrote, taken apart but not yet understood: the types that leave `labeler.parsing`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, Protocol

from labeler.parsing.ingredient.remarks import Remark
from labeler.types import Problem

__all__ = [
    "Amount",
    "Handling",
    "Line",
    "LineState",
    "Note",
    "NoteKind",
    "Part",
    "Pin",
    "Purpose",
    "Recipe",
    "UserFoodLookup",
]  # fmt: skip


class LineState(StrEnum):
    """What a line says was done to its food before it goes in, where that changes weight, composition or liquid."""

    DRAINED = "drained"
    RINSED = "rinsed"
    WITH_LIQUID = "with its liquid"
    SQUEEZED = "squeezed"
    SOAKED = "soaked"
    COOKED = "cooked"
    FRIED = "fried"
    BOILED = "boiled"
    ROASTED = "roasted"
    MELTED = "melted"
    BEATEN = "beaten"
    THAWED = "thawed"
    TOASTED = "toasted"
    CRUMBLED = "crumbled"
    MASHED = "mashed"
    POWDERED = "powdered"
    PEELED = "peeled"
    UNPEELED = "unpeeled"
    BONED = "boned"
    BONE_IN = "bone in"
    SKINNED = "skinned"
    SKIN_ON = "skin on"


class Purpose(StrEnum):
    """What a line says its food is for."""

    FRYING = "frying"
    GREASING = "greasing"
    DUSTING = "dusting"
    COATING = "coating"
    BRUSHING = "brushing"
    SERVING = "serving"
    GARNISH = "garnish"
    COOKING_WATER = "cooking water"
    WEIGHT = "weight"  # to hold down what is baked: no food
    OTHER = "other"


class NoteKind(StrEnum):
    """What a piece of a recipe's text is that is neither an ingredient nor handling."""

    DESCRIPTION = "description"
    TIP = "tip"
    NOTE = "note"
    STORAGE = "storage"
    NUTRITION = "nutrition"
    EQUIPMENT = "equipment"
    TIME = "time"
    YIELD = "yield"
    ABOUT = "about"
    LINK = "link"
    IMAGE = "image"
    COMMENT = "comment"
    UNREAD = "unread"


@dataclass(frozen=True, slots=True)
class Note:
    """A piece of a recipe's text that is neither an ingredient nor handling, kept as it stands.

    Parameters
    ----------
    kind : NoteKind
        What it is.
    text : str
        Its words.
    number : int
        Line number in its file, from 1.
    """

    kind: NoteKind
    text: str
    number: int = 1


class UserFoodLookup(Protocol):
    """Whoever keeps the cook's own foods beside a recipe; what such a food is, `labeler.foods` knows."""

    def named(self, name: str) -> Any:
        """The own food that a name means, or None."""


@dataclass(frozen=True, slots=True)
class Amount:
    """One amount of an ingredient line.

    Parameters
    ----------
    low, high : float
        Both ends of a range, equal for a single number; in `unit`.
    unit : str or None
        Canonical singular name of the kitchen registry ("cup", "gram", "clove", "can"); None for a bare count.
    role : str
        ``"main"``; ``"each"`` for the size of one piece of the amount before ("2 15-ounce cans");
        ``"same"`` where the line says the amount before again ("250 g/9 oz"); ``"plus"`` where it is added to it.
    about : bool
        True where the line says "about", "roughly", "scant", "heaping" or the like.
    filling : str
        How full the measure is where the line says so: "heaped", "rounded", "generous", "scant"; empty elsewhere.
    """

    low: float
    high: float
    unit: str | None
    role: str = "main"
    about: bool = False
    filling: str = ""


@dataclass(frozen=True, slots=True)
class Pin:
    """What a line settles in braces: ``{food 15028, 454 g, retention 0801}``.

    Parameters
    ----------
    food : str or None
        Table id, five digits.
    grams : float or None
        Weight of the whole line [g].
    retention : tuple of str
        Codes of the USDA retention table to apply one after the other.
    """

    food: str | None = None
    grams: float | None = None
    retention: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """One ingredient line.

    Parameters
    ----------
    text : str
        The line as written, never changed.
    amounts : tuple of Amount
        In the order of the line, the main amount first; empty where the line gives none.
    name : str
        The food in the cook's words, with the words that choose its state ("dried", "canned", "ground").
    preparation : str
        What is done to it ("peeled and sliced thin"); empty where nothing is said.
    note : str
        Everything else the line says; empty where nothing is said.
    optional : bool
        True where the line says so.
    size : str or None
        "small", "medium", "large" or "extra large" of a counted piece.
    to_taste : bool
        True for "to taste", "as needed" and the like where no amount settles it.
    alternatives : tuple of str
        Other foods that the line offers with "or".
    pin : Pin or None
        What the line settles in braces.
    number : int
        Line number in its file, from 1.
    problems : tuple of Problem
        What the reader could not make agree or make out.
    derived : str or None
        What is taken from the counted food where the line counts one food and uses another: ``"juice"`` of "juice of
        2 limes" (the name is then "lime juice" and the amount counts limes), ``"zest"``, ``"juice and zest"``,
        ``"kernels"``, ``"leaves"`` and the like; None elsewhere.
    each : bool
        True where the amount is of each food that the name lists ("1 teaspoon each salt and pepper"): the name joins
        them by "and".
    further : tuple of Line
        The foods that the line goes on to with an amount of their own ("2 eggs plus 1 egg yolk"), each as a line.
    unreadable : bool
        True where what stands for the amount is none ("-5 g", "1/0 cup"): `amounts` is empty, and no usual amount may
        stand in for it.
    group : str
        The sub-heading that the line stands under, without "For the" and colon ("gravy"); empty where there is none.
    states : frozenset of LineState
        What was done to the food before it goes in; empty where the line says nothing.
    purpose : Purpose or None
        What the food is for, where the line says so ("for frying", "to serve"); None elsewhere.
    divided : bool
        True where the line says that its amount is used in several places ("divided").
    extra : Purpose or None
        What more of the food is taken for, in no stated amount ("plus extra for dusting"); None where there is none.
    remarks : tuple of Remark
        What the line offers, asks or warns of beside its food ("dairy-free if needed"): no part of `name`,
        `preparation` or `note`, and never a property of the food.
    """

    text: str
    amounts: tuple[Amount, ...] = ()
    name: str = ""
    preparation: str = ""
    note: str = ""
    optional: bool = False
    size: str | None = None
    to_taste: bool = False
    alternatives: tuple[str, ...] = ()
    pin: Pin | None = None
    number: int = 1
    problems: tuple[Problem, ...] = ()
    derived: str | None = None
    each: bool = False
    further: tuple[Line, ...] = ()
    unreadable: bool = False
    group: str = ""
    states: frozenset[LineState] = frozenset()
    purpose: Purpose | None = None
    divided: bool = False
    extra: Purpose | None = None
    remarks: tuple[Remark, ...] = ()


@dataclass(frozen=True, slots=True)
class Handling:
    """One step or handling sentence, kept as text until it is read as instructions.

    Parameters
    ----------
    text : str
        The cook's words, without bullet, number and mark-up.
    number : int
        Line number in its file, from 1.
    after : int
        How many lines of its part stand above it.
    group : str
        The sub-heading of the method that it stands under; empty where there is none.
    """

    text: str
    number: int
    after: int
    group: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a recipe: a heading, its ingredient lines and its handling, in order."""

    title: str
    lines: tuple[Line, ...]
    handling: tuple[Handling, ...] = ()
    number: int = 1


@dataclass(frozen=True, slots=True)
class Recipe:
    """A whole recipe.

    Parameters
    ----------
    title : str
        From the head, or the file's name.
    head : mapping
        The YAML head as read (makes, maker, place, net, lot, market ...); empty for a bare list.
    parts : tuple of Part
        In file order; a bare list is one part with an empty title.
    digest : str
        SHA-256 of the text, hexadecimal: stamps labels.
    source : str
        The file's name.
    problems : tuple of Problem
        What is strange about the text.
    notes : tuple of Note
        What the text says beside its lines and its handling, in order.
    larder : UserFoodLookup or None
        The cook's own foods that stand with the recipe; a name that one of them goes by means it.
    """

    title: str
    parts: tuple[Part, ...]
    head: Mapping[str, Any] = field(default_factory=dict)
    digest: str = ""
    source: str = ""
    problems: tuple[Problem, ...] = ()
    notes: tuple[Note, ...] = ()
    larder: UserFoodLookup | None = field(default=None, compare=False)
