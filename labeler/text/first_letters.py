"""Which of many patterns a text may hold, told by the first letters of its words: few have to be searched for."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

__all__ = ["FirstLetters"]

_STARTS = re.compile(r"\b\w\w")


class FirstLetters:
    """Rows of words, found by the two letters that a word of a text begins with.

    Parameters
    ----------
    rows : iterable of sequence of str
        For each row the words, in any case, with one of which a word of a text must begin for the row to be meant. A
        row with a word that is shorter, or begins with no letter, or with an empty word, may be meant in any text.

    Examples
    --------
    >>> rows = FirstLetters([["sliced", "rounds"], ["whole"], [""]])
    >>> rows.of("1 onion, sliced"), rows.of("1 whole egg")
    ([0, 2], [1, 2])
    """

    __slots__ = ("_all", "_always", "_by_start")

    def __init__(self, rows: Iterable[Sequence[str]]) -> None:
        self._by_start: dict[str, list[int]] = {}
        self._always: list[int] = []
        count = 0
        for at, words in enumerate(rows):
            starts = {word[:2].lower() for word in words}
            count += 1
            if any(len(start) < 2 or not start.isalpha() or not start.isascii() for start in starts):
                self._always.append(at)
                continue
            for start in starts:
                self._by_start.setdefault(start, []).append(at)
        self._all = list(range(count))

    def of(self, text: str) -> list[int]:
        """Places of the rows that may be meant, in order; a text in other letters than ASCII's may mean any."""
        if not text.isascii():
            return self._all
        found = set(self._always)
        for start in set(_STARTS.findall(text.lower())):
            found.update(self._by_start.get(start, ()))
        return sorted(found)
