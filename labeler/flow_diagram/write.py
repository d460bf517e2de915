"""A flow diagram as a file: one tall SVG, or a PDF of as many pages as it needs."""

from __future__ import annotations

import io
from collections.abc import Sequence
from itertools import pairwise

from labeler.flow_diagram.draw import draw_flow
from labeler.flow_diagram.model import FlowPicture
from labeler.label.drawing import Mark, RuledLine, Shape, Text
from labeler.label.pdf import new_canvas, paint
from labeler.label.preview import preview_svg

__all__ = ["flow_pdf", "flow_svg"]

A4 = (595.276, 841.89)
"""ISO 216 A4 [pt]."""

_LEAST_SCALE = 0.72
"""Type of 8.5 pt is not set smaller than this times itself for the sake of fewer pages."""
_EDGE = 22.0
_STRIP = 16.0


def flow_svg(picture: FlowPicture) -> str:
    """The diagram as one SVG document that needs nothing from outside."""
    return preview_svg(draw_flow(picture)[0])


def flow_pdf(picture: FlowPicture) -> bytes:
    """The diagram as a PDF on A4: one page where it can be read on one, else cut between steps."""
    drawing, breaks = draw_flow(picture)
    upright = A4[0] / drawing.width >= _LEAST_SCALE
    page_width, page_height = A4 if upright else (A4[1], A4[0])
    room = page_height - 2 * _EDGE
    scale = min(1.0, page_width / drawing.width)
    if drawing.height * scale > room and room / drawing.height >= _LEAST_SCALE:
        scale = room / drawing.height
    cuts = _cuts(breaks, drawing.height, (room - _STRIP) / scale, room / scale)
    buffer = io.BytesIO()
    canvas = new_canvas(buffer, page_width, page_height, drawing.title, drawing.language)
    canvas.setSubject(drawing.description)
    for number, (top, bottom) in enumerate(pairwise(cuts), 1):
        canvas.saveState()
        canvas.translate((page_width - drawing.width * scale) / 2, page_height - _EDGE)
        canvas.scale(scale, scale)
        window = canvas.beginPath()
        window.rect(0, top - bottom, drawing.width, bottom - top)
        canvas.clipPath(window, stroke=0, fill=0)
        canvas.translate(0, top - drawing.height)
        paint(canvas, [mark for mark in drawing.marks if _seen(mark, top, bottom)], drawing.height)
        canvas.restoreState()
        if len(cuts) > 2:
            _number(canvas, drawing.title, number, len(cuts) - 1, page_width)
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _cuts(breaks: Sequence[float], height: float, room: float, whole: float) -> list[float]:
    """Where pages begin and end: between rows, as full as they go; a row taller than a page is cut through."""
    if height <= whole:
        return [0.0, height]
    cuts = [0.0]
    while height - cuts[-1] > room:
        fits = [one for one in breaks if cuts[-1] < one <= cuts[-1] + room]
        cuts.append(fits[-1] if fits else cuts[-1] + room)
    return [*cuts, height]


def _seen(mark: Mark, top: float, bottom: float) -> bool:
    """Whether a mark is on the page from `top` to `bottom`; words are on the page of their baseline alone."""
    if isinstance(mark, Text):
        return top <= mark.y < bottom
    if isinstance(mark, RuledLine):
        return max(mark.y0, mark.y1) >= top and min(mark.y0, mark.y1) <= bottom
    if isinstance(mark, Shape):
        return max(y for _, y in mark.points) >= top and min(y for _, y in mark.points) <= bottom
    return mark.y + mark.height >= top and mark.y <= bottom


def _number(canvas: object, title: str, number: int, pages: int, width: float) -> None:
    from labeler.flow_diagram.pen import DiagramPen
    from labeler.label.paper import SOFT, fitted

    pen = DiagramPen(width)
    pen.text(
        width / 2,
        14.0,
        fitted(f"{title}, page {number} of {pages}", width - 80.0, 7.5),
        7.5,
        colour=SOFT,
        align="middle",
    )
    paint(canvas, pen.marks(), 28.0)
