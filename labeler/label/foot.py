"""The foot of a label: net quantity, maker, dates and lot, and the square code, under a double rule.

The net quantity belongs in the bottom 30 % of the panel (21 CFR 101.7(e)), so where the foot is higher than that it
stands last in it.
"""

from __future__ import annotations

import math
from functools import lru_cache

from labeler.label.blocks import Style, bound, joined, paragraph, plain
from labeler.label.boxes import EMPTY, Block, stack
from labeler.label.content import LabelContent
from labeler.label.drawing import RuledLine
from labeler.label.fonts import face
from labeler.label.qr_code import code_block
from labeler.label.typesetting import DOT, Stretch, text_width
from labeler.label.words import words

__all__ = ["colophon", "foot", "foot_least", "net"]


def scotch(width: float, style: Style, block: str) -> Block:
    """A thick rule with a thin one close below."""
    thick, thin = 1.4, 0.4
    second = thick + 1.2 + thin / 2
    marks = (
        RuledLine(0, thick / 2, width, thick / 2, thick, style.line, block),
        RuledLine(0, second, width, second, thin, style.line, block),
    )
    return Block(width, second + thin / 2, marks)


def colophon(content: LabelContent, width: float, style: Style, *, run_in: bool) -> Block:
    """Maker, dates and lot, and the recipe's hash: a line each, or one paragraph where room is short."""
    fixed = dict(words(content.language))
    fixed |= dict.fromkeys(("best_before", "use_by"), content.date_words) if content.date_words else {}
    dates = (
        ("made", content.made),
        ("best_before", content.best_before),
        ("use_by", content.use_by),
        ("lot", content.lot),
    )
    stamp = (("recipe", content.digest), ("as_of", content.as_of))
    lines = [
        (joined(bound(content.maker), content.place), style.bold, "maker"),
        (content.origin, style.regular, "origin"),
        (joined(*(bound(f"{fixed[key]} {value}") for key, value in dates if value)), style.regular, "dates"),
        (joined(*(bound(f"{fixed[key]} {value}") for key, value in stamp if value)), style.italic, "stamp"),
    ]
    if not run_in:
        blocks = [plain(text, width, style, block=block, face_name=name) for text, name, block in lines]
        return stack(blocks, style.between(0.1, 0.3), width)
    stretches: list[Stretch] = []
    for text, name, _ in lines:
        if text and stretches:
            stretches.append((f" {DOT} ", style.regular))
        if text:
            stretches.append((text, name))
    return paragraph(
        tuple(stretches), width=width, size=style.base, block="maker", colour=style.ink, leading=style.leading
    )


def _net_face(style: Style) -> str:
    return "slim-bold" if style.set_width == "slim" else "title"


def _net_size(style: Style) -> float:
    return max(face(_net_face(style)).size_for(style.net_mm), style.base)


@lru_cache(maxsize=512)
def net(content: LabelContent, width: float, style: Style, *, centred: bool = False) -> Block:
    """The net quantity, its letters as high as the rule asks for."""
    return paragraph(
        ((content.net, _net_face(style)),),
        width=width,
        size=_net_size(style),
        block="net",
        colour=style.accent,
        leading=1.08,
        align="centre" if centred else "left",
        even=centred,
    )


def foot_least(content: LabelContent, style: Style) -> float:
    """Least width of a foot [pt]: the square code and some words beside it."""
    return code_block(content.address).width + 12 * style.base if content.address else 0.0


@lru_cache(maxsize=512)
def foot(
    content: LabelContent, width: float, style: Style, *, side_by_side: bool, run_in: bool, low: float = math.inf
) -> Block:
    """The whole foot.

    Parameters
    ----------
    width : float
        [pt].
    side_by_side : bool
        The maker stands beside the net quantity instead of under it.
    run_in : bool
        Maker, dates and stamp are one paragraph.
    low : float
        Height within which the net quantity must stand, from the foot's lower edge [pt].
    """
    code = code_block(content.address)
    if width < foot_least(content, style):
        return Block(width, math.inf)
    room = width - code.width
    text = _text(content, room, style, side_by_side=side_by_side, run_in=run_in, last=False)
    if max(text.height, code.height) > low:
        text = _text(content, room, style, side_by_side=side_by_side, run_in=run_in, last=True)
    high = max(text.height, code.height)
    if not high:
        return EMPTY
    # The text stands at the bottom of the pair only if it ends with the net quantity.
    down = high - text.height if high > low else 0.0
    pair = Block(width, high, parts=((0.0, down, text), (room, 0.0, code)))
    return stack([scotch(width, style, "net"), pair], _pad(content, width, style), width)


def _letter_height(style: Style) -> float:
    """Height of the net quantity's capitals [pt]."""
    name = _net_face(style)
    return face(name).cap_height * _net_size(style)


def _pad(content: LabelContent, width: float, style: Style) -> float:
    """White between the double rule and what stands under it [pt]."""
    pad = style.between(0.3, 0.6)
    if not (style.clear_net and content.net):
        return pad
    above = style.between(0.5, 1.3) + scotch(width, style, "net").height
    return max(pad, _letter_height(style) - above)


def _text(content: LabelContent, width: float, style: Style, *, side_by_side: bool, run_in: bool, last: bool) -> Block:
    """Net quantity and colophon; the net quantity at the bottom where it must stand `last`."""
    amount = net(content, width, style)
    if not side_by_side or not amount.height:
        gap = style.between(0.2, 0.5)
        if style.clear_net and amount.height:
            gap = max(gap, _letter_height(style))
        blocks = [amount, colophon(content, width, style, run_in=run_in)]
        return stack(blocks[::-1] if last else blocks, gap, width)
    beside = 1.6 * style.base
    if style.clear_net:
        beside = max(beside, 2 * text_width("N", _net_face(style)) * _net_size(style))
    x = amount.reach + beside
    if width - x < 9 * style.base:
        return Block(width, math.inf)
    side = colophon(content, width - x, style, run_in=run_in)
    drop = max(amount.first - side.first, 0.0) if run_in else 0.0
    high = max(amount.height, side.height + drop)
    y = high - amount.height if last else 0.0
    return Block(width, high, parts=((0.0, y, amount), (x, drop, side)))
