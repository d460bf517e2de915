"""Cans and jars: whether their liquid goes in, and what is left of them where it does not.

A line says so ("drained", "rinsed", "with their juice"), or the food does: nobody drains tomatoes or coconut milk, most
cooks drain beans, vegetables and tuna. Where neither speaks the weight is what cooks do, its bounds hold both, and a
problem asks for the word.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from labeler.foods.weights.edible_portion import WHOLE, drained_share
from labeler.foods.weights.reference_weights import best_figure, load_figures
from labeler.types import Interval

__all__ = ["Liquid", "liquid_of"]

_KEPT = re.compile(
    r"\b(?:undrained|un-drained|not drained|(?:do not|don't|without) drain\w*|"
    r"(?:with|and|including|plus|in) (?:all )?(?:its|their|the|own|natural)?\s*(?:own |natural )?"
    r"(?:liquid|liquids|liquor|juices?|can juices?)|(?:liquid|juices?) (?:and all|included))\b"
)
_POURED = re.compile(r"\b(?:drain(?:ed)?|rinsed|drain and rinse)\b")
# "Pineapple in juice" says how it is put up, "beans in their liquid" what goes in.
_PUT_UP = re.compile(r"in (?!their|its|the)(?:\w+ )?juices?")


class Liquid(NamedTuple):
    """Share of the net weight that goes in, in [0, 1]; `told` where the line or the food says which."""

    share: Interval
    told: bool


@lru_cache(maxsize=8192)
def liquid_of(text: str, name: tuple[str, ...], group: int) -> Liquid:
    """What of a can or jar goes in.

    Parameters
    ----------
    text : str
        The line in lower case.
    name : tuple of str
        Normal words of the food in the cook's words.
    group : int
        SR28 food group.
    """
    kept = _KEPT.search(text)
    if _POURED.search(_KEPT.sub(" ", text)):
        return Liquid(drained_share(name, group), True)
    unstated = best_figure(load_figures("drained.csv")["unstated"], name, group)
    if unstated is None or (kept and not _PUT_UP.fullmatch(kept[0])):
        return Liquid(WHOLE, True)
    return Liquid(unstated.value, False)
