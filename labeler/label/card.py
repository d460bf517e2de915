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
from labeler.label.blocks import Style
from labeler.label.content import LabelContent
from labeler.label.drawing import MM, Mark, Rule, moved
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
    Tier(1.8, 0.0, ("text", "narrow", "slim")),
    Tier(1.4, 0.0, ("slim",), 0.7),
)
TITLE_MOST = 4.6
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
    """An arrangement that was tried: its marks, the height it needs and the margin it was given [pt]."""

    marks: tuple[Mark, ...]
    height: float
    margin: float = 0.0


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


def _one_column(content: LabelContent, width: float, height: float, style: Style, way: Arrangement) -> Placed:
    gap = style.between(0.5, 1.3)
    body = [
        nutrition(content, width, style),
        blocks.ingredients(content, width, style),
        blocks.allergens(content, width, style),
        blocks.cautions(content, width, style),
    ]
    top = blocks.stack([blocks.heading(content, width, style), blocks.stack(body, gap, width)], gap * 1.15, width)
    foot = blocks.foot(content, width, style, side_by_side=way.side_by_side, run_in=way.run_in)
    needed_height = top.height + gap + foot.height
    if math.isinf(needed_height):
        return Placed((), math.inf)
    return Placed((*top.marks, *foot.at(0, max(height, needed_height) - foot.height)), needed_height)


def _two_columns(content: LabelContent, width: float, height: float, style: Style, way: Arrangement) -> Placed:
    gap = style.between(0.5, 1.3)
    gutter = style.between(1.1, 1.8)
    right_width = table_width(content, style) * way.table
    left_width = width - right_width - gutter
    if left_width < 10 * style.base:
        return Placed((), math.inf)
    head_width = width if way.wide_head else left_width
    foot_width = width if way.wide_foot else left_width
    head = blocks.heading(content, head_width, style)
    foot = blocks.foot(content, foot_width, style, side_by_side=way.side_by_side, run_in=way.run_in)
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
        return Placed((), math.inf)
    total = max(height, needed_height)
    between = left_width + gutter / 2
    marks = [
        *(head.at(0, 0) if way.wide_head else []),
        *left.at(0, over),
        *table.at(left_width + gutter, over),
        Rule(between, over, between, total - under, 0.3, style.line, "nutrition"),
        *foot.at(0, total - foot.height),
    ]
    return Placed(tuple(marks), needed_height)


def in_order(marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """The marks sorted into reading order, each block's own order kept."""
    return tuple(sorted(marks, key=lambda mark: READING_ORDER.index(mark.block)))


def margin_of(width: float, height: float) -> float:
    """The usual margin of a page [pt]: about 3 mm on a jar, 6 mm on A6, between 2.5 and 10 mm."""
    return min(max(0.08 * min(width, height) - 2.4 * MM, 2.5 * MM), 10.0 * MM)


def _largest(
    content: LabelContent, width: float, height: float, style: Style, set_widths: tuple[str, ...], least: float, most: float
) -> tuple[Style, Arrangement] | None:
    """The largest text for which some arrangement fits, and that arrangement."""
    best: tuple[float, Style, Arrangement] | None = None
    for way in arrangements(content, width, height):
        for set_width in set_widths:
            worth = SET_WIDTHS[set_width]

            def tried(base: float, set_width: str = set_width) -> Style:
                return replace(style, base=base, set_width=set_width)

            low = max(least, (best[0] + 0.05) / worth if best else 0.0)
            if low > most or place(content, width, height, tried(low), way).height > height:
                continue
            high = most
            while high - low > 0.1:
                middle = (low + high) / 2
                fits = place(content, width, height, tried(middle), way).height <= height
                low, high = (middle, high) if fits else (low, middle)
            best = (low * worth, tried(low), way)
    return (best[1], best[2]) if best else None


def fit(content: LabelContent, width: float, height: float, style: Style, *, least: float, most: float) -> Placed | None:
    """The label set on a page, or None where it does not fit at the least text size.

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
        box = (width - 2 * margin, height - 2 * margin)
        demanded = replace(style, title=tier.title, air=tier.air)
        found = _largest(content, *box, demanded, tier.set_widths, least, most)
        if found:
            break
    else:
        return None
    style, way = found

    def fits(tried: Style) -> bool:
        return place(content, *box, tried, way).height <= box[1]

    for field, target in (("air", 0.3), ("title", 3.2), ("air", 1.0), ("title", TITLE_MOST)):
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
    placed = place(content, *box, style, way)
    marks = tuple(moved(mark, margin, margin) for mark in in_order(placed.marks))
    return replace(placed, marks=marks, margin=margin)


def needed(content: LabelContent, width: float, height: float, style: Style, *, least: float) -> tuple[float, float]:
    """Width and height of the smallest page, no narrower than the one that failed, that holds the label [pt]."""
    tier = TIERS[-1]
    margin = 2 * margin_of(width, height) * tier.margin
    tight = replace(style, base=least, set_width=tier.set_widths[-1], air=tier.air, title=tier.title)
    wide = max(width - margin, table_width(content, tight, wrap=True))
    ways = list(arrangements(content, wide, height))
    return wide + margin, min(place(content, wide, 0.0, tight, way).height for way in ways) + margin
