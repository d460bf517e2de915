"""From content to a finished label: the one call that the command line and the library use."""

from __future__ import annotations

import math
from functools import partial

from labeler.knowledge import LabelerError
from labeler.label.blocks import Style
from labeler.label.content import LabelContent
from labeler.label.drawing import MM, Drawing, moved

__all__ = ["LEAST_X_HEIGHT_MM", "SIZES_MM", "DoesNotFit", "compose_label", "draw_label"]

SIZES_MM = {"jar": (100.0, 70.0), "a6": (105.0, 148.0)}
"""Named label sizes, width and height [mm]: a label round a jar and a card on the table (ISO 216 A6)."""

LEAST_X_HEIGHT_MM = 25.4 / 16
"""Least height of the lower-case letters, 1/16 inch: 21 CFR 101.2(c)."""


class DoesNotFit(LabelerError):
    """The content does not fit on the label at the smallest lawful type; `needed_mm` would hold it."""

    def __init__(self, size_mm: tuple[float, float], needed_mm: tuple[float, float]) -> None:
        self.size_mm = size_mm
        self.needed_mm = needed_mm
        super().__init__(
            f"does not fit on {size_mm[0]:g} × {size_mm[1]:g} mm at the smallest lawful type;"
            f" needs {needed_mm[0]:g} × {needed_mm[1]:g} mm"
        )


def _can_print(char: str) -> bool:
    from labeler.label.fonts import face

    return all(face(name).has(char) for name in ("text", "title", "story"))


def net_size(width_mm: float, height_mm: float) -> float:
    """Type size [pt] of the net quantity by the area of the panel: 21 CFR 101.7(h), lower-case letters measured."""
    from labeler.label.fonts import face

    area = width_mm * height_mm / 25.4**2
    for limit, inch in ((5, 1 / 16), (25, 1 / 8), (100, 3 / 16), (400, 1 / 4)):
        if area <= limit:
            break
    else:
        inch = 1 / 2
    return face("text-bold").size_for(inch * 25.4)


def compose_label(
    content: LabelContent,
    *,
    layout: str = "card",
    size: tuple[float, float] = SIZES_MM["jar"],
    colour: str | None = None,
) -> Drawing:
    """Lay a label out.

    Parameters
    ----------
    content : LabelContent
        What it says.
    layout : str
        "card", the generic layout.
    size : tuple of float
        Width and height [mm].
    colour : str or None
        Colour of title and rules as "#rrggbb"; None for black only.

    Raises
    ------
    DoesNotFit
        Not at the smallest lawful type.
    LabelerError
        An unknown layout, or a size that is no size.
    """
    from labeler.label.card import fit, needed
    from labeler.label.fonts import face
    from labeler.label.plain import plain_content

    if layout != "card":
        raise LabelerError(f"no label layout {layout!r}; there is card")
    if not all(15 <= side <= 2000 for side in size):
        raise LabelerError(f"a label measures 15 to 2000 mm each way, not {size[0]:g} × {size[1]:g} mm")
    content, problems = plain_content(content, _can_print)
    width, height = size[0] * MM, size[1] * MM
    margin = min(max(0.055 * min(size), 2.5), 9.0) * MM
    least = face("text").size_for(LEAST_X_HEIGHT_MM) * 1.0001
    most = 9.5 + min(size) / 50
    ink = "#000000"
    style = Style(least, net=net_size(*size), ink=ink, accent=colour or ink, line=colour or ink)
    box = (width - 2 * margin, height - 2 * margin)
    placed = fit(content, *box, style, least=least, most=max(most, least))
    if placed is None:
        wide, high = needed(content, *box, style, least=least)
        to_mm = partial(lambda inner: math.ceil((inner + 2 * margin) / MM + 0.1))
        raise DoesNotFit(size, (float(max(to_mm(wide), size[0])), float(to_mm(high))))
    return Drawing(
        width=width,
        height=height,
        safe=(margin, margin, width - margin, height - margin),
        marks=tuple(moved(mark, margin, margin) for mark in placed.marks),
        title=content.title,
        language=content.language,
        problems=problems,
    )


def draw_label(
    content: LabelContent,
    *,
    layout: str = "card",
    size: tuple[float, float] = SIZES_MM["jar"],
    colour: str | None = None,
) -> bytes:
    """The label as PDF bytes, the same for the same input; parameters and errors as `compose_label`."""
    from labeler.label.pdf import write_pdf

    return write_pdf(compose_label(content, layout=layout, size=size, colour=colour))
