"""What is meant where the method only says to season: the salt and pepper "to taste" that nothing names."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from labeler.flow.ingredients import Ingredient, score, words_of
from labeler.flow.kind_sets import SEASONS
from labeler.parsing.instructions.actions import Trait, has
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.model import Extent, Instruction, Mention, Mood, Quantity, Role

__all__ = ["with_seasoning"]

_ONLY = grammar("only seasons")
_SURE = 0.72  # from here on a phrase means a line: a choice, no source


def with_seasoning(instructions: Sequence[Instruction], ingredients: Sequence[Ingredient]) -> Iterator[Instruction]:
    """The instructions; each that seasons with nothing named names the lines "to taste" that no other words name."""
    said = [words_of(mention.name) for one in instructions for mention in one.mentions]
    free = [one for one in ingredients if _waits_to_taste(one, said, ingredients)]
    for one in instructions:
        above = [food for food in free if food.source.index < one.after]
        if not above or not _only_says_to_season(one):
            yield one
            continue
        some = Quantity(extent=Extent.SOME)
        names = dict.fromkeys(food.line.line.name.lower() for food in above)
        named = (Mention(one.text, name, Role.WITH, some, definite=True) for name in names)
        yield replace(one, mentions=(*one.mentions, *named))


def _waits_to_taste(
    one: Ingredient, said: Sequence[tuple[frozenset[str], str]], ingredients: Sequence[Ingredient]
) -> bool:
    """Whether no words name a seasoning "to taste" or, as "dissolve the salt" does, another line as surely."""
    if not one.line.line.to_taste or one.kind not in SEASONS:
        return False
    others = [other for other in ingredients if not other.line.line.to_taste]
    return all(
        (own := score(one, *words)) < _SURE or any(score(other, *words) >= own for other in others) for words in said
    )


def _only_says_to_season(one: Instruction) -> bool:
    """ "Season", "season the stew": no word says with what."""
    with_what = any(mention.role is Role.WITH for mention in one.mentions)
    return one.mood in (Mood.DO, Mood.MAY) and has(one.action, Trait.SEASONS) and one.verb in _ONLY and not with_what
