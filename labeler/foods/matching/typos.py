"""Typos of spelling in food names: an unknown word close to one known word is read as that word.

Only words that neither the lexicon nor the table nor the lists of kitchen words know are looked at, so that no real
word is ever changed into another.
"""

from __future__ import annotations

from functools import cache, lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from labeler.foods.matching.name_words import synonyms_of_one_word, word_kinds
from labeler.foods.matching.search import load_index
from labeler.foods.matching.synonyms import load_lexicon

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

__all__ = ["correct_typos", "is_far", "is_known"]

_SHORTEST = 5
_TWO_TYPOS_FROM = 8  # letters; a shorter word two typos away is too often another word
_RIVALS = 12
_FOODS_ENOUGH = 3  # words of fewer descriptions are mostly makers' names


def correct_typos(words: Iterable[str]) -> dict[str, str]:
    """The words of a name that nobody knows, each with the known word it is most likely a typo of."""
    return {word: near for word in words if not is_known(word) and (near := _nearest(word)[0])}


def is_far(word: str) -> bool:
    """Whether a typo stands two letters from the word it is read as, as words of other languages do by chance."""
    return _nearest(word)[1] > 1


def is_known(word: str) -> bool:
    """True for a word in normal form that the lexicon, the table or the lists of kitchen words have."""
    return (
        word in load_index().number
        or word in load_lexicon().vocabulary
        or word in word_kinds()
        or word in synonyms_of_one_word()
    )


@lru_cache(maxsize=16384)
def _nearest(word: str) -> tuple[str, int]:
    """The nearest known word with the same first letter, or what it means, and how many letters away it is.

    Letters are counted by insertions, deletions, changes and swaps.
    """
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    if len(word) < _SHORTEST or not word.isalpha():
        return "", 0
    typos = 1 if len(word) < _TWO_TYPOS_FROM else 2
    near = [known for known in _by_initial().get(word[0], ()) if abs(len(known) - len(word)) <= typos]
    found = process.extract(word, near, scorer=OSA.distance, score_cutoff=typos, limit=_RIVALS)
    if not found:
        return "", 0
    known, away, _ = min(found, key=lambda hit: (hit[1], *_rarity(hit[0])))
    return synonyms_of_one_word().get(known, known), int(away)


def _rarity(word: str) -> tuple[bool, int]:
    """How unlikely a word is meant of several as near: kitchens' words first, then those of more descriptions."""
    meant = synonyms_of_one_word().get(word, word)
    known = meant in load_lexicon().vocabulary or word in load_lexicon().vocabulary
    return not known, -len(load_index().rows_of(meant))


@cache
def _by_initial() -> Mapping[str, list[str]]:
    """Words that a typo may be meant for, by first letter: the lexicon's, those of several descriptions, synonyms."""
    index = load_index()
    common = {word for word in index.number if len(index.rows_of(word)) >= _FOODS_ENOUGH}
    by_initial: dict[str, list[str]] = {}
    for word in sorted(load_lexicon().vocabulary | common | synonyms_of_one_word().keys()):
        by_initial.setdefault(word[0], []).append(word)
    return MappingProxyType(by_initial)
