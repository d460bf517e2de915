"""The words of a food name: one normal form for what cooks write and what the table writes.

Case, accents, plurals, apostrophes and hyphens are levelled; words with one meaning are brought to one word
("aubergine" and "eggplant", "non-fat" and "skim") by the synonyms table; small words are dropped. What is left is
a list of plain words in the order of the name, and which of them is the head: the thing itself, to which the
other words only add ("kosher *salt*", "*cheese*, cottage", "*tuna* in oil").
"""

from __future__ import annotations

import re
import unicodedata
from functools import cache, lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple

from labeler.data_files import data_folder, data_rows
from labeler.text.plurals import singular

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

__all__ = ["Name", "read_name", "synonyms_of_one_word", "word_kinds", "word_relations", "words"]

SYNONYMS_FILE = data_folder("labeler.foods") / "food_synonyms.csv"
WORD_RELATIONS_FILE = data_folder("labeler.foods") / "food_word_relations.csv"
WORD_KINDS_FILE = data_folder("labeler.foods") / "food_word_kinds.csv"

_WORD = re.compile(r"\d+(?:[.,/]\d+)*%?|[a-z]+|[,;()]")
_INITIALS = re.compile(r"\b([a-z])\.([a-z])\.")
_POSSESSIVE = re.compile(r"['’‘`´]s?\b|['’‘`´]")
_PERCENT = re.compile(r"(\d)\s*(?:%|per\s?cent|percent)")
_LETTERS = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ß": "ss", "æ": "ae", "œ": "oe", "ı": "i", "&": " and "})

_SMALL = frozenset(
    "a an and any at by for from in into is it its nfs ns of on or other per plus such that the to type used with w"
    " style".split()
)
# What follows one of these only tells how the thing before it is put up: "tuna in water", "yogurt with fruit".
_AFTER_HEAD = frozenset("with in without from for packed made plus".split())
_BREAKS = frozenset(",;()")


class Name(NamedTuple):
    """A food name in normal form.

    Parameters
    ----------
    words : tuple of str
        In the order of the name, small words left out.
    head : str
        The word that says what the thing is; empty where the name has no words.
    first : int
        How many of `words` stand before the first comma or bracket; all of them where there is none.
    """

    words: tuple[str, ...]
    head: str
    first: int


@cache
def _synonyms() -> tuple[
    Mapping[str, tuple[str, ...]], Mapping[str, tuple[tuple[tuple[str, ...], tuple[str, ...]], ...]]
]:
    """Synonyms of one word, and those of several by their first word, the longest first; all in the singular."""
    single: dict[str, tuple[str, ...]] = {}
    several: list[tuple[list[str], tuple[str, ...]]] = []
    for row in data_rows(SYNONYMS_FILE):
        means = tuple(singular(word) for word in row["means"].split())
        for phrase in row["words"].split("|"):
            stated = [singular(word) for word in phrase.split()]
            if len(stated) == 1:
                single.setdefault(stated[0], means)
            else:
                several.append((stated, means))
    by_first: dict[str, dict[tuple[str, ...], tuple[str, ...]]] = {}
    for stated, means in several:
        plain = tuple(_each(stated, single))
        by_first.setdefault(plain[0], {}).setdefault(plain, means)
    return single, {
        first: tuple(sorted(found.items(), key=lambda pair: -len(pair[0]))) for first, found in by_first.items()
    }


@cache
def synonyms_of_one_word() -> Mapping[str, str]:
    """Words that mean one other word ("prawn", "shrimp"), in the singular."""
    return {stated: means[0] for stated, means in _synonyms()[0].items() if len(means) == 1}


def _each(plain: Iterable[str], single: Mapping[str, tuple[str, ...]]) -> Iterable[str]:
    for word in plain:
        yield from single.get(word, (word,))


