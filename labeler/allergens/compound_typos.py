"""Typos in one word of a compound that holds an allergen: "cooke butter" may be cookie butter.

A word by itself may be near several plain foods, and then nothing is asked of it. Beside the other words of a compound
name it is read as the word that completes the name.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from labeler.allergens.vocabulary import load_vocabulary
from labeler.parsing.model import Line

__all__ = ["completed", "with_state_before"]

_SHORTEST = 3
"""Letters below which a token is no typo of a word in a compound."""
_LONGEST = 4
"""Tokens up to which a compound is searched."""

_Context = tuple[tuple[str, ...], tuple[str, ...]]
"""The tokens of a compound before the one that is sought, and those after it."""


@cache
def _contexts() -> dict[_Context, tuple[tuple[str, str], ...]]:
    """Compounds that hold an allergen, by all their tokens but one: that one, folded and as the file spells it."""
    vocabulary = load_vocabulary()
    found: dict[_Context, dict[str, str]] = {}
    for phrase, entry in vocabulary.entries.items():
        tokens = phrase.split(" ")
        if not entry.contains or not 1 < len(tokens) <= _LONGEST:
            continue
        spelt = vocabulary.written.get(phrase, phrase).split(" ")
        if len(spelt) != len(tokens):
            spelt = tokens
        for at, token in enumerate(tokens):
            found.setdefault((tuple(tokens[:at]), tuple(tokens[at + 1 :])), {})[token] = spelt[at]
    return {context: tuple(several.items()) for context, several in found.items()}


def completed(words: list[str], at: int) -> Iterator[str]:
    """The tokens that make a compound with an allergen of the words around an unknown one, a letter away from it.

    Parameters
    ----------
    words : list of str
        The tokens of a name.
    at : int
        Where the unknown one stands.
    """
    from rapidfuzz.distance import OSA

    word = words[at]
    if len(word) < _SHORTEST:
        return
    for start in range(max(0, at - _LONGEST + 1), at + 1):
        for end in range(at + 1, min(len(words), start + _LONGEST) + 1):
            for token, spelt in _contexts().get((tuple(words[start:at]), tuple(words[at + 1 : end])), ()):
                if min(OSA.distance(word, token), OSA.distance(word, spelt)) == 1:
                    yield token


def with_state_before(line: Line, name: str) -> str:
    """The name with the one word that says before it how the food is, as written: it may belong to a compound."""
    state = line.preparation.strip()
    stands = " " not in state and f"{state} {name}".lower() in line.text.lower()
    return f"{state} {name}" if state and stands and load_vocabulary().only_describes(state.lower()) else name
