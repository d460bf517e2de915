"""The generic label: how the blocks are arranged on a page, and which arrangement a page gets.

There are a few arrangements (one column; two columns, with title and foot over the whole width or over the left
column only). A label is first asked to be generous: a large title, air between the lines, the normal width of the
family. Where that does not fit even with the smallest lawful letters, the demands are lowered a tier at a time. In
each tier the largest text that fits is taken, and the room left over goes into the title and the air.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from labeler.label import blocks
from labeler.label.blocks import Block, Style
from labeler.label.content import LabelContent
from labeler.label.drawing import MM, Mark, Rule
from labeler.label.table import nutrition, table_width

__all__ = ["Arrangement", "fit", "needed"]


@dataclass(frozen=True, slots=True)
class Tier:
    """Demands on a setting.

    Parameters
    ----------
    title, air : float
        Least size of the title, in sizes of the text, and least air (`Style`).
    set_widths : tuple of str
        Widths of the family to try.
    margin : float
        Share of the page's usual margin.
    """

    title: float
    air: float
    set_widths: tuple[str, ...]
    margin: float = 1.0


TIERS = (
    Tier(2.7, 0.4, ("text", "narrow")),
    Tier(2.2, 0.15, ("text", "narrow")),
    Tier(1.8, 0.0, ("text", "narrow")),
    Tier(1.8, 0.0, ("slim",)),
    Tier(1.4, 0.0, ("slim",), 0.7),
)
TITLE_MOST = 4.2
GROWTH = (("air", 0.35), ("title", 2.7), ("air", 0.8), ("title", 3.4), ("air", 1.0), ("title", TITLE_MOST))
"""Who gets the room left over, in turns: title and air, each up to a bound."""

SET_WIDTHS = {"text": 1.0, "narrow": 0.93, "slim": 0.86}
"""Widths of the running text; a narrower one counts for less than its size, so it is used where it wins clearly."""

READING_ORDER = (
    "title",
    "story",
    "nutrition",
    "ingredients",
    "allergens",
    "storage",
    "cautions",
    "net",
    "maker",
    "dates",
    "stamp",
)


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


@dataclass(frozen=True, slots=True)
class Placed:
    """An arrangement that was tried.

    Parameters
    ----------
    block : Block
        The whole label, set from the corner of its margins.
    height : float
        The height it needs [pt]; infinite where it cannot be set in the width.
    worth : float
        What the arrangement is worth beside others of the same text size: 1, less for what reads less well.
    """

    block: Block
    height: float
    worth: float = 1.0


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
    if not content.nutrition:
        yield from one
    elif width > height:
        yield from [*two, *one]
    else:
        yield from [*one, *two]


def place(content: LabelContent, width: float, height: float, style: Style, way: Arrangement) -> Placed:
    """Arrange the blocks in a box of `width` and `height` [pt]; the result may need more height than that."""
    return (_one_column if way.columns == 1 else _two_columns)(content, width, height, style, way)


def _foot(content: LabelContent, width: float, style: Style, way: Arrangement) -> tuple[Block, float]:
    """The foot and its worth: maker and dates in one paragraph, or a net quantity on two lines, read less well."""
    foot = blocks.foot(content, width, style, side_by_side=way.side_by_side, run_in=way.run_in)
    split = blocks.net(content, width, style).last > blocks.net(content, width, style).first
    return foot, (0.96 if way.run_in else 1.0) * (0.94 if split else 1.0)


def _one_column(content: LabelContent, width: float, height: float, style: Style, way: Arrangement) -> Placed:
    gap = style.between(0.5, 1.3)
    body = [
        nutrition(content, width, style),
        blocks.ingredients(content, width, style),
        blocks.allergens(content, width, style),
        blocks.cautions(content, width, style),
    ]
    top = blocks.stack([blocks.heading(content, width, style), blocks.stack(body, gap, width)], gap * 1.15, width)
    foot, worth = _foot(content, width, style, way)
    needed_height = top.height + (gap + foot.height if foot.height else 0.0)
    parts = ((0.0, 0.0, top), (0.0, max(height, needed_height) - foot.height, foot))
    return Placed(Block(width, needed_height, parts=parts), needed_height, worth)


def _two_columns(content: LabelContent, width: float, height: float, style: Style, way: Arrangement) -> Placed:
    gap = style.between(0.5, 1.3)
    gutter = style.between(1.1, 1.8)
    right_width = table_width(content, style) * way.table
    left_width = width - right_width - gutter
    if left_width < 10 * style.base:
        return Placed(blocks.EMPTY, math.inf)
    head = blocks.heading(content, width if way.wide_head else left_width, style)
    foot, worth = _foot(content, width if way.wide_foot else left_width, style, way)
    body = [
        blocks.ingredients(content, left_width, style),
        blocks.allergens(content, left_width, style),
        blocks.cautions(content, left_width, style),
    ]
    prose = blocks.stack(body, gap, left_width)
    table = nutrition(content, right_width, style)

    over = head.height + gap * 1.15 if way.wide_head and head.height else 0.0
    under = foot.height + gap if way.wide_foot and foot.height else 0.0
    left = prose if way.wide_head else blocks.stack([head, prose], gap * 1.15, left_width)
    left_height = left.height + (0.0 if way.wide_foot or not foot.height else foot.height + gap)
    needed_height = over + max(left_height, table.height) + under
    if math.isinf(needed_height):
        return Placed(blocks.EMPTY, math.inf)
    total = max(height, needed_height)
    between = left_width + gutter / 2
    line = Rule(between, over, between, total - under, 0.3, style.line, "nutrition")
    parts = (
        (0.0, 0.0, head if way.wide_head else blocks.EMPTY),
        (0.0, over, left),
        (left_width + gutter, over, table),
        (0.0, total - foot.height, foot),
    )
    return Placed(Block(width, needed_height, (line,), parts), needed_height, worth)


def in_order(marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """The marks sorted into reading order, each block's own order kept."""
    return tuple(sorted(marks, key=lambda mark: READING_ORDER.index(mark.block)))


