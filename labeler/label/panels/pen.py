"""The pen that draws a panel: it knows the rule's sizes and where the next part goes.

Every size comes from the rule's data: points of type, points of leading, weights of bars and hairlines, and which
words are bold. Type never falls below the market's least x-height where its rules set one.
"""

from __future__ import annotations

from labeler.label.drawing import Mark, RuledLine
from labeler.label.fonts import face
from labeler.label.panels.content import PanelContent
from labeler.label.typesetting import break_lines, line_marks, text_marks, text_width
from labeler.label.words import line_name

__all__ = ["BOLD", "CAP", "INDENT", "INK", "PAD", "REGULAR", "PanelPen", "length"]

PAD = 4.0
"""White between the box and what stands in it [pt]."""

INDENT = 9.0
"""Of each level of lines [pt]."""

REGULAR, BOLD = "text", "text-bold"
INK = "#000000"
CAP = 0.714


def length(text: str, face_name: str, size: float) -> float:
    """Set width of a text [pt]."""
    return text_width(text, face_name) * size


class PanelPen:
    """Where the next part of a panel goes, and what has been drawn; lengths in points from the box's corner."""

    def __init__(self, panel: PanelContent, width: float) -> None:
        self.panel = panel
        self.left, self.right = PAD, width - PAD
        self.y = PAD * 0.75
        self.marks: list[Mark] = []
        self.data = panel.data
        self._least = least_points(panel)

    def points(self, part: str) -> float:
        """Type size of a part."""
        return max(float(self.data["points"].get(part, self.data["points"].get("nutrients", 8))), self._least)

    def leading(self, part: str) -> float:
        """White between the lines of a part."""
        leading = self.data.get("leading_points", {})
        return float(leading.get(part, leading.get("other", 1)))

    def weight(self, bar: str) -> float:
        """Weight of a bar or hairline."""
        return float(self.data.get("weights_points", {}).get(bar, 0.25))

    def bold(self, part: str) -> str:
        """Face of a part: bold where the rule has it so."""
        return BOLD if part in self.data.get("bold", ()) else REGULAR

    def word(self, key: str, default: str = "", **values: str) -> str:
        """A form's own words, in the panel's language where they are in `line_name`'s table."""
        return line_name(str(self.data["words"].get(key, default)), self.panel.language).format(**values)

    def rule(self, weight: float, left: float | None = None) -> None:
        """A horizontal rule below what stands there."""
        y = self.y + weight / 2
        self.marks.append(RuledLine(self.left if left is None else left, y, self.right, y, weight, INK, "nutrition"))
        self.y += weight

    def put(self, text: str, name: str, size: float, x: float, baseline: float, right: bool = False) -> float:
        """A text that starts, or ends, at `x`; returns where it ends."""
        length = text_width(text, name) * size
        start = x - length if right else x
        self.marks.extend(text_marks(text, name, x=start, y=baseline, size=size, colour=INK, block="nutrition"))
        return start + length

    def lines(self, stretches: tuple[tuple[str, str], ...], size: float, leading: float, left: float = 0.0) -> None:
        """A paragraph of one size."""
        room = self.right - self.left - left
        for line in break_lines(stretches, round(room / size, 4)):
            self.y += CAP * size + leading / 2 + 0.06 * size
            x = self.left + left
            self.marks.extend(line_marks(line, x=x, y=self.y, size=size, colour=INK, block="nutrition"))
            self.y += 0.25 * size + leading / 2


def least_points(panel: PanelContent) -> float:
    """Type size of the market's least x-height [pt], 0 where its rules set none."""
    from labeler.rules.market import load_market

    rule = load_market(panel.market).rules("panel").get("panel-legibility")
    return face(REGULAR).size_for(float(rule.data["figures"]["x-height"])) if rule else 0.0
