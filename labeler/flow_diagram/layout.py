"""Where everything of a flow diagram stands: rows from top to bottom, a row a box, and the slots where arrows meet it.

Lengths are in points from the top left corner. A row has its content (the box, the list of what comes in beside it, the
list of what leaves) and below it room for what goes on to be named.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from labeler.flow_diagram.connectors import Connector, with_connectors
from labeler.flow_diagram.lanes import Lanes
from labeler.flow_diagram.model import Box, FlowPicture, Inflow, Load, Move, Outflow, PartPicture, Remark
from labeler.flow_diagram.words import dry_in_words, grams_in_words
from labeler.label.paper import SIZE, fitted, words, wrapped
from labeler.types import Interval

__all__ = [
    "ITALIC",
    "PADDING",
    "SMALL",
    "Columns",
    "LayoutRow",
    "Leaving",
    "Listed",
    "PartLayout",
    "Placed",
    "Scale",
    "columns_of",
    "figures",
    "place_part",
    "together",
]

SMALL = 7.5
ITALIC = "text-italic"
_WIDEST, _THINNEST = 22.0, 0.9
_LINE, _SMALL_LINE = 1.25 * SIZE, 1.2 * SMALL
_BOX_LINES, _WHY_LINES, _LOST_LINES = 3, 2, 3
PADDING = 5.0
_GAP, _BARE_GAP = 29.0, 12.0
_ABOVE = 1.0
"""A page is cut so far above the next row, that its frame is not cut [pt]."""


@dataclass(frozen=True, slots=True)
class Scale:
    """Width of an arrow [pt] by its dry matter and salt: the most of the picture is as wide as any may be."""

    most: float

    def width(self, load: Load) -> float:
        """Width of an arrow [pt], never so thin that it is not seen."""
        share = load.dry / self.most if self.most > 0 else 0.0
        return max(_THINNEST, _WIDEST * min(1.0, share))


@dataclass(frozen=True, slots=True)
class Columns:
    """Places across the page [pt]: gutter, list of what comes in, its collector, lanes, list of what leaves."""

    gutter: float
    names: float
    figures: float
    collector: float
    lanes: float
    lane: float
    pitch: float
    count: int
    leaves: float
    right: float
    width: float

    def left_of(self, lane: int) -> float:
        """Left edge of a lane's boxes [pt]."""
        return self.lanes + lane * self.pitch

    def middle_of(self, lane: int) -> float:
        """Where a lane's heap runs down [pt]: left of the middle, so that its name fits beside it."""
        return self.left_of(lane) + 18.0

    @property
    def lanes_end(self) -> float:
        """Right edge of the last lane [pt]."""
        return self.left_of(self.count - 1) + self.lane


