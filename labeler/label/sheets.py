"""Labels on sheets and rolls: any grid in millimetres, used sheets, crop marks, and a lot number for each label.

A label is written into the file once and then placed as often as it is wanted (a form XObject: ISO 32000-1, 8.10),
so many labels cost little time and space. Where labels differ only in the digits of their lot, only the lot is
written anew: figures of the family are all equally wide.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

from labeler.label.compose import compose_label
from labeler.label.content import LabelContent
from labeler.label.drawing import MM, Drawing, Mark, Text
from labeler.label.pdf import attach, new_canvas, paint
from labeler.label.typesetting import text_width
from labeler.types import LabelerError

__all__ = ["PAPERS_MM", "Grid", "draw_sheets", "roll", "serial_lots"]

PAPERS_MM: Mapping[str, tuple[float, float]] = MappingProxyType(
    {"a4": (210.0, 297.0), "a5": (148.0, 210.0), "letter": (215.9, 279.4)}
)
"""Sheet sizes, width and height [mm]: ISO 216, and ANSI/ASME Y14.1 size A."""

CROP_MM, CROP_GAP_MM = 3.0, 1.5


@dataclass(frozen=True, slots=True)
class Grid:
    """Where labels stand on a sheet; lengths in millimetres.

    Parameters
    ----------
    rows, columns : int
        How many labels down and across.
    label : tuple of float
        Width and height of one label.
    paper : tuple of float
        Width and height of the sheet.
    left, top : float or None
        Margins; None sets the grid in the middle of the sheet.
    gap_x, gap_y : float
        Between labels.

    Raises
    ------
    LabelerError
        The grid is larger than the sheet, or a number makes no sense.
    """

    rows: int
    columns: int
    label: tuple[float, float]
    paper: tuple[float, float] = PAPERS_MM["a4"]
    left: float | None = None
    top: float | None = None
    gap_x: float = 0.0
    gap_y: float = 0.0

    def __post_init__(self) -> None:
        if not (1 <= self.rows <= 100 and 1 <= self.columns <= 100):
            raise LabelerError(f"a sheet has 1 to 100 rows and columns, not {self.rows} and {self.columns}")
        lengths = (*self.label, *self.paper, self.left or 0.0, self.top or 0.0, self.gap_x, self.gap_y)
        if not all(0 <= length <= 5000 for length in lengths) or not all(length > 0 for length in self.label):
            raise LabelerError("lengths on a sheet are between 0 and 5000 mm, and a label has a size")
        for over, name in ((self._over(0), "wide"), (self._over(1), "high")):
            if over > 0.01:
                raise LabelerError(
                    f"the labels are {over:.1f} mm too {name} for a sheet of {self.paper[0]:g} × {self.paper[1]:g} mm;"
                    " take fewer rows or columns, or smaller gaps and margins"
                )

    def _extent(self, axis: int) -> float:
        count, gap = ((self.columns, self.gap_x), (self.rows, self.gap_y))[axis]
        return count * self.label[axis] + (count - 1) * gap

    def _over(self, axis: int) -> float:
        return self._margin(axis) + self._extent(axis) - self.paper[axis]

    def _margin(self, axis: int) -> float:
        given = (self.left, self.top)[axis]
        return max((self.paper[axis] - self._extent(axis)) / 2, 0.0) if given is None else given

    @property
    def count(self) -> int:
        """Labels on a sheet."""
        return self.rows * self.columns

    def corner(self, place: int) -> tuple[float, float]:
        """Left and top of a label [mm]; places are counted from 0, along the rows."""
        row, column = divmod(place, self.columns)
        x = self._margin(0) + column * (self.label[0] + self.gap_x)
        return x, self._margin(1) + row * (self.label[1] + self.gap_y)


def roll(label: tuple[float, float]) -> Grid:
    """The grid of a roll: one label a page, which is as large as the label [mm]."""
    return Grid(1, 1, label, paper=label)


def serial_lots(first: str, count: int) -> tuple[str, ...]:
    """`count` lots counted up from `first` in its last group of digits, which keeps its length: "B-0502-001" ...

    Raises
    ------
    LabelerError
        There are no digits to count, or too few of them.
    """
    found = re.fullmatch(r"(.*?)(\d+)(\D*)", first, re.DOTALL)
    if not found:
        raise LabelerError(f"the lot {first!r} has no digits to count up; write it like B-0502-001")
    head, digits, tail = found.groups()
    if len(str(int(digits) + count - 1)) > len(digits):
        raise LabelerError(f"the lot {first!r} has too few digits for {count} labels; begin with more zeros")
    return tuple(f"{head}{int(digits) + step:0{len(digits)}d}{tail}" for step in range(count))


@dataclass(frozen=True, slots=True)
class _Printed:
    """A label with what all copies share, and the marks that hold the lot, if the copies differ only there."""

    drawing: Drawing
    shared: tuple[Mark, ...]
    own: tuple[Text, ...]
    lot: str

    def marks_of(self, lot: str) -> tuple[Mark, ...] | None:
        """The own marks with another lot; None where the lot is broken over lines, or another is not as wide."""
        if not self.own:
            return None
        marks = []
        for mark in self.own:
            text = mark.text.replace(self.lot, lot)
            if abs(text_width(text, mark.face) - text_width(mark.text, mark.face)) > 1e-6:
                return None
            marks.append(replace(mark, text=text))
        return tuple(marks)


def _printed(content: LabelContent, options: Mapping[str, Any], varied: bool) -> _Printed:
    drawing = compose_label(content, **options)
    lot = content.lot
    own = tuple(m for m in drawing.marks if varied and isinstance(m, Text) and m.block in _WITH_LOT and lot in m.text)
    return _Printed(drawing, tuple(m for m in drawing.marks if m not in own), own, lot)


_WITH_LOT = frozenset({"maker", "dates", "sign-maker", "sign-dates"})


def draw_sheets(
    content: LabelContent,
    grid: Grid,
    *,
    copies: int = 1,
    start: int = 1,
    lots: Sequence[str] = (),
    crop_marks: bool = False,
    gauge: bool = False,
    worksheet: bytes | None = None,
    **options: Any,
) -> bytes:
    """Labels on sheets as PDF bytes, the same for the same input.

    Parameters
    ----------
    content : LabelContent
        What each label says.
    grid : Grid
        Where labels stand; its label size is the size that is drawn.
    copies : int
        How many labels; with `lots`, one is printed for each lot instead.
    start : int
        First free place on the first sheet, from 1, along the rows: for sheets that were begun.
    lots : sequence of str
        The lot of each label in turn (`serial_lots` counts them up).
    crop_marks : bool
        Fine lines that show where to cut, outside the labels.
    gauge : bool
        A line of 50 mm beside the labels, where the sheet has room for it, by which a shrunk print is seen.
    worksheet : bytes or None
        JSON to attach.
    options
        Of `compose_label`: layout, colour, bleed, x_height_mm, net_height_mm.

    Raises
    ------
    DoesNotFit, LabelerError
        As `compose_label`, or a count or place that makes no sense.
    """
    count = len(lots) or copies
    if not 1 <= count <= 100_000:
        raise LabelerError(f"1 to 100000 labels can be printed at a time, not {count}")
    if not 1 <= start <= grid.count:
        raise LabelerError(f"the first free place is 1 to {grid.count} on this sheet, not {start}")
    options["size"] = grid.label
    paper = (grid.paper[0] * MM, grid.paper[1] * MM)
    first = replace(content, lot=lots[0]) if lots else content
    printed = _printed(first, options, bool(lots))
    buffer = io.BytesIO()
    canvas = new_canvas(buffer, *paper, content.title, content.language)
    forms = _Forms(canvas, grid)
    shared = forms.add(printed)
    for number, place in enumerate(_places(grid, start, count)):
        if place == 0 and number:
            canvas.showPage()
        if crop_marks and (place == 0 or number == 0):
            _crop(canvas, grid, paper[1])
        if gauge and (place == 0 or number == 0):
            _gauge(canvas, grid)
        name, own = shared, printed.marks_of(lots[number]) if lots else ()
        if own is None:
            name, own = forms.add(_printed(replace(content, lot=lots[number]), options, varied=False)), ()
        x, y = grid.corner(place)
        canvas.saveState()
        canvas.translate(x * MM, paper[1] - y * MM - printed.drawing.height)
        canvas.doForm(name)
        paint(canvas, own, printed.drawing.height)
        canvas.restoreState()
    if worksheet is not None:
        attach(canvas, "worksheet.json", worksheet, "Every figure of the label and where it comes from")
    canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _places(grid: Grid, start: int, count: int) -> Iterator[int]:
    """The places of `count` labels, 0 at the top of each sheet."""
    for number in range(count):
        yield (start - 1 + number) % grid.count


class _Forms:
    """Labels that the file holds once each."""

    def __init__(self, canvas: Any, grid: Grid) -> None:
        self._canvas = canvas
        self._count = 0
        # A ground may run over the edge of a label, but not over its neighbour.
        self._most = (grid.gap_x / 2 * MM if grid.columns > 1 else 1e4, grid.gap_y / 2 * MM if grid.rows > 1 else 1e4)

    def add(self, label: _Printed) -> str:
        """Write the shared marks of a label into the file; returns the name to show it by."""
        self._count += 1
        name, drawing = f"label{self._count}", label.drawing
        x, y = (min(drawing.bleed, most) for most in self._most)
        self._canvas.beginForm(name, -x, -y, drawing.width + x, drawing.height + y)
        paint(self._canvas, label.shared, drawing.height)
        self._canvas.endForm()
        return name


GAUGE_MM = 50.0
# Printers leave some 5 mm of the paper's edge empty (common practice, no source); the gauge needs 2 mm more.
_EDGE_MM, _GAUGE_ROOM_MM = 5.0, 7.0


def _gauge(canvas: Any, grid: Grid) -> None:
    """A line of 50 mm with its length, in the lower margin, else in the upper; none where neither has room."""
    from reportlab.lib.colors import black

    width, height = grid.paper
    top = grid.corner(0)[1]
    bottom = height - (grid.corner(grid.count - 1)[1] + grid.label[1])
    if max(top, bottom) < _GAUGE_ROOM_MM or width < GAUGE_MM + 50:
        return
    y = _EDGE_MM + 0.5 if bottom >= _GAUGE_ROOM_MM else height - _EDGE_MM - 1.5
    left = width / 2 - GAUGE_MM
    canvas.setLineWidth(0.25)
    canvas.setStrokeColor(black)
    canvas.line(left * MM, y * MM, (left + GAUGE_MM) * MM, y * MM)
    for x in (left, left + GAUGE_MM):
        canvas.line(x * MM, (y - 0.5) * MM, x * MM, (y + 1) * MM)
    canvas.setFillColor(black)
    canvas.setFont("Helvetica", 5)
    canvas.drawString((left + GAUGE_MM + 2) * MM, (y - 0.3) * MM, "50 mm when printed at 100 %")


def _crop(canvas: Any, grid: Grid, height: float) -> None:
    """Crop marks at the edges of every row and column, outside the labels [pt]."""
    from reportlab.lib.colors import black

    canvas.setLineWidth(0.25)
    canvas.setStrokeColor(black)
    corners = [grid.corner(place) for place in range(grid.count)]
    lefts, tops = sorted({x for x, _ in corners}), sorted({y for _, y in corners})
    xs = sorted({round(x + side, 6) for x in lefts for side in (0.0, grid.label[0])})
    ys = sorted({round(y + side, 6) for y in tops for side in (0.0, grid.label[1])})
    near, far = CROP_GAP_MM, CROP_GAP_MM + CROP_MM
    right, bottom = lefts[-1] + grid.label[0], tops[-1] + grid.label[1]
    for x in xs:
        for y0, y1 in ((tops[0] - far, tops[0] - near), (bottom + near, bottom + far)):
            canvas.line(x * MM, height - y0 * MM, x * MM, height - y1 * MM)
    for y in ys:
        for x0, x1 in ((lefts[0] - far, lefts[0] - near), (right + near, right + far)):
            canvas.line(x0 * MM, height - y * MM, x1 * MM, height - y * MM)
