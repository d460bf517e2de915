"""Ranked search over the table's descriptions, for names that the lexicon does not settle.

An inverted index over the plain words of each description. A food gains for each word of the name it carries, by how
rare the word is and where it stands (the first part of an SR28 description is the thing itself), gains again where it
is the head of the name, and pays for every word it carries that nobody asked for: states, makers, baby food. What
foods the survey uses most settles ties. Everything is a sum over words, so that scoring is a few additions in NumPy
over the postings of the name's words. The index file is made by ``reference/build_index.py``.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from labeler.foods.words import word_kinds, word_relations

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from numpy.typing import NDArray

__all__ = ["Hit", "NameIndex", "load_index"]

INDEX_FILE = Path(__file__).with_name("data") / "usda_sr28_names.npz"

# Weights of the sum; found on half of a set of names worded by another table, see reference/score_names.py.
COVERED = 10.0
HEAD_FIRST = 2.0
HEAD_LATER = 0.8
PLACE = np.array([1.0, 1.0, 1.15, 0.75])
PRIOR = 0.22
UNKNOWN_WEIGHT = 2.3
IMPLIED = 0.35
AGAINST = 2.1
HINT = 1.0
PLAIN = 0.6

_NEVER = -1e9


@dataclass(frozen=True, slots=True)
class Hit:
    """One food of a search.

    Parameters
    ----------
    row : int
        Row of the table.
    score : float
        What it was ranked by.
    covered : float
        Share of the name's words, by weight, that its description carries.
    unasked : float
        What the words cost it that the name does not ask for.
    """

    row: int
    score: float
    covered: float
    unasked: float


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
            self._still = archive["still"].astype(np.float32) / 100 - self._burden
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
        self.weight: list[float] = self._weights.tolist()

    @cached_property
    def vocabulary(self) -> Sequence[str]:
        """Every word of the descriptions."""
        return self._word_list

    def rows_of(self, word: str) -> NDArray[np.int64]:
        """Rows of the foods that carry a word; empty for a word that none carries."""
        at = self.number.get(word)
        if at is None:
            return self._rows[:0]
        return self._rows[self._bounds[at] : self._bounds[at + 1]]

    def carries(self, row: int, word: str) -> bool:
        """Whether a food's description or other name has a word."""
        rows = self.rows_of(word)
        at = int(rows.searchsorted(row))
        return at < len(rows) and int(rows[at]) == row

    def _unasked(self, row: int, asked: Iterable[int]) -> float:
        """What the words of a food cost it, but for those of a name."""
        left = float(self._burden[row])
        for at in asked:
            start = self._bounds[at]
            rows = self._rows[start : self._bounds[at + 1]]
            place = int(rows.searchsorted(row))
            if place < len(rows) and int(rows[place]) == row:
                left -= float(self._costs[start + place])
        return left

    def _weight_of(self, word: str) -> float:
        at = self.number.get(word)
        return UNKNOWN_WEIGHT if at is None else self.weight[at]

    def search(
        self, words: Iterable[str], *, head: str, limit: int, favoured: Iterable[tuple[int, frozenset[str]]] = ()
    ) -> list[Hit]:
        """The best foods for the words of a name, best first.

        Parameters
        ----------
        words : iterable of str
            Plain words, each once.
        head : str
            The word that says what the thing is.
        limit : int
            How many at most.
        favoured : iterable of (row, words)
            Foods that the lexicon takes some of the words for: these count as carried.
        """
        number, weight, bounds = self.number, self.weight, self._bounds
        relations = word_relations()
        said = set(words)
        total = 0.0
        known: list[int] = []
        against: set[str] = set()
        implied: set[str] = set()
        for word in said:
            at = number.get(word)
            if at is None:
                total += UNKNOWN_WEIGHT
            else:
                total += weight[at]
                known.append(at)
            if word in relations:
                implied.update(relations[word][0])
                against.update(relations[word][1])
        if not known:
            return []
        scale = np.float32(COVERED / total)
        score = self._still.copy()
        carried = np.zeros(len(score), dtype=np.float32)
        head_at = number.get(head, -1)
        for at in known:
            part = slice(bounds[at], bounds[at + 1])
            rows = self._rows[part]
            gain = self._gain[part] * scale
            carried[rows] += weight[at]
            gain += self._costs[part]
            if at == head_at:
                gain += self._head[part]
            score[rows] += gain
        for word in implied - said:
            at = number[word]
            part = slice(bounds[at], bounds[at + 1])
            score[self._rows[part]] += self._costs[part] + IMPLIED
        for word in against - said - implied:
            if word in number:
                score[self.rows_of(word)] -= AGAINST
        for row, explained in favoured:
            lacking = sum(self._weight_of(word) for word in explained if not self.carries(row, word))
            score[row] += COVERED * lacking / total + HINT
            if not self.carries(row, head):
                score[row] += HEAD_FIRST
            carried[row] += lacking
        score[carried == 0.0] = _NEVER
        hits: list[Hit] = []
        for _ in range(limit):
            row = int(score.argmax())
            if score[row] == _NEVER:
                break
            covered = min(float(carried[row]) / total, 1.0)
            hits.append(Hit(row, float(score[row]), covered, self._unasked(row, known)))
            score[row] = _NEVER
        return hits


@cache
def load_index() -> NameIndex:
    """The bundled index, opened once."""
    return NameIndex()
