"""What kind of vessel a phrase names: a pan, a pot, what goes into the oven, a bowl, a jar, a plate or a glass."""

from __future__ import annotations

from enum import Enum
from functools import cache, lru_cache

from rapidfuzz import fuzz

from labeler.parsing.instructions.lexicon import TYPO, class_words, classes_of
from labeler.text.plurals import singular

__all__ = ["VesselKind", "oven_is_a_pot", "vessel_kinds"]


class VesselKind(Enum):
    """What a vessel is for; one may be of several kinds ("slow cooker": a pot that is closed)."""

    BOWL = "vessel-bowl"
    PAN = "vessel-pan"
    POT = "vessel-pot"
    OVEN = "vessel-oven"  # the oven itself and what stands in it: a tin, a tray, a dish
    CLOSED = "vessel-closed"  # lets no steam out
    JAR = "vessel-jar"
    PLATE = "vessel-plate"
    GLASS = "vessel-glass"


_KINDS = {kind.value: kind for kind in VesselKind}


@cache
def _phrases() -> tuple[str, ...]:
    """Vessels that the list names in several words."""
    return tuple(word for name in _KINDS for word in sorted(class_words()[name]) if " " in word)


@lru_cache(maxsize=4096)
def vessel_kinds(name: str) -> frozenset[VesselKind]:
    """The kinds of the vessel that a phrase names: of its longest ending that the list of vessels holds.

    A misspelt first word counts where its vessel has several words, as its last word alone may be another thing.

    >>> [kind.name for kind in vessel_kinds("heavy roasting pan")]
    ['OVEN']
    >>> [kind.name for kind in vessel_kinds("cast iron durch oven")]
    ['POT']
    >>> vessel_kinds("")
    frozenset()
    """
    words = name.split(" ")
    for at in range(len(words)):
        tail = " ".join([*words[at:-1], singular(words[-1])])
        near = [one for one in _phrases() if one.count(" ") == tail.count(" ") and fuzz.ratio(one, tail) >= TYPO]
        for phrase in (tail, *near):
            kinds = frozenset(_KINDS[one] for one in classes_of(phrase) if one in _KINDS)
            if kinds:
                return kinds
    return frozenset()


def oven_is_a_pot(words: str, vessel: str) -> bool:
    """Whether the only oven of a clause is the pot that is called one: "melt the butter in a Dutch oven".

    >>> oven_is_a_pot("melt the butter in a Dutch oven", "dutch oven")
    True
    >>> oven_is_a_pot("put the Dutch oven in the oven", "dutch oven")
    False
    """
    pot = VesselKind.POT in vessel_kinds(vessel) and singular(vessel.rsplit(" ", 1)[-1]) == "oven"
    return pot and words.lower().count("oven") == 1
