"""Making a content fit a page: the search that every layout shares.

A layout offers ways to arrange its blocks (`Plan`). A label is first asked to be generous: a large title, air between
the lines, the normal width of the family. Where that does not fit even with the smallest lawful letters, the demands
are lowered a tier at a time. In each tier the largest text that fits is taken, and the room left over goes into the
title and the air.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

from labeler.label.blocks import Block, Style
from labeler.label.content import LabelContent
from labeler.label.drawing import MM, Mark

Way = TypeVar("Way")

__all__ = ["Fitted", "Placed", "Plan", "fit", "margin_of", "needed"]


@dataclass(frozen=True, slots=True)
class Tier:
    """Demands on a setting.

    Parameters
    ----------
    title, air : float
        Least size of the title, in sizes of the text, and least air (`Style`).
    set_widths : tuple of str
        Widths of the family to try.
    margin : float or None
        The margin [pt]; None for the page's usual one.
    """

    title: float
    air: float
    set_widths: tuple[str, ...]
    margin: float | None = None

    def margin_on(self, width: float, height: float) -> float:
        """The margin on a page of that size [pt]."""
        return margin_of(width, height) if self.margin is None else self.margin


TIERS = (
    Tier(2.7, 0.4, ("text", "narrow")),
    Tier(2.2, 0.15, ("text", "narrow")),
    Tier(1.8, 0.0, ("text", "narrow")),
    Tier(1.8, 0.0, ("slim",)),
    Tier(1.4, 0.0, ("slim",), 2.25 * MM),
)
TITLE_MOST = 4.2
GROWTH = (("air", 0.35), ("title", 2.7), ("air", 0.8), ("title", 3.4), ("air", 1.0), ("title", TITLE_MOST))
"""Who gets the room left over, in turns: title and air, each up to a bound."""

SET_WIDTHS = {"text": 1.0, "narrow": 0.93, "slim": 0.86}
"""Widths of the running text; a narrower one counts for less than its size, so it is used where it wins clearly."""

READING_ORDER = (
    "ground",
    "title",
    "story",
    "price",
    "front symbol",
    "nutrition",
    "ingredients",
    "allergens",
    "storage",
    "cautions",
    "net",
    "maker",
    "origin",
    "dates",
    "stamp",
    "code",
)


@dataclass(frozen=True, slots=True)
class Placed:
    """One way that was tried.

    Parameters
    ----------
    block : Block
        The whole label, set from the corner of its margins.
    height : float
        The height it needs [pt]; infinite where it cannot be set in the width.
    worth : float
        What the way is worth beside others of the same text size: 1, less for what reads less well.
    """

    block: Block
    height: float
    worth: float = 1.0


@dataclass(frozen=True, slots=True)
class Plan(Generic[Way]):
    """A layout.

    Parameters
    ----------
    ways : callable
        From a content and the size of the box [pt]: the ways worth trying, the preferred first.
    place : callable
        From a content, the size of the box [pt], a style and a way: what comes of it.
    least_width : callable
        From a content and a style: the width below which no way can be set [pt].
    """

    ways: Callable[[LabelContent, float, float], Iterator[Way]]
    place: Callable[[LabelContent, float, float, Style, Way], Placed]
    least_width: Callable[[LabelContent, Style], float]


@dataclass(frozen=True, slots=True)
class Fitted:
    """Marks on a page, and the margin that they keep [pt]."""

    marks: tuple[Mark, ...]
    margin: float


def in_order(marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """The marks sorted into reading order, each block's own order kept."""
    return tuple(sorted(marks, key=lambda mark: READING_ORDER.index(mark.block)))


def margin_of(width: float, height: float) -> float:
    """The usual margin of a page [pt]: about 3 mm on a jar, 6 mm on A6, between 2.5 and 10 mm."""
    return min(max(0.08 * min(width, height) - 2.4 * MM, 2.5 * MM), 10.0 * MM)


@dataclass(frozen=True, slots=True)
class _Box(Generic[Way]):
    """A plan, a content, and the box that it shall fit in [pt]."""

    plan: Plan[Way]
    content: LabelContent
    width: float
    height: float

    def tried(self, style: Style, way: Way) -> Placed:
        """The content placed in the box."""
        return self.plan.place(self.content, self.width, self.height, style, way)

    def largest(self, style: Style, way: Way, field: str, most: float, step: float) -> Style:
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

    def grown(self, style: Style, way: Way) -> Style:
        """`style` with the room left over given to title and air by turns."""
        for field, most in GROWTH:
            style = self.largest(style, way, field, most, 0.03)
        return style


def _quality(style: Style, worth: float) -> float:
    """How good a setting is: first the size of the text, then the title's, then the air."""
    return style.base * SET_WIDTHS[style.set_width] * worth * (1 + 0.06 * min(style.title, 3.0) + 0.1 * style.air)


def fit(
    plan: Plan[Way], content: LabelContent, width: float, height: float, style: Style, *, least: float, most: float
) -> Fitted | None:
    """The label set on a page, or None where it does not fit.

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
        margin = tier.margin_on(width, height)
        box = _Box(plan, content, width - 2 * margin, height - 2 * margin)
        found: list[tuple[float, Style, Way]] = []
        for way in plan.ways(content, box.width, box.height):
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
    return Fitted(in_order(tuple(marks)), margin)


def needed(
    plan: Plan[Way], content: LabelContent, width: float, height: float, style: Style, *, least: float
) -> tuple[float, float]:
    """Width and height of the smallest page, no narrower than the one that failed, that holds the label [pt]."""
    tier = TIERS[-1]
    margin = 2 * tier.margin_on(width, height)
    tight = replace(style, base=least, set_width=tier.set_widths[-1], air=tier.air, title=tier.title)
    wide = max(width - margin, plan.least_width(content, tight))
    ways = list(plan.ways(content, wide, height))
    return wide + margin, min(plan.place(content, wide, 0.0, tight, way).height for way in ways) + margin
