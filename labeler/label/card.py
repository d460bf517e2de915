"""The generic card: title, nutrition table, ingredients, allergens and foot, in one column or in two."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from labeler.label import blocks
from labeler.label.blocks import Block, Style
from labeler.label.content import LabelContent
from labeler.label.drawing import RuledLine
from labeler.label.fitting import Placed, Plan
from labeler.label.foot import foot, foot_least, net
from labeler.label.table import nutrition, table_width

__all__ = ["CARD", "Arrangement"]


@dataclass(frozen=True, slots=True)
class Arrangement:
    """One way to divide the page.

    Parameters
    ----------
    columns : int
        1 or 2; with 2 the nutrition table stands on the right.
    wide_head, wide_foot : bool
        Title or foot run over both columns.
    side_by_side, run_in : bool
        In the foot, the maker stands beside the net quantity instead of below; maker and dates are one paragraph.
    table : float
        Width of the right column, in natural widths of the table.
    """

    columns: int = 1
    wide_head: bool = True
    wide_foot: bool = True
    side_by_side: bool = False
    run_in: bool = False
    table: float = 1.0


def arrangements(content: LabelContent, width: float, height: float) -> Iterator[Arrangement]:
    """The arrangements worth trying on a page of that shape, the preferred first."""
    feet = [(True, False), (False, False), (True, True), (False, True)]
    two = [
        Arrangement(2, head, foot, side, run_in, table)
        for table in (1.0, 1.15)
        for head, foot in ((False, False), (True, True), (False, True), (True, False))
        for side, run_in in feet
    ]
    one = [Arrangement(1, side_by_side=side, run_in=run_in) for side, run_in in feet]
    if not content.nutrition and content.panel is None:
        yield from one
    elif width > height:
        yield from [*two, *one]
    else:
        yield from [*one, *two]


def place(content: LabelContent, width: float, height: float, style: Style, way: Arrangement) -> Placed:
    """Arrange the blocks in a box of `width` and `height` [pt]; the result may need more height than that."""
    return (_one_column if way.columns == 1 else _two_columns)(content, width, height, style, way)


LOW = 0.27
"""Share of the box in which the net quantity must stand: 30 % of the page, less the margin."""


def _foot(content: LabelContent, width: float, height: float, style: Style, way: Arrangement) -> tuple[Block, float]:
    """The foot and its worth: maker and dates in one paragraph, or a net quantity on two lines, read less well."""
    block = foot(content, width, style, side_by_side=way.side_by_side, run_in=way.run_in, low=LOW * height)
    amount = net(content, width, style)
    return block, (0.96 if way.run_in else 1.0) * (0.94 if amount.last > amount.first else 1.0)


def _one_column(content: LabelContent, width: float, height: float, style: Style, way: Arrangement) -> Placed:
    gap = style.between(0.5, 1.3)
    if table_width(content, style, wrap=True) > width + 1e-6:  # a panel runs over, a table would cut its words
        return Placed(blocks.EMPTY, math.inf)
    body = [
        nutrition(content, width, style),
        blocks.ingredients(content, width, style),
        blocks.allergens(content, width, style),
        blocks.cautions(content, width, style),
    ]
    top = blocks.stack([blocks.heading(content, width, style), blocks.stack(body, gap, width)], gap * 1.15, width)
    base, worth = _foot(content, width, height, style, way)
    needed_height = top.height + (gap + base.height if base.height else 0.0)
    parts = ((0.0, 0.0, top), (0.0, max(height, needed_height) - base.height, base))
    return Placed(Block(width, needed_height, parts=parts), needed_height, worth)


def _two_columns(content: LabelContent, width: float, height: float, style: Style, way: Arrangement) -> Placed:
    gap = style.between(0.5, 1.3)
    gutter = style.between(1.1, 1.8)
    right_width = table_width(content, style) * way.table
    left_width = width - right_width - gutter
    if left_width < 10 * style.base:
        return Placed(blocks.EMPTY, math.inf)
    head = blocks.heading(content, width if way.wide_head else left_width, style)
    base, worth = _foot(content, width if way.wide_foot else left_width, height, style, way)
    body = [
        blocks.ingredients(content, left_width, style),
        blocks.allergens(content, left_width, style),
        blocks.cautions(content, left_width, style),
    ]
    prose = blocks.stack(body, gap, left_width)
    table = nutrition(content, right_width, style)

    over = head.height + gap * 1.15 if way.wide_head and head.height else 0.0
    under = base.height + gap if way.wide_foot and base.height else 0.0
    left = prose if way.wide_head else blocks.stack([head, prose], gap * 1.15, left_width)
    left_height = left.height + (0.0 if way.wide_foot or not base.height else base.height + gap)
    needed_height = over + max(left_height, table.height) + under
    if math.isinf(needed_height):
        return Placed(blocks.EMPTY, math.inf)
    total = max(height, needed_height)
    between = left_width + gutter / 2
    line = RuledLine(between, over, between, total - under, 0.3, style.line, "nutrition")
    parts = (
        (0.0, 0.0, head if way.wide_head else blocks.EMPTY),
        (0.0, over, left),
        (left_width + gutter, over, table),
        (0.0, total - base.height, base),
    )
    return Placed(Block(width, needed_height, (line,), parts), needed_height, worth)


def _least_width(content: LabelContent, style: Style) -> float:
    return max(table_width(content, style, wrap=True), foot_least(content, style))


CARD = Plan(arrangements, place, _least_width)
