"""A flow diagram as a drawing.

What goes on runs down in lanes, what comes in stands at the left, what leaves runs out at the right; the width of an
arrow is its dry matter and salt. Food that leaves has a colour of warning; baths, brines, water and bones are grey.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from labeler.flow_diagram.connectors import Connector, with_connectors
from labeler.flow_diagram.lanes import LaneHeap
from labeler.flow_diagram.layout import (
    ITALIC,
    PADDING,
    SMALL,
    Columns,
    LayoutRow,
    Leaving,
    Listed,
    PartLayout,
    Placed,
    Scale,
    columns_of,
    figures,
    place_part,
    together,
)
from labeler.flow_diagram.links import draw_links, links
from labeler.flow_diagram.model import Arrow, FlowPicture, Inflow, Kind, Load, Origin, Outflow, PartPicture
from labeler.flow_diagram.pen import COLOURS, FLOW, GRANTED, WARNING, DiagramPen, head
from labeler.flow_diagram.summary import draw_dish, draw_head, in_words
from labeler.flow_diagram.words import grams_in_words, percent
from labeler.label.drawing import Drawing
from labeler.label.paper import ACCENT, BOLD, INK, SIZE, SOFT, TEXT, fitted, words

__all__ = ["Drawn", "draw_flow", "draw_whole"]

_PART_HEAD = 24.0
_LINE, _SMALL_LINE = 1.25 * SIZE, 1.2 * SMALL
_DASH = 3.0
_TO_DISH = 16.0
_STUB = 6.0
_LEFT_OVER = 1.0  # g, from which what nothing takes of a part is told


@dataclass(frozen=True, slots=True)
class Drawn:
    """A flow diagram as drawn.

    Parameters
    ----------
    drawing : Drawing
    breaks : tuple of float
        Heights at which it may be cut into pages [pt].
    arrows : dict
        What each arrow carries, by the block of its marks.
    parts : tuple of (float, float)
        Where each part begins and ends [pt].
    """

    drawing: Drawing
    breaks: tuple[float, ...]
    arrows: dict[str, Arrow]
    parts: tuple[tuple[float, float], ...]


def draw_flow(picture: FlowPicture) -> tuple[Drawing, tuple[float, ...]]:
    """The drawing of a flow diagram, and the heights at which it may be cut into pages [pt]."""
    drawn = draw_whole(picture)
    return drawn.drawing, drawn.breaks


def draw_whole(picture: FlowPicture) -> Drawn:
    """The drawing of a flow diagram with what each of its arrows carries and where each part stands."""
    scale = Scale(max((most for part in picture.parts for most in _widest(with_connectors(part)[0])), default=0.0))
    lanes = max((with_connectors(part)[1].count for part in picture.parts), default=1)
    columns = columns_of(lanes, len(links(picture)))
    pen = DiagramPen(columns.width)
    placed = Placed(draw_head(pen, picture, columns))
    parts: list[tuple[float, float]] = []
    for at in range(len(picture.parts)):
        top = placed.y
        _Part(pen, picture, at, scale, columns, placed).draw()
        parts.append((top, placed.y))
    draw_links(pen, picture, scale, columns, placed)
    bottom = draw_dish(pen, picture, columns, placed.y)
    drawing = Drawing(
        columns.width,
        bottom + 16.0,
        (columns.gutter, 12.0, columns.right, bottom + 8.0),
        tuple(pen.marks()),
        words(f"{picture.title}: what happens to its ingredients"),
        description=words(in_words(picture)),
    )
    return Drawn(drawing, tuple(placed.breaks), pen.arrows, tuple(parts))


def _widest(part: PartPicture) -> Iterator[float]:
    """Dry matter of the arrows that are gathered from others, and of those that leave [g]."""
    heaps: dict[tuple[int, bool], float] = {}
    for move in part.moves:
        heaps[move.source, move.off] = heaps.get((move.source, move.off), 0.0) + move.load.dry
    boxes: dict[int | None, float] = {}
    for inflow in part.inflows:
        boxes[inflow.to] = boxes.get(inflow.to, 0.0) + inflow.load.dry
    yield from (*heaps.values(), *boxes.values(), part.made.dry, *(one.load.dry for one in part.outflows))


_LIST_TYPE = {Origin.PART: (BOLD, ACCENT), Origin.STEP: (BOLD, ACCENT), Origin.LINE: (TEXT, INK)}


class _Part:
    """The drawing of one part."""

    def __init__(
        self, pen: DiagramPen, picture: FlowPicture, at: int, scale: Scale, columns: Columns, placed: Placed
    ) -> None:  # fmt: skip
        self.pen, self.picture, self.at = pen, picture, at
        self.scale, self.columns, self.placed = scale, columns, placed
        self.part = picture.parts[at]
        self.laid: PartLayout

    def draw(self) -> None:
        """Place the part below what is there, and draw it."""
        several = len(self.picture.parts) > 1
        if several:
            self._title()
        # What is taken of a heap that is cut is listed.
        self.laid = place_part(self.picture, self.at, self.scale, self.columns, self.placed)
        for row in self.laid.rows:
            self._row(row)
        for connector in self.laid.connectors:
            self._connector(connector)
        for heap in self.laid.lanes.heaps:
            self._heap(heap)
        if self.part.served and self.at == len(self.picture.parts) - 1:
            self._into_dish()
        else:
            self.placed.y += 10.0

    def _tell(self, block: str, told: str, load: Load, box: int | None = None, out: Outflow | None = None) -> None:
        self.pen.arrows[block] = Arrow(words(told), load, self.at, box, out)

    def _step(self, box: int | None) -> str:
        if box is not None:
            return f"step {self.part.boxes[box].number}"
        return self.part.title or "the dish"

    def _title(self) -> None:
        columns, y = self.columns, self.placed.y + 14.0
        often = f"  (made {self.part.times:g} times; figures of one)" if self.part.times != 1.0 else ""
        title = fitted(words(f"{self.part.title}{often}"), columns.right - columns.names, 12.0, BOLD)
        self.pen.text(columns.names, y, title, 12.0, BOLD, ACCENT, block="part")
        self.placed.y += _PART_HEAD

    def _row(self, row: LayoutRow) -> None:
        columns = self.columns
        for at, line in enumerate(row.remark):
            y = row.y + SMALL + at * _SMALL_LINE
            self.pen.text(columns.names, y, line, SMALL, ITALIC, SOFT, block="unread")
        if row.foot:
            self._foot(row)
        elif row.box is not None:
            self._box(row, row.box)
        for leaving in row.leaving:
            self._leaving(row, leaving)
        if row.listed:
            self._comes_in(row)

    def _box(self, row: LayoutRow, at: int) -> None:
        box, lane = self.part.boxes[at], self.laid.lanes.of_box[at]
        left, top, block = self.columns.left_of(lane), row.y + row.top, f"box {self.at}.{at}"
        dash = _DASH if box.implied else 0.0
        self.pen.frame(left, top, self.columns.lane, row.height, SOFT if box.implied else ACCENT, block, dash=dash)
        small = len(row.why) + bool(box.details) + bool(box.vessel)
        used = _LINE * len(row.lines) + _SMALL_LINE * small
        y = top + (row.height - used) / 2
        wide = self.columns.lane - 2 * PADDING
        x = left + PADDING
        if box.vessel:
            y += _SMALL_LINE
            self.pen.text(x, y - 2.0, fitted(words(box.vessel), wide, SMALL, BOLD), SMALL, BOLD, ACCENT, block=block)
        for line in row.lines:
            y += _LINE
            self.pen.text(x, y - 2.5, line, SIZE, ITALIC if box.implied else TEXT, block=block)
        if box.details:
            y += _SMALL_LINE
            told = fitted(words(" · ".join(box.details)), wide, SMALL)
            self.pen.text(x, y - 2.0, told, SMALL, colour=SOFT, block=block)
        for line in row.why:
            y += _SMALL_LINE
            self.pen.text(x, y - 2.0, line, SMALL, ITALIC, SOFT, block=block)

    def _foot(self, row: LayoutRow) -> None:
        columns, top = self.columns, row.y + row.top
        left, block = columns.lanes, f"made {self.at}"
        self.pen.frame(left, top, columns.lanes_end - left, row.height, ACCENT, block, ground="#eef3f3")
        name = self.part.title if len(self.picture.parts) > 1 else "as served"
        told = f"{name}: {figures(self.part.made)}" if self.part.made.grams is not None else name
        if self.part.left_over >= _LEFT_OVER:
            told += f", {grams_in_words(self.part.left_over)} of it left over"
        self._tell(block, f"{self.part.title or 'the dish'} as made", self.part.made)
        told = fitted(words(told), columns.lanes_end - left - 12.0, SIZE, BOLD)
        self.pen.text(left + 6.0, top + row.height / 2 + 3.0, told, SIZE, BOLD, ACCENT, block=block)

    def _comes_in(self, row: LayoutRow) -> None:
        """The list of what comes in, each with its arrow, gathered into one that runs to the box."""
        columns = self.columns
        assert row.trunk is not None
        place = "made" if row.foot else row.box
        block = f"in {self.at}.{place}"
        for at, listed in enumerate(row.listed):
            self._listed(row, listed, f"{block}.{at}")
            told = f"{told_in_list(listed.inflow)} → {self._step(row.box)}"
            self._tell(f"{block}.{at}", told, listed.inflow.load, row.box)
        gathered = together([one.inflow.load for one in row.listed])
        self._tell(block, f"all that comes in → {self._step(row.box)}", gathered, row.box)
        y = row.y + row.trunk.y
        edges = [(row.y + one.y - one.width / 2, row.y + one.y + one.width / 2) for one in row.listed]
        top = min(y - row.trunk.width / 2, *(one for one, _ in edges))
        bottom = max(y + row.trunk.width / 2, *(one for _, one in edges))
        self.pen.down(columns.collector, top, bottom, 2.0, FLOW, block)
        end = columns.lanes if row.foot or row.box is None else columns.left_of(self.laid.lanes.of_box[row.box])
        colour = GRANTED if all(one.inflow.implied for one in row.listed) else FLOW
        self._arrow_across(columns.collector - 1.0, end, y, row.trunk.width, colour, block)

    def _listed(self, row: LayoutRow, listed: Listed, block: str) -> None:
        columns, inflow, y = self.columns, listed.inflow, row.y + listed.y
        grams = "? g" if inflow.load.grams is None else grams_in_words(inflow.load.grams.best)
        wide = self.pen.text(columns.figures - 3.0, y + 3.0, grams, SIZE, align="right", block=block)
        room = columns.figures - 3.0 - wide - 6.0 - columns.names
        face, colour = _LIST_TYPE.get(inflow.origin, (ITALIC, SOFT))
        name = fitted(words(told_in_list(inflow)), room, SIZE, face)
        self.pen.text(columns.names, y + 3.0, name, SIZE, face, colour, block=block)
        ribbon = GRANTED if inflow.implied else FLOW
        self.pen.across(columns.figures, columns.collector, y, listed.width, ribbon, block)

    def _leaving(self, row: LayoutRow, leaving: Leaving) -> None:
        columns, out = self.columns, leaving.outflow
        at = next(place for place, one in enumerate(self.part.outflows) if one is out)
        block, colour, y = f"out {self.at}.{at}", COLOURS[out.kind], row.y + leaving.slot.y
        start = columns.names
        self._tell(block, f"{self._step(row.box)} → {told_leaving(out, self.picture)}", out.load, row.box, out)
        if row.box is not None:
            start = columns.left_of(self.laid.lanes.of_box[row.box]) + columns.lane
        else:
            wide = columns.figures - columns.names
            self.pen.text(columns.names, y + 3.0, fitted(words(out.name), wide, SIZE), SIZE, block=block)
            start = columns.figures
        self._arrow_across(start, columns.leaves - 4.0, y, leaving.slot.width, colour, block)
        lines = 1 + len(leaving.told)
        base = y - (_LINE + _SMALL_LINE * (lines - 1)) / 2 + SIZE
        wide = columns.right - columns.leaves
        ink = {Kind.FOOD: WARNING, Kind.SPENT: SOFT, Kind.ONWARD: ACCENT}[out.kind]
        name = fitted(words(told_leaving(out, self.picture)), wide, SIZE, BOLD)
        self.pen.text(columns.leaves, base, name, SIZE, BOLD, ink, block=block)
        for line in leaving.told:
            base += _SMALL_LINE
            self.pen.text(columns.leaves, base, line, SMALL, colour=ink, block=block)

    def _heap(self, heap: LaneHeap) -> None:
        """A heap from its box down its lane to whoever takes of it."""
        columns, lanes = self.columns, self.laid.lanes
        x = columns.middle_of(heap.lane)
        start = self.laid.row_of(heap.source)
        block = f"heap {self.at}.{heap.source}.{'off' if heap.off else 'kept'}"
        widths = [self.scale.width(move.load) for move in heap.moves]
        left = sum(widths)
        colour = GRANTED if all(move.implied for move in heap.moves) else FLOW
        y = start.y + start.top + start.height
        own = lanes.of_box[heap.source]
        if heap.lane != own:
            assert start.parting is not None
            y = start.y + start.parting.y
            side = columns.left_of(own) + (columns.lane if heap.lane > own else 0.0)
            end = x + left / 2 if heap.lane > own else x - left / 2
            self.pen.across(side, end, y, left, colour, block)
            y -= left / 2
        self._heap_name(heap, start, x + left / 2 + 4.0, block)
        self._tell(block, f"what {self._step(heap.source)} makes", together([m.load for m in heap.moves]), heap.source)
        for at, (move, width) in enumerate(zip(heap.moves, widths, strict=True)):
            row = self.laid.row_of(move.to)
            one = f"move {self.at}.{heap.source}.{'off' if heap.off else 'kept'}.{at}"
            self._tell(one, f"{self._step(heap.source)} → {self._step(move.to)}", move.load, heap.source)
            last = at == len(heap.moves) - 1
            if move.to is None or lanes.of_box[move.to] == heap.lane:
                tip = row.y + row.top
                long = head(width)[1]
                self.pen.down(x, y, tip - long + 0.5, left, colour, one)
                self.pen.head_down(x, tip, width, colour, one)
                y = tip
                continue
            slot = next(slot for taken, slot in row.arriving if taken is move)
            meets = row.y + slot.y
            self.pen.down(x, y, meets + width / 2, left, colour, one)
            lane = lanes.of_box[move.to]
            side = columns.left_of(lane) + (0.0 if lane > heap.lane else columns.lane)
            corner = x - left / 2 if lane > heap.lane else x + left / 2
            self._arrow_across(corner, side, meets, width, colour, one)
            if len(heap.moves) > 1:
                told = figures(move.load)
                self.pen.text(x + left / 2 + 3.0, meets - width / 2 - 2.5, told, SMALL, colour=SOFT, block=one)
            y = meets + (width / 2 if last else -width / 2)
            left -= width

    def _connector(self, cut: Connector) -> None:
        """Where a heap goes that is not drawn all the way."""
        row, lane = self.laid.row_of(cut.source), self.laid.lanes.of_box[cut.source]
        left, wide = self.columns.left_of(lane) + PADDING, self.columns.lane - 2 * PADDING
        top = row.y + row.top + row.height + _STUB
        kind = "off" if cut.off else "kept"
        names = ["the dish" if one.to is None else f"step {self.part.boxes[one.to].number}" for one in cut.moves]
        told = f"to {', '.join(names)}: {figures(together([one.load for one in cut.moves]))}"
        block = f"move {self.at}.{cut.source}.{kind}"
        for at, move in enumerate(cut.moves):
            one = f"{block}.{at}"
            self._tell(one, f"{self._step(cut.source)} → {self._step(move.to)}", move.load, cut.source)
            width = min(self.scale.width(move.load), wide / len(cut.moves) - 4.0)
            x = self.columns.middle_of(lane) + at * (width + 4.0)
            self.pen.down(x, top - _STUB, top, width, GRANTED if move.implied else FLOW, one)
        self.pen.frame(left, top, wide, 1.6 * SMALL, FLOW, f"connector {self.at}.{cut.source}", dash=1.5)
        stated = fitted(words(told), wide - 6.0, SMALL, BOLD)
        self.pen.text(left + 3.0, top + 1.15 * SMALL, stated, SMALL, BOLD, ACCENT, block=block)

    def _heap_name(self, heap: LaneHeap, row: LayoutRow, x: float, block: str) -> None:
        """What a heap is and weighs, beside it below its box."""
        room = self.columns.left_of(heap.lane) + self.columns.lane - x
        first = heap.moves[0]
        told = figures(together([move.load for move in heap.moves]))
        y = row.y + row.top + row.height + 9.0
        if first.name:
            told = f"{first.name}: {told}"
        self.pen.text(x, y, fitted(words(told), room, SMALL, BOLD), SMALL, BOLD, block=block)
        names = fitted(words(", ".join(first.load.names)), room, SMALL)
        self.pen.text(x, y + _SMALL_LINE, names, SMALL, colour=SOFT, block=block)

    def _into_dish(self) -> None:
        """The arrow from the last part, which is served, into the dish below it."""
        x, width = self.columns.middle_of(0), self.scale.width(self.part.made)
        self._tell(f"dish {self.at}", f"{self.part.title or 'what is made'} → the dish", self.part.made)
        top, self.placed.y = self.placed.y - 8.0, self.placed.y + _TO_DISH
        long = head(width)[1]
        self.pen.down(x, top, self.placed.y - long + 0.5, width, FLOW, f"dish {self.at}")
        self.pen.head_down(x, self.placed.y, width, FLOW, f"dish {self.at}")

    def _arrow_across(self, start: float, end: float, y: float, width: float, colour: str, block: str) -> None:
        long = head(width)[1]
        leftward = end < start
        self.pen.across(start, end + long - 0.5 if leftward else end - long + 0.5, y, width, colour, block)
        self.pen.head_across(end, y, width, colour, block, leftward=leftward)


def told_in_list(inflow: Inflow) -> str:
    """An ingredient as the list at the left says it."""
    name = inflow.name
    if inflow.origin is Origin.UNLISTED:
        name = f"{name} (in no line)"
    elif inflow.origin is Origin.TAKEN_FOR_GRANTED:
        name = f"{name} (taken to be)"
    return name if inflow.share is None or inflow.share > 0.995 else f"{percent(inflow.share)} of {name}"


def told_leaving(out: Outflow, picture: FlowPicture) -> str:
    """What leaves as the list at the right says it."""
    if out.part is not None:
        return f"{out.name} → {picture.parts[out.part].title}"
    return f"{out.name} (no step takes it)" if out.source is None else out.name
