"""How a word stands in its sentence: what it may be a verb by."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import VerbEntry, is_class
from labeler.parsing.instructions.sentences import Token
from labeler.text.plurals import singular

__all__ = ["Standing", "Verb", "after_let", "is_adverb", "noun_follows", "standing"]


@dataclass(frozen=True, slots=True)
class Verb:
    """A token that is a verb: its place, the place behind its last word, the entry, and how it stands."""

    at: int
    end: int
    entry: VerbEntry
    passive: bool = False
    after_let: bool = False
    infinitive: bool = False
    negated: bool = False
    opens: bool = True  # begins its clause, and has no subject before it
    mended: bool = False  # written otherwise: a typo of it
    silent: bool = False  # not written: "peas in"


_OPENERS, _NEGATES = grammar("opens"), grammar("negates")


class Standing(NamedTuple):
    """A word that may be a verb, and what stands round it.

    Parameters
    ----------
    tokens : sequence of Token
        The sentence.
    at, end : int
        Places of the word and behind the last word of the verb that it may be.
    place : int
        Place of the token before it that is no adverb; -1 at the start of the sentence.
    before, behind : str
        The tokens before and behind that are no adverbs; empty for none.
    foods : frozenset of str
        Words of the recipe's ingredient names.
    found : sequence of Verb
        The verbs before it.
    """

    tokens: Sequence[Token]
    at: int
    end: int
    place: int
    before: str
    behind: str
    foods: frozenset[str]
    found: Sequence[Verb]

    @property
    def word(self) -> str:
        """The word itself."""
        return self.tokens[self.at].text

    @property
    def following(self) -> str:
        """The token behind the verb, adverb or not; empty for none."""
        return self.tokens[self.end].text if self.end < len(self.tokens) else ""

    @property
    def first(self) -> bool:
        """Whether nothing but adverbs stands before it."""
        return self.place < 0

    @property
    def opens(self) -> bool:
        """Whether it begins its clause."""
        return self.first or self.before in _OPENERS

    @property
    def food(self) -> bool:
        """Whether the recipe has a food of this name."""
        return singular(self.word) in self.foods

    @property
    def doubtful(self) -> bool:
        """Whether the word is a noun as well."""
        return is_class(self.word, "noun-too") or self.food

    @property
    def earlier(self) -> str:
        """The token before `before`; empty for none."""
        return self.tokens[self.place - 1].text if self.place > 0 else ""

    @property
    def negated(self) -> bool:
        """Whether it is denied."""
        return self.before in _NEGATES or (
            self.before in grammar("negated through") and self.earlier in _NEGATES and self.place > 0
        )

    @property
    def told(self) -> str:
        """The word before it, or before the denial of a passive: "the oil is not used"."""
        denied = self.place > 0 and self.before == "not" and is_class(self.earlier, "aux")
        return self.earlier if denied else self.before


def standing(tokens: Sequence[Token], at: int, end: int, foods: frozenset[str], found: Sequence[Verb]) -> Standing:
    """How the word at a place stands."""
    place = at - 1
    while place >= 0 and is_adverb(tokens[place].text) and (tokens[place].text != "then" or _in_passive(tokens, place)):
        place -= 1
    follows = end
    while follows < len(tokens) and is_adverb(tokens[follows].text) and tokens[follows].text not in _NO_ADVERB:
        follows += 1
    before = tokens[place].text if place >= 0 else ""
    behind = tokens[follows].text if follows < len(tokens) else ""
    return Standing(tokens, at, end, place, before, behind, foods, found)


def _in_passive(tokens: Sequence[Token], at: int) -> bool:
    """ "Is then rinsed"."""
    return at > 0 and is_class(tokens[at - 1].text, "aux")


def is_adverb(word: str) -> bool:
    """Whether a word says how something is done."""
    return is_class(word, "adverb") or (word.endswith("ly") and len(word) > 4)


def noun_follows(word: str) -> bool:
    """Whether a word is what an object begins with."""
    return (
        is_class(word, "determiner", "pronoun", "everything", "rest")
        or word[:1].isdigit()
        or (word[:1] != "" and word[:1] in "½¼¾⅓⅔⅛")
        or word in grammar("object begins")
    )


def after_let(found: Sequence[Verb], at: int) -> bool:
    """Whether the last verb before lets something happen to a food: "let it bubble", "leave to drain"."""
    return bool(found) and found[-1].entry.base in grammar("lets happen") and at - found[-1].end <= 6


_NO_ADVERB = grammar("no adverb")
