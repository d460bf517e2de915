"""From content to a finished label: the one call that the command line and the library use."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from labeler.knowledge import LabelerError
from labeler.label.blocks import Style
from labeler.label.content import LabelContent
from labeler.label.drawing import MM, Drawing

if TYPE_CHECKING:
    from labeler.label.layouts import Layout

__all__ = ["LEAST_X_HEIGHT_MM", "SIZES_MM", "DoesNotFit", "compose_label", "draw_label"]

SIZES_MM = {"jar": (100.0, 70.0), "a6": (105.0, 148.0)}
"""Named label sizes, width and height [mm]: a label round a jar and a card on the table (ISO 216 A6)."""

LEAST_X_HEIGHT_MM = 25.4 / 16
"""Least height of the lower-case letters, 1/16 inch: 21 CFR 101.2(c)."""

INK = "#000000"
_HAIR = 1.0002
"""Type is set this much larger than the least size, so that rounding in the PDF never falls below it."""


class DoesNotFit(LabelerError):
    """The content does not fit on the label at the smallest lawful type; `needed_mm` would hold it."""

    def __init__(self, size_mm: tuple[float, float], needed_mm: tuple[float, float]) -> None:
        self.size_mm = size_mm
        self.needed_mm = needed_mm
        super().__init__(
            f"does not fit on {size_mm[0]:g} × {size_mm[1]:g} mm at the smallest lawful type;"
            f" needs {needed_mm[0]:g} × {needed_mm[1]:g} mm"
        )


def can_print(char: str) -> bool:
    """Whether the type family has the character."""
    from labeler.label.fonts import face
    from labeler.label.setting import STAND_INS

    return any(face(name).has(char) for name in STAND_INS)


def net_height_mm(width_mm: float, height_mm: float) -> float:
    """Least height of the net quantity's lower-case letters [mm] by the area of the panel: 21 CFR 101.7(h)."""
    area = width_mm * height_mm / 25.4**2
    for limit, inch in ((5, 1 / 16), (25, 1 / 8), (100, 3 / 16), (400, 1 / 4)):
        if area <= limit:
            return inch * 25.4
    return 25.4 / 2


def checked_colour(colour: str) -> str:
    """A colour that reads on white paper, in lower case.

    Raises
    ------
    LabelerError
        It is not "#rrggbb", or its contrast with white is below 4.5 (WCAG 2.2, success criterion 1.4.3).
    """
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", colour):
        raise LabelerError(f"a label colour is written #rrggbb, such as #1f4e46, not {colour!r}")
    ratio = contrast(colour, "#ffffff")
    if ratio < 4.5:
        raise LabelerError(
            f"the label colour {colour} has a contrast of {ratio:.1f} with white, not 4.5: take a darker one"
        )
    return colour.lower()


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21: WCAG 2.2, definitions of contrast ratio and relative luminance."""

    def luminance(colour: str) -> float:
        channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def _style(size: tuple[float, float], options: _Options) -> Style:
    """The style that a page of `size` [mm] starts from: least text, and the net quantity its area asks for."""
    from labeler.label.fonts import face

    least = face("text").size_for(options.x_height_mm) * _HAIR
    panel = options.layout.panel
    net_mm = options.net_height_mm or net_height_mm(size[0] * panel, size[1])
    return Style(least, net_mm=net_mm * _HAIR, ink=INK, accent=options.accent, line=options.accent)


@dataclass(frozen=True, slots=True)
class _Options:
    """What was asked for, checked."""

    layout: Layout
    accent: str
    x_height_mm: float
    net_height_mm: float | None


def _needed_mm(content: LabelContent, size: tuple[float, float], options: _Options) -> tuple[float, float]:
    """A page that holds the label, no narrower than `size` and hardly higher than it must be [mm].

    Margins and the net quantity grow with the page, so the page is grown until it holds what it then asks for.
    """
    while True:
        style = _style(size, options)
        wide, high = options.layout.needed(content, size[0] * MM, size[1] * MM, style, style.base)
        if wide <= size[0] * MM and high <= size[1] * MM:
            return size
        size = (size[0] if wide <= size[0] * MM else float(math.ceil(wide / MM)), float(math.ceil(high / MM)))


def compose_label(
    content: LabelContent,
    *,
    layout: str = "card",
    size: tuple[float, float] = SIZES_MM["jar"],
    colour: str | None = None,
    bleed: float = 3.0,
    x_height_mm: float = LEAST_X_HEIGHT_MM,
    net_height_mm: float | None = None,
) -> Drawing:
    """Lay a label out.

    Parameters
    ----------
    content : LabelContent
        What it says.
    layout : str
        A key of `labeler.label.layouts.LAYOUTS`: card, wrap, tent or strip.
    size : tuple of float
        Width and height, trimmed; of a tent, unfolded [mm].
    colour : str or None
        Colour of title and rules as "#rrggbb"; None for black only.
    bleed : float
        How far a ground colour runs over the trimmed edge, in layouts that have one [mm].
    x_height_mm : float
        Least height of lower-case letters [mm].
    net_height_mm : float or None
        Least height of the net quantity's letters, as the market's rule has it [mm]; None takes 21 CFR 101.7(h).

    Raises
    ------
    DoesNotFit
        Not at the smallest lawful type.
    LabelerError
        An unknown layout, a size that is no size, or a colour that does not read on white.
    """
    from labeler.label.layouts import LAYOUTS
    from labeler.label.plain import plain_content

    if layout not in LAYOUTS:
        raise LabelerError(f"no label layout {layout!r}; there are {', '.join(LAYOUTS)}")
    if not all(15 <= side <= 2000 for side in size):
        raise LabelerError(f"a label measures 15 to 2000 mm each way, not {size[0]:g} × {size[1]:g} mm")
    content, problems = plain_content(content, can_print)
    accent = checked_colour(colour) if colour else INK
    options = _Options(LAYOUTS[layout], accent, x_height_mm, net_height_mm)
    bleed_pt = bleed * MM if options.layout.bleeds and accent != INK else 0.0
    width, height = size[0] * MM, size[1] * MM
    style = _style(size, options)
    most = max(9.5 + min(size) / 50, style.base)
    extra = {"bleed": bleed_pt} if options.layout.bleeds else {}
    fitted = options.layout.compose(content, width, height, style, least=style.base, most=most, **extra)
    if fitted is None:
        raise DoesNotFit(size, _needed_mm(content, size, options))
    return Drawing(
        width=width,
        height=height,
        safe=(fitted.margin, fitted.margin, width - fitted.margin, height - fitted.margin),
        marks=fitted.marks,
        title=content.title,
        language=content.language,
        bleed=bleed_pt,
        problems=problems,
    )


def draw_label(
    content: LabelContent,
    *,
    layout: str = "card",
    size: tuple[float, float] = SIZES_MM["jar"],
    colour: str | None = None,
    bleed: float = 3.0,
    x_height_mm: float = LEAST_X_HEIGHT_MM,
    net_height_mm: float | None = None,
    worksheet: bytes | None = None,
) -> bytes:
    """The label as PDF bytes, the same for the same input; parameters and errors as `compose_label`.

    `worksheet`, JSON as bytes, is attached to the file as ``worksheet.json``.
    """
    from labeler.label.pdf import write_pdf

    drawing = compose_label(
        content,
        layout=layout,
        size=size,
        colour=colour,
        bleed=bleed,
        x_height_mm=x_height_mm,
        net_height_mm=net_height_mm,
    )
    return write_pdf(drawing, worksheet=worksheet)
