"""What is in the pot, sorted by how it behaves: the liquor, the free fat, and the food in them.

Every step asks the same questions of a `Mixture`: which items surround the others, which are absorbed, how much water
is where. They are answered here once, as masks over the items, from each item's kind and phase.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from labeler.cooking.state.food_class import DISSOLVES, FLESH, LIQUOR, kind_of
from labeler.cooking.state.ledger import Entry
from labeler.cooking.state.mixture import CONSTITUENTS, Array, Item, Mixture, join
from labeler.foods.words import read_name
from labeler.knowledge import Problem

__all__ = [
    "FAT",
    "SALT",
    "SOLUTE",
    "SOLUTES",
    "SUGAR",
    "WATER",
    "Mask",
    "Outcome",
    "Phases",
    "move",
    "named_items",
    "sort_pot",
    "together",
]

WATER, FAT, SOLIDS, SALT, SUGAR, SOLUTE, ALCOHOL = range(len(CONSTITUENTS))
SOLUTES = (SALT, SUGAR, SOLUTE, ALCOHOL)
"""Places of the constituents that move in water."""

Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class Outcome:
    """What a step makes of a mix: what stays, what left, and how that was worked out."""

    kept: Mixture
    streams: tuple[Entry, ...] = ()
    method: str = ""
    problems: tuple[Problem, ...] = ()
    added: tuple[Entry, ...] = ()


@dataclass(frozen=True)
class Phases:
    """Masks over the items of a mix.

    Parameters
    ----------
    mix : Mixture
    liquor : array of bool
        What surrounds the food: water, stock, milk, sauce, and what dissolves or is dissolved in it.
    fat : array of bool
        Oil, butter and the like that no food has taken up.
    food : array of bool
        Everything else that was put in as it is.
    absorbed : array of bool
        What food took up, and what clings to it.
    clinging : array of bool
        What clings to food only.
    kinds : tuple of str
        Kitchen kind of each item.
    """

    mix: Mixture
    liquor: Mask
    fat: Mask
    food: Mask
    absorbed: Mask
    clinging: Mask
    kinds: tuple[str, ...] = field(default=())

    @property
    def has_liquor(self) -> bool:
        """Whether there is enough liquid to lie in: water of its own, at least a tenth of the food's weight."""
        water = float((self.mix.held[0, :, WATER] * self.mix.weight[:, WATER])[self.liquor].sum())
        return water > 0.1 * self.best(self.food | self.absorbed)

    @property
    def has_fat_bath(self) -> bool:
        """Whether food lies in free fat as in a liquor, as a confit does: a quarter of its weight or more."""
        return self.best(self.fat) > 0.25 * self.best(self.food | self.absorbed)

    @property
    def food_mass(self) -> Array:
        """Weight of the food with what it has absorbed [g], shape (draws,)."""
        return self.mass_of(self.food | self.absorbed)

    @property
    def liquor_mass(self) -> Array:
        """Weight of the liquor [g], shape (draws,)."""
        return self.mass_of(self.liquor)

    def best(self, mask: Mask) -> float:
        """Weight of some of the items in the best estimate [g]."""
        return float(np.einsum("ik,ik->", self.mix.held[0, mask], self.mix.weight[mask]))

    def mass_of(self, mask: Mask) -> Array:
        """Weight of some of the items [g], shape (draws,)."""
        return self.mix.select(self.at(mask)).total_mass

    def water(self, mask: Mask) -> Array:
        """Water in some of the items [g], shape (draws,)."""
        by_item = self.mix.held[:, :, WATER].T[mask]
        water: Array = self.mix.weight[mask, WATER] @ by_item
        return water

    @property
    def flesh(self) -> Mask:
        """Which items are meat, fish or poultry as put in."""
        flesh: Mask = np.array([kind in FLESH for kind in self.kinds], dtype=bool)
        return np.logical_and(self.food, flesh)

    def at(self, mask: Mask) -> list[int]:
        """Places of the items of a mask."""
        return [int(place) for place in np.flatnonzero(mask)]


def sort_pot(mix: Mixture) -> Phases:
    """Sort the items of a mix by how they behave.

    What dissolves, seasons or thickens belongs to the liquor where there is one and to the food where there is not.
    """
    kinds = tuple(kind_of(item.food) for item in mix.items)
    phase = [item.phase for item in mix.items]
    clinging = np.array([one == "clinging" for one in phase], dtype=bool)
    absorbed = np.array([one == "absorbed" for one in phase], dtype=bool) | clinging
    dissolved = np.array([one == "dissolved" for one in phase], dtype=bool)
    wet = np.array([kind in LIQUOR for kind in kinds], dtype=bool) & ~absorbed
    soluble = np.array([kind in DISSOLVES or kind in ("seasoning", "flour") for kind in kinds], dtype=bool) & ~absorbed
    fat = np.array([kind == "fat" for kind in kinds], dtype=bool) & ~absorbed & ~dissolved
    liquor = wet | dissolved
    if liquor.any():
        liquor = liquor | soluble
    food = ~(liquor | fat | absorbed)
    return Phases(mix, liquor, fat, food, absorbed, clinging, kinds)


def move(mix: Mixture, fraction: Array, phase: str) -> tuple[Mixture, Mixture]:
    """Split off a fraction and give what is split off another phase; items that are empty are left out.

    Parameters
    ----------
    mix : Mixture
    fraction : array
        Broadcasts to (draws, items, constituents).
    phase : str
        Of what is split off.
    """
    taken, rest = mix.split(fraction)
    taken = taken.renamed([replace(item, phase=phase) for item in taken.items]).present()
    return taken, rest


def together(parts: Sequence[Mixture]) -> Mixture:
    """Join mixes and add up what is the same item in the same state, so that steps do not lengthen a mix for ever."""
    mix = join(list(parts))
    if len(set(mix.items)) == len(mix.items):
        return mix
    # The composition may have changed (heat destroys, a cooked entry replaces it): only equal ones add up.
    print_of = (mix.composition.sum(axis=(1, 2)) + mix.weight @ np.arange(1.0, len(CONSTITUENTS) + 1.0)).tolist()
    first: dict[tuple[Item, float], int] = {}
    places: list[list[int]] = []
    for at, item in enumerate(mix.items):
        key = (item, print_of[at])
        if key in first:
            places[first[key]].append(at)
        else:
            first[key] = len(places)
            places.append([at])
    if len(places) == len(mix.items):
        return mix
    kept = mix.select([group[0] for group in places])
    here = mix.held.transpose(1, 2, 0)
    held = np.stack([here[group[0]] if len(group) == 1 else here[group].sum(axis=0) for group in places])
    held = held.transpose(2, 0, 1)
    return replace(kept, held=held)


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
        own = [_name_of(item.name or item.text)[0] for item in mix.items]
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
