"""What is in the pot, sorted by how it behaves: the liquor, the free fat, and the food in them.

Every step asks the same questions of a `Mixture`: which items surround the others, which are absorbed, how much water
is where. They are answered here once, as masks over the items, from each item's kind and phase.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from enum import Enum
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from labeler.cooking.state.ledger import LedgerEntry
from labeler.cooking.state.mixture import CONSTITUENTS, Array, Item, Mixture, join
from labeler.cooking.state.reckoning import Account, written
from labeler.foods.food_class import DISSOLVES, FLESH, LIQUOR, kind_of
from labeler.types import Problem

__all__ = [
    "FAT",
    "SALT",
    "SOLUTE",
    "SOLUTES",
    "SUGAR",
    "WATER",
    "Mask",
    "Off",
    "Outcome",
    "PartedPhases",
    "Phases",
    "move",
    "sort_pot",
    "together",
]

WATER, FAT, SOLIDS, SALT, SUGAR, SOLUTE, ALCOHOL = range(len(CONSTITUENTS))
SOLUTES = (SALT, SUGAR, SOLUTE, ALCOHOL)
"""Places of the constituents that move in water."""

Mask = NDArray[np.bool_]


class PartedPhases(Enum):
    """What a step parts from the food; whether that leaves is not for the step to say."""

    LIQUID = "liquid"  # what food lies or was boiled in
    RINSINGS = "rinsings"
    JUICE = "juice"  # what is pressed out
    FAT = "fat"  # free fat that is poured off or skimmed
    BATH = "bath"  # fat that food was fried in afloat
    PAN_FAT = "pan fat"  # fat that is left in the pan
    DRIPPINGS = "drippings"
    FILM = "film"  # what is wiped off
    SOLIDS = "solids"  # what is strained out
    PIECES = "pieces"  # what is taken out by itself
    COAT = "coat"  # what is not used of a coating


class Off(NamedTuple):
    """One thing that a step parts from the food."""

    parted: PartedPhases
    mix: Mixture


@dataclass(frozen=True)
class Outcome:
    """What a step makes of a mix.

    Parameters
    ----------
    kept : Mixture
        The food as it is then.
    streams : tuple of LedgerEntry
        What is nowhere any more: water and alcohol that evaporated, what heat destroyed, and what the table's entries
        differ by.
    account : tuple of Account
        How it was worked out.
    problems : tuple of Problem
        Without the words and the line of the step, which the models do not know.
    added : tuple of LedgerEntry
        What the step brings and no line lists.
    off : tuple of Off
        What it parts from the food.
    guessed : bool
        True where water has boiled off by the time alone, so that a measure overrules it.
    """

    kept: Mixture
    streams: tuple[LedgerEntry, ...] = ()
    account: tuple[Account, ...] = ()
    problems: tuple[Problem, ...] = ()
    added: tuple[LedgerEntry, ...] = ()
    off: tuple[Off, ...] = ()
    guessed: bool = False

    @property
    def method(self) -> str:
        """How it was worked out, to show."""
        return written(self.account)

    @property
    def off_mix(self) -> Mixture | None:
        """All that is parted from the food, as one; None for nothing."""
        parts = [one.mix for one in self.off if one.mix.items]
        return together(parts) if parts else None


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
    absorbed = np.array([one in ("absorbed", "coating") for one in phase], dtype=bool) | clinging
    dissolved = np.array([one == "dissolved" for one in phase], dtype=bool)
    bound = np.array([one == "bound" for one in phase], dtype=bool)  # kneaded or shaped: it lies loose no more
    loose = ~(absorbed | bound)
    wet = np.array([kind in LIQUOR for kind in kinds], dtype=bool) & loose
    soluble = np.array([kind in DISSOLVES or kind in ("seasoning", "flour") for kind in kinds], dtype=bool) & loose
    fat = np.array([kind == "fat" for kind in kinds], dtype=bool) & loose & ~dissolved
    liquor = wet | dissolved
    if liquor.any():
        liquor = liquor | soluble
    food = ~(liquor | fat | absorbed)
    return Phases(mix, liquor, fat, food, absorbed, clinging, kinds)


def move(mix: Mixture, fraction: Array, phase: str, *, of: Sequence[int] | None = None) -> tuple[Mixture, Mixture]:
    """Split off a fraction and give what is split off another phase; of that, items that are empty are left out.

    Parameters
    ----------
    mix : Mixture
    fraction : array
        Broadcasts to (draws, items, constituents).
    phase : str
        Of what is split off.
    of : sequence of int or None
        Places of the items that are meant, the others are in neither mixture; None for all.
    """
    places = np.arange(len(mix.items)) if of is None else np.asarray(of, dtype=np.intp)
    here = mix.held.transpose(1, 2, 0)
    shape = (len(places), *here.shape[1:])
    share = np.broadcast_to(fraction, (shape[2], *shape[:2])).transpose(1, 2, 0)
    # Item by item into arrays of their own: in whole arrays all draws would be copied three times more.
    taken, rest = np.empty(shape), np.empty(shape)
    moved: list[int] = []
    for row, at in enumerate(places.tolist()):
        part = taken[len(moved)]
        np.multiply(here[at], share[row], out=part)
        np.subtract(here[at], part, out=rest[row])
        if part.any() or not mix.items[at].weighed:
            moved.append(at)

    def of_places(at: list[int], held: Array) -> Mixture:
        return Mixture(
            tuple(mix.items[one] for one in at),
            held.transpose(2, 0, 1),
            mix.weight[at],
            mix.composition[at],
            mix.status[at],
        )

    gone = of_places(moved, taken[: len(moved)])
    gone = gone.renamed([replace(item, phase=phase) for item in gone.items])
    return gone, of_places(places.tolist(), rest)


def together(parts: Sequence[Mixture]) -> Mixture:
    """Join mixes and add up what is the same item in the same state, so that steps do not lengthen a mix for ever."""
    full = [part for part in parts if part.items]
    items = [item for part in full for item in part.items]
    if len(set(items)) == len(items):
        return join(list(parts))
    # The composition may have changed (heat destroys, a cooked entry replaces it): only equal ones add up.
    weight = np.concatenate([part.weight for part in full])
    composition = np.concatenate([part.composition for part in full])
    print_of = (composition.sum(axis=(1, 2)) + weight @ np.arange(1.0, len(CONSTITUENTS) + 1.0)).tolist()
    first: dict[tuple[Item, float], int] = {}
    places: list[list[int]] = []
    for at, item in enumerate(items):
        key = (item, print_of[at])
        if key in first:
            places[first[key]].append(at)
        else:
            first[key] = len(places)
            places.append([at])
    if len(places) == len(items):
        return join(list(parts))
    # Each array is written once: joining them first and choosing then would copy all draws twice more.
    here = [held for part in full for held in part.held.transpose(1, 2, 0)]
    held = np.empty((len(places), *here[0].shape))
    for row, group in zip(held, places, strict=True):
        if len(group) == 1:
            row[...] = here[group[0]]
            continue
        np.add(here[group[0]], here[group[1]], out=row)
        for at in group[2:]:
            row += here[at]
    kept = [group[0] for group in places]
    return Mixture(
        tuple(items[at] for at in kept),
        held.transpose(2, 0, 1),
        weight[kept],
        composition[kept],
        np.concatenate([part.status for part in full])[kept],
    )
