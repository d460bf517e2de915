"""Sentences without a verb: a figure, seasoning, a time, or nothing that is understood."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.parsing.instructions.actions import Handler, action
from labeler.parsing.instructions.clauses import Clause
from labeler.parsing.instructions.evidence import marks_in, words_of
from labeler.parsing.instructions.figures import find_quantities
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import classes_of, is_class, verb_entries
from labeler.parsing.instructions.mentions import head_of, mentions_of
from labeler.parsing.instructions.model import Instruction, Mark, Mention, Mood, Role, Span, Unread
from labeler.parsing.instructions.sentences import Token
from labeler.text.plurals import singular

__all__ = ["A_VERB_FIRST", "JOINS", "KEEPS_OUT", "fragment", "is_unknown_deed"]


def fragment(
    text: str,
    tokens: Sequence[Token],
    clause: Clause,
    market: str,
    instructions: list[Instruction],
    unread: list[Unread],
) -> None:
    """A sentence without a verb: a figure ("120 g of oil left"), seasoning ("salt and pepper to taste"), a time."""
    words = words_of(text, tokens, clause).strip(" ,.;:()")
    if not words:
        return
    found = find_quantities(words, market=market)
    marks = marks_in(words)
    span = Span(0, tokens[clause.start].start, tokens[clause.end - 1].end)
    mentions = tuple(mentions_of(text, tokens, clause.body, Role.OBJECT, market=market))
    name = ""
    lowered = words.lower()
    if found.grams is not None and ("weigh" in lowered or "weight" in lowered):
        name = "weigh"
    elif (found.grams or found.millilitres or found.share) and _IS_LEFT & set(lowered.split()):
        name = "left"
    elif Mark.THROWN_AWAY in marks and mentions:
        name = "discard"
    elif Mark.TO_TASTE in marks and mentions:
        name = "season"
    elif found.minutes is not None and not mentions:
        name = "stand"
    elif found.minutes is not None and Mark.FLAME in marks and all(_is_heat(one) for one in mentions):
        name = "cook"  # "the hour on the lowest flame does the rest"
    if not name:
        if instructions and found.minutes is not None and instructions[-1].minutes is None:
            instructions[-1] = replace(
                instructions[-1],
                minutes=found.minutes,
                marks=instructions[-1].marks | marks,
                water=instructions[-1].water or found.water,
            )
            if Mark.FLAME in instructions[-1].marks and action(instructions[-1].action).handler is Handler.NONE:
                instructions[-1] = replace(instructions[-1], action="cook")  # "set it on the flame. An hour."
        elif (mentions and (found.grams or found.millilitres) is not None) or len(words.split()) > 2:
            unread.append(Unread(words, span, A_VERB_FIRST))
        return
    instructions.append(
        Instruction(
            name, words, span, Mood.DO, mentions, found.minutes, None, found.celsius, found.core, found.grams,
            found.millilitres, found.share, found.pieces, found.piece, found.water, found.salt, marks,
        )
    )  # fmt: skip


def _is_heat(one: Mention) -> bool:
    return is_class(head_of(one.name), "heat-source", "tool", "rest")


_IS_LEFT = grammar("is left")
KEEPS_OUT = grammar("keeps out")
"""Verbs that say, denied or by themselves, that a food does not go in."""
A_VERB_FIRST = "a verb first, such as “simmer 20 minutes”, “drain” or “weighs 1.4 kg”"
"""The nearest form to words that no verb opens."""
JOINS = grammar("joins deed")
"""What stands before a deed."""


def is_unknown_deed(tokens: Sequence[Token], run: tuple[int, int], foods: frozenset[str]) -> bool:
    """Whether a run opens with a word that nothing knows where a verb would stand: ", then zorch the lot"."""
    start, end = run
    while start < end and tokens[start].text in JOINS:
        start += 1  # "then zorch the lot"
    if end - start < 2 or not tokens[start].is_word:
        return False
    word, following = tokens[start].text, tokens[start + 1].text
    opens = start == 0 or tokens[start - 1].text in JOINS
    unknown = (
        not verb_entries(word) and not classes_of(word) and singular(word) not in foods and not word.endswith("ly")
    )
    return opens and unknown and is_class(following, "determiner", "pronoun") and len(word) > 3
