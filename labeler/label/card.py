"""The generic label: how the blocks are arranged on a page box, and which arrangement a page gets.

There are a few arrangements (one column; two columns with title and foot over the whole width or over the left
column only). Each is tried from the largest text size down to the smallest that the rules allow, first in the
normal width of the family and then in the narrow one. What fits first is taken; what room is left goes into the
title and the air between lines.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from labeler.label import blocks
from labeler.label.blocks import Block, Style
from labeler.label.content import LabelContent
from labeler.label.drawing import Mark, Rule

__all__ = ["Arrangement", "fit", "needed"]

TITLE_LEAST, TITLE_MOST = 1.8, 4.2
READING_ORDER = ("title", "story", "nutrition", "ingredients", "allergens", "storage", "cautions", "net", "maker",
                 "dates", "stamp")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Arrangement:
    """One way to divide the page.

    Parameters
    ----------
    columns : int
        1 or 2; with 2 the nutrition table stands on the right.
    wide_head, wide_foot : bool
        Title or foot run over both columns.
    side_by_side : bool
        In the foot, the maker stands beside the net quantity instead of below.
    table : float
        Width of the right column, in natural widths of the table.
    """

    columns: int = 1
    wide_head: bool = True
    wide_foot: bool = True
    side_by_side: bool = False
    table: float = 1.0


@dataclass(frozen=True, slots=True)
class Placed:
    """An arrangement that was tried: its marks in a box of the given width, and the height it needs [pt]."""

    marks: tuple[Mark, ...]
    height: float
    width_needed: float


def arrangements(content: LabelContent, width: float, height: float) -> Iterator[Arrangement]:
    """The arrangements worth trying on a box of that shape, the preferred first."""
    two = [
        Arrangement(2, head, foot, side, table)
        for table in (1.0, 1.12)
        for head, foot in ((False, False), (True, True), (False, True), (True, False))
        for side in (True, False)
        if not (side and not foot)
    ]
    one = [Arrangement(1, side_by_side=True), Arrangement(1)]
    if not content.nutrition:
        yield from one
    elif width > height:
        yield from [*two, *one]
    else:
        yield from [*one, *two]


def place(content: LabelContent, width: float, height: float, style: Style, way: Arrangement) -> Placed:
    """Arrange the blocks in a box; the result's height may be more than the box has.

    Parameters
    ----------
    width, height : float
        Of the box [pt].
    """
    gap = style.between(0.5, 1.3)
    if way.columns == 1:
        natural = blocks.table_width(content, style, wrap=True)
        head = blocks.heading(content, width, style)
        body = blocks.stack(
            [
                blocks.nutrition(content, width, style),
                blocks.ingredients(content, width, style),
                blocks.allergens(content, width, style),
                blocks.cautions(content, width, style),
            ],
            gap,
            width,
        )
        foot = blocks.foot(content, width, style, side_by_side=way.side_by_side)
        top = blocks.stack([head, body], gap * 1.15, width)
        needed_height = top.height + gap + foot.height
        low = max(height, needed_height) - foot.height
        return Placed((*top.marks, *foot.at(0, low)), needed_height, natural)

    right_width = blocks.table_width(content, style) * way.table
    gutter = style.between(1.1, 1.8)
    left_width = width - right_width - gutter
    natural = right_width + gutter + 14 * style.base
    if left_width < 14 * style.base:
        return Placed((), math.inf, natural)
    head = blocks.heading(content, width if way.wide_head else left_width, style)
    foot = blocks.foot(content, width if way.wide_foot else left_width, style, side_by_side=way.side_by_side)
    prose = blocks.stack(
        [
            blocks.ingredients(content, left_width, style),
            blocks.allergens(content, left_width, style),
            blocks.cautions(content, left_width, style),
        ],
        gap,
        left_width,
    )
    table = blocks.nutrition(content, right_width, style)
    left = blocks.stack(
        [*([] if way.wide_head else [head]), prose, *([] if way.wide_foot else [foot])], gap * 1.15, left_width
    )
    middle = max(left.height, table.height)
    needed_height = middle + (head.height + gap * 1.15 if way.wide_head else 0.0)
    needed_height += (foot.height + gap) if way.wide_foot else 0.0
    total = max(height, needed_height)
    y = 0.0
    marks: list[Mark] = []
    if way.wide_head:
        marks += head.at(0, 0)
        y = head.height + gap * 1.15
    below = total - (foot.height + gap if way.wide_foot else 0.0)
    x = left_width + gutter
    marks += table.at(x, y)
    if way.wide_head:
        marks += prose.at(0, y)
    else:
        marks += blocks.stack([head, prose], gap * 1.15, left_width).marks
    marks += foot.at(0, total - foot.height)
    middle_x = left_width + gutter / 2
    marks.append(Rule(middle_x, y, middle_x, below, 0.3, style.line, "nutrition"))
    return Placed(tuple(marks), needed_height, natural)


def in_order(marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """The marks sorted into reading order, each block's own order kept."""
    return tuple(sorted(marks, key=lambda mark: READING_ORDER.index(mark.block)))


