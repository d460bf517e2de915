"""Writing drawings as PDF: real text in embedded faces, the same bytes for the same drawing."""

from __future__ import annotations

import io
from collections.abc import Iterable
from typing import Any

from labeler.label.drawing import Drawing, Mark, RuledLine, Shape, Text
from labeler.label.fonts import face

__all__ = ["attach", "new_canvas", "paint", "write_pdf"]

_TURNS = {0: (1, 0, 0, 1), 90: (0, 1, -1, 0), 180: (-1, 0, 0, -1)}


def paint(canvas: Any, marks: Iterable[Mark], height: float) -> None:
    """Paint marks on a reportlab canvas whose origin is the bottom left corner of a drawing of that height [pt]."""
    from reportlab.lib.colors import HexColor

    for mark in marks:
        colour = HexColor(mark.colour)
        if isinstance(mark, Text):
            set_face = face(mark.face)
            line = canvas.beginText()
            line.setFont(set_face.pdf_name, mark.size)
            line.setFillColor(colour)
            a, b, c, d = _TURNS[mark.turn]
            for place, piece in set_face.kerned(mark.text):
                along = place * mark.size
                line.setTextTransform(a, b, c, d, mark.x + a * along, height - mark.y + b * along)
                line.textOut(piece)
            canvas.drawText(line)
        elif isinstance(mark, RuledLine):
            canvas.setLineWidth(mark.weight)
            canvas.setStrokeColor(colour)
            if mark.dash:
                canvas.setDash(mark.dash, mark.dash)
            canvas.line(mark.x0, height - mark.y0, mark.x1, height - mark.y1)
            if mark.dash:
                canvas.setDash()
        elif isinstance(mark, Shape):
            canvas.setFillColor(colour)
            outline = canvas.beginPath()
            outline.moveTo(mark.points[0][0], height - mark.points[0][1])
            for x, y in mark.points[1:]:
                outline.lineTo(x, height - y)
            outline.close()
            canvas.drawPath(outline, stroke=0, fill=1)
        else:
            canvas.setFillColor(colour)
            canvas.rect(mark.x, height - mark.y - mark.height, mark.width, mark.height, stroke=0, fill=1)


def new_canvas(buffer: io.BytesIO, width: float, height: float, title: str, language: str) -> Any:
    """A reportlab canvas for pages of that size [pt] that writes the same bytes each time."""
    from reportlab.pdfgen.canvas import Canvas

    canvas = Canvas(buffer, pagesize=(width, height), invariant=1, pageCompression=1, lang=language)
    canvas.setTitle(title)
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.setCreator("labeler")
    canvas.setProducer("labeler")
    return canvas


def attach(canvas: Any, name: str, data: bytes, says: str) -> None:
    """Attach a JSON file to the document: ISO 32000-1, 7.11.4 (embedded files) and 7.7.4 (name dictionary)."""
    from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName, PDFStream, PDFString, PDFZCompress

    document = canvas._doc
    size = PDFDictionary({"Size": len(data)})
    fields = PDFDictionary({"Type": PDFName("EmbeddedFile"), "Subtype": PDFName("application/json"), "Params": size})
    stream = document.Reference(PDFStream(dictionary=fields, content=data, filters=[PDFZCompress]))
    files = PDFDictionary({"F": stream, "UF": stream})
    specification = PDFDictionary(
        {"Type": PDFName("Filespec"), "F": PDFString(name), "UF": PDFString(name), "Desc": PDFString(says), "EF": files}
    )
    listed = PDFArray([PDFString(name), document.Reference(specification)])
    document.Catalog.Names = PDFDictionary({"EmbeddedFiles": PDFDictionary({"Names": listed})})


def write_pdf(drawing: Drawing, *, worksheet: bytes | None = None) -> bytes:
    """One page of exactly the drawing's size, its bleed around it where it has one.

    Parameters
    ----------
    drawing : Drawing
        What to write.
    worksheet : bytes or None
        JSON to attach as ``worksheet.json``.
    """
    buffer = io.BytesIO()
    bleed = drawing.bleed
    width, height = drawing.width + 2 * bleed, drawing.height + 2 * bleed
    canvas = new_canvas(buffer, width, height, drawing.title, drawing.language)
    if drawing.description:
        canvas.setSubject(drawing.description)
    if bleed:
        canvas.setTrimBox((bleed, bleed, width - bleed, height - bleed))
        canvas.setBleedBox((0, 0, width, height))
        canvas.translate(bleed, bleed)
    paint(canvas, drawing.marks, drawing.height)
    if worksheet is not None:
        attach(canvas, "worksheet.json", worksheet, "Every figure of the label and where it comes from")
    canvas.showPage()
    canvas.save()
    return buffer.getvalue()
