"""Ranked search over the table's descriptions, for names that the lexicon does not settle.

An inverted index over the plain words of each description. A food gains for each word of the name it carries, by how
rare the word is and where it stands (the first part of an SR28 description is the thing itself), gains again where it
is the head of the name, and pays for every word it carries that nobody asked for: states, makers, baby food. What
foods the survey uses most settles ties. Everything is a sum over words, so that scoring is a few additions in NumPy
over the postings of the name's words. The index file is made by ``reference/build_index.py``.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from labeler.foods.matching.name_words import word_kinds, word_relations

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from numpy.typing import NDArray

__all__ = ["NameIndex", "SearchHit", "load_index"]

INDEX_FILE = Path(__file__).parents[1].joinpath("data") / "usda_sr28_names.npz"

# Weights of the sum, found by random search on the first half of a set of names worded by another table and on the
# lexicon's own names (see reference/score_names.py), then rounded; the second half agrees within a point.
COVERED = 10.0  # the whole name carried
PLACE = np.array([1.0, 1.0, 1.15, 0.75])  # what of that a word brings in the first, second and later parts, other name
HEAD_FIRST, HEAD_LATER = 2.0, 0.8  # the name's head carried in the first part, or later
UNKNOWN_WEIGHT = 2.3  # weight of a word that no food carries; a word in one food weighs 9
FOOD_WEIGHT = 6.0  # weight of such a word where it is known, or must be feared, to be the food
PLAIN = 0.6  # share of its weight that is left to a word of form ("large", "sliced")
IMPLIED = 0.35  # a word that the name implies ("roasted" implies "cooked")
AGAINST = 2.1  # a word that the name speaks against ("roasted" against "raw")
HINT = 1.0  # the food that the lexicon gives for a part of the name
PRIOR = 0.22  # for each e-fold of survey foods that use it

_NEVER = np.float32(-1e9)
_BASES_KEPT = 512


class SearchHit(NamedTuple):
    """One food of a search: its row, its score and the share of the name's words, by weight, that it carries."""

    row: int
    score: float
    covered: float


