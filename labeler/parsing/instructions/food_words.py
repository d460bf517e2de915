"""The words by which the lines of a part name their foods: they tell a food from a deed in the method."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import pairwise

from labeler.parsing.instructions.sentences import tokens_of
from labeler.parsing.line_words import ADJECTIVES, TEMPERATURES
from labeler.parsing.model import Line
from labeler.text.plurals import singular

__all__ = ["food_words"]


def food_words(lines: Iterable[Line]) -> tuple[frozenset[str], frozenset[tuple[str, str]]]:
    """The words of the foods' names, in the singular, and the pairs of words that stand side by side in a name.

    Examples
    --------
    >>> from labeler.parsing.document import read_recipe
    >>> foods, pairs = food_words(read_recipe("- 200 g brown sugar\\n- 300 ml warm water").parts[0].lines)
    >>> sorted(foods), sorted(pairs)
    (['brown', 'sugar', 'water'], [('brown', 'sugar'), ('warm', 'water')])
    """
    read = [_words_of((line.name or line.text).lower(), line.text.lower()) for line in lines]
    foods = frozenset(word for words, _ in read for word in words)
    return foods, frozenset(pair for _, pairs in read for pair in pairs)


@lru_cache(maxsize=512)
def _words_of(name: str, text: str) -> tuple[frozenset[str], frozenset[tuple[str, str]]]:
    """The words and pairs of one line, by its name and the whole of it in lower case."""
    plain = [token.text for token in tokens_of(name) if token.is_word]
    pairs = {(first, singular(second)) for first, second in pairwise(plain)}
    pairs.update(_state_and_name(plain[:1], text))
    return frozenset(singular(word) for word in plain), frozenset(pairs)


def _state_and_name(first: list[str], text: str) -> Iterator[tuple[str, str]]:
    """What a line says right before the name of its food: "warm water", whose name is water."""
    for before, word in pairwise(tokens_of(text)):
        if [word.text] == first and before.text in ADJECTIVES | TEMPERATURES:
            yield before.text, singular(word.text)
