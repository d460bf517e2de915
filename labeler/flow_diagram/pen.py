"""Strokes of a flow diagram: ribbons, heads, boxes and words, painted so that words lie on top."""

from __future__ import annotations

from labeler.flow_diagram.model import Arrow, Kind
from labeler.label.drawing import Mark, Patch, RuledLine, Shape
from labeler.label.paper import ACCENT, FAINT, INK, SIZE, TEXT, words
from labeler.label.typesetting import text_marks, text_width

__all__ = ["COLOURS", "FLOW", "GRANTED", "PAPER", "SPENT", "WARNING", "DiagramPen"]

FLOW, GRANTED, SPENT, WARNING, PAPER = "#7fa9af", "#b7cdd1", "#a9b1b3", "#b23a1e", "#ffffff"
"""What goes on; the same where it is taken for granted; what leaves as a bath; food that leaves; the ground."""

COLOURS = {Kind.FOOD: WARNING, Kind.SPENT: SPENT, Kind.ONWARD: ACCENT}

_RIM = 1.6
"""What stays free on both sides of an arrow where it crosses another [pt]."""
_NEAR = 0.5


class DiagramPen:
    """Marks of a page of that width [pt]; `block` says which arrow or box they belong to.

    `arrows` says what each arrow carries, by its block.
    """

    def __init__(self, width: float) -> None:
        self.width = width
        self.arrows: dict[str, Arrow] = {}
        self._down: list[Patch] = []
        self._across: list[Patch] = []
        self._boxes: list[Mark] = []
        self._words: list[Mark] = []

    def marks(self) -> list[Mark]:
        """All marks, the lowest layer first; where arrows cross, the one below is cut by a rim of paper."""
        across: list[Mark] = []
        for ribbon in self._across:
            left, right = ribbon.x, ribbon.x + ribbon.width
            for under in self._down:
                crossed = under.x > left + _NEAR and under.x + under.width < right - _NEAR
                if crossed and under.y < ribbon.y and ribbon.y + ribbon.height < under.y + under.height:
                    wide, tall = under.width + 2 * _RIM, ribbon.height + 2 * _RIM
                    across.append(Patch(under.x - _RIM, ribbon.y - _RIM, wide, tall, PAPER, "rim"))
        return [*self._down, *across, *self._across, *self._boxes, *self._words]

    def text(
        self, x: float, y: float, text: str, size: float = SIZE, face: str = TEXT, colour: str = INK,
        *, align: str = "left", block: str = "words",
    ) -> float:  # fmt: skip
        """Set one line on the baseline `y`; `x` is its left end, right end or middle. Returns its width [pt]."""
        text = words(text)
        wide = text_width(text, face) * size
        start = x - wide if align == "right" else x - wide / 2 if align == "middle" else x
        self._words += text_marks(text, face, x=start, y=y, size=size, colour=colour, block=block)
        return wide

    def patch(self, x: float, y: float, width: float, height: float, colour: str, block: str) -> None:
        """A filled rectangle over the arrows; one without width or height leaves no mark."""
        if width > 0 and height > 0:
            self._boxes.append(Patch(x, y, width, height, colour, block))

    def frame(
        self, x: float, y: float, width: float, height: float, colour: str, block: str,
        *, weight: float = 0.8, dash: float = 0.0, ground: str = PAPER,
    ) -> None:  # fmt: skip
        """A box with its outline, dashed where `dash` is above 0 [pt]."""
        self.patch(x, y, width, height, ground, block)
        half = weight / 2
        for x0, y0, x1, y1 in (
            (x - half, y, x + width + half, y),
            (x - half, y + height, x + width + half, y + height),
            (x, y, x, y + height),
            (x + width, y, x + width, y + height),
        ):
            self._boxes.append(RuledLine(x0, y0, x1, y1, weight, colour, block, dash))

    def rule(self, x0: float, y0: float, x1: float, y1: float, weight: float = 0.5, colour: str = FAINT) -> None:
        """A straight line."""
        self._boxes.append(RuledLine(x0, y0, x1, y1, weight, colour, "rule"))

    def down(self, x: float, y0: float, y1: float, width: float, colour: str, block: str) -> None:
        """A ribbon down, its middle at `x`."""
        if y1 > y0:
            self._down.append(Patch(x - width / 2, y0, width, y1 - y0, colour, block))

    def across(self, x0: float, x1: float, y: float, width: float, colour: str, block: str) -> None:
        """A ribbon across, its middle at `y`."""
        if x0 != x1:
            self._across.append(Patch(min(x0, x1), y - width / 2, abs(x1 - x0), width, colour, block))

    def head_across(self, x: float, y: float, width: float, colour: str, block: str, *, leftward: bool = False) -> None:
        """The head of an arrow whose tip is at `x`, pointing right or left."""
        half, long = head(width)
        back = x + long if leftward else x - long
        self._words.append(Shape(((x, y), (back, y - half), (back, y + half)), colour, block))

    def head_down(self, x: float, y: float, width: float, colour: str, block: str) -> None:
        """The head of an arrow whose tip is at `y`, pointing down."""
        half, long = head(width)
        self._words.append(Shape(((x, y), (x - half, y - long), (x + half, y - long)), colour, block))


def head(width: float) -> tuple[float, float]:
    """Half the breadth and the length of an arrow's head [pt] by the arrow's width."""
    return width / 2 + 2.4, min(9.0, 4.5 + width / 4)
