"""The words of the method: which are verbs of which action, and what class the others are of.

Everything is data: ``actions.csv`` for verbs, ``verb_forms.csv`` for the forms that no rule makes, ``method_words.csv``
for the rest, ``method_marks.csv`` for phrases that change what an instruction does.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from enum import Enum
from functools import cache, lru_cache
from typing import NamedTuple

from rapidfuzz import fuzz, process

from labeler.data_files import data_rows
from labeler.parsing.instructions.actions import actions
from labeler.parsing.instructions.grammar import DATA, grammar
from labeler.text.deferred_pattern import DeferredPattern, phrase_pattern
from labeler.text.plurals import singular

__all__ = [
    "TYPO",
    "VerbEntry",
    "WordForm",
    "class_words",
    "classes_of",
    "is_class",
    "is_unchanging",
    "mark_patterns",
    "nearest_verb",
    "nearest_word",
    "verb_entries",
    "word_forms",
]

TYPO = 88.0  # likeness above which a word is taken for a typo of a verb [0–100]: a choice, no source


class WordForm(Enum):
    """A form of a verb."""

    BASE = "base"
    S = "-s"
    ING = "-ing"
    ED = "-ed"


class VerbEntry(NamedTuple):
    """A verb as it may begin at a word: the form of its first word, the words behind it, and its action."""

    base: str
    form: WordForm
    rest: tuple[str, ...]
    action: str


@cache
def class_words() -> dict[str, frozenset[str]]:
    """Words and phrases of each class, in the singular."""
    return {row["class"]: frozenset(row["words"].split("|")) for row in data_rows(DATA / "method_words.csv")}


@cache
def _classes() -> dict[str, frozenset[str]]:
    found: dict[str, set[str]] = {}
    for name, members in class_words().items():
        for member in members:
            found.setdefault(member, set()).add(name)
            last = singular(member.rsplit(" ", 1)[-1])
            found.setdefault(" ".join([*member.split(" ")[:-1], last]), set()).add(name)
    return {word: frozenset(names) for word, names in found.items()}


@lru_cache(maxsize=8192)
def classes_of(phrase: str) -> frozenset[str]:
    """Classes of a word or phrase, in any number."""
    known = _classes()
    if phrase in known:
        return known[phrase]
    head = phrase.rsplit(" ", 1)
    one = " ".join([*head[:-1], singular(head[-1])])
    return known.get(one, frozenset())


@lru_cache(maxsize=16384)
def is_class(phrase: str, *names: str) -> bool:
    """Whether a word is of one of some classes; a name that ends in "-" means every class that begins so."""
    own = classes_of(phrase)
    return any(name in own or (name.endswith("-") and any(one.startswith(name) for one in own)) for name in names)


@cache
def _irregular() -> dict[str, tuple[str, str]]:
    return {row["base"]: (row["past"], row["participle"]) for row in data_rows(DATA / "verb_forms.csv")}


def is_unchanging(base: str) -> bool:
    """Whether the participle of a verb is its base form: put, cut, set."""
    return _irregular().get(base, ("", ""))[1] == base


_DOUBLES = re.compile(r"[^aeiou][aeiou][bdgklmnprt]$")
_NO_DOUBLE = grammar("no double")


def word_forms(base: str) -> dict[str, WordForm]:
    """Every form of a verb of one word, by rule or from the list of those that no rule makes."""
    forms = {base: WordForm.BASE}
    if base.endswith(tuple(grammar("adds es"))):
        forms[f"{base}es"] = WordForm.S
    elif base.endswith("y") and base[-2:-1] not in "aeiou":
        forms[f"{base[:-1]}ies"] = WordForm.S
    else:
        forms[f"{base}s"] = WordForm.S
    stem = base
    short = len(re.findall(r"[aeiouy]+", base)) == 1 and _DOUBLES.search(base) and base not in _NO_DOUBLE
    if short:
        stem = base + base[-1]
    elif base.endswith("e") and not base.endswith(tuple(grammar("keeps e"))):
        stem = base[:-1]
    forms[f"{stem}ing"] = WordForm.ING
    if short:
        forms[f"{base}ing"] = WordForm.ING
    if base in _irregular():
        for one in _irregular()[base]:
            forms.setdefault(one, WordForm.ED)
    elif base.endswith("y") and base[-2:-1] not in "aeiou":
        forms[f"{base[:-1]}ied"] = WordForm.ED
    elif base.endswith("e"):
        forms[f"{base}d"] = WordForm.ED
    else:
        forms[f"{stem}ed"] = WordForm.ED
    return forms


@cache
def _entries() -> dict[str, tuple[VerbEntry, ...]]:
    found: dict[str, list[VerbEntry]] = {}
    for one in actions().values():
        for verb in one.verbs:
            first, *rest = verb.split(" ")
            for form, kind in word_forms(first).items():
                found.setdefault(form, []).append(VerbEntry(first, kind, tuple(rest), one.id))
    return {form: tuple(sorted(all_, key=lambda entry: -len(entry.rest))) for form, all_ in found.items()}


def verb_entries(word: str) -> tuple[VerbEntry, ...]:
    """The verbs that a word may begin, those of most words first; empty for a word that is none."""
    return _entries().get(word, ())


@lru_cache(maxsize=4096)
def nearest_verb(word: str) -> str:
    """The verb that a word is a typo of, as written; empty for none. Short words are too like each other to tell."""
    if len(word) < 5 or verb_entries(word) or classes_of(word):
        return ""
    return nearest_word(word, _entries())


def nearest_word(word: str, among: Iterable[str]) -> str:
    """The word of some that one is a typo of; empty for none."""
    near = [one for one in among if one[:1] == word[:1] and abs(len(one) - len(word)) <= 2]
    hit = process.extractOne(word, near, scorer=fuzz.ratio, score_cutoff=TYPO)
    return hit[0] if hit is not None else ""


@cache
def mark_patterns() -> tuple[tuple[str, DeferredPattern], ...]:
    """Marks with the pattern of their phrases."""
    return tuple(
        (row["mark"], phrase_pattern(row["phrases"].split("|"), wildcard=r"(?:[\w-]+ ){0,2}[\w-]+"))
        for row in data_rows(DATA / "method_marks.csv")
    )
