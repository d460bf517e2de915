"""Parts of a recipe that only the method of another part takes: "use half of the relish"."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from labeler.foods.matching.name_words import words
from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.parsing.instructions.model import Extent, Instruction, Mention, Quantity, Role
from labeler.parsing.instructions.parser import read_method
from labeler.parsing.model import Amount, Line
from labeler.types import Interval

__all__ = ["with_parts_named"]

_TAKES_NOTHING = frozenset({Role.EVIDENCE, Role.EXCEPT, Role.INTO})


def with_parts_named(weighed: WeighedRecipe, *, market: str) -> WeighedRecipe:
    """The recipe with a line for each other part that only a part's method takes.

    Parameters
    ----------
    weighed : WeighedRecipe
    market : str
        Whose cups and spoons the method speaks of.
    """
    if len(weighed.parts) < 2:
        return weighed
    titles = {part.title: frozenset(words(part.title)) for part in weighed.parts if part.title.strip()}
    parts = []
    for part, read in zip(weighed.parts, weighed.recipe.parts, strict=False):
        taken = {line.part for line in part.lines}
        more: list[WeighedLine] = []
        for one, mention in _mentions(read_method(read, market=market).instructions):
            said = frozenset(words(mention.name))
            meant = (title for title, own in titles.items() if said and said == own and title != part.title)
            title = next(meant, None)
            if title is not None and title not in taken:
                taken.add(title)
                more.append(_line_of(mention, title, one.span.line))
        parts.append(replace(part, lines=(*part.lines, *more)) if more else part)
    return replace(weighed, parts=(*parts, *weighed.parts[len(parts) :]))


def _mentions(instructions: tuple[Instruction, ...]) -> Iterator[tuple[Instruction, Mention]]:
    for one in instructions:
        yield from ((one, mention) for mention in one.mentions if mention.role not in _TAKES_NOTHING)


def _line_of(mention: Mention, title: str, number: int) -> WeighedLine:
    """The ingredient line that a phrase of the method stands for."""
    line = Line(mention.text, tuple(_amounts(mention.quantity)), title, number=number)
    return WeighedLine(line, None, None, part=title, taken=_taken(mention.quantity))


def _taken(quantity: Quantity) -> Quantity | None:
    if quantity.share is not None:
        return Quantity(Extent.SHARE, quantity.share)
    return Quantity(Extent.REST) if quantity.extent in (Extent.REST, Extent.ALL_BUT) else None


def _amounts(quantity: Quantity) -> Iterator[Amount]:
    stated: tuple[tuple[Interval | None, str | None], ...] = (
        (quantity.grams, "gram"),
        (quantity.millilitres, "milliliter"),
        (quantity.count, None),
    )
    if quantity.extent is Extent.AMOUNT:
        yield from (Amount(each.low, each.high, unit) for each, unit in stated if each is not None)
