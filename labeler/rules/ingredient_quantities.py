"""Quantities in an ingredient list: of the ingredients that the name of the food emphasises, and of meat.

The quantity is per cent of the food: of what went in, or of the finished food where it has lost water. Where one, or
all together, come to more than 100 %, the weights used for 100 g of the food stand instead (Regulation (EU) 1169/2011,
Annex VIII, points 3 and 4(a)).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from labeler.rules.rounding import exact, plain, to_step
from labeler.text.stems import head_and_aside, stems

if TYPE_CHECKING:
    from labeler.rules.ingredient_list import ListedIngredient

__all__ = ["Quantities", "with_quantities"]

# What is made of a food is not that food: "apple cider vinegar" in an apple relish is no apple (common practice).
_MADE_OF = frozenset(
    "vinegar juice oil stock broth sauce flour sugar powder milk butter cheese extract seed paste syrup essence starch "
    "wine cider beer spirit water salt zest rind peel leaf stalk".split()
)
# Words that a name has without emphasis (common practice).
_OF_ALL = frozenset({"water", "salt"})
# A flavouring in a small quantity has none (Annex VIII, point 1(a)(iii)); 2 % is common practice, no source.
_SMALL_PERCENT = 2.0


@dataclass(frozen=True, slots=True)
class Quantities:
    """Of which ingredients the quantity is printed.

    Parameters
    ----------
    title : str
        Name of the food, whose words emphasise an ingredient; empty where only meat counts.
    meat_lines : frozenset of int
        Line numbers of meat, whose quantity is printed whatever the name says.
    """

    title: str = ""
    meat_lines: frozenset[int] = frozenset()


def with_quantities(
    items: Sequence[ListedIngredient], wanted: Quantities, finished_g: float | None
) -> tuple[tuple[ListedIngredient, ...], tuple[ListedIngredient, ...]]:
    """The ingredients with their quantities, and those that have or should have one.

    Parameters
    ----------
    items : sequence of ListedIngredient
        At the top of the list, each with its components.
    wanted : Quantities
    finished_g : float or None
        Weight of the finished food [g]; the percentage is of that where it weighs less than what went in.
    """
    went_in = sum(item.grams for item in items if item.grams is not None)
    base = min(went_in, finished_g) if finished_g else went_in
    named = frozenset(stems(" ".join(head_and_aside(wanted.title)))) - _MADE_OF
    head = frozenset(stems(wanted.title))
    every = list(_walk(items))
    marked = [item for item in every if _counts(item, named, head, wanted.meat_lines)]
    if len(items) == 1 and not items[0].components:
        return tuple(items), ()  # all of the food is that ingredient
    if len(items) > 1:
        told = {word for item in marked for word in _words(item)}
        left = frozenset(stems(" ".join(head_and_aside(wanted.title)))) - told - _OF_ALL
        marked += [item for item in every if item not in marked and _brings(item, left)]
    shares = {id(item): 100.0 * item.grams / base for item in marked if item.grams is not None and base > 0.0}
    marked = [item for item in marked if shares.get(id(item), 100.0) >= _SMALL_PERCENT or item.grams is None]
    tops = [item for item in marked if not any(item in tuple(_walk(other.components)) for other in marked)]
    over = sum(shares.get(id(item), 0.0) for item in tops) > 100.0

    def printed(item: ListedIngredient) -> ListedIngredient:
        parts = tuple(printed(part) for part in item.components)
        share = shares.get(id(item)) if item in marked else None
        text = "" if share is None else f"{_number(share)} g per 100 g" if over else f"{_number(share)}%"
        return replace(item, components=parts, quantity=text)

    return tuple(printed(item) for item in items), tuple(marked)


def _walk(items: Sequence[ListedIngredient]) -> Iterator[ListedIngredient]:
    for item in items:
        yield item
        yield from _walk(item.components)


def _counts(item: ListedIngredient, named: frozenset[str], title: frozenset[str], meat_lines: frozenset[int]) -> bool:
    if meat_lines.intersection(item.lines) and not item.components:
        return True
    words = _words(item)
    if not words:
        return False
    if words[-1] in _MADE_OF:
        return words[-1] in title and len(set(words) & title) > 1
    return not named.isdisjoint(words)


def _words(item: ListedIngredient) -> tuple[str, ...]:
    return tuple(stems(item.name.partition(" (")[0]))


def _brings(item: ListedIngredient, left: frozenset[str]) -> bool:
    """Whether an ingredient is what the name means by a word that no other brings: the maple syrup of maple granola."""
    words = _words(item)
    return bool(words) and (words[-1] in left or not (left - _MADE_OF).isdisjoint(words))


def _number(share: float) -> str:
    """Whole numbers, halves below five; half-way up. Guidance of the Commission, from memory."""
    return plain(to_step(exact(share), Decimal(1) if share >= 5 else Decimal("0.5")))
