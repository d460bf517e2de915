"""The method of a part, read once: sentences into typed instructions, and what could not be read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from labeler.parsing.instructions.clause_instruction import Sentence
from labeler.parsing.instructions.clauses import clauses_of
from labeler.parsing.instructions.contact_clauses import without_contact_clauses
from labeler.parsing.instructions.food_words import food_words
from labeler.parsing.instructions.fragments import A_VERB_FIRST
from labeler.parsing.instructions.goes_on import with_heat_in_force
from labeler.parsing.instructions.model import Instruction, Span, Unread
from labeler.parsing.instructions.opening_times import with_opening_time_apart
from labeler.parsing.instructions.sentence_reader import SentenceReader
from labeler.parsing.instructions.sentences import Token, sentences, tokens_of
from labeler.parsing.instructions.silent_verbs import with_silent_verbs
from labeler.parsing.instructions.tokens import find_verbs
from labeler.parsing.instructions.wrapped_rows import joined_rows
from labeler.parsing.model import Handling, Part
from labeler.parsing.numbers import tidy

__all__ = ["Method", "read_method", "read_sentences"]


class Method(NamedTuple):
    """What the method of a part says: instructions in the order of the words, and what could not be read.

    `evidence` is where those words stand that are no act and tell of one: ends, times, conditions, purposes, asides.
    Every word of the method stands in the span of an instruction, in evidence or in what is unread.
    """

    instructions: tuple[Instruction, ...]
    unread: tuple[Unread, ...] = ()
    evidence: tuple[Span, ...] = ()


def read_method(part: Part, *, market: str) -> Method:
    """The instructions of a part.

    Parameters
    ----------
    part : Part
        Its ingredient names tell foods from verbs ("brown sugar").
    market : str
        Whose cups, pints and spoons.
    """
    foods, pairs = food_words(part.lines)
    return _read(part.handling, foods=foods, pairs=pairs, market=market)


@lru_cache(maxsize=128)
def _read(
    handling: tuple[Handling, ...], *, foods: frozenset[str], pairs: frozenset[tuple[str, str]], market: str
) -> Method:
    """The instructions of some rows; each room that asks for the method of a part gets the one that was read."""
    instructions: list[Instruction] = []
    unread: list[Unread] = []
    evidence: list[Span] = []
    count = 0
    for row in joined_rows(handling):
        found = read_sentences(row.text, foods=foods, pairs=pairs, market=market)
        instructions += [
            replace(
                one,
                span=replace(one.span, line=row.number),
                sentence=one.sentence + count,
                after=row.after,
                group=one.group or row.group,
            )
            for one in found.instructions
        ]
        count += max((one.sentence for one in found.instructions), default=0) + 1
        unread += [replace(one, span=replace(one.span, line=row.number)) for one in found.unread]
        evidence += [replace(one, line=row.number) for one in found.evidence]
    return Method(with_heat_in_force(instructions), tuple(unread), tuple(evidence))


# Characters of a paragraph beyond which nothing is read, and that is told: a choice, no source.
_LONGEST = 6000
_SHORTER = "the same in several paragraphs"
_SIGNS = str.maketrans({"º": "°", "˚": "°", "+": "&"})


@lru_cache(maxsize=2048)
def read_sentences(text: str, *, foods: frozenset[str], pairs: frozenset[tuple[str, str]], market: str) -> Method:
    """The instructions of one paragraph; any text is allowed, and none raises."""
    whole = tidy(text).translate(_SIGNS)
    text, more = whole[:_LONGEST], whole[_LONGEST:].strip()
    instructions: list[Instruction] = []
    unread: list[Unread] = [Unread(more, Span(0, _LONGEST, len(whole)), _SHORTER)] if more else []
    evidence: list[Span] = []
    number, goes_on = -1, False
    for offset, sentence in sentences(text):
        number, goes_on = number + (not goes_on), sentence.rstrip().endswith(";")  # "boil the rice; throw in the peas"
        before = len(instructions)
        words = tokens_of(sentence, offset)
        tokens = without_contact_clauses(with_opening_time_apart(words))
        evidence += _apart(words, tokens)
        if any(token.is_word for token in tokens):
            clauses = clauses_of(tokens, with_silent_verbs(tokens, find_verbs(tokens, foods, pairs), foods))
            read = Sentence(text, tokens, market, foods)
            SentenceReader(read, instructions, unread, evidence).read(clauses)
        instructions[before:] = [replace(one, sentence=number) for one in instructions[before:]]
    if not instructions and not unread and text.strip():
        unread.append(Unread(text, Span(0, 0, len(text)), A_VERB_FIRST))
    return Method(tuple(instructions), tuple(unread), tuple(evidence))


def _apart(words: Sequence[Token], tokens: Sequence[Token]) -> list[Span]:
    """Where the words stand that were taken out of a sentence before its verbs were looked for."""
    kept = {token.start for token in tokens}
    return [Span(0, word.start, word.end) for word in words if word.start not in kept]