@cache
def word_kinds() -> Mapping[str, str]:
    """What a word can do beside naming a food: ``plain``, ``part``, ``state`` (see the data file's head)."""
    kinds: dict[str, str] = {}
    for row in data_rows(WORD_KINDS_FILE):
        for word in row["words"].split("|"):
            kinds[singular(word)] = row["kind"]
    return MappingProxyType(kinds)


@cache
def word_relations() -> Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]]:
    """What a word implies, and which words it speaks against (see the data file's head)."""
    implied: dict[str, list[str]] = {}
    against: dict[str, list[str]] = {}
    for row in data_rows(WORD_RELATIONS_FILE):
        kept = implied if row["relation"] == "implies" else against
        for word in row["words"].split("|"):
            kept.setdefault(singular(word), []).extend(map(singular, row["others"].split("|")))
    return MappingProxyType(
        {word: (tuple(implied.get(word, ())), tuple(against.get(word, ()))) for word in {*implied, *against}}
    )


def _fold(text: str) -> str:
    """Lower case without accents, possessives and initials; per cent as one sign."""
    text = text.lower()
    if not text.isascii():
        text = unicodedata.normalize("NFKD", text.translate(_LETTERS))
        text = "".join(letter for letter in text if not unicodedata.combining(letter)).replace("⁄", "/")
    elif "&" in text:
        text = text.replace("&", " and ")
    if "." in text:
        text = _INITIALS.sub(r"\1\2 ", text)
    if "'" in text or not text.isascii():
        text = _POSSESSIVE.sub("", text)
    if "%" in text or "cent" in text:
        text = _PERCENT.sub(r"\1%", text)
    return text


def _merge(plain: list[str]) -> list[str]:
    """The list with every synonym phrase replaced by what it means, left to right, the longest first.

    "Without" and the word after it become one word of their own, so that no one takes it for the word alone.
    """
    single, phrases = _synonyms()
    merged: list[str] = []
    plain = [*_each(plain, single), ","]
    at = 0
    while at < len(plain):
        word = plain[at]
        for stated, means in phrases.get(word, ()):
            if tuple(plain[at : at + len(stated)]) == stated:
                merged.extend(means)
                at += len(stated)
                break
        else:
            if word == "without" and plain[at + 1] not in _BREAKS:
                merged.append(f"no{plain[at + 1]}")
                at += 2
            else:
                merged.append(word)
                at += 1
    return merged


def words(text: str) -> tuple[str, ...]:
    """The plain words of any text, in order, commas and small words left out."""
    return read_name(text).words


@lru_cache(maxsize=16_384)
def read_name(text: str) -> Name:
    """A food name in normal form.

    The head is the last word before the first comma or bracket, or before "with", "in" and the like, that is not
    itself a word of form or state ("garlic cloves, chopped" is garlic); where there is none, that of the next part;
    in "cream of tartar" and "juice of a lemon" it is the word before "of".
    """
    merged = _merge([singular(word) for word in _WORD.findall(_fold(text))])
    kept: list[str] = []
    segments: list[list[str]] = [[]]  # of each part the words that may be its head
    first, headless, before_of = -1, False, ""
    for word in merged:
        if word in _BREAKS:
            if kept and first < 0:
                first = len(kept)
            segments.append([])
            headless = False
        elif word in _AFTER_HEAD:
            headless = headless or bool(segments[-1])
        elif word in _SMALL:
            if word == "of" and kept and first < 0 and not headless and not before_of:
                before_of = kept[-1]
        else:
            kept.append(word)
            if not headless:
                segments[-1].append(word)
    return Name(tuple(kept), _head(segments, before_of), len(kept) if first < 0 else first)


def _head(segments: Iterable[list[str]], before_of: str) -> str:
    """The last word for a food in the first part that has one; else the last word there is."""
    kinds = word_kinds()
    if before_of and before_of not in kinds:
        return before_of
    last = ""
    for segment in segments:
        for word in reversed(segment):
            if word not in kinds and not word[0].isdigit():
                return word
        last = last or "".join(segment[-1:])
    return last
