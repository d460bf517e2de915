"""The one list of what can be done to food: ``data/actions.csv``, every property of an action a column.

No other module compares or lists ids of actions: what it asks of an action is a property here.

A new verb is a word in the column `verbs` of its action; a new action is a row.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import cache

from labeler.data_files import data_folder, data_rows
from labeler.types import Interval

__all__ = ["Action", "Gathers", "Handler", "Heat", "Takes", "Trait", "action", "actions", "has", "heat_of"]

FILE = data_folder("labeler.parsing") / "actions.csv"


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
    # Of heat.
    IN_TIN = "in a tin"  # in the oven, in a tin or a dish
    RENDERS = "renders fat"  # fat runs out beside the food
    RESTS = "meat rests"  # standing after it is resting
    WITH_LIQUID = "takes its liquid along"  # what food lay in is baked with it
    IN_PAN = "in a pan"  # food lies still in it
    IN_FAT = "in a bath of fat"
    OUT_OF_FAT = "taken out of its fat"  # what it fried in stays behind
    IN_LIQUID = "in liquid"
    IN_PLENTY = "in plenty of water"  # water that no line lists is poured off
    GIVES_BROTH = "gives a broth"  # its liquid is eaten
    ROLLING = "at a rolling boil"
    BELOW_BOIL = "below the boil"
    CLOSED_POT = "in a closed pot"
    BRIEF = "briefly"  # it does not cook food through
    IN_SMOKE = "in smoke"
    WARMS = "only warms"
    FLAMES = "burns alcohol off"
    # Of lying.
    IN_BATH = "in a bath"  # it needs liquid around the food
    IN_BRINE = "in water or brine"  # and no oil or vinegar
    IN_WATER = "in plain water"  # water is meant where none is named
    CLOSED_JAR = "in a closed jar"
    DRY_SALTS = "under dry salt"
    STANDS = "only stands"  # it lets time pass
    COOLS = "cools"
    # Of the rest.
    SHAKES = "shakes off"  # what does not cling of a coat
    PUTS_AWAY = "puts away"  # for another time
    CUTS = "cuts"
    SEASONS = "seasons"
    BEATS = "beats"  # eggs, and to a purée
    TAKES_UNNAMED = "takes what no step names"
    COVERS = "covers with water"  # water that it names covers the food
    COOKS_ON = "goes on cooking"  # a time said of it is heat, in a hot pan
    THEN_LIES = "then lies"  # a long time said of it is lying
    INTO_OBJECT = "goes into its object"  # "pour into the case"
    PLATE_LIFTS = "lifts onto a plate"
    AGAIN = "does it again"  # the same with the next batch
    PLAIN = "needs no account"  # nobody asks how it is known


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
    cooked_as : str
        The action whose figures it has: its own id but for "confit" and the like.
    amount : str
        Which of the usual amounts of unlisted_amounts.csv it takes of a food that has none.
    boils_off : Interval or None
        Water that leaves an open pot of 1 kg [kg/h]; None where nothing boils away.
    drips : Interval or None
        Of the water that meat loses, the part that drips, 0 to 1; None where nobody knows.
    entries : tuple of str
        Methods of cooked entries of the food table that may stand for it, the nearest first.
    traits : frozenset of Trait
    done : str
        What is said of a step in short, for showing.
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
    cooked_as: str
    amount: str
    boils_off: Interval | None
    drips: Interval | None
    entries: tuple[str, ...]
    traits: frozenset[Trait]
    done: str
    verbs: tuple[str, ...]


@cache
def actions() -> dict[str, Action]:
    """Every action by its id."""
    found: dict[str, Action] = {}
    for row in data_rows(FILE):
        found[row["id"]] = Action(
            row["id"],
            Heat(row["heat"]),
            Gathers(row["gathers"]),
            Takes(row["takes"]),
            Handler(row["handler"]),
            _interval(row["minutes"], "usual time, common practice, no source"),
            float(row["celsius"]) if row["celsius"] else None,
            row["as"] or row["id"],
            row["amount"] or "add",
            _interval(row["boils off"]),
            _interval(row["drips"]),
            tuple(row["entries"].split("|")) if row["entries"] else (),
            frozenset(Trait(name) for name in row["traits"].split("|") if name),
            row["done"],
            tuple(row["verbs"].split("|")),
        )
    return found


def _interval(text: str, basis: str = "") -> Interval | None:
    """Low, usual and high, with strokes between them; None where nothing stands."""
    if not text:
        return None
    low, usual, high = (float(value) for value in text.split("|"))
    return Interval(usual, low, high, basis)


def action(name: str) -> Action:
    """The action of an id; KeyError for one that the list does not have."""
    return actions()[name]


def has(name: str, *traits: Trait) -> bool:
    """Whether an action has one of some traits; no action ("", what is raw) has none."""
    return bool(name) and not actions()[name].traits.isdisjoint(traits)


def heat_of(name: str) -> Heat:
    """The heat of an action; none of no action ("", what is raw)."""
    return actions()[name].heat if name else Heat.NONE
