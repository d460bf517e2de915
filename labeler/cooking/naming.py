"""Which items of a pot some words of the method mean."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from labeler.cooking.state.mixture import Mixture
from labeler.foods.food_class import FLESH, kind_of
from labeler.foods.words import read_name

__all__ = ["is_about_skin", "named_items", "skinned_items"]

_WORD = re.compile(r"[a-z]+")
_SKIN = re.compile(r"\bskins?\b|\bcrackling\b", re.IGNORECASE)


def named_items(mix: Mixture, names: Sequence[str]) -> list[int]:
    """Places of the items that one of some names means.

    A name fits when all its words are words of the item's name, or it is the title of the item's part, or it is a word
    for its kind ("meat", "nuts"); where none fits so, its head word is enough ("chicken pieces"), or a looser word
    for its kind ("noodles" of spaghetti).
    """
    found: set[int] = set()
    for name in names:
        wanted, head = _name_of(name)
        if not wanted:
            continue
        own = [_name_of(item.name)[0] for item in mix.items]
        fits = [
            at
            for at, item in enumerate(mix.items)
            if wanted <= own[at] or wanted == _name_of(item.part)[0] or _fits_kind(wanted, kind_of(item.food))
        ]
        found.update(
            fits
            or [at for at in range(len(mix.items)) if head and head in own[at]]
            or [at for at, item in enumerate(mix.items) if kind_of(item.food) in _LOOSE_KIND_WORDS.get(head, ())]
        )
    return sorted(found)


@lru_cache(maxsize=4096)
def _name_of(text: str) -> tuple[frozenset[str], str]:
    """The words of a name, and its head."""
    name = read_name(text)
    return frozenset(name.words), name.head


_KIND_WORDS = {
    "meat": FLESH - {"fish", "shellfish"},
    "fish": frozenset({"fish"}),
    "fillet": frozenset({"fish"}),
    "bird": frozenset({"poultry"}),
    "chop": frozenset({"pork", "lamb", "veal"}),
    "steak": frozenset({"beef", "fish", "game"}),
    "joint": FLESH - {"fish", "shellfish"},
    "roast": FLESH - {"fish", "shellfish"},
    "mince": frozenset({"beef ground", "pork ground", "lamb ground", "poultry ground"}),
    "vegetable": frozenset({"vegetable", "root", "greens", "tomato", "potato", "mushroom"}),
    "spice": frozenset({"seasoning"}),
    "herb": frozenset({"seasoning", "greens"}),
    "pasta": frozenset({"pasta"}),
    "bean": frozenset({"dry legume", "canned legume", "legume"}),
    "grain": frozenset({"grain"}),
    "oil": frozenset({"fat"}),
    "fat": frozenset({"fat"}),
    "nut": frozenset({"nut"}),
    "fruit": frozenset({"fruit", "dried fruit"}),
    "mushroom": frozenset({"mushroom"}),
    "seafood": frozenset({"fish", "shellfish"}),
    "shellfish": frozenset({"shellfish"}),
    "pulse": frozenset({"dry legume", "canned legume", "legume"}),
}
# Words for a kind that are mostly part of a name: they mean the kind where no name has them.
_LOOSE_KIND_WORDS = {
    "noodle": frozenset({"pasta"}),
    "seed": frozenset({"nut"}),
    "berry": frozenset({"fruit"}),
    "green": frozenset({"greens"}),
    "leaf": frozenset({"greens"}),
    "rice": frozenset({"grain"}),
    "sausage": frozenset({"sausage"}),
    "cheese": frozenset({"cheese"}),
}


def _fits_kind(words: frozenset[str], kind: str) -> bool:
    return len(words) == 1 and any(kind in _KIND_WORDS.get(word, ()) for word in words)


def is_about_skin(names: Sequence[str]) -> bool:
    """Whether a step names the skin of something."""
    return any(set(_WORD.findall(name.lower())) & {"skin", "skins"} for name in names)


def skinned_items(mix: Mixture, names: Sequence[str]) -> list[int]:
    """Places of what a step skins, where it names it beside the skin ("the duck skin")."""
    bare = [_SKIN.sub("", name).strip() for name in names]
    return named_items(mix, [name for name in bare if name])
