"""Heaps that wait long are not drawn all the way: a connector at their box and one where they are taken say where.

A page has room for so many lanes. Where a part has more heaps at a time, those that wait longest and weigh least are
cut: at the box that makes one stands "to step 12", and in the list beside step 12 "step 3" with what it brings.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

from labeler.flow_diagram.lanes import LaneHeap, Lanes, place_in_lanes
from labeler.flow_diagram.model import Inflow, Move, Origin, PartPicture

__all__ = ["Connector", "with_connectors"]

LANES = 3
"""As many lanes as a page of paper has room for."""

_WAITS = 2
"""A heap is cut only where so many rows lie between the box that makes it and the last one that takes of it."""

_HEAVY = 0.8
"""How much less a heap counts as waiting that carries the most of all."""


@dataclass(frozen=True, slots=True)
class Connector:
    """A heap that is cut: the box that makes it and who takes of it."""

    source: int
    off: bool
    moves: tuple[Move, ...]


def with_connectors(part: PartPicture) -> tuple[PartPicture, Lanes, tuple[Connector, ...]]:
    """The part without the heaps that are cut, with what takes of them in its lists; its lanes; and those heaps."""
    cut: list[Connector] = []
    while True:
        lanes = place_in_lanes(part)
        heap = _longest(part, lanes, cut) if lanes.count > LANES else None
        if heap is None:
            return part, lanes, tuple(cut)
        cut.append(Connector(heap.source, heap.off, heap.moves))
        brought = tuple(
            Inflow(move.to, _called(part, heap, move), move.load, origin=Origin.STEP, implied=move.implied)
            for move in heap.moves
        )
        moves = tuple(one for one in part.moves if (one.source, one.off) != (heap.source, heap.off))
        part = replace(part, moves=moves, inflows=(*part.inflows, *brought))


def _called(part: PartPicture, heap: LaneHeap, move: Move) -> str:
    step = f"step {part.boxes[heap.source].number}"
    what = move.name or ", ".join(move.load.names[:2])
    return f"{step}: {what}" if what else step


def _longest(part: PartPicture, lanes: Lanes, cut: list[Connector]) -> LaneHeap | None:
    """The heap to cut next, of those that are the only one of their box: there is room for one connector."""
    most = max((move.load.dry for move in part.moves), default=0.0)
    alone = Counter([one.source for one in lanes.heaps] + [one.source for one in cut])

    def waits(heap: LaneHeap) -> float:
        dry = sum(move.load.dry for move in heap.moves)
        return (heap.end - heap.source) * (1.0 - (_HEAVY * min(1.0, dry / most) if most > 0 else 0.0))

    open_heaps = [one for one in lanes.heaps if one.end - one.source >= _WAITS and alone[one.source] == 1]
    return max(open_heaps, key=lambda one: (waits(one), -one.source), default=None)
