"""The types of the method as read: instructions, the foods they mention, and the figures they state.

English ends here. What leaves this package is enumerations, numbers and words to show; nothing downstream reads a
sentence again but to show it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from labeler.parsing.instructions.manner import Manner, manners_of
from labeler.parsing.instructions.vessels import VesselKind, vessel_kinds
from labeler.types import Interval

__all__ = ["Extent", "Instruction", "Manner", "Mark", "Mention", "Mood", "Quantity", "Role", "Span", "Unread"]


class Mood(Enum):
    """How an instruction is meant."""

    DO = "do"  # it is done
    MAY = "may"  # the cook may do it: "optionally"
    IF = "if"  # it corrects: "if it is too thick, add water"
    NOT = "not"  # it is not done: "do not rinse"
    SAYS = "says"  # it says how the food is by then: "the juices should run clear"


class Role(Enum):
    """What a food that an instruction mentions is to it."""

    OBJECT = "object"  # what is acted on
    WITH = "with"  # what comes to it
    INTO = "into"  # where it goes
    OUT_OF = "out of"  # where it comes from
    EXCEPT = "except"  # what is left out
    EVIDENCE = "evidence"  # what only tells when it is done


class Extent(Enum):
    """How much of a food an instruction takes."""

    ALL = "all"  # all that there is of it, or all that is left
    SHARE = "share"
    AMOUNT = "amount"
    REST = "rest"
    SOME = "some"  # an amount that nobody says
    FILM = "film"  # what greases a tin or brushes a surface
    ALL_BUT = "all but"  # an amount that stays behind


class Mark(Enum):
    """A plain fact of an instruction that changes what it does."""

    COVERED = "covered"
    UNCOVERED = "uncovered"
    STIRRED = "stirred"
    SALTED_WATER = "salted water"
    WATER = "water"  # it happens in water that no line may list
    OVER_WATER = "over water"  # in a vessel above it
    RACK = "rack"
    PAPER = "paper"
    FRIDGE = "fridge"
    STANDING = "standing"  # where food stands, and nothing is heated: in the dark, on the counter
    RARE = "rare"
    MEDIUM_RARE = "medium rare"
    MEDIUM = "medium"
    WELL_DONE = "well done"
    HARD = "hard"  # at a rolling boil
    GENTLE = "gentle"
    IN_ITS_LIQUID = "in its liquid"
    CHANGED_WATER = "changed water"
    BATCHES = "medium in"
    LAST = "last"
    SETTING_POINT = "setting point"
    DRY = "dry"  # until its liquid has gone
    CURDLED = "curdled"  # milk parts into curd and whey
    BY_LOSS = "by loss"
    TO_THE_BOIL = "to the boil"
    TO_THE_SIMMER = "to the simmer"
    IN_OVEN = "in the oven"
    GRILL = "grill"
    GLAZE = "to a glaze"  # until the liquid is a syrup around the food
    DEEP_FAT = "deep fat"  # so much of it that food swims
    FLAME = "low flame"  # over a flame, whatever its size
    OFF_HEAT = "off the heat"
    TWICE = "twice"
    SEVERAL_TIMES = "several times"
    TO_TASTE = "to taste"
    FOR_LATER = "for later"  # it is not part of what is served today
    SAME_VESSEL = "same vessel"
    NEW_VESSEL = "new vessel"
    BACK = "back"  # it returns to where it was
    THROWN_AWAY = "thrown away"
    KEPT = "kept"
    ONLY = "only"  # and nothing of what is beside it: "keep only the liquid"
    EACH = "each"
    LIGHTLY = "lightly"
    LEFTOVER = "leftover"  # what was not used of it
    OUT = "out"  # what is named goes, and not what is left: "strain out the bones"
    PRESSED = "pressed"  # pressed through a sieve
    PRESSED_OUT = "pressed out"  # pressed in a sieve for its juice
    HOT = "hot"  # its liquid was poured on boiling hot
    FRESH = "fresh"  # in fresh water
    OVER_IT = "over it"  # what is named goes over what is there: "pour the syrup over"
    AROUND = "around"  # water is around the vessel and not in it


@dataclass(frozen=True, slots=True)
class Span:
    """Where words stand: number of their line in the file, from 1, and first and behind-last character in it."""

    line: int
    start: int = 0
    end: int = 0


@dataclass(frozen=True, slots=True)
class Quantity:
    """How much of a food is meant.

    Parameters
    ----------
    extent : Extent
    share : Interval or None
        Part of the whole, 0 to 1.
    grams, millilitres : Interval or None
        Weight [g] or volume [mL].
    count : Interval or None
        Number of pieces.
    unit : str
        What is counted, where that is a unit of the kitchen: "sprig" of "2 sprigs of thyme".
    whole : bool
        True where the words say that all of it is meant ("all of the juice"), which differs only under a denial.
    """

    extent: Extent = Extent.ALL
    share: Interval | None = None
    grams: Interval | None = None
    millilitres: Interval | None = None
    count: Interval | None = None
    unit: str = ""
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Stretch:
    """Lines of the list that are named by where they stand.

    Parameters
    ----------
    begins, ends : str
        The first and the last of them, where they are named: "flour through salt".
    count : int
        How many they are; 0 where the last is named.
    first : bool
        True where they are the first of the list; else they go on behind what was named before.
    """

    begins: str = ""
    ends: str = ""
    count: int = 0
    first: bool = False


@dataclass(frozen=True, slots=True)
class Mention:
    """A noun phrase of an instruction.

    Parameters
    ----------
    text : str
        The phrase as written, to show.
    name : str
        The phrase without articles, amounts and what was done to it: what is looked up.
    role : Role
    quantity : Quantity
    members : tuple of Mention
        What the phrase itself lists ("the dry ingredients (flour, salt)"); each is a mention of its own as well.
    definite : bool
        True for "the onion", "your onion", "it": something that is there already.
    alternative : bool
        True for what is offered instead of the mention before it ("oil or butter").
    possessive : bool
        True for what belongs to the food named before it ("the clams, their liquid").
    purpose : bool
        True for what something is done for ("keep the fat for your potatoes").
    water_in_vessel : bool
        True for water that stands in a vessel of its own ("a pan of water").
    each : bool
        True for every single piece ("each fillet"): an amount beside it is for one of them.
    yours : bool
        True for what the cook has apart from the recipe ("your potatoes").
    says_it : bool
        True where the phrase itself says "it"; not where that is left out or taken over from a clause beside it.
    hot : bool
        True for what is poured on boiling hot ("boiling water").
    stretch : Stretch or None
        The lines that it means by where they stand ("the next 5 ingredients").
    """

    text: str
    name: str
    role: Role = Role.OBJECT
    quantity: Quantity = field(default_factory=Quantity)
    members: tuple[Mention, ...] = ()
    definite: bool = False
    alternative: bool = False
    possessive: bool = False
    purpose: bool = False
    water_in_vessel: bool = False
    each: bool = False
    yours: bool = False
    says_it: bool = False
    hot: bool = False
    stretch: Stretch | None = None


@dataclass(frozen=True, slots=True)
class Instruction:
    """One thing to do.

    Parameters
    ----------
    action : str
        Id of a row of ``data/actions.csv``.
    text : str
        The words that it was read from, to show.
    span : Span
    mood : Mood
    mentions : tuple of Mention
        In the order of the words.
    minutes : Interval or None
        How long [min].
    last_minutes : Interval or None
        It is done for the last so many minutes of the step before [min].
    celsius, core : Interval or None
        Heat of oven, pan or bath, and of the middle of the food [°C].
    grams, millilitres : Interval or None
        Weight [g] or volume [mL] that the food has when it is done, or that is left or kept.
    share : Interval or None
        Part of what there was that is still there, 0 to 1.
    pieces : Interval or None
        How many pieces are made; `piece` is what one is called.
    water, salt : Interval or None
        Water [mL] and salt [g] that the words themselves add.
    marks : frozenset of Mark
    names : str
        What the result is called from now on ("make a marinade from": "marinade"); empty for nothing.
    vessel : str
        The vessel named, singular ("bowl"); empty for none.
    parallel : bool
        True for what is done while something else goes on.
    adjunct : bool
        True for a participle that goes with the instruction before it (", letting the excess drip off").
    instead : bool
        True for what may be done in place of what stands before it ("or fry them", "Alternatively, fry them").
    group : str
        Sub-heading of the method that it stands under.
    after : int
        So many ingredient lines of its part stand above it.
    sentence : int
        Number of its sentence in the part.
    verb : str
        Base form of its verb ("blend").
    particle : str
        Further words of its verb ("over").
    """

    action: str
    text: str
    span: Span
    mood: Mood = Mood.DO
    mentions: tuple[Mention, ...] = ()
    minutes: Interval | None = None
    last_minutes: Interval | None = None
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
    names: str = ""
    vessel: str = ""
    parallel: bool = False
    adjunct: bool = False
    instead: bool = False
    group: str = ""
    after: int = 0
    sentence: int = 0
    verb: str = ""
    particle: str = ""

    @property
    def manners(self) -> frozenset[Manner]:
        """What its verb says beyond its action."""
        return manners_of(self.verb, self.particle)

    @property
    def vessel_kinds(self) -> frozenset[VesselKind]:
        """Of what kinds the vessel is that it names; none where it names none."""
        return vessel_kinds(self.vessel)


@dataclass(frozen=True, slots=True)
class Unread:
    """Words of the method that were not understood, and the nearest form that would be.

    Parameters
    ----------
    text : str
    span : Span
    nearest : str
        Empty for none.
    mended : bool
        True for a typo that was read as `nearest`.
    """

    text: str
    span: Span
    nearest: str = ""
    mended: bool = False
