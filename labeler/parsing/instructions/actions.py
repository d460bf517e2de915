"""The one list of what can be done to food: ``data/actions.csv``, every property of an action a column.

A new verb is a word in the column `verbs` of its action; a new action is a row.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from enum import Enum
from functools import cache
from pathlib import Path

from labeler.types import Interval

__all__ = ["Action", "Gathers", "Handler", "Heat", "Takes", "Trait", "action", "actions"]

FILE = Path(__file__).parents[1] / "data" / "actions.csv"


class Heat(Enum):
    """What kind of heat an action brings to food."""

    NONE = ""
    WET = "wet"
    STEAM = "steam"
    DRY = "dry"  # oven and grill
    FAT = "fat"  # pan and deep fat
    MICROWAVE = "microwave"
    WARM = "warm"  # brought to heat: no weight is lost that counts
    BY_PLACE = "by place"  # cook, heat: by vessel, medium and content


class Gathers(Enum):
    """How an action brings food together."""

    APART = "apart"  # joins nothing
    NEW = "new"  # begins a heap, unless what it names lies in one
    INTO = "into"  # joins the heap that is named, else the one in focus
    ON = "on"  # goes onto food
    OUT = "out"  # takes food out of its heap
    SAME = "same"  # goes on with the heap that it names, else with the one in focus


class Takes(Enum):
    """What an action parts from the food, where it parts anything."""

    NOTHING = ""
    LIQUID = "liquid"
    FAT = "fat"
    NAMED = "named"
    SOLIDS = "solids"
    FILM = "film"
    COAT = "coat"


class Trait(Enum):
    """A plain property of an action."""

    DIPS = "dips"  # "dip in": what it names is what food goes into
    ONTO_CUT = "onto what was cut"  # without an object, it is done to what was cut just before
    OWN_HEAP = "heap of its own"  # what it names is not put with what cooks
    JOINS = "joins"  # it brings food into a heap
    PAPER_DRAINS = "drains on paper"
    NAMES = "names what is kept"  # "as gravy"
    PACKS = "packs"  # food comes into the vessel that it names
    GOES_ON = "goes on"  # what is in a vessel goes on into another, or onto a food


class Handler(Enum):
    """Which model of cooking/ does an action."""

    NONE = "none"
    HEAT = "heat"
    LIE = "lie"
    DRAIN = "drain"
    RINSE = "rinse"
    SQUEEZE = "squeeze"
    PAT = "pat"
    STRAIN = "strain"
    SKIM = "skim"
    DISCARD = "discard"
    LIFT = "lift"
    KEEP = "keep"
    REDUCE = "reduce"
    DRY = "dry"
    THIN = "thin"
    WEIGH = "weigh"
    LOSE = "lose"
    LEFT = "left"
    MAKE = "make"
    COAT = "coat"
    GREASE = "grease"
    SEPARATE = "separate"
    DIVIDE = "divide"
    CATCH = "catch"
    SERVE = "serve"
    VESSEL = "vessel"
    LADLE = "ladle"
    BIND = "bind"
    WHEY = "whey"
    SKIN = "skin"


@dataclass(frozen=True, slots=True)
class Action:
    """One row of actions.csv.

    Parameters
    ----------
    id : str
    heat : Heat
    gathers : Gathers
    takes : Takes
    handler : Handler
    minutes : Interval or None
        How long it takes where nothing is said [min].
    celsius : float or None
        How warm it is where nothing is said [°C].
    traits : frozenset of Trait
    verbs : tuple of str
        Base forms.
    """

    id: str
    heat: Heat
    gathers: Gathers
    takes: Takes
    handler: Handler
    minutes: Interval | None
    celsius: float | None
    traits: frozenset[Trait]
    verbs: tuple[str, ...]


@cache
def actions() -> dict[str, Action]:
    """Every action by its id."""
    found: dict[str, Action] = {}
    with FILE.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(line for line in stream if not line.startswith("#")):
            usual = [float(value) for value in row["minutes"].split("|")] if row["minutes"] else []
            found[row["id"]] = Action(
                row["id"],
                Heat(row["heat"]),
                Gathers(row["gathers"]),
                Takes(row["takes"]),
                Handler(row["handler"]),
                Interval(usual[1], usual[0], usual[2], "usual time, common practice, no source") if usual else None,
                float(row["celsius"]) if row["celsius"] else None,
                frozenset(Trait(name) for name in row["traits"].split("|") if name),
                tuple(row["verbs"].split("|")),
            )
    return found


def action(name: str) -> Action:
    """The action of an id; KeyError for one that the list does not have."""
    return actions()[name]
