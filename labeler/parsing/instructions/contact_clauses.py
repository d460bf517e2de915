"""Relative clauses that end in their preposition: "the water the noodles cooked in", "the oil that it was fried in".

Such a clause tells which water is meant and names nothing that is acted on, so that its words are left out before the
verbs of the sentence are looked for.
"""

from __future__ import annotations

from collections.abc import Sequence

from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import WordForm, is_class, is_unchanging, verb_entries
from labeler.parsing.instructions.sentences import Token

__all__ = ["without_contact_clauses"]

_STRANDED, _RELATIVE, _MARKS = grammar("stranded"), grammar("tells which"), grammar("mark")
_JOINS, _PERSONS = grammar("conjunction"), grammar("persons")
_LONGEST = 4  # words of a subject: a choice, no source


def without_contact_clauses(tokens: Sequence[Token]) -> list[Token]:
    """The tokens of a sentence without the clauses that tell in or with what something was done."""
    found = list(tokens)
    at = len(found) - 1
    while at > 2:
        begins = _begins(found, at) if found[at].text in _STRANDED else None
        if begins is not None:
            del found[begins : at + 1]
            at = begins
        at -= 1
    return found


def _begins(tokens: Sequence[Token], at: int) -> int | None:
    """Where the clause begins that a preposition closes; None where a noun follows it, or no clause stands before."""
    behind = tokens[at + 1].text if at + 1 < len(tokens) else ""
    closes = not behind or behind in _MARKS or behind in _JOINS or is_class(behind, "preposition", "subordinator")
    if not closes:
        return None
    deed = at - 1
    if not _is_past(tokens[deed].text):  # "the water you cooked the noodles in"
        deed = _before_noun(tokens, deed)
        if deed < 2 or not _is_past(tokens[deed].text) or not _is_person(tokens[deed - 1].text):
            return None
    first = deed - 1
    while first > 0 and is_class(tokens[first].text, "aux", "adverb"):
        first -= 1
    if not _is_person(tokens[first].text):
        first = _before_noun(tokens, first) + 1
        if not is_class(tokens[first].text, "determiner"):
            return None
    if tokens[first - 1].text in _RELATIVE:
        first -= 1
    listed = tokens[first - 1].text in _JOINS | _MARKS  # "the cream and the salt are stirred in"
    return first if first > 1 and not listed and _is_named(tokens[:first]) else None


def _is_person(word: str) -> bool:
    return is_class(word, "pronoun") or word in _PERSONS


def _before_noun(tokens: Sequence[Token], at: int) -> int:
    """The place before a noun and its determiner that end at a place."""
    first = at
    while first > 0 and at - first < _LONGEST and _in_noun(tokens[first].text):
        first -= 1
    return first - 1 if first < at else at


def _is_past(word: str) -> bool:
    entries = verb_entries(word)
    return any(one.form is WordForm.ED or is_unchanging(one.base) for one in entries)


def _in_noun(word: str) -> bool:
    return word[:1].isalpha() and not is_class(word, "determiner", "preposition", "subordinator", "pronoun", "aux")


def _is_named(tokens: Sequence[Token]) -> bool:
    """Whether a thing with its article stands last: what the clause tells of."""
    last = [token.text for token in tokens[-_LONGEST:]]
    return _in_noun(last[-1]) and any(is_class(word, "determiner") for word in last[:-1])
