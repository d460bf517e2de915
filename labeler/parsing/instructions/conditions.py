"""What a condition bears on: the whole deed, one of the things that it names, an aside, or what comes after."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.parsing.instructions.clauses import Clause
from labeler.parsing.instructions.evidence import mood_of_condition
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.mentions import mentions_of
from labeler.parsing.instructions.model import Extent, Instruction, Mention, Mood, Role
from labeler.parsing.instructions.sentences import Token

__all__ = ["bears_on_what_follows", "under_condition"]

_MARK, _JOINS = grammar("mark"), grammar("joins deed")
_AMOUNTS_MORE = grammar("how much more")


def bears_on_what_follows(tokens: Sequence[Token], clause: Clause) -> bool:
    """Whether a condition opens: "if it is thick, add water", and not "skim if you like and simmer 20 minutes"."""
    return all(tokens[at].text in _JOINS for at in range(_opening(tokens, clause), clause.start))


def under_condition(
    made: Instruction, condition: str, text: str, tokens: Sequence[Token], clause: Clause, market: str
) -> Instruction:
    """An instruction with the condition behind it, which bears on the words that it stands beside.

    "Add the juice, and more water if it is too thick": the water alone; "4 hours, or overnight if you can wait",
    "(75 °C if you have a probe)": nothing but that; "skim if it foams": the deed.
    """
    mood = mood_of_condition(condition)
    first = _opening(tokens, clause)
    beside = range(first, clause.start)
    ahead = tokens[first - 1].text if first else ""
    several = sum(one.role is Role.OBJECT for one in made.mentions) > 1
    if mood is Mood.MAY and not beside and ahead == "(" and several:
        return (
            made  # "add the broth, pepper, salt (if desired)": the last alone is offered, and what is offered goes in
        )
    if bears_on_what_follows(tokens, clause) or tokens[first].start <= made.span.start:
        return _last_is_wanted(made, mood)
    if ahead in ("or", "(") or all(_no_thing(tokens[at].text) for at in beside):
        return made
    named = [one.name for one in mentions_of(text, tokens, [(first, clause.start)], Role.OBJECT, market=market)]
    others = _without_last(made.mentions, named)
    if any(one.role is Role.OBJECT for one in others):
        return replace(made, mentions=made.mentions if mood is Mood.MAY else others)
    return _last_is_wanted(made, mood)


def _opening(tokens: Sequence[Token], clause: Clause) -> int:
    """Where the words begin that a condition stands beside: behind the last mark, or behind "or"."""
    at = clause.start
    while at > 0 and tokens[at - 1].text not in _MARK and tokens[at - 1].text != "or":
        at -= 1
    return at


def _no_thing(word: str) -> bool:
    return word in _AMOUNTS_MORE or not word.isalpha() or word.endswith("ly") or is_class(word, "adverb")


def _last_is_wanted(made: Instruction, mood: Mood) -> Instruction:
    """Where the last of several things is some of what may be wanted, it alone is under the condition."""
    known = [one for one in made.mentions[:-1] if _is_known(one)]
    if mood is Mood.IF and known and made.mentions[-1].quantity.extent is Extent.SOME:
        return replace(made, mentions=made.mentions[:-1])
    return replace(made, mood=mood)


def _without_last(mentions: Sequence[Mention], names: Sequence[str]) -> tuple[Mention, ...]:
    """The mentions without the last of each name."""
    rest = list(mentions)
    for name in names:
        at = next((at for at in range(len(rest) - 1, -1, -1) if rest[at].name == name), None)
        if at is not None:
            del rest[at]
    return tuple(rest)


def _is_known(one: Mention) -> bool:
    return one.role is Role.OBJECT and one.quantity.extent is not Extent.SOME
