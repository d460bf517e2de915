"""Phrases that name a place where food is put, a new thing that food is made into, or that the cook may choose."""

from __future__ import annotations

from collections.abc import Sequence

from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.sentences import Token
from labeler.text.plurals import singular

__all__ = ["is_made_of", "is_spoken_time", "is_vessel_phrase", "leaves_free"]

_LONGEST = 4  # words from the article to the vessel: "a large heavy pot"


def is_vessel_phrase(tokens: Sequence[Token], at: int) -> bool:
    """Whether an article with a vessel behind it begins at a place: "put in | a large pot with the onion".

    "Stir in the pan juices" names no vessel, as more of the noun follows.
    """
    if at >= len(tokens) or not is_class(tokens[at].text, "determiner"):
        return False
    for place in range(at + 1, min(at + _LONGEST, len(tokens))):
        if is_class(singular(tokens[place].text), "vessel-"):
            behind = tokens[place + 1].text if place + 1 < len(tokens) else ""
            joined = behind in grammar("conjunction") or is_class(behind, "preposition", "subordinator", "adverb")
            return not behind.isalpha() or joined
    return False


def is_made_of(words: Sequence[Token]) -> bool:
    """Whether "of" behind some words tells what a new thing is made of: "a dressing of the oil and the vinegar"."""
    thing = singular(words[-1].text) if len(words) > 1 and words[0].text in grammar("article") else ""
    made = is_class(thing, "product-liquid", "product-flour", "product-strewn")
    return made and not is_class(thing, "product-pieces")


def is_spoken_time(tokens: Sequence[Token]) -> int:
    """How many tokens are a length of time with a fraction behind it: "an hour and a half"; 0 where none are."""
    words = [token.text for token in tokens]
    if len(words) < 4 or singular(words[0]) not in grammar("time unit") or words[1] != "and":
        return 0
    article = is_class(words[2], "determiner")
    fraction = words[3] if article else words[2]
    return (4 if article else 3) if fraction in grammar("fraction of a time") else 0


def leaves_free(tokens: Sequence[Token]) -> int:
    """How many tokens only say that the cook may choose: "of choice", "of your own choosing"; 0 where none do."""
    words = [token.text for token in tokens]
    if words[:1] != ["of"]:
        return 0
    end = next((at for at, word in enumerate(words) if word in grammar("free choice")), 0)
    return end + 1 if end and all(is_class(word, "determiner") or word == "own" for word in words[1:end]) else 0
