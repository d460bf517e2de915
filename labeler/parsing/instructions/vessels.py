"""What kind of vessel a phrase names: a pan, a pot, what goes into the oven, a bowl, a jar, a plate or a glass."""

from __future__ import annotations

import re
from enum import Enum
from functools import cache, lru_cache

from rapidfuzz import fuzz

from labeler.parsing.instructions.lexicon import TYPO, class_words, classes_of
from labeler.text.plurals import singular

__all__ = ["VesselKind", "vessel_kinds", "with_pots_so_called"]


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


_TWO_WORDS = re.compile(r"\b(?:[^\W\d_]+\s+)(?:oven|pan)s?\b", re.IGNORECASE)


def with_pots_so_called(words: str) -> str:
    """Words with "pot" for each pot that goes by another vessel's name, so that a Dutch oven is no oven.

    >>> with_pots_so_called("put the Dutch oven in the oven")
    'put the pot in the oven'
    """
    return _TWO_WORDS.sub(lambda hit: "pot" if VesselKind.POT in vessel_kinds(hit[0].lower()) else hit[0], words)
