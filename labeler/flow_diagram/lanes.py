"""Which lane each heap of food runs down in: as few crossings as can be found.

A heap is one of the two results of a box. It occupies its lane from the box that makes it to the last box that takes
of it. A box stands in the lane of the heap that it goes on with; every row holds one box, so an arrow across a row
meets other heaps only where they pass by.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import permutations

from labeler.flow_diagram.model import Move, PartPicture

__all__ = ["LaneHeap", "Lanes", "place_in_lanes"]

# With so many lanes a heap that begins anew takes a free one before it takes a new one.
_ROOMY = 2
# Every order of so many lanes is tried.
_TRIED = 6
_FAR = 0.15
"""What a lane's distance counts beside a crossing."""


@dataclass(frozen=True, slots=True)
class LaneHeap:
    """One result of a box and who takes of it, in order; `lane` is where it runs, `end` the last row that it is in."""

    source: int
    off: bool
    moves: tuple[Move, ...]
    lane: int
    end: int


@dataclass(frozen=True, slots=True)
class Lanes:
    """The lane of each box, the heaps, and how many lanes there are."""

    of_box: tuple[int, ...]
    heaps: tuple[LaneHeap, ...]
    count: int


def place_in_lanes(part: PartPicture) -> Lanes:
    """Lanes for the boxes and heaps of a part."""
    last = len(part.boxes)
    heaps: dict[tuple[int, bool], list[Move]] = {}
    for move in part.moves:
        heaps.setdefault((move.source, move.off), []).append(move)
    for moves in heaps.values():
        moves.sort(key=lambda move: last if move.to is None else move.to)
    ends = {key: last if moves[-1].to is None else moves[-1].to for key, moves in heaps.items()}
    boxes: list[int] = []
    lane_of: dict[tuple[int, bool], int] = {}
    busy: list[int] = []  # row of the last box that holds the lane

    def free(row: int) -> int:
        open_lanes = [lane for lane, until in enumerate(busy) if until < row]
        if open_lanes and len(busy) >= _ROOMY:
            return open_lanes[0]
        busy.append(-1)
        return len(busy) - 1

    for row in range(last):
        goes_on = _goes_on(part, heaps, ends, row)
        lane = free(row) if goes_on is None else lane_of[goes_on]
        busy[lane] = row
        boxes.append(lane)
        kept, off = (row, False), (row, True)
        if kept in heaps:
            lane_of[kept] = lane
            busy[lane] = ends[kept]
        if off in heaps:
            lane_of[off] = lane if kept not in heaps else free(row)
            busy[lane_of[off]] = ends[off]
    found = tuple(
        LaneHeap(source, off, tuple(moves), lane_of[source, off], ends[source, off])
        for (source, off), moves in sorted(heaps.items())
    )
    lanes = Lanes(tuple(boxes), found, len(busy))
    return _reordered(lanes, _best_order(part, lanes))


def _goes_on(
    part: PartPicture, heaps: dict[tuple[int, bool], list[Move]], ends: dict[tuple[int, bool], int], row: int
) -> tuple[int, bool] | None:  # fmt: skip
    """The heap that a box goes on with: of those that end there, one in its vessel, else the heaviest."""
    ending = [move for move in part.moves if move.to == row and ends[move.source, move.off] == row]
    if not ending:
        return None

    def rank(move: Move) -> tuple[bool, float, int]:
        same = bool(part.boxes[row].vessel) and part.boxes[move.source].vessel == part.boxes[row].vessel
        grams = move.load.grams.best if move.load.grams is not None else 0.0
        return same, grams, -move.source

    best = max(ending, key=rank)
    return best.source, best.off


def _reordered(lanes: Lanes, order: Sequence[int]) -> Lanes:
    """The same with lane `order[i]` at place i."""
    place = {lane: at for at, lane in enumerate(order)}
    heaps = tuple(LaneHeap(one.source, one.off, one.moves, place[one.lane], one.end) for one in lanes.heaps)
    return Lanes(tuple(place[lane] for lane in lanes.of_box), heaps, lanes.count)


def _best_order(part: PartPicture, lanes: Lanes) -> tuple[int, ...]:
    orders = permutations(range(lanes.count)) if lanes.count <= _TRIED else iter([tuple(range(lanes.count))])
    return min(orders, key=lambda order: (round(_cost(part, _reordered(lanes, order)), 6), order))


def _cost(part: PartPicture, lanes: Lanes) -> float:
    """Crossings, and a little for every lane that an arrow has to go across."""
    cost = 0.0

    def across(row: int, start: int, end: int) -> float:
        between = range(min(start, end) + 1, max(start, end))
        passing = {one.lane for one in lanes.heaps if one.source < row < one.end}
        return sum(lane in passing for lane in between) + _FAR * abs(start - end)

    for heap in lanes.heaps:
        if heap.off:
            cost += across(heap.source, lanes.of_box[heap.source], heap.lane)
        for move in heap.moves:
            if move.to is not None and lanes.of_box[move.to] != heap.lane:
                cost += across(move.to, heap.lane, lanes.of_box[move.to])
    for inflow in {one.to for one in part.inflows if one.to is not None}:
        cost += across(inflow, -1, lanes.of_box[inflow])
    for outflow in part.outflows:
        if outflow.source is not None:
            cost += across(outflow.source, lanes.of_box[outflow.source], lanes.count)
    return cost
