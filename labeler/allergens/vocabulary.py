"""The vocabulary: phrases that reveal an allergen, phrases that only look as if they did, and what bends them.

Every row of ``data/vocabulary/*.csv`` gives phrases that share one meaning, what a food of that name contains,
what the pack may add, the kind of evidence and its source. The longest phrase wins: "coconut milk" is a phrase,
so the "milk" in it says nothing. ``swaps.csv`` lists the words that replace what a base is made of when they stand
before it ("rice" before "noodles", "oat" before "milk"); ``denials.csv`` the words that "free", "without" and
"no" take away.
"""

from __future__ import annotations

import csv
import hashlib
import json
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, cached_property
from typing import Any

from labeler.data_files import data_folder, data_rows
from labeler.text.tokens import key

__all__ = ["Vocabulary", "VocabularyEntry", "load_vocabulary", "rows"]

DATA = data_folder("labeler.allergens")
COMPILED = DATA / "vocabulary.json"
"""The phrases folded once and for all, made by ``reference/build_allergen_vocabulary.py``."""


@dataclass(frozen=True, slots=True)
class VocabularyEntry:
    """What a phrase means.

    Parameters
    ----------
    contains, possible : tuple of (allergen id, name)
        The name is what to call it, or the id's own name.
    kind : str
        ``"source"`` (the name of the allergenic food itself), ``"derivative"`` (a part of it: casein, semolina),
        ``"standard"`` (a standard of identity or legal definition), ``"common"`` (common composition),
        ``"misleads"`` (looks like an allergen and is none), ``"plant"`` or ``"plain"`` (other foods),
        ``"generic"`` (counts only where the name says nothing else: "sauce"), or ``"modifier"`` (a word that
        leaves the food as it is).
    base : str
        Row group of ``swaps.csv`` that may replace what this food is made of; empty for none.
    exemption : str
        See `labeler.allergens.model.Finding`.
    source, note : str
        Key in ``sources.csv``; what a reader should know.
    """

    phrase: str
    contains: tuple[tuple[str, str], ...]
    possible: tuple[tuple[str, str], ...]
    kind: str
    base: str
    exemption: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class Swap:
    """What the words before a base do to some of its allergens: ``"drops"`` or ``"doubts"``, and what they may add."""

    swapped: frozenset[str]
    effect: str
    possible: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Vocabulary:
    """All phrases, by their tokens joined with blanks.

    `longest` is the most tokens of a phrase by its first; `written` gives a phrase as the file spells it where the
    fold of its tokens is no longer a word; `swaps` goes by base and words, `denials` by words.
    """

    entries: dict[str, VocabularyEntry]
    longest: dict[str, int]
    written: dict[str, str]
    swaps: dict[str, dict[str, Swap]]
    denials: dict[str, frozenset[str]]
    names: dict[str, str]
    sources: dict[str, str]

    def only_describes(self, word: str) -> bool:
        """True for a token that leaves a food as it is: "fresh", "small"."""
        entry = self.entries.get(word)
        return entry is not None and entry.kind == "modifier"

    @cached_property
    def known_words(self) -> frozenset[str]:
        """The tokens of all phrases."""
        return frozenset(" ".join(self.entries).split(" "))

    @cached_property
    def phrases_with(self) -> Counter[str]:
        """How many phrases hold each token."""
        return Counter(" ".join(self.entries).split(" "))

    @cached_property
    def words_by_length(self) -> dict[int, tuple[str, ...]]:
        """The tokens of all phrases that are words, by their letters, for finding typos."""
        found: dict[int, list[str]] = {}
        for word in sorted(self.known_words):
            if len(word) > 2 and word.isalpha():
                found.setdefault(len(word), []).append(word)
        return {length: tuple(several) for length, several in found.items()}

    @cached_property
    def allergen_words(self) -> tuple[str, ...]:
        """The phrases of one word that name an allergen, however short."""
        return tuple(
            phrase
            for phrase, entry in self.entries.items()
            if " " not in phrase and phrase.isalpha() and len(phrase) > 2 and entry.contains
        )

    @cached_property
    def single_words(self) -> tuple[str, ...]:
        """The phrases of one word, for finding typos."""
        return tuple(phrase for phrase in self.entries if " " not in phrase and phrase.isalpha() and len(phrase) > 4)


def rows(name: str) -> list[dict[str, str]]:
    """The rows of one data file of the room."""
    return data_rows(DATA / name)


@cache
def allergen_names() -> dict[str, str]:
    """English name of each allergen id, in the order of declaration."""
    return {row["allergen"]: row["en"] for row in rows("allergens.csv")}