def columns_of(lanes: int, gutters: int) -> Columns:
    """The columns of a page with so many lanes and so many arrows from part to part."""
    margin, lane, gap = 18.0, 136.0, 10.0
    names = margin + 10.0 * gutters
    figures_end = names + 154.0
    collector = figures_end + 16.0
    start = collector + 16.0
    count = max(lanes, 2)
    end = start + count * (lane + gap) - gap
    leaves = end + 28.0
    right = leaves + 144.0
    return Columns(
        margin, names, figures_end, collector, start, lane, lane + gap, count, leaves, right, right + margin
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Slot:
    """Where an arrow meets a box's side: its middle [pt] below the top of the row, and its width."""

    y: float
    width: float


@dataclass(frozen=True, slots=True)
class Listed:
    """What comes in, in the list: its middle below the top of the row, and the width of its arrow [pt]."""

    inflow: Inflow
    y: float
    width: float


@dataclass(frozen=True, slots=True)
class Leaving:
    """What leaves: its slot, and the lines of its list."""

    outflow: Outflow
    slot: Slot
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LayoutRow:
    """One row: a box, a remark, a line that no box takes, or the part as made.

    `y` is its top; `content` the height of what stands in it; `gap` the room below. `top` and `height` are those of
    the box, from `y`.
    """

    y: float
    content: float
    gap: float
    box: int | None = None
    remark: tuple[str, ...] = ()
    top: float = 0.0
    height: float = 0.0
    lines: tuple[str, ...] = ()
    why: tuple[str, ...] = ()
    listed: tuple[Listed, ...] = ()
    trunk: Slot | None = None
    leaving: tuple[Leaving, ...] = ()
    arriving: tuple[tuple[Move, Slot], ...] = ()
    parting: Slot | None = None
    foot: bool = False

    @property
    def end(self) -> float:
        """Its lower edge [pt]."""
        return self.y + self.content + self.gap


@dataclass(frozen=True, slots=True)
class PartLayout:
    """A part with its lanes and rows, the last of which is the part as made, and the heaps that are cut.

    `part` has what is taken of heaps that are cut in its lists.
    """

    part: PartPicture
    lanes: Lanes
    rows: tuple[LayoutRow, ...]
    connectors: tuple[Connector, ...] = ()

    def row_of(self, box: int | None) -> LayoutRow:
        """The row of a box; that of the part as made for None."""
        return next(row for row in self.rows if (row.foot if box is None else row.box == box))


@dataclass
class Placed:
    """Everything placed so far: parts, where pages may break, and how far down it goes [pt]."""

    y: float
    parts: list[PartLayout] = field(default_factory=list)
    breaks: list[float] = field(default_factory=list)


def figures(load: Load) -> str:
    """Grams and dry matter of an arrow in words."""
    if load.grams is None:
        return "? g"
    told = grams_in_words(load.grams.best)
    return f"{told} · {dry_in_words(load.dry)}" if load.dry >= 0.05 else told


def together(loads: Sequence[Load]) -> Load:
    """What several arrows carry; nobody knows it where one is not known."""
    known = [load.grams for load in loads if load.grams is not None]
    grams = None
    if known and len(known) == len(loads):
        grams = Interval(*(sum(ends) for ends in zip(*((one.best, one.low, one.high) for one in known), strict=True)))
    values = tuple(
        (same[0][0], sum(amount for _, amount, _ in same), all(known for _, _, known in same))
        for same in zip(*(load.values for load in loads), strict=False)
    )
    return Load(grams, sum(load.dry for load in loads), values=values)


def _stacked(heights: Sequence[float], whole: float) -> list[float]:
    """Middles of things above each other, in the middle of `whole`."""
    y = (whole - sum(heights)) / 2
    middles = []
    for height in heights:
        middles.append(y + height / 2)
        y += height
    return middles


def place_part(
    picture: FlowPicture, at: int, scale: Scale, columns: Columns, placed: Placed
) -> PartLayout:  # fmt: skip
    """Place one part below what is placed already."""
    part, lanes, connectors = with_connectors(picture.parts[at])
    rows: list[LayoutRow] = []
    for box in range(len(part.boxes) + 1):
        for remark in part.remarks:
            if remark.before == box:
                rows.append(_remark_row(remark, columns, placed))
        if box < len(part.boxes):
            cut = any(one.source == box for one in connectors)
            made = [_box_row(part, lanes, box, scale, columns, cut=cut)]
        else:
            made = [_unused_row(one, scale, columns) for one in part.outflows if one.source is None]
            made.append(_foot_row(part, scale))
        for row in made:
            rows.append(replace(row, y=placed.y))
            placed.y = rows[-1].end
            placed.breaks.append(rows[-1].y + row.content + 0.5 if row.foot else placed.y - _ABOVE)
    found = PartLayout(part, lanes, tuple(rows), connectors)
    placed.parts.append(found)
    return found


def _remark_row(remark: Remark, columns: Columns, placed: Placed) -> LayoutRow:
    told = f"? {remark.text}" if remark.asks else f"not read: “{remark.text}”"
    lines = _cut(told, columns.figures - columns.names, SMALL, ITALIC, 3)
    row = LayoutRow(placed.y, _SMALL_LINE * len(lines), 6.0, remark=lines)
    placed.y = row.end
    placed.breaks.append(placed.y - _ABOVE)
    return row


def _cut(text: str, width: float, size: float, face: str, most: int) -> tuple[str, ...]:
    """A text in at most so many lines, the last one cut where there is more."""
    lines = wrapped(words(text), width, size, face)
    if len(lines) > most:
        lines = [*lines[: most - 1], f"{lines[most - 1]} {' '.join(lines[most:])}"]
        if fitted(lines[-1], width, size, face) == lines[-1]:
            lines[-1] += " …"
    return tuple(fitted(line, width, size, face) for line in lines)


def _listed(inflows: Sequence[Inflow], scale: Scale) -> tuple[list[float], list[float]]:
    widths = [scale.width(one.load) for one in inflows]
    return widths, [max(1.35 * SIZE, width + 3.0) for width in widths]


def _box_lines(box: Box, columns: Columns) -> tuple[tuple[str, ...], tuple[str, ...], float]:
    """Lines of a box, those that say what is taken for granted, and the height that all need [pt]."""
    wide = columns.lane - 2 * PADDING
    lines = _cut(f"{box.number}  {box.words}", wide, SIZE, "text", _BOX_LINES)
    why: tuple[str, ...] = ()
    if box.implied:
        why = _cut(f"taken to be: {box.why or 'as usual'}", wide, SMALL, ITALIC, _WHY_LINES)
    small = len(why) + bool(box.details) + bool(box.vessel)
    return lines, why, _LINE * len(lines) + _SMALL_LINE * small + 2 * PADDING


def _leaving(outflow: Outflow, scale: Scale, columns: Columns) -> tuple[tuple[str, ...], float]:
    wide = columns.right - columns.leaves
    told = [figures(outflow.load)]
    told += _cut(outflow.of, wide, SMALL, "text", _LOST_LINES) if outflow.of else ()
    if outflow.why:
        told += _cut(outflow.why, wide, SMALL, "text", 1)
    elif outflow.implied:
        told += _cut("taken to be so", wide, SMALL, ITALIC, 1)
    return tuple(told), max(_LINE + _SMALL_LINE * len(told) + 5.0, scale.width(outflow.load) + 6.0)


def _box_row(part: PartPicture, lanes: Lanes, box: int, scale: Scale, columns: Columns, *, cut: bool) -> LayoutRow:
    lane = lanes.of_box[box]
    lines, why, tall = _box_lines(part.boxes[box], columns)
    inflows = [one for one in part.inflows if one.to == box]
    widths, heights = _listed(inflows, scale)
    arriving = [
        (heap.lane, move) for heap in lanes.heaps for move in heap.moves if move.to == box and heap.lane != lane
    ]
    leaving = [(one, *_leaving(one, scale, columns)) for one in part.outflows if one.source == box]
    off = next((heap for heap in lanes.heaps if heap.source == box and heap.off and heap.lane != lane), None)
    off_width = 0.0 if off is None else max(_THINNEST, sum(scale.width(one.load) for one in off.moves))
    trunk = sum(widths)

    # From top to bottom: what arrives from other lanes, the nearest first; what comes
    # in or leaves; what is parted from the food and goes down in another lane.
    sides: tuple[list[float], list[float]] = ([], [])
    arriving.sort(key=lambda one: abs(one[0] - lane))
    for at, move in arriving:
        sides[at > lane].append(scale.width(move.load) + 5.0)
    if inflows:
        sides[0].append(trunk + 4.0)
    sides[1].extend(height for _, _, height in leaving)
    if off is not None:
        sides[off.lane > lane].append(off_width + 5.0)
    height = max(tall, *(sum(side) + 4.0 for side in sides))
    content = max(height, sum(heights))
    top = (content - height) / 2
    slots = tuple(iter([top + y for y in _stacked(side, height)]) for side in sides)
    met = tuple((move, Slot(next(slots[at > lane]), scale.width(move.load))) for at, move in arriving)
    trunk_slot = Slot(next(slots[0]), trunk) if inflows else None
    placed_leaving = tuple(Leaving(one, Slot(next(slots[1]), scale.width(one.load)), told) for one, told, _ in leaving)
    parting = None if off is None else Slot(next(slots[off.lane > lane]), off_width)
    middles = _stacked(heights, content)
    makes = cut or any(heap.source == box for heap in lanes.heaps)
    return LayoutRow(
        0.0,
        content,
        max(_BARE_GAP, _GAP - (content - top - height)) if makes else _BARE_GAP,
        box=box,
        top=top,
        height=height,
        lines=lines,
        why=why,
        listed=tuple(Listed(*one) for one in zip(inflows, middles, widths, strict=True)),
        trunk=trunk_slot,
        leaving=placed_leaving,
        arriving=met,
        parting=parting,
    )


def _unused_row(outflow: Outflow, scale: Scale, columns: Columns) -> LayoutRow:
    """A line that no box takes."""
    told, height = _leaving(outflow, scale, columns)
    slot = Slot(height / 2, scale.width(outflow.load))
    return LayoutRow(0.0, height, _BARE_GAP, height=height, leaving=(Leaving(outflow, slot, told),))


def _foot_row(part: PartPicture, scale: Scale) -> LayoutRow:
    """The part as made, with what comes straight into it."""
    inflows = [one for one in part.inflows if one.to is None]
    widths, heights = _listed(inflows, scale)
    trunk = sum(widths)
    height = max(20.0, trunk + 6.0)
    content = max(height, sum(heights))
    middles = _stacked(heights, content)
    return LayoutRow(
        0.0,
        content,
        8.0,
        top=(content - height) / 2,
        height=height,
        listed=tuple(Listed(*one) for one in zip(inflows, middles, widths, strict=True)),
        trunk=Slot(content / 2, trunk) if inflows else None,
        foot=True,
    )
