"""The test page of a printer: a line of 50 mm to hold a ruler to, and rulers from each edge for the offsets."""

from __future__ import annotations

import io

__all__ = ["gauge_page"]

MM = 72 / 25.4
A4 = (210.0, 297.0)
SHRUNK = 0.97
"""What “fit to page” commonly makes of a page. Common practice, no source."""


def gauge_page(paper: tuple[float, float] = A4) -> bytes:
    """A page as PDF bytes, the same for the same size.

    Parameters
    ----------
    paper : tuple of float
        Width and height [mm].
    """
    from reportlab.pdfgen.canvas import Canvas

    width, height = paper
    buffer = io.BytesIO()
    canvas = Canvas(buffer, pagesize=(width * MM, height * MM), invariant=True)
    canvas.setTitle("Test page of the printer")
    canvas.setLineWidth(0.4)
    canvas.setFont("Helvetica", 12)
    left, base = 40.0, height / 2

    def text(x: float, y: float, words: str) -> None:
        canvas.drawString(x * MM, y * MM, words)

    text(left, base + 42, "Print this page at 100 % (“actual size”), not “fit to page”.")
    text(left, base + 30, "The line is 50 mm long. Hold a ruler to it.")
    canvas.line(left * MM, base * MM, (left + 50) * MM, base * MM)
    for step in range(51):
        long = 5 if step % 10 == 0 else 3 if step % 5 == 0 else 1.8
        canvas.line((left + step) * MM, base * MM, (left + step) * MM, (base + long) * MM)
    for step in range(0, 51, 10):
        canvas.drawCentredString((left + step) * MM, (base + 7) * MM, str(step))
    text(left, base - 12, f"If it measures {50 * SHRUNK:.1f} mm, the printer has shrunk the page to fit.")
    text(left, base - 30, "The rulers at the edges start at the edge of the paper. What each lacks is what")
    text(left, base - 37, "the printer shifts or cannot print; add it to the margins of your sheets.")
    for step in range(26):
        long = 6 if step % 5 == 0 else 3
        canvas.line(step * MM, height / 3 * MM, step * MM, (height / 3 + long) * MM)
        canvas.line((width - step) * MM, height / 3 * MM, (width - step) * MM, (height / 3 + long) * MM)
        canvas.line(width / 2 * MM, (height - step) * MM, (width / 2 + long) * MM, (height - step) * MM)
        canvas.line(width / 2 * MM, step * MM, (width / 2 + long) * MM, step * MM)
    canvas.setFont("Helvetica", 8)
    for step in range(5, 26, 5):
        canvas.drawCentredString(step * MM, (height / 3 + 7) * MM, str(step))
        canvas.drawCentredString((width - step) * MM, (height / 3 + 7) * MM, str(step))
        canvas.drawString((width / 2 + 7) * MM, (height - step - 1) * MM, str(step))
        canvas.drawString((width / 2 + 7) * MM, (step - 1) * MM, str(step))
    canvas.showPage()
    canvas.save()
    return buffer.getvalue()
