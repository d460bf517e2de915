"""Several lines of one name: which of them a phrase means (R12)."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence

from labeler.flow.heaps import Table
from labeler.flow.ingredients import Ingredient
from labeler.flow.model import FromLine
from labeler.parsing.instructions.model import Extent, Mention

__all__ = ["by_head", "fullest", "in_common"]


def by_head(
    found: Sequence[tuple[float, Ingredient]], heads: tuple[str, str], *, is_group: bool
) -> list[tuple[float, Ingredient]]:
    """Foods that a phrase names; none where its word names a group, and is only what another food is made of.

    "Discard the vegetables" means no vegetable oil.
    """
    named = not is_group or any(one.head in heads for _, one in found)
    return list(found) if named else []


def in_common(mention: Mention, lines: Sequence[Ingredient], named_alone: Container[FromLine]) -> bool:
    """Whether a word for something measured means all that share it: "add the flour" where three are listed.

    Not where a line is counted ("the onion" is one of two), where the phrase takes an amount, or where the method
    names one of them alone.
    """
    return (
        mention.quantity.extent is Extent.ALL
        and all(one.line.line.amounts and one.line.line.amounts[0].unit for one in lines)
        and all(one.grams > 0.0 and one.source not in named_alone for one in lines)
    )


def _part_of_its_heap(one: Ingredient, table: Table, foods: Mapping[FromLine, Ingredient], left: float) -> float:
    """What part of the heap that it is in a food was as put in; 1 where nothing has taken it."""
    if left > 0.02:
        return 1.0
    grams = [
        sum(foods[food].grams for food in heap.foods if isinstance(food, FromLine))
        for heap in table.open()
        if one.source in heap.foods
    ]
    return one.grams / grams[0] if grams and grams[0] > 0.0 else 0.0


def fullest(
    found: Sequence[tuple[float, Ingredient]],
    table: Table,
    foods: Mapping[FromLine, Ingredient],
    left: Mapping[FromLine, float],
) -> list[tuple[float, Ingredient]]:
    """Foods with how surely a phrase means each; that which is most of the heap it is in comes first."""
    part = {one.source: _part_of_its_heap(one, table, foods, left.get(one.source, 0.0)) for _, one in found}
    return sorted(found, key=lambda pair: part[pair[1].source], reverse=True)
