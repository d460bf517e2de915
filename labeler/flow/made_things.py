"""What has been made and goes by a name that no line has: the dish by its title, noodles of a dough."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from labeler.flow.heaps import Heap, Nature, Table
from labeler.flow.kind_sets import MOISTENS
from labeler.flow.named_food import known_food
from labeler.foods.food_class import WATER_TAKERS, kind_of
from labeler.foods.matching.name_words import words
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.model import Mention

__all__ = ["curd_of", "goes_by_title", "mixed_before", "rolled_out"]


_ALIKE = 0.5  # of the moist share of the wetter bowl; from there on neither is the dry one: common practice, no source


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


def curd_of(mention: Mention, table: Table) -> Heap | None:
    """The milk that has curdled, or what is left of it in the cloth, by what a cook calls it: "pour in the curds"."""
    if not is_class(mention.name.rsplit(" ", 1)[-1], "curd", "cheese-made"):
        return None
    return next((heap for heap in table.open() if heap.curdled and heap.nature is Nature.FOOD), None)


def mixed_before(mention: Mention, table: Table, grams: Callable[..., float]) -> Sequence[Heap]:
    """What was mixed in bowls of their own: "the two", "the dry ingredients", "the wet mixture"; empty for none.

    `grams` tells what foods of some kinds weigh in a heap, or all of them.
    """
    heaps = [heap for heap in table.open() if heap.nature is Nature.FOOD and not heap.film and len(heap.foods) > 1]
    if is_class(mention.name, "made-two"):
        return heaps[:2] if len(heaps) > 1 else ()
    dry, wet = is_class(mention.name, "made-dry"), is_class(mention.name, "made-wet")
    if not (dry or wet) or len(heaps) < 2:
        return ()

    def moist(heap: Heap) -> float:
        return grams(heap, *MOISTENS) / max(grams(heap), 1e-9)

    ranked = sorted(heaps, key=moist)
    if moist(ranked[0]) > _ALIKE * moist(ranked[-1]):
        return ()  # they are alike: the words mean no heap
    return ranked[:1] if dry else ranked[-1:]
