"""What a verb says beyond its action: that food is mashed, that the heat is brief, that it goes over something."""

from __future__ import annotations

from enum import Enum
from functools import lru_cache

from labeler.parsing.instructions.grammar import grammar

__all__ = ["Manner", "manners_of"]


class Manner(Enum):
    """What a verb, or the particle behind it, adds to its action; each value is a set of ``method_grammar.csv``."""

    KEEPS_OUT = "keeps out"  # denied or by itself: the food does not go in
    TELLS_YIELD = "tells a yield"  # with a number it says how much there is
    COOKS = "cooks"  # in general: vessel and content say how
    SOFTENS = "softens too"  # under salt or in vinegar it needs no heat
    MASHES = "mashes"  # what was boiled, without its water
    PUREES = "purees"  # no pieces are left
    TURNS = "turns in"  # with "in" and food: mixed with that
    SEARS = "sears"  # in a minute or two the surface only
    SMOKES_HOT = "smokes hot"  # the smoke cooks
    OPENS_EGGS = "opens eggs"  # shelled, they go in whole
    BRINGS_IN = "brings in"  # by its particle: what it names comes to what is there
    GOES_OVER = "goes over"  # by its particle: what is in hand goes over what it names


_OF_PARTICLE = frozenset({Manner.BRINGS_IN, Manner.GOES_OVER})


@lru_cache(maxsize=1024)
def manners_of(verb: str, particle: str) -> frozenset[Manner]:
    """What a verb and the words behind it add to their action.

    Parameters
    ----------
    verb : str
        Base form.
    particle : str
        Further words of the verb; empty for none.
    """
    return frozenset(one for one in Manner if (particle if one in _OF_PARTICLE else verb) in grammar(one.value))
