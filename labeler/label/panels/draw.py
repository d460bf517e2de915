"""Official panels as blocks of a label, and alone on a page."""

from __future__ import annotations

from functools import lru_cache

from labeler.label.boxes import Block
from labeler.label.drawing import MM, Drawing, RuledLine
from labeler.label.panels.content import PanelContent
from labeler.label.panels.forms import FORMS
from labeler.label.panels.pen import INK, PAD, PanelPen

__all__ = ["compose_panel", "draw_panel", "panel_block", "panel_width"]


@lru_cache(maxsize=64)
def panel_width(panel: PanelContent) -> float:
    """Least width of a panel [pt]."""
    return FORMS[panel.data["format"]].width(panel)


@lru_cache(maxsize=64)
def panel_block(panel: PanelContent, width: float) -> Block:
    """A panel in its box, as a block of that width [pt]."""
    pen = PanelPen(panel, width)
    FORMS[panel.data["format"]].draw(pen)
    height = pen.y + PAD
    weight = pen.weight("box")
    half = weight / 2
    box = [
        RuledLine(x0, y0, x1, y1, weight, INK, "nutrition")
        for x0, y0, x1, y1 in (
            (0, half, width, half),
            (0, height - half, width, height - half),
            (half, 0, half, height),
            (width - half, 0, width - half, height),
        )
    ]
    return Block(width, height, (*box, *pen.marks))


def compose_panel(panel: PanelContent, *, width_mm: float | None = None) -> Drawing:
    """The panel alone on a page of its size.

    Parameters
    ----------
    panel : PanelContent
        What it says.
    width_mm : float or None
        Its width [mm], at least the form's own; None takes that.
    """
    width = max(panel_width(panel), (width_mm or 0.0) * MM)
    block = panel_block(panel, width)
    safe = (0.0, 0.0, width, block.height)
    return Drawing(width, block.height, safe, tuple(block.at(0, 0)), title=panel.data["heading"])


def draw_panel(panel: PanelContent, *, width_mm: float | None = None) -> bytes:
    """The panel alone as PDF bytes."""
    from labeler.label.pdf import write_pdf

    return write_pdf(compose_panel(panel, width_mm=width_mm))