@cache
def _pairs(cell: str) -> tuple[tuple[str, str], ...]:
    if not cell:
        return ()
    names = allergen_names()
    pairs = []
    for item in cell.split(";"):
        allergen, _, name = item.partition("=")
        pairs.append((allergen, name or names[allergen]))
    return tuple(pairs)


def compiled(files: Iterable[bytes]) -> dict[str, Any]:
    """The phrases of the vocabulary's files, folded: what ``vocabulary.json`` holds.

    Parameters
    ----------
    files : iterable of bytes
        The CSV files in the order of their names; in a phrase that stands twice the first one counts.
    """
    table: list[list[str]] = []
    found_in: dict[str, int] = {}
    written: dict[str, str] = {}
    longest: dict[str, int] = {}
    for file in files:
        lines = (line for line in file.decode("utf-8").splitlines() if not line.startswith("#"))
        for phrases, *cells in csv.reader(lines):
            if phrases == "phrases":
                continue
            for phrase in phrases.split("|"):
                found = key(phrase)
                found_in.setdefault(found, len(table))
                if found != phrase:
                    written.setdefault(found, phrase)
                head, _, rest = found.partition(" ")
                longest[head] = max(longest.get(head, 0), 1 + bool(rest) + rest.count(" "))
            table.append([phrases.split("|", 1)[0], *cells])
    _spell_out(table, found_in)
    return {"rows": table, "phrases": found_in, "written": written, "longest": longest}


CONTAINS, KIND, SOURCE = 1, 3, 6
"""Columns of a row that `_spell_out` reads."""
NOT_OF_IT = frozenset({"vegan", "vegetarian", "veggy", "plant", "mock", "seasoning", "rub", "sauce", "alcoholic"})
"""Words by which a compound is not made of the meat or the fruit that it names."""


def _spell_out(table: list[list[str]], found_in: dict[str, int]) -> None:
    """Let a compound hold the meat and the fruit of its own words ("chicken stock"), which only Japan lists."""
    spelt = {phrase: table[row][CONTAINS] for phrase, row in found_in.items()
             if table[row][KIND] == "source" and table[row][SOURCE] == "jp_table14"}  # fmt: skip
    made: dict[tuple[int, str], int] = {}
    for phrase, row in found_in.items():
        words = phrase.split(" ")
        if len(words) == 1 or table[row][KIND] not in ("common", "standard") or not NOT_OF_IT.isdisjoint(words):
            continue
        held = table[row][CONTAINS]
        named = ";".join(dict.fromkeys(spelt[word] for word in words if word in spelt and spelt[word] not in held))
        if named:
            if (row, named) not in made:
                made[row, named] = len(table)
                table.append([phrase, ";".join(filter(None, (held, named))), *table[row][CONTAINS + 1 :]])
            found_in[phrase] = made[row, named]


def vocabulary_files() -> list[bytes]:
    """The vocabulary's files, in the order of their names."""
    found = sorted((DATA / "vocabulary").iterdir(), key=lambda file: file.name)
    return [file.read_bytes() for file in found if file.name.endswith(".csv")]


def digest_of(files: Iterable[bytes]) -> str:
    """SHA-256 of the files one after the other, hexadecimal."""
    digest = hashlib.sha256()
    for file in files:
        digest.update(file)
    return digest.hexdigest()


def _phrases() -> dict[str, Any]:
    """The compiled phrases: from ``vocabulary.json``, or anew where the files are no longer those it was made of."""
    files = vocabulary_files()
    if COMPILED.is_file():
        ready: dict[str, Any] = json.loads(COMPILED.read_bytes())
        if ready["digest"] == digest_of(files):
            return ready
    return compiled(files)


@cache
def load_vocabulary() -> Vocabulary:
    """The vocabulary, read once."""
    phrases = _phrases()
    entries = [
        VocabularyEntry(first, _pairs(contains), _pairs(possible), kind, base, exemption, source, note)
        for first, contains, possible, kind, base, exemption, source, note in phrases["rows"]
    ]
    swaps: dict[str, dict[str, Swap]] = {}
    for cells in rows("swaps.csv"):
        swap = Swap(frozenset(cells["swapped"].split(";")), cells["effect"], _pairs(cells["possible"]))
        for base in cells["bases"].split("|"):
            swaps.setdefault(base, {}).update((key(word), swap) for word in cells["words"].split("|"))
    denials = {
        key(word): frozenset(cells["allergens"].split(";"))
        for cells in rows("denials.csv")
        for word in cells["words"].split("|")
    }
    return Vocabulary(
        {phrase: entries[row] for phrase, row in phrases["phrases"].items()},
        phrases["longest"],
        phrases["written"],
        swaps,
        denials,
        allergen_names(),
        {row["key"]: row["title"] for row in rows("sources.csv")},
    )
