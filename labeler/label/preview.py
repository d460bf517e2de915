"""A look at a drawing on screen: SVG with the faces inside it, or PNG."""

from __future__ import annotations

import base64
import io
import re
from xml.sax.saxutils import escape, quoteattr

from labeler.label.drawing import Drawing, RuledLine, Shape, Text
from labeler.label.fonts import FONTS, face
from labeler.label.pdf import write_pdf
from labeler.types import LabelerError

__all__ = ["preview_png", "preview_svg"]


_NO_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""Characters that no XML document holds (XML 1.0, production 2): a title may have them, as it is printed nowhere."""


def _text(text: str) -> str:
    return escape(_NO_XML.sub("\ufffd", text))


def preview_svg(drawing: Drawing) -> str:
    """The drawing as one SVG document that needs nothing from outside: its faces are embedded, its text is text."""
    b = drawing.bleed
    names = sorted({mark.face for mark in drawing.marks if isinstance(mark, Text)})
    faces = "".join(
        f"@font-face{{font-family:'{face(name).pdf_name}';src:url(data:font/ttf;base64,"
        f"{base64.b64encode((FONTS / f'{name}.ttf').read_bytes()).decode()})}}"
        for name in names
    )
    box = f"{-b:.3f} {-b:.3f} {drawing.width + 2 * b:.3f} {drawing.height + 2 * b:.3f}"
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" width="{(drawing.width + 2 * b):.3f}pt"'
        f' height="{(drawing.height + 2 * b):.3f}pt" role="img" xml:lang={quoteattr(drawing.language)}>',
        f"<title>{_text(drawing.title)}</title>",
        *([f"<desc>{_text(drawing.description)}</desc>"] if drawing.description else []),
        f"<style>{faces}text{{white-space:pre}}</style>",
        f'<rect x="{-b:.3f}" y="{-b:.3f}" width="100%" height="100%" fill="#ffffff"/>',
    ]
    for mark in drawing.marks:
        if isinstance(mark, Text):
            turn = f' transform="rotate({-mark.turn} {mark.x:.3f} {mark.y:.3f})"' if mark.turn else ""
            xs = [mark.x + place * mark.size for place, _ in face(mark.face).kerned(mark.text)]
            spans = "".join(
                f'<tspan x="{x:.3f}">{escape(piece)}</tspan>'
                for x, (_, piece) in zip(xs, face(mark.face).kerned(mark.text), strict=True)
            )
            parts.append(
                f'<text y="{mark.y:.3f}" font-family="{face(mark.face).pdf_name}" font-size="{mark.size:.3f}"'
                f' fill="{mark.colour}"{turn}>{spans}</text>'
            )
        elif isinstance(mark, RuledLine):
            dashes = f' stroke-dasharray="{mark.dash:.3f}"' if mark.dash else ""
            parts.append(
                f'<line x1="{mark.x0:.3f}" y1="{mark.y0:.3f}" x2="{mark.x1:.3f}" y2="{mark.y1:.3f}"'
                f' stroke="{mark.colour}" stroke-width="{mark.weight:.3f}"{dashes}/>'
            )
        elif isinstance(mark, Shape):
            corners = " ".join(f"{x:.3f},{y:.3f}" for x, y in mark.points)
            parts.append(f'<polygon points="{corners}" fill="{mark.colour}"/>')
        else:
            parts.append(
                f'<rect x="{mark.x:.3f}" y="{mark.y:.3f}" width="{mark.width:.3f}" height="{mark.height:.3f}"'
                f' fill="{mark.colour}"/>'
            )
    parts.append("</svg>")
    return "\n".join(parts)


def preview_png(drawing: Drawing, *, dots_per_inch: float = 200.0) -> bytes:
    """The drawing's PDF as a picture.

    Raises
    ------
    LabelerError
        pypdfium2, which paints it, is not installed.
    """
    try:
        import pypdfium2  # type: ignore[import-untyped]
    except ImportError:
        raise LabelerError("a PNG preview needs pypdfium2: pip install pypdfium2; or take an SVG preview") from None
    page = pypdfium2.PdfDocument(write_pdf(drawing))[0]
    buffer = io.BytesIO()
    page.render(scale=dots_per_inch / 72).to_pil().save(buffer, format="PNG")
    return buffer.getvalue()
