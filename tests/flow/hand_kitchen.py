"""A kitchen by hand: a step mixes what it takes and parts from it the shares that it is told, without physics."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from labeler.cooking.account import Carried
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.ledger import Dish, Ledger
from labeler.cooking.state.mixture import CONSTITUENTS, Item, Mixture, join
from labeler.flow.model import (
    Basis,
    Departure,
    Fate,
    Flow,
    FromLine,
    FromNode,
    FromUnlisted,
    Node,
    PartFlow,
    Port,
    Portion,
    Settings,
    Source,
    Unlisted,
)
from labeler.foods.model import WeighedRecipe
from labeler.foods.resolve import weigh
from labeler.parsing import read_recipe
from labeler.parsing.instructions.model import Mark, Span, Unread
from labeler.types import Interval

ROWS = 9
Parted = Mapping[str, float | Mapping[str, float]]
"""Share of each food (by a word of its name, "" for any) that is parted, of all of it or of some constituents."""


@dataclass(frozen=True)
class Cooked:
    """A recipe with its flow and what that carried."""

    weighed: WeighedRecipe
    dish: Dish
    flow: Flow
    carried: tuple[Carried, ...]


def exactly(value: float) -> Interval:
    return Interval(value, value, value)


def _fraction(mix: Mixture, parted: Parted) -> np.ndarray:
    share = np.zeros((len(mix.items), len(CONSTITUENTS)))
    for at, item in enumerate(mix.items):
        for word, part in parted.items():
            if word in item.name:
                for kind, constituent in enumerate(CONSTITUENTS):
                    share[at, kind] = part if isinstance(part, float) else part.get(constituent, 0.0)
                break
    return share


@dataclass
class Hand:
    """A recipe that is being cooked by hand, one part after the other."""

    text: str
    weighed: WeighedRecipe = field(init=False)
    parts: list[PartFlow] = field(default_factory=list)
    carried: list[Carried] = field(default_factory=list)
    made: dict[str, Mixture] = field(default_factory=dict)
    named: dict[tuple[str, str], Mixture] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.weighed = weigh(read_recipe(self.text))

    def part(self, at: int = 0, *, title: str | None = None) -> PartByHand:
        return PartByHand(self, at, self.weighed.parts[at].title if title is None else title)

    def finish(self, *served: str) -> Cooked:
        mix = join([self.made[title] for title in served])
        ledgers = tuple(Ledger(part.title, (), (), self.made[part.title]) for part in self.parts)
        dish = Dish(None, mix.rows(0, 1), mix.rows(1), ledgers, tuple(served), ())
        return Cooked(self.weighed, dish, Flow(tuple(self.parts)), tuple(self.carried))


@dataclass
class PartByHand:
    """A part that is being cooked."""

    hand: Hand
    at: int
    title: str
    nodes: list[Node] = field(default_factory=list)
    unlisted: list[Unlisted] = field(default_factory=list)
    left: dict[Source, Mixture] = field(default_factory=dict)
    leaves: list[Departure] = field(default_factory=list)
    unread: list[Unread] = field(default_factory=list)

    def __post_init__(self) -> None:
        for index, line in enumerate(self.hand.weighed.parts[self.at].lines):
            kept = (line.kept.part, line.kept.name) if line.kept is not None else None
            if kept is not None and kept in self.hand.named:
                self.left[FromLine(index)] = self.hand.named[kept]
            elif line.part is not None and line.part in self.hand.made:
                self.left[FromLine(index)] = self.hand.made[line.part]
            else:
                food = line.match.food if line.match is not None else None
                item = Item(self.title, line.line.number, line.line.name, food, line.grams is not None)
                self.left[FromLine(index)] = self._mix(item, line.grams)

    def _mix(self, item: Item, grams: Interval | None) -> Mixture:
        spread = np.linspace(-1.0, 1.0, ROWS - 1)
        best = grams.best if grams is not None else 0.0
        rows = np.concatenate([[best], best * (1.0 + 0.1 * spread)])
        return mix_of_foods([item], rows[:, None])

    def line(self, word: str) -> FromLine:
        """The line whose words have this one."""
        lines = self.hand.weighed.parts[self.at].lines
        return FromLine(next(at for at, one in enumerate(lines) if word in one.line.text))

    def adds(self, name: str, food: str, grams: float) -> FromUnlisted:
        at = len(self.unlisted)
        self.unlisted.append(Unlisted(name, food, exactly(grams), Span(900 + at), "common practice, no source"))
        self.left[FromUnlisted(at)] = self._mix(Item(self.title, 900 + at, name, food), exactly(grams))
        return FromUnlisted(at)

    def do(
        self,
        action: str,
        text: str,
        *takes: Source | tuple[Source, float],
        off: Parted | None = None,
        air: Parted | None = None,
        brings: float = 0.0,
        vessel: str = "",
        basis: Basis = Basis.WRITTEN,
        why: str = "",
        name: str = "",
        minutes: float | None = None,
        celsius: float | None = None,
        marks: frozenset[Mark] = frozenset(),
    ) -> FromNode:
        """One step: what it takes, what it parts (`off`), what goes into the air, and water that it brings [g]."""
        node = len(self.nodes)
        portions, mixes = [], []
        for take in takes:
            source, share = take if isinstance(take, tuple) else (take, None)
            portions.append(Portion(source, None if share is None else exactly(share), basis=basis))
            taken = self.left[source] if share is None else self.left[source].scaled(share)
            self.left[source] = self.left[source].scaled(0.0 if share is None else 1.0 - share)
            mixes.append(taken)
            self._carry(taken, source, node=node)
        if brings:
            mixes.append(self._mix(Item(self.title, 950 + node, "water", "14429"), exactly(brings)))
            self._carry(mixes[-1], None, node=node)
        heap = join(mixes)
        if air is not None:
            lost, heap = heap.split(_fraction(heap, air))
            self._carry(lost, None, from_node=node, stream="evaporated water")
        gone, kept = heap.split(_fraction(heap, off or {}))
        self.left[FromNode(node, Port.KEPT)], self.left[FromNode(node, Port.OFF)] = kept, gone
        settings = Settings(
            minutes=None if minutes is None else exactly(minutes),
            celsius=None if celsius is None else exactly(celsius),
            marks=marks,
        )
        self.nodes.append(
            Node(
                action,
                tuple(portions),
                settings,
                text=text,
                span=Span(100 + 10 * node),
                vessel=vessel,
                basis=basis,
                why=why,
                name=name,
            )
        )
        return FromNode(node)

    def off(self, node: FromNode) -> FromNode:
        return FromNode(node.node, Port.OFF)

    def leave(
        self, source: Source, fate: Fate = Fate.TRADE, name: str = "", *, into: str = "", stream: str = "poured off"
    ) -> None:
        self._carry(self.left[source], source, fate=fate, stream=stream, name=name)
        self.leaves.append(Departure(source, fate, name=name, into=into))
        if name:
            self.hand.named[self.title, name] = self.left[source]

    def unread_words(self, text: str, after: int) -> None:
        self.unread.append(Unread(text, Span(100 + 10 * after + 5)))

    def served(self, *sources: Source) -> None:
        for source in sources:
            self._carry(self.left[source], source, in_dish=True)
        self.hand.made[self.title] = join([self.left[source] for source in sources])
        self.hand.parts.append(
            PartFlow(
                self.title,
                tuple(self.nodes),
                tuple(self.unlisted),
                tuple(sources),
                tuple(self.leaves),
                tuple(self.unread),
            )
        )

    def _carry(
        self,
        mix: Mixture,
        source: Source | None,
        *,
        node: int | None = None,
        from_node: int | None = None,
        in_dish: bool = False,
        fate: Fate | None = None,
        stream: str = "added",
        name: str = "",
    ) -> None:
        self.hand.carried.append(Carried(self.at, source, node, from_node, in_dish, fate, stream, name, mix))
