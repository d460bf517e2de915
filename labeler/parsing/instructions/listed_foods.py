"""Foods that stand alone where a deed would: "Cider, gone.", "Flour, stir a minute", "Gravy: lard, then the onions"."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from labeler.parsing.instructions.figures import find_quantities
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import WordForm, is_class
from labeler.parsing.instructions.sentences import Token
from labeler.parsing.instructions.standing import Verb
from labeler.text.plurals import singular

__all__ = ["PutIn", "Stretch", "foods_put_in"]

_NEGATES, _JOINS, _IS_GONE = grammar("negates"), grammar("joins clause"), grammar("lost")
_KEYS = grammar("until") | grammar("while") | grammar("when") | grammar("if") | grammar("aside")
_HOW_MUCH = grammar("how much in a list")


class Stretch(NamedTuple):
    """Words between two marks: its first and behind-last token, and the first that is no conjunction."""

    start: int
    end: int
    first: int
    mark: str  # the mark behind it


class PutIn(NamedTuple):
    """What foods that stand alone are: where they begin, and whether a time or an end says that they are cooked."""

    at: int
    cooked: bool


def foods_put_in(
    tokens: Sequence[Token], stretches: Sequence[Stretch], verbs: Sequence[Verb], foods: frozenset[str]
) -> PutIn | None:
    """Where a sentence opens with foods that no verb of it takes; None where it does not.

    What follows may be another food, an end ("till it is soft", "gone"), one that is left out ("and no salt"), or a
    deed that is done to all that is there: "Flour, stir a minute", "Lard, flour, cook it a minute".
    """
    at = 1 if len(stretches) > 1 and stretches[0].mark == ":" and not _has_verb(stretches[0], verbs) else 0
    if at == len(stretches) or not _only_lists(tokens, stretches[at], foods) or _has_verb(stretches[at], verbs):
        return None
    if stretches[at].mark == ":":
        return None  # "Flour, sugar, eggs: whisk"
    inside = {token.text for token in tokens[stretches[at].first : stretches[at].end]}
    if inside & grammar("until"):
        return PutIn(stretches[at].first, cooked=True)  # "kale till limp"
    for stretch in stretches[at + 1 :]:
        word = tokens[stretch.first].text
        if word in _KEYS:
            return PutIn(stretches[at].first, cooked=word in grammar("until"))
        if not _only_lists(tokens, stretch, foods) and not _is_gone(tokens, stretch):
            deed = next((verb for verb in verbs if verb.at == stretch.first), None)
            done = deed is not None and _is_done_to_all(tokens, stretch, deed)
            return PutIn(stretches[at].first, cooked=False) if done else None
    return PutIn(stretches[at].first, cooked=False)


def _only_lists(tokens: Sequence[Token], stretch: Stretch, foods: frozenset[str]) -> bool:
    """Whether a stretch names foods of the list, with how much of each, up to what says until when or why."""
    inside = range(stretch.first, stretch.end)
    end = next((at for at in inside if at > stretch.first and tokens[at].text in _KEYS), stretch.end)
    words = [token.text for token in tokens[stretch.first : end] if token.text not in _JOINS | {"no"}]
    things = [word for word in words if not _tells_how_much(word)]
    listed = any(singular(word) in foods or word in foods for word in things)
    named = listed or (bool(things) and words[0] == "the")  # "the fish last of all"
    return named and all(
        singular(word) in foods or word in foods or is_class(singular(word), "group-", "product") for word in things
    )


def _tells_how_much(word: str) -> bool:
    told = word in _HOW_MUCH or word[:1].isdigit() or word == "of"
    return told or is_class(word, "determiner", "adverb", "rest")


def _has_verb(stretch: Stretch, verbs: Sequence[Verb]) -> bool:
    return any(stretch.start <= verb.at < stretch.end and not verb.infinitive for verb in verbs)


def _is_gone(tokens: Sequence[Token], stretch: Stretch) -> bool:
    """ "Cider, gone": the end of it."""
    words = [token.text for token in tokens[stretch.first : stretch.end]]
    return any(word in _IS_GONE for word in words) and all(
        word in _IS_GONE or is_class(word, "adverb") for word in words
    )


def _is_done_to_all(tokens: Sequence[Token], stretch: Stretch, deed: Verb) -> bool:
    """Whether a deed has no food of its own: "stir a minute", "cook it a minute"."""
    if deed.entry.form is not WordForm.BASE or not deed.opens or deed.negated:
        return False
    words = [token.text for token in tokens[deed.end : stretch.end]]
    if words and words[0] in grammar("plain pronoun"):
        return True
    until = next((at for at, word in enumerate(words) if word in _KEYS), len(words))
    told = " ".join(words[:until])
    return deed.entry.base in grammar("done to all") and (not told or find_quantities(told).minutes is not None)
