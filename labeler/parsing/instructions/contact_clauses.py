"""Relative clauses that only tell which thing is meant: "the water the noodles cooked in", "the brine that has formed".

Such a clause names nothing that is acted on, so that its words are left out before the verbs of the sentence are looked
for. One that is set off by a comma ("the rice, which was boiled") tells what was done, and stays.
"""

from __future__ import annotations

from collections.abc import Sequence

from labeler.parsing.instructions.actions import Handler, Heat, action
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import WordForm, is_class, is_unchanging, verb_entries
from labeler.parsing.instructions.sentences import Token

__all__ = ["without_contact_clauses"]

_STRANDED, _RELATIVE, _MARKS = grammar("stranded"), grammar("tells which"), grammar("mark")
_JOINS, _PERSONS = grammar("conjunction"), grammar("persons")
_LEFT, _FITS, _PARTICLES = grammar("stays over"), grammar("fits"), grammar("particle")
_LONGEST = 4  # words of a subject: a choice, no source


def without_contact_clauses(tokens: Sequence[Token]) -> list[Token]:
    """The tokens of a sentence without the clauses that tell in or with what something was done."""
    found = _without_and_all(_without_who_kept_it(tokens))
    at = len(found) - 1
    while at > 2:
        begins = _begins(found, at) if found[at].text in _STRANDED else None
        if begins is not None:
            del found[begins : at + 1]
            at = begins
        at -= 1
    at = 1
    while at < len(found):
        end = _restricts(found, at) if found[at].text == "that" else None
        if end is not None:
            del found[at:end]
        at += 1
    return found


def _restricts(tokens: Sequence[Token], at: int) -> int | None:
    """The place behind a clause that begins with "that": "that has formed", "that just holds it"; None for another."""
    if not _is_named(tokens[:at]):
        return None
    deed = at + 1
    while deed < len(tokens) and is_class(tokens[deed].text, "aux", "adverb"):
        deed += 1
    if deed >= len(tokens) or tokens[deed].text in _LEFT:
        return None
    told = deed > at + 1 and _only_tells(tokens[deed].text)
    holds = any(one.form is WordForm.S for one in verb_entries(tokens[deed].text)) or tokens[deed].text in _FITS
    if not told and not holds:
        return None
    end = deed + 1
    end += end < len(tokens) and tokens[end].text in _PARTICLES  # "that has run out"
    while end < len(tokens) and is_class(tokens[end].text, "pronoun", "adverb"):
        end += 1
    behind = tokens[end].text if end < len(tokens) else ""
    closes = not behind or behind in _MARKS or behind in _JOINS or is_class(behind, "aux", "subordinator")
    return end if closes else None


def _only_tells(word: str) -> bool:
    """Whether a participle says how a thing came about, and not that it was cooked or lay in something."""
    entries = verb_entries(word)
    if not entries:
        return word.endswith("ed")
    rows = [action(one.action) for one in entries]
    return _is_past(word) and all(row.heat is Heat.NONE and row.handler is not Handler.LIE for row in rows)


def _without_and_all(tokens: Sequence[Token]) -> list[Token]:
    """ "Juices and all" is the juices too, and not everything."""
    words = [token.text for token in tokens]
    ends = [at for at in range(1, len(words) - 1) if words[at : at + 2] == ["and", "all"]]
    idle = {at for at in ends if at + 2 == len(words) or words[at + 2] in _MARKS}
    return [token for at, token in enumerate(tokens) if at not in idle and at - 1 not in idle]


def _without_who_kept_it(tokens: Sequence[Token]) -> list[Token]:
    """ "The sauce you saved" without its last two words."""
    found = list(tokens)
    for at in range(len(found) - 2, 1, -1):
        person = found[at].text in _PERSONS and found[at + 1].text in grammar("tells what was kept")
        if person and _is_named(found[:at]):
            del found[at : at + 2]
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
    if tokens[deed].text in _LEFT:
        return None  # "the jam left over" is a rest
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
