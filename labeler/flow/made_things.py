"""What has been made and goes by a name that no line has: the dish by its title, noodles of a dough."""

from __future__ import annotations

from labeler.flow.heaps import Heap, Nature, Table
from labeler.flow.named_food import known_food
from labeler.foods.food_class import WATER_TAKERS, kind_of
from labeler.foods.matching.name_words import words
from labeler.parsing.instructions.model import Mention

__all__ = ["goes_by_title", "rolled_out"]


def goes_by_title(mention: Mention, table: Table, title: str) -> Heap | None:
    """What is being made, where a phrase is the name of the dish and no line lists it: "fry the falafel"."""
    own = words(title.lower().split(" with ")[0])
    said = words(mention.name)
    if not said or not own or said[-1] != own[-1] or not frozenset(said) <= frozenset(own):
        return None
    return next((heap for heap in table.open() if heap.nature is Nature.FOOD and len(heap.foods) > 1), None)


def rolled_out(mention: Mention, table: Table) -> Heap | None:
    """The dough that waits, where a phrase names what is made of one and no line lists: "add the noodles"."""
    found = known_food(mention.name)
    if found is None or kind_of(found.food) not in WATER_TAKERS:
        return None
    return next((heap for heap in table.open() if "dough" in heap.names and not heap.cooked), None)
