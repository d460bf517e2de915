"""From content to a finished label: the one call that the command line and the library use."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import combinations
from typing import TYPE_CHECKING, Any

from labeler.label.blocks import Style
from labeler.label.content import LabelContent
from labeler.label.drawing import MM, Drawing, Mark, Text
from labeler.types import LabelerError

if TYPE_CHECKING:
    from labeler.label.layouts import Layout

__all__ = ["LEAST_X_HEIGHT_MM", "SIZES_MM", "DoesNotFit", "compose_label", "draw_label"]

SIZES_MM = {"jar": (100.0, 70.0), "a6": (105.0, 148.0)}
"""Named label sizes, width and height [mm]: a label round a jar and a card on the table (ISO 216 A6)."""

LEAST_X_HEIGHT_MM = 25.4 / 16
"""Least height of the lower-case letters, 1/16 inch: 21 CFR 101.2(c)."""

NetHeight = float | Callable[[float, float], float | None] | None
INK = "#000000"
DRAFT_GREY = "#d8d8d8"
_HAIR = 1.0002
"""Type is set this much larger than the least size, so that rounding in the PDF never falls below it."""


class DoesNotFit(LabelerError):
    """The content does not fit on the label at the smallest lawful type.

    Parameters
    ----------
    size_mm : tuple of float
        The size that was asked for.
    needed_mm : tuple of float
        A size that holds it, no narrower than that.
    proportional_mm : tuple of float or None
        A size that holds it and has the same proportions.
    fits_without : tuple of str
        What could be left out so that it fits on the size asked for; empty where nothing light enough would do.
    """

    def __init__(
        self,
        size_mm: tuple[float, float],
        needed_mm: tuple[float, float],
        proportional_mm: tuple[float, float] | None = None,
        fits_without: tuple[str, ...] = (),
    ) -> None:
        self.size_mm = size_mm
        self.needed_mm = needed_mm
        self.proportional_mm = proportional_mm
        self.fits_without = fits_without
        text = f"does not fit on {_mm(size_mm)} at the smallest lawful type; needs {_mm(needed_mm)}"
        if proportional_mm:
            text += f", or {_mm(proportional_mm)} in the same proportions"
        if fits_without:
            text += f"; it would fit without {' and '.join(fits_without)}"
        super().__init__(text)


def _mm(size: tuple[float, float]) -> str:
    return f"{size[0]:g} × {size[1]:g} mm"


def can_print(char: str) -> bool:
    """Whether the type family has the character.

    The Japanese face holds the words of Japan's panel and no more, so a cook's own words are not set in it by halves.
    """
    from labeler.label.fonts import face
    from labeler.label.typesetting import STAND_INS

    return any(face(name).has(char) for name in STAND_INS if name != "japanese")


@lru_cache(maxsize=64)
def net_height_mm(width_mm: float, height_mm: float) -> float:
    """Least height of the net quantity's letters on a panel of that size [mm], where no market's height was given.

    The rule of the us market is taken, which follows the area of the panel.
    """
    from labeler.rules.net_quantity import net_quantity

    found = net_quantity(market="us", grams=100.0, panel_area_cm2=width_mm * height_mm / 100).minimum_type_mm
    return found or LEAST_X_HEIGHT_MM


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


def _most_points(side_mm: float) -> float:
    """Largest running text by the shorter side: about 11 pt on a jar or A6, 14 on A5, 18 on A4 (common practice)."""
    return 9.5 + min(side_mm, 105.0) / 50 + max(side_mm - 105.0, 0.0) * 0.065


def _style(size: tuple[float, float], options: _Options) -> Style:
    """The style that a page of `size` [mm] starts from: least text, and the net quantity its area asks for."""
    from labeler.label.fonts import face

    least = face("text").size_for(options.x_height_mm) * _HAIR
    panel = options.layout.panel
    asked = options.net_height_mm
    net_mm = (asked(*size) if callable(asked) else asked) or net_height_mm(size[0] * panel, size[1])
    clear = options.clear_net
    return Style(least, net_mm=net_mm * _HAIR, clear_net=clear, ink=INK, accent=options.accent, line=options.accent)


@dataclass(frozen=True, slots=True)
class _Options:
    """What was asked for, checked."""

    layout: Layout
    accent: str
    x_height_mm: float
    net_height_mm: NetHeight
    clear_net: bool


def _holds(content: LabelContent, size: tuple[float, float], options: _Options) -> tuple[float, float]:
    """What the label needs on a page of `size` [mm], as tight as can be; at most that size where it holds it."""
    style = _style(size, options)
    width, height = size[0] * MM, size[1] * MM
    wide, high = options.layout.needed(content, width, height, style, style.base)
    return size[0] if wide <= width else wide / MM, high / MM


def _needed_mm(content: LabelContent, size: tuple[float, float], options: _Options) -> tuple[float, float]:
    """A page that holds the label, no narrower than `size` and hardly higher than it must be [mm].

    Margins and the net quantity grow with the page, so the page is grown until it holds what it then asks for.
    """
    while True:
        wide, high = _holds(content, size, options)
        if wide <= size[0] and high <= size[1]:
            return size
        size = (size[0] if wide <= size[0] else float(math.ceil(wide)), float(math.ceil(high)))


def _proportional_mm(content: LabelContent, size: tuple[float, float], options: _Options) -> tuple[float, float] | None:
    """A page that holds the label and has the proportions of `size` [mm]; None where it would be ten times as wide."""

    def grown(step: int) -> tuple[float, float]:
        return size[0] + step, float(math.ceil((size[0] + step) * size[1] / size[0]))

    def holds(step: int) -> bool:
        wide, high = _holds(content, grown(step), options)
        return wide <= grown(step)[0] and high <= grown(step)[1]

    low, high = 0, 1
    while not holds(high):
        low, high = high, 2 * high
        if high > 9 * size[0]:
            return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if holds(middle) else (middle, high)
    return grown(high)


def _fits_without(content: LabelContent, size: tuple[float, float], options: _Options) -> tuple[str, ...]:
    """The least of what no law asks for that would have to go."""
    lighter: dict[str, dict[str, Any]] = {
        "the story line": {"story": ""} if content.story else {},
        "the percentages": (
            {"nutrition": tuple(replace(row, percent="") for row in content.nutrition)}
            if any(row.percent for row in content.nutrition)
            else {}
        ),
        "the square code": {"address": ""} if content.address else {},
        "the date of the figures": {"as_of": ""} if content.as_of else {},
    }
    names = [name for name, change in lighter.items() if change]
    for count in range(1, len(names) + 1):
        for chosen in combinations(names, count):
            changes = {field: value for name in chosen for field, value in lighter[name].items()}
            wide, high = _holds(replace(content, **changes), size, options)
            if wide <= size[0] and high <= size[1]:
                return chosen
    return ()


def _refusal(content: LabelContent, size: tuple[float, float], options: _Options) -> DoesNotFit:
    """The refusal, with the ways out where the content is not many times too long."""
    needed = _needed_mm(content, size, options)
    if needed[0] * needed[1] > 6 * size[0] * size[1]:
        return DoesNotFit(size, needed)
    proportional = _proportional_mm(content, size, options)
    return DoesNotFit(size, needed, proportional, _fits_without(content, size, options))


def compose_label(
    content: LabelContent,
    *,
    layout: str = "card",
    size: tuple[float, float] = SIZES_MM["jar"],
    colour: str | None = None,
    bleed: float = 3.0,
    x_height_mm: float = LEAST_X_HEIGHT_MM,
    net_height_mm: NetHeight = None,
    clear_net: bool = False,
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
    net_height_mm : float, callable or None
        Least height of the net quantity's letters, as the market's rule has it
        (`NetQuantity.minimum_type_mm`) [mm], or a call that gives it for a width and a height [mm]; None takes the us
        rule, by the area of the panel.
    clear_net : bool
        Keep the white round the net quantity that 21 CFR 101.7(f) asks for.

    Raises
    ------
    DoesNotFit
        Not at the smallest lawful type.
    LabelerError
        An unknown layout, a size that is no size, or a colour that does not read on white.
    """
    from labeler.label.layouts import LAYOUTS
    from labeler.label.printable_text import plain_content

    if layout not in LAYOUTS:
        raise LabelerError(f"no label layout {layout!r}; there are {', '.join(LAYOUTS)}")
    if not all(15 <= side <= 2000 for side in size):
        raise LabelerError(f"a label measures 15 to 2000 mm each way, not {size[0]:g} × {size[1]:g} mm")
    content, problems = plain_content(content, can_print)
    accent = checked_colour(colour) if colour else INK
    options = _Options(LAYOUTS[layout], accent, x_height_mm, net_height_mm, clear_net)
    bleed_pt = bleed * MM if options.layout.bleeds and accent != INK else 0.0
    width, height = size[0] * MM, size[1] * MM
    style = _style(size, options)
    most = max(_most_points(min(size)), style.base)
    extra = {"bleed": bleed_pt} if options.layout.bleeds else {}
    wide, high = _holds(content, size, options)
    fitted = None
    if wide <= size[0] and high <= size[1]:
        fitted = options.layout.compose(content, width, height, style, least=style.base, most=most, **extra)
    if fitted is None:
        raise _refusal(content, size, options)
    return Drawing(
        width=width,
        height=height,
        safe=(fitted.margin, fitted.margin, width - fitted.margin, height - fitted.margin),
        marks=_with_draft(fitted.marks, content.draft, width, height),
        title=content.title,
        language=content.language.partition("+")[0],
        bleed=bleed_pt,
        problems=problems,
    )


def _with_draft(marks: tuple[Mark, ...], text: str, width: float, height: float) -> tuple[Mark, ...]:
    """The marks with that of a draft across them: on the ground, under the rest, in a grey to read over."""
    from labeler.label.typesetting import text_width

    if not text:
        return marks
    size = min(0.9 * width / text_width(text, "title"), 0.35 * height)
    x = (width - text_width(text, "title") * size) / 2
    across = tuple(Text(x, height * at, "title", size, text, DRAFT_GREY, "draft") for at in (0.35, 0.7))
    ground = tuple(mark for mark in marks if mark.block == "ground")
    return (*ground, *across, *(mark for mark in marks if mark.block != "ground"))


def draw_label(
    content: LabelContent,
    *,
    layout: str = "card",
    size: tuple[float, float] = SIZES_MM["jar"],
    colour: str | None = None,
    bleed: float = 3.0,
    x_height_mm: float = LEAST_X_HEIGHT_MM,
    net_height_mm: NetHeight = None,
    clear_net: bool = False,
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
        clear_net=clear_net,
    )
    return write_pdf(drawing, worksheet=worksheet)
