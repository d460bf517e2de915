"""Where what a step has parted from food is: the brine, the fat, the drippings, what a sieve held back (R13)."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence

from labeler.flow.heaps import Food, Heap, Nature, State, Table
from labeler.flow.ingredients import Ingredient, group_kinds
from labeler.flow.kind_sets import kinds_told_by
from labeler.flow.model import FromLine
from labeler.flow.target import Parted
from labeler.foods.food_class import DISSOLVES, LIQUOR
from labeler.parsing.instructions.actions import Handler, action
from labeler.parsing.instructions.lexicon import classes_of
from labeler.parsing.instructions.model import Extent, Mention, Role

__all__ = [
    "alike",
    "has_own_name",
    "heaps_parted",
    "last_mixed",
    "made_instead",
    "mixed_of",
    "mixture_of",
    "named_heap",
]

_NATURES = {
    Parted.LIQUID: (Nature.LIQUID, Nature.BATH, Nature.DRIPPINGS),
    Parted.FAT: (Nature.DRIPPINGS, Nature.BATH, Nature.LIQUID),
    Parted.DRIPPINGS: (Nature.DRIPPINGS, Nature.LIQUID),
    Parted.SOLIDS: (Nature.SOLIDS,),
    Parted.COAT: (Nature.COAT,),
}
_MADE_OF = {Parted.LIQUID: LIQUOR | DISSOLVES, Parted.FAT: frozenset({"fat"}), Parted.DRIPPINGS: frozenset({"fat"})}


def heaps_parted(
    table: Table, parted: Parted, focus: Heap | None, foods: Mapping[FromLine, Ingredient], *, removal: bool = False
) -> list[Heap]:
    """Heaps of what has been parted from food, the last first.

    What food was lifted out of is one of them too, if it is mostly liquor or fat: the marinade with its garlic. What is
    cooked with is what was kept, and what goes is what was poured off.
    """
    natures = _NATURES[parted]
    if parted is Parted.FAT and not removal:
        natures = (Nature.DRIPPINGS, Nature.LIQUID, Nature.BATH)
    if parted is Parted.LIQUID and removal:
        natures = (Nature.BATH, Nature.LIQUID, Nature.DRIPPINGS)  # what was kept is the last to be thrown away
    there = [
        heap
        for heap in table.heaps
        if heap.state in (State.OPEN, State.ASIDE)
        and not heap.is_empty
        and (
            (heap.nature in natures and _may_be_called(heap, parted))
            or (heap is not focus and _is_what_food_lay_in(heap, parted, foods))
            or (parted is Parted.FAT and not removal and _is_hot_fat(heap, foods))
        )
    ]
    there = [heap for heap in there if not _runs_back(table, heap, there)]
    if removal:  # "discard the marinade": that which food lay in, and not what was kept of it
        there = [heap for heap in there if "reserved" not in heap.names] or there
    order = {nature: place for place, nature in enumerate(natures)}
    lay_in = focus.rest_of if removal and focus is not None else None  # what goes is what the food in hand lay in
    return sorted(there, key=lambda one: (one.number != lay_in, order.get(one.nature, len(natures)), -one.number))


def _is_hot_fat(heap: Heap, foods: Mapping[FromLine, Ingredient]) -> bool:
    """Whether it is fat by itself that was heated for food: "lower them into the fat"."""
    listed = [foods[food].kind for food in heap.foods if isinstance(food, FromLine)]
    return heap.hot and len(listed) == len(heap.foods) and set(listed) == {"fat"}


def alike(heaps: Sequence[Heap], word: str, focus: Heap | None, kind: Callable[[Food], str]) -> list[Heap]:
    """Those of several liquids that hold what their word tells: a syrup sugar, a brine salt.

    Where none does, all of them; but none where what is spoken of does.
    """
    wanted = kinds_told_by(word)
    if not wanted:  # no "marinade" is the water that noodles boiled in, which has other names
        return [heap for heap in heaps if word in heap.names or (heap.foods and not heap.names)] or list(heaps)
    told = [heap for heap in heaps if any(kind(food) in wanted for food in heap.foods)]
    if told:
        return told
    return [] if focus is not None and any(kind(food) in wanted for food in focus.foods) else list(heaps)


def made_instead(
    table: Table, there: Sequence[Heap], mention: Mention, kind: Callable[[Food], str], removal: bool
) -> list[Heap]:
    """The liquid that waits for food, where the other that goes by its word was poured off and nobody kept it.

    "Salt the courgettes, drain. Heat the vinegar and sugar. Add the courgettes to the brine."
    """
    gone = bool(there) and there[0].nature is Nature.BATH and there[0].lifted is None and not there[0].reserved
    if removal or not gone or " " in mention.name or mention.name == "water":
        return list(there)
    runs = LIQUOR | DISSOLVES | {"seasoning"}
    waiting = [
        heap
        for heap in table.open()
        if heap.nature is Nature.FOOD
        and heap.parted_from is None
        and len(heap.foods) > 1
        and all(kind(food) in runs for food in heap.foods)
        and any(kind(food) in LIQUOR for food in heap.foods)
    ]
    return waiting[-1:] or list(there)


def has_own_name(heap: Heap, names: tuple[str, str], others: Sequence[Heap], kind: Callable[[Food], str]) -> bool:
    """Whether a heap that goes by a name, whole or by its last word, is meant before others that were parted from food.

    Where it was kept for later, where none of them goes by that name, or where it alone holds what the word tells: a
    syrup holds sugar, and the oil that something was fried in none.
    """
    wanted = kinds_told_by(names[1])
    holds = [any(kind(food) in wanted for food in one.foods) for one in (heap, *others)]
    told = holds[0] and not any(holds[1:])
    return heap.reserved or told or not any(set(names) & one.names for one in others)


def _runs_back(table: Table, heap: Heap, there: Sequence[Heap]) -> bool:
    """Whether it was squeezed out of what was lifted from another of them: "the soaking liquid" is the other."""
    if heap.source is None or heap.parted_from is None:
        return False
    if action(table.nodes[heap.source.node].action).handler is not Handler.SQUEEZE:
        return False
    return any(other.number == table.heaps[heap.parted_from].rest_of for other in there)


def _may_be_called(heap: Heap, parted: Parted) -> bool:
    """Whether a bath may go by a word: what was skimmed is no "water", and pickle juice no "oil"."""
    if heap.nature not in (Nature.BATH, Nature.LIQUID) or parted not in _MADE_OF:
        return True
    named = [classes_of(name) for name in heap.names]
    return not any(named) or any(parted.value in own for own in named)


def _is_what_food_lay_in(heap: Heap, parted: Parted, foods: Mapping[FromLine, Ingredient]) -> bool:
    kinds = _MADE_OF.get(parted)
    if kinds is None or heap.lifted is None or heap.nature not in (Nature.FOOD, Nature.BATH):
        return False
    grams = [
        (foods[food].kind, share * foods[food].grams)
        for food, share in heap.foods.items()
        if isinstance(food, FromLine)
    ]
    runs = sum(many for kind, many in grams if kind in kinds or heap.pureed)
    return runs > 0.5 * sum(many for _, many in grams)


def mixed_of(table: Table, said: frozenset[str], words_of: Callable[[Food], frozenset[str]]) -> Heap | None:
    """The heap that is called after its foods, where each word is of another of them: "the sugar water"."""
    if len(said) < 2:
        return None
    found = []
    for heap in table.open():
        foods = [words_of(food) for food in heap.foods]
        if said <= frozenset[str]().union(*foods) and not any(said <= one for one in foods):
            found.append(heap)
    return min(found, key=lambda heap: len(heap.foods), default=None)


def named_heap(table: Table, name: str, last: str, own: frozenset[str], mention: Mention) -> Heap | None:
    """The heap that goes by a name; of several what was kept, where a phrase speaks of that or of a rest."""
    there = [heap for heap in table.heaps if heap.state in (State.OPEN, State.ASIDE) and not heap.is_empty]
    rest, into = mention.quantity.extent is Extent.REST, mention.role is Role.INTO
    for heap in sorted(
        there, key=lambda one: (rest and not one.reserved, into and one.nature is Nature.BATH, -one.last, -one.number)
    ):
        if name in heap.names or (last in heap.names and "product" in own | classes_of(last)):
            return heap
    return None


def mixture_of(table: Table, said: Collection[str], focus: Heap | None, kind: Callable[[Food], str]) -> Heap | None:
    """The heap of "the spice mix" where what is spoken of is another: that with the most foods of the kind."""
    classes = frozenset(one for word in said for one in classes_of(word))
    meant = next((kinds for one, (kinds, _) in group_kinds().items() if one in classes), None)
    heaps = [heap for heap in table.open() if heap.nature is Nature.FOOD]
    if meant is None or not heaps:
        return None
    many = {heap.number: sum(kind(food) in meant for food in heap.foods) for heap in heaps}
    most = max(heaps, key=lambda heap: many[heap.number])
    return most if most is not focus and many[most.number] else None


def last_mixed(table: Table, focus: Heap | None) -> Heap | None:
    """The heap of "the mixture" where what is spoken of is one food alone: the last in which several lie together.

    "Stir the buttermilk and the salt. Put the chicken in a dish and pour the mixture over."
    """
    if focus is None or len(focus.foods) != 1:
        return None
    mixed = [one for one in table.open() if one.nature is Nature.FOOD and one is not focus and len(one.foods) > 1]
    return max(mixed, key=lambda heap: heap.last, default=None)
