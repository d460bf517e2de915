"""What stands on the table and on the shelf: the folded tent and the strip. They are signs, not package labels.

A sign says what the food is, what it costs, which allergens are in it, how much it is and whose it is; the ingredient
list and the nutrition table are left to the package. A tent has the sign on its front, upside down above the fold, and
the whole card on its back.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from labeler.label import blocks
from labeler.label.blocks import Block, Style
from labeler.label.card import CARD
from labeler.label.content import LabelContent
from labeler.label.drawing import Mark, RuledLine, moved, upside_down
from labeler.label.fitting import Fitted, Placed, Plan, fit, needed
from labeler.label.foot import foot, foot_least

__all__ = ["STRIP", "compose_tent", "needed_tent", "sign_content"]

SIGN_TEXT = 1.5
"""Text of a sign, as a multiple of that of a card: it is read from a step away."""


def sign_content(content: LabelContent) -> LabelContent:
    """What of a content a sign says.

    A statement that sends the reader to the ingredient list is no use where there is none: without a statement of its
    own a sign keeps the list.
    """
    named = bool(content.sign_allergens)
    return replace(
        content,
        serving="",
        servings="",
        nutrition=(),
        nutrition_notes=(),
        panel=None,
        ingredients=() if named else content.ingredients,
        allergens=content.sign_allergens if named else content.allergens,
        storage="",
        price=content.sign_price,
    )


def compose_tent(
    content: LabelContent, width: float, height: float, style: Style, *, least: float, most: float
) -> Fitted | None:
    """A tent of that open size [pt], folded at half its height."""
    half = height / 2
    front = fit(CARD, sign_content(content), width, half, style, least=least, most=most * SIGN_TEXT)
    back = fit(CARD, content, width, half, style, least=least, most=most)
    if front is None or back is None:
        return None
    fold = 3 * front.margin / 4
    ticks = (
        RuledLine(0, half, fold, half, 0.3, style.ink, "fold"),
        RuledLine(width - fold, half, width, half, 0.3, style.ink, "fold"),
    )
    sign = [replace(upside_down(mark, width, half), block=f"sign-{mark.block}") for mark in front.marks]
    card: list[Mark] = [moved(mark, 0, half) for mark in back.marks]
    return Fitted((*sign, *card, *ticks), min(front.margin, back.margin))


def needed_tent(
    content: LabelContent, width: float, height: float, style: Style, *, least: float
) -> tuple[float, float]:
    """Open size of a tent that holds the label [pt]."""
    faces = [needed(CARD, face, width, height / 2, style, least=least) for face in (sign_content(content), content)]
    return max(wide for wide, _ in faces), 2 * max(high for _, high in faces)


@dataclass(frozen=True, slots=True)
class Halves:
    """Share of the width that the title takes; all in one column at 1."""

    title: float
    run_in: bool


def strip_ways(content: LabelContent, width: float, height: float) -> Iterator[Halves]:
    """The divisions worth trying."""
    for run_in in (False, True):
        for title in (0.56, 0.46, 0.64, 1.0):
            yield Halves(title, run_in)


def place_strip(content: LabelContent, width: float, height: float, style: Style, way: Halves) -> Placed:
    """Title on the left, what people must know on the right, the foot under both."""
    content = sign_content(content)
    gap, gutter = style.between(0.4, 1.0), style.between(1.2, 2.0)
    left_width = width if way.title == 1.0 else (width - gutter) * way.title
    right_width = width if way.title == 1.0 else width - gutter - left_width
    head = blocks.heading(content, left_width, style)
    body = [
        blocks.ingredients(content, right_width, style),
        blocks.allergens(content, right_width, style),
        blocks.cautions(content, right_width, style),
    ]
    prose = blocks.stack(body, gap, right_width)
    base = foot(content, width, style, side_by_side=True, run_in=way.run_in)
    if math.isinf(base.height):
        base = foot(content, width, style, side_by_side=False, run_in=way.run_in)
    if way.title == 1.0:
        top = blocks.stack([head, prose], gap, width)
    else:
        top = Block(width, max(head.height, prose.height), parts=((0, 0, head), (left_width + gutter, 0, prose)))
    high = top.height + (gap + base.height if base.height else 0.0)
    parts = ((0.0, 0.0, top), (0.0, max(height, high) - base.height, base))
    return Placed(Block(width, high, parts=parts), high, 0.96 if way.run_in else 1.0)


def _least_width(content: LabelContent, style: Style) -> float:
    return max(12 * style.base, foot_least(content, style))


STRIP = Plan(strip_ways, place_strip, _least_width)
