"""Lines without an amount whose amount the method gives: "- Butter" and "Melt 6 tbsp butter"."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from labeler.foods.matching.match import split_foods
from labeler.foods.matching.name_words import words
from labeler.foods.method_of_part import steps_about
from labeler.parsing import read_line
from labeler.parsing.ingredient.name import only_describes
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.model import Extent, Instruction, Mark, Mention, Mood, Role
from labeler.parsing.model import Amount, Line, Part, Recipe

__all__ = ["AmountTold", "amount_told"]

_TAKEN = (Role.OBJECT, Role.WITH, Role.INTO)
_WARMTH = grammar("warm or cold")
_DONE = (Mood.DO, Mood.MAY)


class AmountTold(NamedTuple):
    """What the method says of a line's amount.

    Parameters
    ----------
    amounts : tuple of Amount
        As the line would have them; several are added up.
    text : str
        The words of the method.
    """

    amounts: tuple[Amount, ...]
    text: str


def amount_told(line: Line, part: Part, recipe: Recipe, *, market: str) -> AmountTold | None:
    """What the method says of the amount of a line that gives none itself; None where it says nothing certain.

    Parameters
    ----------
    line : Line
    part : Part
        Where it stands; where this has no method, those of the whole recipe are read.
    recipe : Recipe
    market : str
        Whose cups and spoons the method speaks of.
    """
    pinned = line.pin is not None and line.pin.grams is not None
    if line.amounts or line.unreadable or line.to_taste or pinned or not line.name.strip():
        return None
    named = list(_mentions(steps_about(part, recipe, market=market)))
    mine = [(step, one) for step, one in named if _means(one, line, part.lines)]
    if any(_is_open(step, one) for step, one in mine):
        return None
    stated = [(step, one) for step, one in mine if one.quantity.extent is Extent.AMOUNT]
    own = [one for step, one in stated if one.text in step.text]  # two clauses may share a phrase
    found = own or [one for _, one in stated]
    read = [(one.text, read_line(one.text).amounts) for one in found]
    if not read or not all(amounts for _, amounts in read):
        return None
    first, *others = (amounts for _, amounts in read)
    more = tuple(replace(one, role="plus") if one.role == "main" else one for amounts in others for one in amounts)
    return AmountTold((*first, *more), "” and “".join(text for text, _ in read))


def _mentions(steps: Sequence[Instruction]) -> Iterator[tuple[Instruction, Mention]]:
    """Every food that is taken by a step; what a phrase lists in its bracket is told by phrases of its own."""
    for step in steps:
        for one in step.mentions if step.mood in _DONE else ():
            if one.role in _TAKEN and not one.alternative:
                yield step, one


def _is_open(step: Instruction, mention: Mention) -> bool:
    """Whether a step takes of the food what nobody can count: what is left, of each piece, "season with more of it"."""
    extent = mention.quantity.extent
    further = not mention.definite and extent in (Extent.ALL, Extent.SOME)
    return further or extent is Extent.REST or Mark.EACH in step.marks


def _means(mention: Mention, line: Line, beside: Sequence[Line]) -> bool:
    """Whether a phrase names this line and no other: "butter" is "unsalted butter" where that is alone."""
    named = _plain(mention.name)
    exact = [one for one in beside if named and named == set(words(one.name))]
    fitting = [one for one in beside if _is_short_for(named, one)]
    return any(one is line for one in exact or fitting) and len(exact or fitting) == 1


def _plain(name: str) -> set[str]:
    """The words of a phrase without those of how warm it is: "cold butter" is butter."""
    found = words(name)
    while len(found) > 1 and found[0] in _WARMTH:
        found = found[1:]
    return set(found)


def _is_short_for(named: set[str], line: Line) -> bool:
    """Whether words are those of a line with its head, the last, and less that describes it."""
    whole = words(line.name)
    if not named or len(split_foods(line.name)) > 1 or not named <= set(whole) or whole[-1] not in named:
        return False
    return all(only_describes(word) for word in whole if word not in named)
