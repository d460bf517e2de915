"""Which nodes of its flow each food goes through on its way to the dish, and which way treats it least.

A food that is divided goes several ways: half of the eggs into the cake, half into a mayonnaise. What asks how much is
done to a food asks for the way on which least is done.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from labeler.cooking.account import Carried
from labeler.cooking.state.ledger import Dish
from labeler.cooking.state.mixture import Item, Mixture
from labeler.flow.model import FromLine, FromNode, Node, Port, Source
from labeler.foods.food_class import FLESH, is_raw, kind_of
from labeler.foods.model import WeighedRecipe
from labeler.parsing.instructions.actions import Handler, action

__all__ = ["FoodKey", "Passage", "juices_served", "passages"]

FoodKey = tuple[str, int, str]
"""Part, line number and name of a food, as its item has them."""

_THERE = (
    0.05  # share of a food's weight from which on it goes along, and not only its juice: common practice, no source
)

_Place = tuple[int, Source]


@dataclass(frozen=True, slots=True)
class Passage:
    """What a food goes through.

    Parameters
    ----------
    least : tuple of Node
        Of its ways into the dish the one on which least is done to it; of a food that never gets there, everything.
    nodes : tuple of Node
        Every node that it goes through on any way.
    served : bool
        True where some of it is in the dish.
    """

    least: tuple[Node, ...] = ()
    nodes: tuple[Node, ...] = ()
    served: bool = False


@dataclass
class _Arrows:
    """The arrows of all parts by where they come from, and what takes a part or what it keeps."""

    dish: Dish
    out: dict[_Place, list[Carried]] = field(default_factory=dict)
    taken: dict[int, list[_Place]] = field(default_factory=dict)
    kept: dict[int, list[_Place]] = field(default_factory=dict)


def passages(weighed: WeighedRecipe, dish: Dish, *, rank: Callable[[Node], int]) -> Mapping[FoodKey, Passage]:
    """The passage of every food of every line.

    Parameters
    ----------
    weighed : WeighedRecipe
    dish : Dish
        Of the same recipe.
    rank : callable
        How much a node does to food; the way of the lowest rank is the least.
    """
    arrows = _arrows_of(weighed, dish)
    found: dict[FoodKey, Passage] = {}
    for at, part in enumerate(weighed.parts):
        for index, line in enumerate(part.lines):
            if line.part is not None or line.kept is not None:
                continue
            for place, one in enumerate((line, *line.also)):
                key = (part.title, one.line.number, one.line.name or one.line.text)
                found[key] = _Tracer(arrows, key, rank).passage((at, FromLine(index, place)))
    return found


def _arrows_of(weighed: WeighedRecipe, dish: Dish) -> _Arrows:
    arrows = _Arrows(dish)
    for arrow in dish.carried:
        if arrow.source is not None:
            arrows.out.setdefault((arrow.part, arrow.source), []).append(arrow)
    titles = {part.title: at for at, part in enumerate(weighed.parts)}
    for at, part in enumerate(weighed.parts):
        for index, line in enumerate(part.lines):
            if line.part is not None and line.part in titles:
                arrows.taken.setdefault(titles[line.part], []).append((at, FromLine(index)))
            elif line.kept is not None and line.kept.part in titles:
                arrows.kept.setdefault(titles[line.kept.part], []).append((at, FromLine(index)))
    return arrows


def juices_served(
    weighed: WeighedRecipe, dish: Dish, *, rank: Callable[[Node], int], enough: int
) -> frozenset[FoodKey]:
    """Raw flesh of which the liquid that it lay in, or that ran off it, comes into the dish without enough heat.

    Parameters
    ----------
    weighed : WeighedRecipe
    dish : Dish
        Of the same recipe.
    rank : callable
        How much a node does to food.
    enough : int
        The rank from which heat reaches all of it.
    """
    assert dish.flow is not None
    arrows = _arrows_of(weighed, dish)
    found: set[FoodKey] = set()
    for at, part in enumerate(dish.flow.parts):
        for place, node in enumerate(part.nodes):
            if action(node.action).handler not in _PARTS_LIQUID:
                continue
            came = [one.mix for one in dish.carried if one.part == at and one.node == place]
            raw = {
                (item.part, item.line, item.name)
                for mix in came
                for item in mix.items
                if kind_of(item.food) in FLESH and is_raw(item.food) and not item.cooked and not item.phase
            }
            off = FromNode(place, Port.OFF)
            kept = any((item.part, item.line, item.name) in raw for item in _of(arrows, (at, off)) if not item.phase)
            way = _Tracer(arrows, ("", 0, ""), rank, all_of_it=True).least((at, off))
            if raw and not kept and way is not None and way[0] < enough:
                found |= raw
    return frozenset(found)


_PARTS_LIQUID = frozenset({Handler.LIFT, Handler.DRAIN})


def _of(arrows: _Arrows, place: _Place) -> Iterable[Item]:
    return [item for one in arrows.out.get(place, ()) for item in one.mix.items]


@dataclass
class _Tracer:
    """Follows one food along the arrows."""

    arrows: _Arrows
    key: FoodKey
    rank: Callable[[Node], int]
    whole: float = 0.0
    ways: dict[_Place, tuple[int, tuple[Node, ...]] | None] = field(default_factory=dict)
    nodes: dict[tuple[int, int], Node] = field(default_factory=dict)
    all_of_it: bool = False  # everything that comes from a place, and not one food

    def passage(self, start: _Place) -> Passage:
        self.whole = max((self._grams(one.mix) for one in self.arrows.out.get(start, ())), default=0.0)
        least = self.least(start)
        nodes = tuple(self.nodes[at] for at in sorted(self.nodes))
        return Passage(nodes if least is None else least[1], nodes, least is not None)

    def _grams(self, mix: Mixture) -> float:
        same = (at for at, item in enumerate(mix.items) if (item.part, item.line, item.name) == self.key)
        return float(sum(mix.mass[0, at] for at in same))

    def _is_in(self, mix: Mixture) -> bool:
        if self.all_of_it:
            return True
        if self.whole <= 0.0:
            return any((item.part, item.line, item.name) == self.key for item in mix.items)
        return self._grams(mix) > _THERE * self.whole

    def least(self, place: _Place) -> tuple[int, tuple[Node, ...]] | None:
        """Rank and nodes of the least way from a place into the dish; None where none leads there."""
        if place in self.ways:
            return self.ways[place]
        self.ways[place] = None
        ways = [way for one in self.arrows.out.get(place, ()) if self._is_in(one.mix) for way in self._from(one)]
        self.ways[place] = min(ways, key=lambda way: way[0], default=None)
        return self.ways[place]

    def _from(self, one: Carried) -> Iterable[tuple[int, tuple[Node, ...]]]:
        if one.node is not None:
            assert self.arrows.dish.flow is not None
            node = self.arrows.dish.flow.parts[one.part].nodes[one.node]
            self.nodes[one.part, one.node] = node
            rank = self.rank(node)
            for source in [source for at, source in self.arrows.out if at == one.part and _leaves(source, one.node)]:
                behind = self.least((one.part, source))
                if behind is not None:
                    yield max(rank, behind[0]), (node, *behind[1])
            return
        if one.in_dish and one.part not in self.arrows.taken:
            yield 0, ()
        onward = self.arrows.taken if one.in_dish else self.arrows.kept
        for place in onward.get(one.part, ()):
            behind = self.least(place)
            if behind is not None:
                yield behind


def _leaves(source: Source, node: int) -> bool:
    return isinstance(source, FromNode) and source.node == node