def _best_base(content: LabelContent, width: float, height: float, style: Style, least: float,
               most: float) -> tuple[Style, Arrangement] | None:  # fmt: skip
    """The largest text for which some arrangement fits, and that arrangement."""
    best: tuple[float, Style, Arrangement] | None = None
    for way in arrangements(content, width, height):
        for narrow in (False, True):
            # The narrow width counts a little less than its size: it is used where it wins clearly.
            worth = 0.93 if narrow else 1.0
            low = max(least, (best[0] + 0.05) / worth if best else 0.0)
            if low > most or place(content, width, height, replace(style, base=low, narrow=narrow), way).height > height:
                continue
            high = most
            while high - low > 0.1:
                middle = (low + high) / 2
                tried = replace(style, base=middle, narrow=narrow)
                low, high = (middle, high) if place(content, width, height, tried, way).height <= height else (low, middle)
            best = (low * worth, replace(style, base=low, narrow=narrow), way)
    return (best[1], best[2]) if best else None


def fit(content: LabelContent, width: float, height: float, style: Style, *, least: float, most: float) -> Placed | None:
    """The label set in a box, or None where it does not fit at the least text size.

    Parameters
    ----------
    width, height : float
        Of the box that may carry text [pt].
    style : Style
        Colours and size of the net quantity.
    least, most : float
        Bounds of the text size [pt].
    """
    found = _best_base(content, width, height, replace(style, title=TITLE_LEAST, air=0.0), least, most)
    if not found:
        return None
    style, way = found

    def fits(tried: Style) -> bool:
        return place(content, width, height, tried, way).height <= height

    for field, target in (("air", 0.3), ("title", 3.0), ("air", 1.0), ("title", TITLE_MOST)):
        low, high = getattr(style, field), target
        if low >= high:
            continue
        if fits(replace(style, **{field: high})):
            style = replace(style, **{field: high})
            continue
        while high - low > 0.02:
            middle = (low + high) / 2
            low, high = (middle, high) if fits(replace(style, **{field: middle})) else (low, middle)
        style = replace(style, **{field: low})
    placed = place(content, width, height, style, way)
    return replace(placed, marks=in_order(placed.marks))


def needed(content: LabelContent, width: float, height: float, style: Style, *, least: float) -> tuple[float, float]:
    """Width and height of the smallest box, no narrower than the one that failed, that holds the label [pt]."""
    tight = replace(style, base=least, narrow=True, air=0.0, title=TITLE_LEAST)
    wide = max(width, blocks.table_width(content, tight, wrap=True))
    ways = list(arrangements(content, wide, height))
    return wide, min(place(content, wide, 0.0, tight, way).height for way in ways)


def empty(block: Block) -> bool:
    """Whether a block draws nothing."""
    return not block.marks