def margin_of(width: float, height: float) -> float:
    """The usual margin of a page [pt]: about 3 mm on a jar, 6 mm on A6, between 2.5 and 10 mm."""
    return min(max(0.08 * min(width, height) - 2.4 * MM, 2.5 * MM), 10.0 * MM)


@dataclass(frozen=True, slots=True)
class _Box:
    """A content and the box that it shall fit in [pt]."""

    content: LabelContent
    width: float
    height: float

    def tried(self, style: Style, way: Arrangement) -> Placed:
        """The content placed in the box."""
        return place(self.content, self.width, self.height, style, way)

    def largest(self, style: Style, way: Arrangement, field: str, most: float, step: float) -> Style:
        """`style` with one of its fields as large as the box allows, at most `most`; it must fit as given."""
        low: float = getattr(style, field)
        if low >= most:
            return style
        largest = replace(style, **{field: most})  # type: ignore[arg-type]
        if self.tried(largest, way).height <= self.height:
            return largest
        high = most
        while high - low > step:
            middle = (low + high) / 2
            style_tried = replace(style, **{field: middle})  # type: ignore[arg-type]
            fits = self.tried(style_tried, way).height <= self.height
            low, high = (middle, high) if fits else (low, middle)
        return replace(style, **{field: low})  # type: ignore[arg-type]

    def grown(self, style: Style, way: Arrangement) -> Style:
        """`style` with the room left over given to title and air by turns."""
        for field, most in GROWTH:
            style = self.largest(style, way, field, most, 0.03)
        return style


def _quality(style: Style, worth: float) -> float:
    """How good a setting is: first the size of the text, then the title's, then the air."""
    return style.base * SET_WIDTHS[style.set_width] * worth * (1 + 0.06 * min(style.title, 3.0) + 0.1 * style.air)


def fit(
    content: LabelContent, width: float, height: float, style: Style, *, least: float, most: float
) -> tuple[tuple[Mark, ...], float] | None:
    """The label's marks on a page and the margin they keep [pt], or None where it does not fit.

    Parameters
    ----------
    width, height : float
        Of the page [pt].
    style : Style
        Colours and height of the net quantity.
    least, most : float
        Bounds of the text size [pt].
    """
    for tier in TIERS:
        margin = margin_of(width, height) * tier.margin
        box = _Box(content, width - 2 * margin, height - 2 * margin)
        found: list[tuple[float, Style, Arrangement]] = []
        for way in arrangements(content, box.width, box.height):
            for set_width in tier.set_widths:
                start = replace(style, base=least, set_width=set_width, title=tier.title, air=tier.air)
                placed = box.tried(start, way)
                if placed.height <= box.height:
                    large = box.largest(start, way, "base", most, 0.1)
                    worth = box.tried(large, way).worth
                    found.append((_quality(large, worth), large, way))
        if found:
            break
    else:
        return None
    found.sort(key=lambda item: -item[0])
    finalists = [(box.grown(large, way), way) for _, large, way in found[:4]]
    style, way = max(finalists, key=lambda item: _quality(item[0], box.tried(*item).worth))
    marks = box.tried(style, way).block.at(margin, margin)
    return in_order(tuple(marks)), margin


def needed(content: LabelContent, width: float, height: float, style: Style, *, least: float) -> tuple[float, float]:
    """Width and height of the smallest page, no narrower than the one that failed, that holds the label [pt]."""
    tier = TIERS[-1]
    margin = 2 * margin_of(width, height) * tier.margin
    tight = replace(style, base=least, set_width=tier.set_widths[-1], air=tier.air, title=tier.title)
    wide = max(width - margin, table_width(content, tight, wrap=True))
    ways = list(arrangements(content, wide, height))
    return wide + margin, min(place(content, wide, 0.0, tight, way).height for way in ways) + margin
