"""The front-of-package symbol: a white box with a heading, a magnifying glass, a black bar for each nutrient, and whose
symbol it is.

Words and the height of the letters are the market's, from its rule of kind ``front symbol``. The drawing follows the
description that the law gives in words; the artwork itself is not held.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from labeler.label.boxes import Block
from labeler.label.drawing import MM, Mark, Patch, RuledLine, Shape, Text
from labeler.label.fonts import face
from labeler.label.typesetting import text_width

__all__ = ["FrontSymbol", "symbol_block"]

_BOLD, _REGULAR = "text-bold", "text"
_BLACK, _WHITE = "#000000", "#ffffff"
_CORNERS = 48


@dataclass(frozen=True, slots=True)
class FrontSymbol:
    """What the symbol says.

    Parameters
    ----------
    heading : str
        Such as "High in / Élevé en".
    bars : tuple of str
        A nutrient each, one to three.
    credit : str
        Whose symbol it is.
    x_height_mm : float
        Height of the lower-case letters of heading and bars [mm].
    """

    heading: str
    bars: tuple[str, ...]
    credit: str
    x_height_mm: float


def symbol_block(symbol: FrontSymbol) -> Block:
    """The symbol as a block of its own size, with a clear zone round it as wide as a letter is high."""
    size = face(_BOLD).size_for(symbol.x_height_mm)
    pad, gap = 0.45 * size, 0.14 * size
    clear = symbol.x_height_mm * MM
    bar = 1.3 * size
    glass = len(symbol.bars) * bar + (len(symbol.bars) - 1) * gap
    radius = max(glass / 2.0, 0.75 * bar)
    handle = 0.55 * radius
    heading = text_width(symbol.heading, _BOLD) * size
    words = max(text_width(text, _BOLD) for text in symbol.bars) * size
    left = pad + handle + 2.0 * radius
    inner = max(heading + 2.0 * pad, left + gap + 1.1 * size + words + pad)
    credit = min(0.8 * size, 0.9 * (inner - 2.0 * pad) / text_width(symbol.credit, _REGULAR))
    top = pad + 0.95 * size + 0.35 * size
    low = top + max(glass, 2.0 * radius) + handle * 0.4
    height = low + 0.25 * size + credit + 0.6 * pad
    middle = (pad + handle + radius, top + max(glass, 2.0 * radius) / 2.0)
    marks: list[Mark] = [Patch(clear, clear, inner, height, _WHITE, _NAME)]
    marks += [_edge(*line, clear) for line in _frame(inner, height)]
    marks.append(_text(symbol.heading, _BOLD, size, pad, pad + 0.78 * size, clear, _BLACK))
    marks += _glass(middle, radius, handle, clear)
    y = middle[1] - glass / 2.0
    for words_of_bar in symbol.bars:
        marks.append(_bar(middle, radius + gap, y, bar, inner - gap, clear))
        marks.append(_text(words_of_bar, _BOLD, size, left + gap + 0.5 * size, y + 0.92 * size, clear, _WHITE))
        y += bar + gap
    start = (inner - text_width(symbol.credit, _REGULAR) * credit) / 2.0
    marks.append(_text(symbol.credit, _REGULAR, credit, start, height - 0.75 * pad, clear, _BLACK))
    return Block(inner + 2.0 * clear, height + 2.0 * clear, tuple(marks))


_NAME = "front symbol"
_EDGE = 0.75
"""Weight of the line round the box [pt]; from memory."""


def _text(text: str, name: str, size: float, x: float, y: float, clear: float, colour: str) -> Text:
    return Text(clear + x, clear + y, name, size, text, colour, _NAME)


def _frame(width: float, height: float) -> tuple[tuple[float, float, float, float], ...]:
    return (
        (0.0, 0.0, width, 0.0),
        (0.0, height, width, height),
        (0.0, 0.0, 0.0, height),
        (width, 0.0, width, height),
    )


def _edge(x0: float, y0: float, x1: float, y1: float, clear: float) -> RuledLine:
    return RuledLine(clear + x0, clear + y0, clear + x1, clear + y1, _EDGE, _BLACK, _NAME)


def _circle(middle: tuple[float, float], radius: float, clear: float) -> tuple[tuple[float, float], ...]:
    angles = (2.0 * math.pi * n / _CORNERS for n in range(_CORNERS))
    return tuple(
        (clear + middle[0] + radius * math.cos(at), clear + middle[1] + radius * math.sin(at)) for at in angles
    )


def _glass(middle: tuple[float, float], radius: float, handle: float, clear: float) -> list[Mark]:
    """A ring with a handle to the lower left."""
    half, thick = math.sqrt(0.5), 0.17 * radius
    near, far = 0.95 * radius, radius + 1.1 * handle
    corners = [
        (middle[0] - half * reach + side * half * thick, middle[1] + half * reach + side * half * thick)
        for reach, side in ((near, -1.0), (far, -1.0), (far, 1.0), (near, 1.0))
    ]
    return [
        Shape(_circle(middle, radius, clear), _BLACK, _NAME),
        Shape(_circle(middle, 0.74 * radius, clear), _WHITE, _NAME),
        Shape(tuple((clear + x, clear + y) for x, y in corners), _BLACK, _NAME),
    ]


def _bar(middle: tuple[float, float], radius: float, y: float, height: float, right: float, clear: float) -> Shape:
    """A bar whose left end follows the glass."""
    edge = []
    for n in range(13):
        at = y + height * (12 - n) / 12.0
        off = at - middle[1]
        reach = math.sqrt(radius * radius - off * off) if abs(off) < radius else 0.0
        edge.append((clear + middle[0] + reach, clear + at))
    return Shape(((clear + right, clear + y), (clear + right, clear + y + height), *edge), _BLACK, _NAME)
