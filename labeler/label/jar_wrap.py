"""The jar wrap: three panels side by side, the front in the middle, what goes in on its left, figures on its right.

In colour the front is printed light on a dark ground that runs over the trimmed edges; in black it stands between
hairlines on white.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from labeler.label import blocks
from labeler.label.blocks import Block, Style
from labeler.label.content import LabelContent
from labeler.label.drawing import Patch, RuledLine
from labeler.label.fitting import Fitted, Placed, Plan, fit
from labeler.label.foot import colophon, net
from labeler.label.qr_code import code_block
from labeler.label.table import nutrition, table_width

__all__ = ["WRAP", "compose_wrap"]

PAPER = "#ffffff"


@dataclass(frozen=True, slots=True)
class Panels:
    """Share of the width that the front takes, and the table's width in natural widths."""

    front: float
    table: float


def ways(content: LabelContent, width: float, height: float) -> Iterator[Panels]:
    """The divisions worth trying."""
    for front in (0.36, 0.32, 0.28, 0.4):
        for table in (1.0, 1.2):
            yield Panels(front, table)


def _front(content: LabelContent, width: float, height: float, style: Style) -> tuple[Block, float]:
    """The front panel, set to the middle, and the height it needs."""
    reversed_style = replace(style, ink=PAPER, accent=PAPER, line=PAPER) if style.accent != style.ink else style
    head = blocks.heading(content, width, reversed_style, centred=True)
    amount = net(content, width, reversed_style, centred=True)
    gap = style.between(0.8, 1.6)
    needed = head.height + (gap + amount.height if amount.height else 0.0)
    room = max(height, needed)
    top = max((room - amount.height - gap - head.height) * 0.42, 0.0)
    return Block(width, needed, parts=((0.0, top, head), (0.0, room - amount.height, amount))), needed


def place(content: LabelContent, width: float, height: float, style: Style, way: Panels) -> Placed:
    """Three panels; without a nutrition table, two."""
    gap, gutter = style.between(0.5, 1.3), style.between(2.2, 3.2)
    right_width = max(table_width(content, style) * way.table, code_block(content.address).width)
    front_width = width * way.front
    left_width = width - front_width - right_width - (2 if right_width else 1) * gutter
    if left_width < 9 * style.base or front_width < 8 * style.base:
        return Placed(blocks.EMPTY, math.inf)
    left = blocks.stack(
        [
            blocks.ingredients(content, left_width, style),
            blocks.allergens(content, left_width, style),
            blocks.cautions(content, left_width, style),
        ],
        gap,
        left_width,
    )
    maker = colophon(content, left_width, style, run_in=False)
    table = nutrition(content, right_width, style)
    code = code_block(content.address)
    right_height = table.height + (gap if table.height and code.height else 0.0) + code.height
    _, front_height = _front(content, front_width, 0.0, style)
    needed = max(left.height + (gap if maker.height else 0.0) + maker.height, front_height, right_height)
    total = max(height, needed)
    front, _ = _front(content, front_width, total, style)
    front_x = left_width + gutter
    right_x = front_x + front_width + gutter
    marks: tuple[Patch | RuledLine, ...]
    if style.accent != style.ink:
        marks = (Patch(front_x - gutter / 2, 0, front_width + gutter, total, style.accent, "ground"),)
    else:
        edges = [front_x - gutter / 2] + ([right_x - gutter / 2] if right_width else [])
        marks = tuple(RuledLine(x, 0, x, total, 0.3, style.line, "ground") for x in edges)
    parts = (
        (front_x, 0.0, front),
        (right_x, 0.0, table),
        (0.0, 0.0, left),
        (0.0, total - maker.height, maker),
        (right_x, total - code.height, code),
    )
    return Placed(Block(width, needed, marks, parts), needed)


def _least_width(content: LabelContent, style: Style) -> float:
    right = max(table_width(content, style), code_block(content.address).width)
    fixed = right + 9 * style.base + 2 * 2.2 * style.base
    return max(fixed / 0.72, fixed + 8 * style.base) + 1.0


WRAP = Plan(ways, place, _least_width)


def compose_wrap(
    content: LabelContent, width: float, height: float, style: Style, *, least: float, most: float, bleed: float
) -> Fitted | None:
    """A wrap on a page of that size [pt], its ground drawn out to the bleed."""
    fitted = fit(WRAP, content, width, height, style, least=least, most=most)
    if fitted is None:
        return None
    marks = [
        replace(mark, y=-bleed, height=height + 2 * bleed)
        if isinstance(mark, Patch) and mark.block == "ground"
        else mark
        for mark in fitted.marks
    ]
    return replace(fitted, marks=tuple(marks))
