"""The state that handling works on: what is in the bowl, by ingredient and by the constituent that can move.

A `Mixture` keeps every ingredient apart (an *item*) and says for each how much of its water, fat, salt, sugar,
other solutes, alcohol and solids is still there. It says so in grams of the ingredient as weighed: an item of
200 g whose water has half boiled off holds 100 g under ``water`` and 200 g under everything else. What a step
does is then a set of fractions per draw, item and constituent, and each stream of the step is again a `Mixture`;
the streams add up to what went in because fractions do.

Nutrients are not stored per draw. The composition of an item is divided over the constituents once (sodium
goes with the salt, fatty acids with the fat, energy with all of them), so a nutrient's amount is a product of
two small arrays, and two thousand draws cost no more memory than one table of grams. That table is laid out with the
draws of one item and constituent beside each other, because steps go over items and not over draws.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from enum import Enum
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike, NDArray

from labeler.parsing.ingredient.facts import Facts

if TYPE_CHECKING:
    from labeler.foods.user_foods import UserFood

__all__ = ["CONSTITUENTS", "KEYS", "Item", "Mixture", "Origin", "blank", "column", "empty", "join"]

Array = NDArray[np.float64]

CONSTITUENTS = ("water", "fat", "solids", "salt", "sugar", "solutes", "alcohol")
"""What can move on its own. ``solutes`` is everything dissolved that is neither salt nor sugar."""

# The nutrients that the kitchen follows: those that the US food survey FNDDS publishes, trans fat, ash, and the
# two of the US label's voluntary list that SR28 has beside them.
_KEYS = """
ENERC_KCAL PROCNT FAT CHOCDF FIBTG SUGAR ALC WATER ASH CAFFN THEBRN CA FE MG P K NA ZN CU MN SE RETOL VITA_RAE CARTB
CARTA TOCPHA VITD CRYPX LYCPN LUT+ZEA VITC THIA RIBF NIA PANTAC VITB6A FOL VITB12 CHOLN VITK1 FOLAC FOLFD FOLDFE
TOCPHA_ADDED VITB12_ADDED CHOLE FATRN FASAT FAMS FAPU F4D0 F6D0 F8D0 F10D0 F12D0 F14D0 F16D0 F18D0 F18D1 F18D2 F18D3
F20D4 F22D6 F16D1 F18D4 F20D1 F20D5 F22D1 F22D5
"""
KEYS: tuple[str, ...] = tuple(_KEYS.split())


class Origin(Enum):
    """How an ingredient came into the recipe."""

    LISTED = "listed"  # on a line
    UNLISTED = "unlisted"  # the method names it and no line lists it
    POT_WATER = "pot water"  # the water that food is boiled or soaked in and that nobody lists
    POT_SALT = "pot salt"  # the salt in that water
    WATER_TAKEN_UP = "water taken up"  # what a measured weight shows to have gone in
    WATER_ADDED = "water added"  # what the method thins with
    FRYING_OIL = "frying oil"  # what food takes up of oil that nobody lists
    EXTRACT = "extract"  # what bones and meat have given to a stock


@dataclass(frozen=True, slots=True)
class Item:
    """One ingredient of a mix.

    Parameters
    ----------
    part : str
        Title of the part whose line it stands on.
    line : int
        Line number in the recipe file, from 1.
    name : str
        The food in the cook's words, to show.
    food : str or None
        Table id; None where no food was found, and then every nutrient is missing.
    weighed : bool
        False where nobody could say how much it is: it counts nothing and makes every sum a lower bound.
    facts : Facts
        What its line says of its state: how it is cut, coated, shelled.
    phase : str
        "" as it was put in; "absorbed" for what food took up, "clinging" for what clings to it, "dissolved" for what
        went out of food into the liquid around it.
    cooked : str
        Id of the action that cooked it in this recipe ("roast"); empty if none did.
    table_entry : bool
        True where its composition is that of the table's cooked entry: the heat that cooked it has nothing left to
        destroy in it.
    pinned : bool
        True where the line states its own retention codes.
    own : UserFood or None
        The cook's own food that is composed otherwise than the table food it is like.
    most_g : float
        What it may weigh at most where it was not weighed [g]: a pinch of something is no kilogram.
    origin : Origin
        How it came into the mix.
    market : str
        Whose law overrules the table's fats of 2015; empty for the table as it stands.
    kind : str
        Of a food that was not found, what its name tells of its kind; bounds what it may hold.
    place : int
        Which ingredient line of its part it stands on, from 1; 0 for what no line lists. Unlike `line` it outlives a
        recipe's being written in another form, so draws go by it.
    """

    part: str
    line: int
    name: str
    food: str | None
    weighed: bool = True
    facts: Facts = field(default_factory=Facts)
    phase: str = ""
    cooked: str = ""
    table_entry: bool = False
    pinned: bool = False
    own: UserFood | None = None
    most_g: float = math.inf
    origin: Origin = Origin.LISTED
    market: str = ""
    kind: str = ""
    place: int = 0

    def __hash__(self) -> int:
        # Of what all but tells items apart: mixes are joined by item, and a hash of every fact takes ten times as long.
        return hash((self.part, self.line, self.name, self.food, self.phase))


@dataclass(frozen=True, slots=True)
class Mixture:
    """A mixture of ingredients, over draws.

    Parameters
    ----------
    items : tuple of Item
        The ingredients, I of them.
    held : array (draws, I, constituents)
        Grams of the ingredient, as weighed, whose constituent is here [g].
    weight : array (I, constituents)
        Mass that each constituent has in one gram of the ingredient [g/g]; a row sums to 1.
    composition : array (I, constituents, nutrients)
        Nutrients that each constituent carries per gram of the ingredient [the table's unit per g]; missing is 0.
    status : array (I, nutrients)
        `Status` of each figure as a small integer; a `MISSING` one counts 0, so its sum is a lower bound.
    """

    items: tuple[Item, ...]
    held: Array
    weight: Array
    composition: Array
    status: NDArray[np.uint8]

    @property
    def keys(self) -> tuple[str, ...]:
        """INFOODS tagnames of the nutrient axis."""
        return KEYS

    @property
    def draws(self) -> int:
        """Length of the leading axis."""
        return int(self.held.shape[0])

    @property
    def _flat(self) -> Array:
        """Grams by item and constituent, draws last: shape (items times constituents, draws)."""
        return self.held.transpose(1, 2, 0).reshape(-1, self.draws)

    @property
    def mass(self) -> Array:
        """Weight of each item [g], shape (draws, items)."""
        mass: Array = np.einsum("ikd,ik->id", self.held.transpose(1, 2, 0), self.weight).T
        return mass

    @property
    def total_mass(self) -> Array:
        """Weight of the whole [g], shape (draws,)."""
        total: Array = self.weight.ravel() @ self._flat
        return total

    @property
    def amount(self) -> Array:
        """Amount of each nutrient in each item, in the table's units, shape (draws, items, nutrients).

        Large for many draws; `total` and `of` are cheaper where the sum or one nutrient is enough.
        """
        amount: Array = np.einsum("dik,ikn->din", self.held, self.composition, optimize=True)
        return amount

    @property
    def total(self) -> Array:
        """Amount of each nutrient in the whole, in the table's units, shape (draws, nutrients)."""
        return self.total_of(range(len(KEYS))).T

    def total_of(self, rows: Sequence[int]) -> Array:
        """Amount of some nutrients in the whole, by their places in `KEYS`, shape (rows, draws)."""
        total: Array = self.composition.reshape(-1, len(KEYS))[:, list(rows)].T @ self._flat
        return total

    def of(self, key: str) -> Array:
        """Amount of one nutrient in each item, in the table's unit, shape (draws, items); KeyError if not followed."""
        amount: Array = np.einsum("ikd,ik->id", self.held.transpose(1, 2, 0), self.composition[:, :, column(key)]).T
        return amount

    def constituent(self, name: str) -> Array:
        """Mass of one constituent of each item [g], shape (draws, items)."""
        at = CONSTITUENTS.index(name)
        part: Array = self.held[:, :, at] * self.weight[:, at]
        return part

    def scaled(self, factor: ArrayLike) -> Mixture:
        """The same mixture in another amount; `factor` is one number or one per draw, not negative."""
        by = np.asarray(factor, dtype=float).reshape(1, 1, -1)
        if by.size in (1, self.draws) and bool((by == 1.0).all()):
            return self
        share = float(by[0, 0, 0])
        items = tuple(
            item if item.weighed or share <= 0.0 else replace(item, most_g=item.most_g * share) for item in self.items
        )
        return replace(self, items=items, held=(self.held.transpose(1, 2, 0) * by).transpose(2, 0, 1))

    def split(self, fraction: ArrayLike) -> tuple[Mixture, Mixture]:
        """Divide into the fraction taken and the rest; `fraction` broadcasts to (draws, items, constituents)."""
        here, shares = self.held.transpose(1, 2, 0), self._by_item(fraction)
        taken, rest = np.zeros(here.shape), np.empty(here.shape)
        for one, share, away, stays in zip(here, shares, taken, rest, strict=True):
            if share.any():
                np.multiply(one, share, out=away)
                np.subtract(one, away, out=stays)
            else:
                stays[...] = one
        return replace(self, held=taken.transpose(2, 0, 1)), replace(self, held=rest.transpose(2, 0, 1))

    def part(self, fraction: ArrayLike) -> Mixture:
        """The fraction taken alone, as `split` divides it off."""
        here, shares = self.held.transpose(1, 2, 0), self._by_item(fraction)
        taken = np.zeros(here.shape)
        for one, share, away in zip(here, shares, taken, strict=True):
            if share.any():
                np.multiply(one, share, out=away)
        return replace(self, held=taken.transpose(2, 0, 1))

    def _by_item(self, fraction: ArrayLike) -> Array:
        """A fraction that broadcasts to (draws, items, constituents), item by item, draws last."""
        share = np.asarray(fraction, dtype=float)
        share = share.reshape((1,) * (3 - share.ndim) + share.shape).transpose(1, 2, 0)
        return share if len(share) == len(self.items) else np.broadcast_to(share, (len(self.items), *share.shape[1:]))

    def select(self, at: Sequence[int]) -> Mixture:
        """The items at these places only."""
        if list(at) == list(range(len(self.items))):
            return self
        index = np.asarray(at, dtype=np.intp)
        return Mixture(
            tuple(self.items[i] for i in at),
            self.held.transpose(1, 2, 0)[index].transpose(2, 0, 1),
            self.weight[index],
            self.composition[index],
            self.status[index],
        )

    def renamed(self, items: Sequence[Item]) -> Mixture:
        """The same amounts under other items, one for one."""
        return replace(self, items=tuple(items))

    def present(self) -> Mixture:
        """Without the items that are nowhere in any draw; one that was never weighed stays."""
        here = self.held.sum(axis=0).any(axis=1)
        keep = [at for at, item in enumerate(self.items) if here[at] or not item.weighed]
        return self if len(keep) == len(self.items) else self.select(keep)

    def rows(self, start: int, stop: int | None = None) -> Mixture:
        """The draws from `start` up to `stop` only."""
        return replace(self, held=self.held[start:stop])


_COLUMN = {key: at for at, key in enumerate(KEYS)}


def column(key: str) -> int:
    """Place of a nutrient on the nutrient axis; raises KeyError for one that the kitchen does not follow."""
    return _COLUMN[key]


def blank(draws: int, items: int, *, fill: float = 0.0) -> Array:
    """An array of shape (draws, items, constituents) in the layout of `Mixture.held`."""
    shape = (items, len(CONSTITUENTS), draws)
    return (np.full(shape, fill) if fill else np.zeros(shape)).transpose(2, 0, 1)


def empty(draws: int) -> Mixture:
    """Nothing at all, over so many draws."""
    kinds, keys = len(CONSTITUENTS), len(KEYS)
    return Mixture(
        (),
        blank(draws, 0),
        np.zeros((0, kinds)),
        np.zeros((0, kinds, keys)),
        np.zeros((0, keys), dtype=np.uint8),
    )


def join(mixes: Sequence[Mixture]) -> Mixture:
    """Put mixtures together; each keeps its items, so an ingredient that comes twice stays two items.

    All must have the same number of draws; raises ValueError for none at all.
    """
    if not mixes:
        raise ValueError("nothing to join")
    full = [mix for mix in mixes if mix.items]
    if len(full) <= 1:
        return full[0] if full else mixes[0]
    return Mixture(
        tuple(item for mix in full for item in mix.items),
        np.concatenate([mix.held.transpose(1, 2, 0) for mix in full]).transpose(2, 0, 1),
        np.concatenate([mix.weight for mix in full]),
        np.concatenate([mix.composition for mix in full]),
        np.concatenate([mix.status for mix in full]),
    )
