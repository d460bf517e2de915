"""The lexicon: what kitchen names mean, as data.

Each row of ``food_lexicon.csv`` is one meaning: a food of the table, the names that mean it, how sure that is, a note
where the cook should know something, and other foods that the same name might have meant. A name is looked up by the
set of its plain words, so that "granulated sugar" and "sugar, granulated" are one name; where two names have the same
words ("milk chocolate", "chocolate milk") the head tells them apart.
"""

from __future__ import annotations

from functools import cache, cached_property
from typing import TYPE_CHECKING, NamedTuple

from labeler.data_files import data_folder, data_rows
from labeler.foods.composition.extra_foods import read_extra_foods
from labeler.foods.matching.name_words import read_name
from labeler.foods.matching.search import load_index

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["Lexicon", "LexiconEntry", "bag", "keys_of", "load_lexicon", "read_lexicon"]

_EXTRA_SURE = 0.9
"""Their names are plain, their composition is less sure than a table food's."""

LEXICON_FILE = data_folder("labeler.foods") / "food_lexicon.csv"


class LexiconEntry(NamedTuple):
    """One meaning.

    Parameters
    ----------
    food : str
        Table id, five digits.
    names : tuple of str
        The names that mean it, as cooks write them; left empty by `load_lexicon`, which holds only their keys.
    confidence : float
        In [0, 1]; low where the food only stands in for one that the table lacks.
    note : str
        What the cook should know; empty where the meaning is plain.
    also : tuple of str
        Table ids of foods that the same names might have meant, likeliest first.
    """

    food: str
    names: tuple[str, ...]
    confidence: float
    note: str
    also: tuple[str, ...]


def bag(found: Iterable[str]) -> str:
    """The key of a set of plain words: each once, in order of the alphabet."""
    return " ".join(sorted(set(found)))


def keys_of(name: str) -> tuple[str, str]:
    """The two keys under which a name is kept: its bag of words, and its head.

    A name that begins with an equals sign means something only as it is written ("=peppers", not "pepper"); it has
    itself for a key, and no head.
    """
    if name.startswith("="):
        return name, ""
    read = read_name(name)
    return bag(read.words), read.head


def read_lexicon() -> tuple[LexiconEntry, ...]:
    """Every row of the lexicon file, in file order, then the foods that the table lacks by their own names.

    Raises KeyError or ValueError where a row is not whole.
    """
    more = (LexiconEntry(food.id, food.names, _EXTRA_SURE, "", ()) for food in read_extra_foods())
    return (*_read_file(), *more)


def _read_file() -> tuple[LexiconEntry, ...]:
    return tuple(
        LexiconEntry(
            food=row["food"],
            names=tuple(row["names"].split("|")),
            confidence=float(row["confidence"]),
            note=row["note"],
            also=tuple(row["also"].split()),
        )
        for row in data_rows(LEXICON_FILE)
    )


class Lexicon:
    """The lexicon by key, from the text that ``reference/build_index.py`` puts into the index file.

    Parameters
    ----------
    keys : str
        A line for each name: bag, head and number of the entry, tabs between; the first line for a key counts. Bags
        that begin with "=" are names as written, those that begin with "&" names that hold an "and".
    entries : str
        A line for each entry: food, confidence, note and other foods, tabs between.
    """

    def __init__(self, keys: str, entries: str) -> None:
        self._entries = entries.split("\n")
        # From the last line to the first, so that of several the first stays.
        rows = [line.rpartition("\t") for line in reversed(keys.split("\n"))]
        self._by_head = {key: number for key, _, number in rows}
        self._by_bag = {key.partition("\t")[0]: number for key, _, number in rows}

    def __len__(self) -> int:
        return len(self._entries)

    def find(self, words: Iterable[str], head: str) -> LexiconEntry | None:
        """The meaning of a set of plain words with this head, or None."""
        found = bag(words)
        at = self._by_bag.get(found)
        return None if at is None else self._entry(self._by_head.get(f"{found}\t{head}", at))

    def find_written(self, text: str) -> LexiconEntry | None:
        """The meaning of a name that means something only as it is written, or None."""
        at = self._by_bag.get("=" + text.strip().lower())
        return None if at is None else self._entry(at)

    def joins(self, words: Iterable[str]) -> bool:
        """Whether these words, with "and" between them, are one food ("half and half")."""
        return "&" + bag(words) in self._by_bag

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """Every plain word of the names."""
        return frozenset(word for found in self._by_bag if found[0] not in "=&" for word in found.split(" "))

    def _entry(self, number: str) -> LexiconEntry:
        food, confidence, note, also = self._entries[int(number)].split("\t")
        return LexiconEntry(food, (), float(confidence), note, tuple(also.split()))


@cache
def load_lexicon() -> Lexicon:
    """The bundled lexicon, opened once."""
    index = load_index()
    return Lexicon(index.lexicon_keys, index.lexicon_entries)
