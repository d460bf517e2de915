"""Intervals into draws: the first row of every draw array is the best estimate, the rest are the spread.

An `Interval` becomes a split normal: its best value is the median, its low and high ends are the 2.5 and 97.5
percentiles, each side with a normal's shape. Values are cut at zero. Draws with the same key are the same draw, so
that two lines that rest on one assumption (the same food by the same cup weight) err together. The standard normals
are stratified (a Latin hypercube: one in each of equally probable bands, the bands shuffled), so a thousand draws
already give steady percentiles. The shuffle of a key depends on the seed and the key alone, so a recipe that is changed
in one place keeps its other draws.

A key is a cause and what it is of: ids, names and places, never a figure, nor the number of a row, which changes when
the same recipe is written in another form. A figure may differ in its last digit between processors, and a key that
differs at all draws something else. Keys are hashed and bands shuffled in whole numbers, for the same reason: the same
text has the same draws on every processor and with every numpy.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache, lru_cache
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from labeler.cooking.state.mixture import Array
from labeler.cooking.state.normal_quantiles import strata
from labeler.types import Interval

__all__ = ["Cause", "DrawKey", "Sampler"]

Z95 = 1.959963984540054  # half-width of a 95 % interval in standard deviations


class Cause(Enum):
    """What is in doubt, in words that go before what it is of; the name of a member settles its draws."""

    GRAMS = "weight"
    FOOD = "which food"
    DIVISION = "one serving like the next"
    COMPOSITION = "composition"
    READING = "how the method is read"
    STATED = "an amount that the handling states, number"
    # Salting, soaking and rinsing.
    HALF_THICKNESS = "how thick it is:"
    DIFFUSIVITY = "how fast salt goes into"
    EQUILIBRIUM = "how salty it gets in the end:"
    ACTIVATION = "how much faster salt moves when it is warm"
    PLANT_CELLS = "how much plant cells hold back"
    SOLID_SALT = "how long solid salt lasts"
    SWELLING = "how much water goes into"
    MEAT_GAIN = "how much liquid goes into"
    DRAWN_WATER = "how much water salt draws from"
    WATER_FOR_SALT = "water that leaves for the salt that enters"
    FRESH_BATHS = "how much fresh water a change of water is"
    RINSING_TIME = "how long it is rinsed"
    RINSED_SODIUM = "how much sodium rinsing takes from"
    # Heat.
    YIELD = "what is left of the weight:"
    HEATED_AGAIN = "what is left when heated again:"
    DONENESS = "what a degree in the middle takes"
    FAT_KEPT = "how much fat stays in"
    FAT_LEFT = "how much fat is left in"
    DRIPPINGS = "how much of the loss drips:"
    BASTING = "how much of the drippings stays on the food"
    DISH_LOSS = "what a dish of its kind loses:"
    BOIL_RATE = "how fast water boils away"
    LID = "what a lid holds back"
    ALCOHOL_KEPT = "how much alcohol stays"
    DISTILLATION = "how much richer in alcohol the vapour is"
    SETTING_POINT = "how thick it sets"
    POT_WATER = "how much water is in the pot"
    SALTED_WATER = "how salty salted water is"
    STOCK = "how much goes into the stock"
    OIL_TAKEN_UP = "how much oil is taken up"
    DRIED = "how much water dried food keeps"
    # What is poured off, wiped or taken away.
    FILM = "how thick a film of liquid clings"
    PATTED = "how much patting takes"
    WASHED_OFF = "how much clinging liquid is washed off"
    CAN_LIQUID = "how much of a can is liquid"
    SQUEEZED = "how much squeezing takes"
    SKIMMED = "how much skimming takes"
    SKIN = "how much of the weight is skin"
    COATING = "how much of a coating clings"
    CRUST = "how much water a coating loses"
    WHEY = "how much whey runs off"
    UNLISTED = "how much there is of what no line lists:"


@dataclass(frozen=True, slots=True)
class DrawKey:
    """What a draw is of: equal keys are one draw.

    Parameters
    ----------
    cause : Cause
    of : tuple of str and int
        Ids, names and places of lines. TypeError for anything else: a float, or what holds one, differs in its last
        digit between processors.
    """

    cause: Cause
    of: tuple[str | int, ...] = ()

    def __post_init__(self) -> None:
        if not isinstance(self.cause, Cause):
            raise TypeError(f"the cause of a draw is a Cause, not {self.cause!r}")
        for part in self.of:
            if not isinstance(part, (str, int)) or isinstance(part, bool):
                raise TypeError(f"{self.cause.name}: a key of a draw holds text and whole numbers, not {part!r}")

    def __str__(self) -> str:
        return " ".join([self.cause.value, *(str(part) for part in self.of)])

    def number(self, seed: int) -> int:
        """A whole number of 64 bits for a seed and this key."""
        of = [f"'{str.__str__(part)}" if isinstance(part, str) else f"#{part:d}" for part in self.of]
        written = "".join(f"{len(text)}:{text}" for text in (str(seed), self.cause.name, *of))
        return int.from_bytes(hashlib.blake2b(written.encode(), digest_size=8).digest(), "little")


class Sampler:
    """A source of draws whose row 0 is always the best estimate.

    Parameters
    ----------
    count : int
        Draws beside the best estimate, 0 for none.
    seed : int
        The same seed and the same keys give the same draws.
    """

    def __init__(self, count: int, *, seed: int = 0) -> None:
        if count < 0:
            raise ValueError(f"the number of draws cannot be negative: {count}")
        self.rows = count + 1
        self._seed = seed
        self._normals: dict[DrawKey, Array] = {}
        self._stated = 0

    @property
    def named(self) -> Mapping[DrawKey, Array]:
        """The standard normals drawn so far, by key: what the spread can be traced back to."""
        return MappingProxyType(self._normals)

    def order(self, cause: Cause, *of: str | int) -> NDArray[np.intp]:
        """An order of the draws, shape (rows - 1,), that depends on the seed and the key alone.

        The draws are put in the order of a hash of their numbers (SplitMix64; Steele, Lea and Flood 2014, OOPSLA:453).
        """
        return _shuffled(self.rows - 1, DrawKey(cause, of).number(self._seed))

    def normal(self, cause: Cause, *of: str | int) -> Array:
        """Standard normals, shape (rows,), 0 in row 0; the same for the same cause and what it is of."""
        key = DrawKey(cause, of)
        if key not in self._normals:
            self._normals[key] = _normals(self.rows - 1, key.number(self._seed))
        return self._normals[key]

    def draw(self, interval: Interval, cause: Cause | None = None, *of: str | int, most: float = np.inf) -> Array:
        """Draws of an interval, shape (rows,), from 0 to `most`; new ones each time where no cause is given."""
        if interval.low == interval.high:
            return np.full(self.rows, interval.best)
        if cause is None:
            cause, of, self._stated = Cause.STATED, (self._stated + 1,), self._stated + 1
        normals = self.normal(cause, *of)
        below, above = interval.best - interval.low, interval.high - interval.best
        drawn: Array = normals / Z95
        drawn *= above if below == above else np.where(normals < 0.0, below, above)
        drawn += interval.best
        np.maximum(drawn, 0.0, out=drawn)
        return drawn if most == np.inf else np.minimum(drawn, most, out=drawn)


@lru_cache(maxsize=256)
def _normals(count: int, start: int) -> Array:
    """Standard normals in the order of a hash, behind the 0 of the best estimate; a changed recipe has most again."""
    normals = np.zeros(count + 1)
    if count:
        normals[1:] = strata(count)[_shuffled(count, start)]
    normals.flags.writeable = False
    return normals


@cache
def _spaced(count: int) -> NDArray[np.uint64]:
    """What the generator of hashes counts by, for each draw; not to be written to."""
    steps = np.arange(1, count + 1, dtype=np.uint64) * np.uint64(0x9E3779B97F4A7C15)
    steps.flags.writeable = False
    return steps


@lru_cache(maxsize=2048)
def _places(count: int, start: int) -> NDArray[np.uint16] | NDArray[np.intp]:
    """The order of a hash, kept small: recipes share the keys of common foods and ways of cooking."""
    state = _spaced(count) + np.uint64(start)
    state = (state ^ (state >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
    state = (state ^ (state >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    state ^= state >> np.uint64(31)
    # Each number carries its draw in its lowest bits, so that one sort of whole numbers does, and no two are alike.
    low = np.uint64((1 << count.bit_length()) - 1)
    order = np.sort((state & ~low) | np.arange(count, dtype=np.uint64)) & low
    return order.astype(np.uint16) if count <= 1 << 16 else order.astype(np.intp)


def _shuffled(count: int, start: int) -> NDArray[np.intp]:
    return _places(count, start).astype(np.intp)
