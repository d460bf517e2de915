"""Writing drawings as PDF: real text in embedded faces, the same bytes for the same drawing."""

from __future__ import annotations

import io
from typing import Any

from labeler.label.drawing import Drawing, Patch, Rule, Text
from labeler.label.fonts import face

__all__ = ["paint", "write_pdf"]


def paint(canvas: Any, drawing: Drawing) -> None:
    """Paint the marks of `drawing` on a reportlab canvas whose origin is the drawing's bottom left corner."""
    from reportlab.lib.colors import HexColor

    for mark in drawing.marks:
        colour = HexColor(mark.colour)
        if isinstance(mark, Text):
            set_face = face(mark.face)
            line = canvas.beginText()
            line.setFont(set_face.pdf_name, mark.size)
            line.setFillColor(colour)
            for place, piece in set_face.kerned(mark.text):
                line.setTextOrigin(mark.x + place * mark.size, drawing.height - mark.y)
                line.textOut(piece)
            canvas.drawText(line)
        elif isinstance(mark, Rule):
            canvas.setLineWidth(mark.weight)
            canvas.setStrokeColor(colour)
            canvas.line(mark.x0, drawing.height - mark.y0, mark.x1, drawing.height - mark.y1)
        elif isinstance(mark, Patch):
            canvas.setFillColor(colour)
            canvas.rect(mark.x, drawing.height - mark.y - mark.height, mark.width, mark.height, stroke=0, fill=1)


def write_pdf(drawing: Drawing) -> bytes:
    """One page of exactly the drawing's size."""
    from reportlab.pdfgen.canvas import Canvas

    buffer = io.BytesIO()
    canvas = Canvas(
        buffer, pagesize=(drawing.width, drawing.height), invariant=1, pageCompression=1, lang=drawing.language
    )
    canvas.setTitle(drawing.title)
    canvas.setCreator("labeler")
    canvas.setProducer("labeler")
    paint(canvas, drawing)
    canvas.showPage()
    canvas.save()
    return buffer.getvalue()