class NameIndex:
    """The index file, read at once.

    Parameters
    ----------
    path : Path
        A file made by ``reference/build_index.py``.
    """

    def __init__(self, path: Path = INDEX_FILE) -> None:
        with np.load(path, allow_pickle=False) as archive:
            self._word_list = bytes(archive["words"]).decode().split("\n")
            self._starts = archive["starts"]
            self._rows = archive["rows"].astype(np.int64)
            self._places = archive["places"]
            self._costs = archive["costs"].astype(np.float32) / 100
            weights = archive["weights"].astype(np.float32) / 100
            self._burden = archive["burden"].astype(np.float32) / 100
            self._still: NDArray[np.float32] = archive["still"].astype(np.float32) / 100 - self._burden
            self.lexicon_keys = bytes(archive["lexicon_keys"]).decode()
            self.lexicon_entries = bytes(archive["lexicon_entries"]).decode()
        self.number: Mapping[str, int] = {word: at for at, word in enumerate(self._word_list)}
        lengths = np.diff(self._starts)
        word_of = np.repeat(np.arange(len(lengths)), lengths)
        kinds = word_kinds()
        self._weights = np.array(
            [
                weight * (PLAIN if kinds.get(word) in ("plain", "part") else 1.0)
                for word, weight in zip(self._word_list, weights.tolist(), strict=True)
            ],
            dtype=np.float32,
        )
        self._gain = (self._weights[word_of] * PLACE[self._places]).astype(np.float32)
        self._head = np.where(self._places == 0, HEAD_FIRST, HEAD_LATER).astype(np.float32)
        self._bounds = self._starts.tolist()
        self._weight: list[float] = self._weights.tolist()
        self._bases: dict[tuple[str, ...], NDArray[np.float32]] = {}

    def rows_of(self, word: str) -> NDArray[np.int64]:
        """Rows of the foods that carry a word; empty for a word that none carries."""
        at = self.number.get(word)
        rows: NDArray[np.int64] = self._rows[:0] if at is None else self._rows[self._bounds[at] : self._bounds[at + 1]]
        return rows

    def carries(self, row: int, word: str, *, first: bool = False) -> bool:
        """Whether a food's description or other name has a word; with `first`, among those for the thing itself."""
        number = self.number.get(word)
        if number is None:
            return False
        start = self._bounds[number]
        rows = self._rows[start : self._bounds[number + 1]]
        at = int(rows.searchsorted(row))
        if at == len(rows) or int(rows[at]) != row:
            return False
        return not first or int(self._places[start + at]) == 0

    def unasked(self, row: int, words: Iterable[str]) -> float:
        """What the words of a food cost it, but for those of a name."""
        left = float(self._burden[row])
        for word in words:
            number = self.number.get(word)
            if number is None:
                continue
            start = self._bounds[number]
            rows = self._rows[start : self._bounds[number + 1]]
            at = int(rows.searchsorted(row))
            if at < len(rows) and int(rows[at]) == row:
                left -= float(self._costs[start + at])
        return left

    def weight_of(self, word: str, *, unknown: float = UNKNOWN_WEIGHT) -> float:
        """How much a word says: the rarer, the more; `unknown` for a word that no food carries."""
        number = self.number.get(word)
        return unknown if number is None else self._weight[number]

    def _base(self, words: Sequence[str]) -> NDArray[np.float32]:
        """What every food starts from: its use and burden, and what the name implies and speaks against unsaid."""
        relations = word_relations()
        related = tuple(word for word in words if word in relations)
        if not related:
            return self._still
        base = self._bases.get(related)
        if base is None:
            stated = set(words)
            implied = {word for name in related for word in relations[name][0]} - stated
            against = {word for name in related for word in relations[name][1]} - stated - implied
            base = self._still.copy()
            for word in sorted(implied & self.number.keys()):
                part = self._part(word)
                base[self._rows[part]] += self._costs[part] + IMPLIED
            for word in sorted(against & self.number.keys()):
                base[self._rows[self._part(word)]] -= AGAINST
            if len(self._bases) < _BASES_KEPT:
                self._bases[related] = base
        return base

    def _part(self, word: str) -> slice:
        number = self.number[word]
        return slice(self._bounds[number], self._bounds[number + 1])

    def search(
        self, words: Iterable[str], *, head: str, limit: int, favoured: Sequence[tuple[int, frozenset[str]]] = ()
    ) -> list[SearchHit]:
        """The best foods for the words of a name, best first.

        Parameters
        ----------
        words : iterable of str
            Plain words; their order does not matter.
        head : str
            The word that says what the thing is.
        limit : int
            How many at most.
        favoured : sequence of (row, words)
            Foods that the lexicon takes some of the words for: these count as carried.
        """
        stated = sorted(set(words))
        known = [word for word in stated if word in self.number]
        if not known:
            return []
        explained = {word for _, part in favoured for word in part}
        weights = {
            word: self.weight_of(word, unknown=FOOD_WEIGHT if word in explained else UNKNOWN_WEIGHT) for word in stated
        }
        total = sum(weights.values())
        scale = np.float32(COVERED / total)
        score = self._base(stated).copy()
        carried = np.zeros(len(score), dtype=np.float32)
        for word in known:
            part = self._part(word)
            rows = self._rows[part]
            gain = self._gain[part] * scale
            gain += self._costs[part]
            if word == head:
                gain += self._head[part]
            score[rows] += gain
            carried[rows] += weights[word]
        for row, explains in favoured:
            lacking = sum(weights[word] for word in sorted(explains) if not self.carries(row, word))
            score[row] += COVERED * lacking / total + HINT + (0.0 if self.carries(row, head) else HEAD_FIRST)
            carried[row] += lacking
        # Few foods carry a word of the name: only among those is the best one looked for.
        found = carried.nonzero()[0]
        among = score[found]
        hits: list[SearchHit] = []
        for _ in range(min(limit, len(found))):
            at = int(among.argmax())
            row = int(found[at])
            hits.append(SearchHit(row, float(among[at]), min(float(carried[row]) / total, 1.0)))
            among[at] = _NEVER
        return hits


@cache
def load_index() -> NameIndex:
    """The bundled index, opened once."""
    return NameIndex()
