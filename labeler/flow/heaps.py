"""The heaps of food that a method makes, and the nodes that they pass through.

A heap is what lies together: in a bowl, a pan, on a plate. Foods join it, something is done to it, something is parted
from it; each of that is a node, and the heap's source is what the last of them has left.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from enum import Enum

from labeler.flow.model import Basis, FromLine, FromNode, FromUnlisted, Node, Port, Portion, Settings, Source
from labeler.parsing.instructions.model import Instruction, Span
from labeler.parsing.instructions.vessels import vessel_kinds
from labeler.types import Interval

__all__ = ["Heap", "Nature", "State", "Table"]

Food = FromLine | FromUnlisted
_DRIPS = 0.15  # of meat, by weight, that is in its drippings: common practice, no source


class State(Enum):
    """Where a heap is."""

    OPEN = "open"
    ASIDE = "aside"  # waits, and is served
    STORED = "stored"  # kept for another use
    GONE = "gone"  # thrown away, or all of it in another heap


class Nature(Enum):
    """What a heap is, where that decides what becomes of it."""

    FOOD = "food"
    BATH = "bath"  # brine, cooking water, frying fat: leaves by trade
    DRIPPINGS = "drippings"
    SOLIDS = "solids"  # what a sieve held back
    LIQUID = "liquid"  # what was kept of a bath
    COAT = "coat"  # what is left of a coating


@dataclass(eq=False)
class Heap:
    """What lies together.

    Parameters
    ----------
    pending : list of Portion
        What has been put in since the last node.
    source : FromNode or None
        What the last node has left of it.
    foods : dict
        Its foods, in the order in which they came, with what it holds of each, 0 to 1.
    names : set of str
        What the method calls it.
    """

    number: int
    pending: list[Portion] = field(default_factory=list)
    source: FromNode | None = None
    foods: dict[Food, float] = field(default_factory=dict)
    names: set[str] = field(default_factory=set)
    made_of: frozenset[Food] = frozenset()  # what was in it when the words gave what they made a name
    vessel: str = ""
    state: State = State.OPEN
    nature: Nature = Nature.FOOD
    hot: bool = False
    poured_hot: bool = False  # boiling water or the like was poured on
    wet: bool = False  # water that no line lists is around the food
    covered_with_water: bool = False
    steeped: bool = False  # it lies in its liquid for half a day or more
    kept_in_liquid: bool = False  # the words serve or keep it in its liquid
    in_jar: bool = False  # a pickling brine: it is in the jar with what lay in it, and is not eaten
    fried_last: bool = False  # nothing has come to it since it was fried
    bound: set[Food] = field(default_factory=set)  # what holds together: a dough, patties, dumplings
    lain: bool = False  # food has lain in liquid or under salt before
    in_oven: bool = False
    lifted: int | None = None  # the heap that was lifted out of it, and the nodes there were then
    lifted_at: int = 0
    covered: bool = False  # a lid is on
    over_water: bool = False  # it is in a vessel above water
    rinsed: bool = False  # the last thing that was done to it was to rinse it
    soaked: bool = False  # food has lain in its liquid or under salt
    cooked: str = ""  # the last action of heat
    pureed: bool = False
    skinned: bool = False  # the skin of its birds is off
    collapsed: bool = False  # soft fruit that sugar has drawn the juice from
    curdled: bool = False  # milk that has parted into curd and whey
    parted_from: int | None = None  # the heap that it was parted from
    rest_of: int | None = None  # the heap that was lifted out of it
    inferred: bool = False
    film: bool = False  # only a film of fat on a vessel
    portioned: bool = False  # so much of it went on each piece: what is left over is not eaten with them
    named: str = ""
    taken_of: bool = False  # a share of it has gone elsewhere, and this is the rest
    left_of_line: bool = False  # what the words have not taken of a line
    taken_in_grams: bool = False  # so many grams or spoons of it
    shared_at: int = -1  # place of the instruction that put a stated share of it into another food
    last: int = -1  # place of the instruction that last touched it
    coat: set[Food] = field(default_factory=set)
    fat_bath: bool = False
    kept_back: bool = False  # a part of something, set aside for later
    told: dict[Span, str] = field(default_factory=dict)  # words that have put in what is pending

    @property
    def shaped(self) -> bool:
        """Whether it has been made into pieces that hold together."""
        return bool(self.bound)

    def call(self, name: str) -> None:
        """Give what it holds now a name; what is put into it later is no part of what is called so."""
        self.names.add(name)
        self.made_of = frozenset(self.foods)

    @property
    def reserved(self) -> bool:
        """Whether it was kept back of something for later, or is what a share was taken of."""
        return (self.state is State.ASIDE and self.kept_back) or (self.state is State.OPEN and self.taken_of)

    @property
    def is_empty(self) -> bool:
        """Whether nothing is in it."""
        return self.source is None and not self.pending


@dataclass
class Table:
    """Everything on the kitchen table: the nodes so far and the heaps."""

    nodes: list[Node] = field(default_factory=list)
    heaps: list[Heap] = field(default_factory=list)
    now: tuple[Span, str] | None = None  # the words that are being done
    washed: bool = False  # the pot or pan in use was emptied and washed: what comes next begins in it anew

    def new(self, **about: object) -> Heap:
        """An empty heap."""
        heap = Heap(len(self.heaps), **about)  # type: ignore[arg-type]
        self.heaps.append(heap)
        return heap

    def open(self) -> list[Heap]:
        """Heaps that are there, the last touched first."""
        there = [heap for heap in self.heaps if heap.state in (State.OPEN, State.ASIDE) and not heap.is_empty]
        return sorted(there, key=lambda heap: (-heap.last, -heap.number))

    def put(self, heap: Heap, portions: Iterable[Portion], foods: Iterable[tuple[Food, float]]) -> None:
        """Put food into a heap."""
        heap.pending += portions
        self._tell(heap)
        for food, share in foods:
            heap.foods[food] = heap.foods.get(food, 0.0) + share

    def merge(self, into: Heap, other: Heap, *, share: Interval | None = None, amount: Portion | None = None) -> None:
        """Put a heap, or part of it, into another one."""
        if other is into or other.is_empty:
            return
        self.settle(other)
        assert other.source is not None
        self._tell(into)
        into.bound |= other.bound
        if amount is not None:
            into.pending.append(Portion(other.source, amount.share, amount.grams, amount.millilitres, amount.all_but))
            for food, held in other.foods.items():
                into.foods.setdefault(food, held)
        elif share is not None and share.best < 0.999:
            other.taken_of = True
            into.pending.append(Portion(other.source, share))
            for food, held in other.foods.items():
                into.foods[food] = into.foods.get(food, 0.0) + held * share.best
                other.foods[food] = held * (1.0 - share.best)
        else:
            into.pending.append(Portion(other.source))
            for food, held in other.foods.items():
                into.foods[food] = into.foods.get(food, 0.0) + held
            other.foods = {}
            other.state = State.GONE
            into.names |= other.names
            into.wet |= other.wet and other.nature is not Nature.BATH
            into.soaked |= other.soaked
            into.hot |= other.hot
            into.curdled |= other.curdled
            into.coat |= other.coat
            into.vessel = into.vessel or other.vessel

    def _tell(self, heap: Heap) -> None:
        """Remember the words that put something into a heap."""
        if self.now is not None:
            heap.told.setdefault(*self.now)

    def settle(self, heap: Heap, *, text: str = "", span: Span | None = None) -> None:
        """Give a heap a source where food has only been put into it so far, by those words or by some that act now."""
        if heap.pending and (
            len(heap.pending) > 1
            or heap.source is not None
            or not isinstance(heap.pending[0].source, FromNode)
            or not heap.pending[0].takes_all
        ):
            told = text or "; ".join(heap.told.values())
            self.node(heap, "add", text=told, span=span or next(reversed(heap.told), None))
        elif heap.pending:
            source = heap.pending[0].source
            assert isinstance(source, FromNode)
            heap.source, heap.pending = source, []

    def node(
        self,
        heap: Heap,
        action: str,
        *,
        settings: Settings | None = None,
        selects: Sequence[Source] = (),
        coats: Sequence[Source] = (),
        text: str = "",
        span: Span | None = None,
        basis: Basis = Basis.WRITTEN,
        why: str = "",
        drained: bool = False,
        name: str = "",
    ) -> FromNode:
        """Do something to a heap; what goes on is its new source, and what is parted from it is given back."""
        inputs = ([Portion(heap.source)] if heap.source is not None else []) + heap.pending
        self.nodes.append(
            Node(
                action, tuple(inputs), settings or Settings(), tuple(selects), tuple(coats), text, span or Span(1),
                heap.vessel, basis, why, drained, False, name,
            )
        )  # fmt: skip
        heap.pending, heap.told = [], {}
        heap.source = FromNode(len(self.nodes) - 1)
        return FromNode(len(self.nodes) - 1, Port.OFF)

    def with_vessel(self, vessel: str) -> Heap | None:
        """The last heap in a vessel of that name, else in one of its class."""
        last = vessel.rsplit(" ", 1)[-1]
        own = vessel_kinds(vessel)
        food = [heap for heap in self.open() if not heap.film]
        for heap in food:
            if heap.vessel and heap.vessel.rsplit(" ", 1)[-1] == last:
                return heap
        for heap in food:
            if own & vessel_kinds(heap.vessel):
                return heap
        return None

    def take_films(self, heap: Heap) -> None:
        """Let food that goes into a greased vessel, or into the oven, take the film of fat."""
        for film in [one for one in self.open() if one.film and one is not heap]:
            self.merge(heap, film)

    def part(
        self,
        heap: Heap,
        off: FromNode,
        *,
        nature: Nature,
        names: Iterable[str] = (),
        foods: Iterable[Food] = (),
        vessel: str = "",
    ) -> Heap:
        """The heap of what was parted from another one."""
        other = self.new(
            source=off, nature=nature, names=set(names), vessel=vessel, parted_from=heap.number, last=heap.last
        )
        for food in foods:
            if food in heap.foods:
                other.foods[food] = heap.foods[food] * (_DRIPS if nature is Nature.DRIPPINGS else 1.0)
        return other


def settings_of(one: Instruction, **changes: object) -> Settings:
    """The figures of an instruction as settings of a node."""
    found = Settings(
        one.minutes, one.celsius, one.core, one.grams, one.millilitres, one.share, one.pieces, one.piece, one.water,
        one.salt, one.marks,
    )  # fmt: skip
    if not changes:
        return found
    from dataclasses import replace

    return replace(found, **changes)  # type: ignore[arg-type]
