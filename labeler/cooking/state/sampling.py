"""Intervals into draws: the first row of every draw array is the best estimate, the rest are the spread.

An `Interval` becomes a split normal: its best value is the median, its low and high ends are the 2.5 and 97.5
percentiles, each side with a normal's shape. Values are cut at zero. Draws with the same key are the same draw, so
that two lines that rest on one assumption (the same food by the same cup weight) err together. The standard normals
are stratified (one per percentile band, shuffled), so a thousand draws already give steady percentiles. The shuffle of
a key depends on the seed and the key alone, so a recipe that is changed in one place keeps its other draws.
"""

from __future__ import annotations

import zlib
from collections.abc import Hashable, Mapping
from functools import cache
from statistics import NormalDist
from types import MappingProxyType

import numpy as np

from labeler.cooking.state.mixture import Array
from labeler.knowledge import Interval

__all__ = ["Sampler"]

Z95 = 1.959963984540054  # half-width of a 95 % interval in standard deviations


@cache
def _strata(count: int) -> Array:
    inverse = NormalDist().inv_cdf
    return np.array([inverse((at + 0.5) / count) for at in range(count)])


class Sampler:
    """A source of draws whose row 0 is always the best estimate.

    Parameters
    ----------
    count : int
        Draws beside the best estimate, 0 for none.
    seed : int or sequence of int
        The same seed and the same calls give the same draws.
    """

    def __init__(self, count: int, *, seed: int | list[int] = 0) -> None:
        if count < 0:
            raise ValueError(f"the number of draws cannot be negative: {count}")
        self.rows = count + 1
        base = np.random.SeedSequence(seed).generate_state(1, np.uint64)[0]
        self._random = np.random.Generator(np.random.Philox(key=int(base)))
        self._start = self._random.bit_generator.state
        self._normals: dict[Hashable, Array] = {}

    @property
    def named(self) -> Mapping[Hashable, Array]:
        """The standard normals drawn so far, by key: what the spread can be traced back to."""
        return MappingProxyType(self._normals)

    def normal(self, key: Hashable = None) -> Array:
        """Standard normals, shape (rows,), 0 in row 0; the same for the same key, new each time for None."""
        if key is not None and key in self._normals:
            return self._normals[key]
        if key is None:
            key = ("draw", len(self._normals))
        normals = np.zeros(self.rows)
        if self.rows > 1:
            # A counter-based generator starts anew for each key in no time; a fresh one would cost more than the draw.
            self._start["state"]["key"][1] = zlib.crc32(repr(key).encode())
            self._random.bit_generator.state = self._start
            normals[1:] = self._random.permutation(_strata(self.rows - 1))
        self._normals[key] = normals
        return normals

    def draw(self, interval: Interval, key: Hashable = None, *, most: float = np.inf) -> Array:
        """Draws of an interval, shape (rows,), from 0 to `most`."""
        if interval.low == interval.high:
            return np.full(self.rows, interval.best)
        normals = self.normal(key)
        below, above = interval.best - interval.low, interval.high - interval.best
        drawn = interval.best + normals / Z95 * np.where(normals < 0.0, below, above)
        return np.clip(drawn, 0.0, most)
