"""The blocks of a label: each takes a width and a style and becomes a `Block` of known height.

Blocks know nothing of the page. They are set from their own top left corner and hold the blocks they are made of, so
that a layout may try many sizes cheaply and write out only the marks of the one it keeps.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from labeler.label.boxes import EMPTY, Block, stack
from labeler.label.content import LabelContent, Run
from labeler.label.drawing import Mark, RuledLine
from labeler.label.front_symbol import symbol_block
from labeler.label.typesetting import DOT, Stretch, break_lines, ink, line_marks, longest_word
from labeler.label.words import words

__all__ = [
    "EMPTY",
    "Block",
    "Style",
    "allergens",
    "cautions",
    "heading",
    "ingredients",
    "joined",
    "paragraph",
    "plain",
    "stack",
]


CUT_BELOW = 1.45
"""Size of a title, in sizes of the text, above which none of its words is cut: a smaller title serves better."""

Align = Literal["left", "right", "centre"]


@dataclass(frozen=True, slots=True)
class Style:
    """What a layout may change to make a label fit.

    Parameters
    ----------
    base : float
        Size of the running text [pt].
    set_width : str
        Width of the running text's face: "text", "narrow" or "slim" (Noto's semi-, plain and extra-condensed).
    air : float
        0 for the tightest leading and gaps, 1 for the widest.
    title : float
        Size of the title, in `base`.
    net_mm : float
        Height of the lower-case letters of the net quantity [mm].
    clear_net : bool
        Keep white round the net quantity: its letter height above and below, twice its N on the sides.
    ink, accent, line : str
        Colours as "#rrggbb": of text, of title and headings, of hairlines.
    """

    base: float
    set_width: str = "text"
    air: float = 0.0
    title: float = 2.0
    net_mm: float = 0.0
    clear_net: bool = False
    ink: str = "#000000"
    accent: str = "#000000"
    line: str = "#000000"

    @property
    def regular(self) -> str:
        """Name of the upright face."""
        return self.set_width

    @property
    def bold(self) -> str:
        """Name of the bold face."""
        return f"{self.set_width}-bold"

    @property
    def italic(self) -> str:
        """Name of the slanted face."""
        return f"{self.set_width}-italic"

    def between(self, tight: float, wide: float) -> float:
        """A length [pt] between two that are given in ems of the base size, as the air allows."""
        return self.base * (tight + (wide - tight) * self.air)

    @property
    def leading(self) -> float:
        """Distance of baselines in running text, in ems of its size."""
        return 1.08 + 0.26 * self.air


def paragraph(
    stretches: tuple[Stretch, ...],
    *,
    width: float,
    size: float,
    block: str,
    colour: str,
    leading: float = 1.2,
    align: Align = "left",
    even: bool = False,
) -> Block:
    """A paragraph from its tallest letter to its lowest.

    Parameters
    ----------
    stretches : tuple of (text, face)
        What it says.
    width, size : float
        [pt].
    block, colour : str
        Given to every mark.
    leading : float
        Distance of baselines, in ems of `size`.
    align : str
        Where lines stand.
    even : bool
        All lines alike in length.
    """
    lines = break_lines(stretches, round(width / size, 4), even)
    if not lines:
        return EMPTY
    # At least the room of ascenders and descenders keeps paragraphs evenly spaced whatever their letters.
    rise = max([0.77, *(ink(text, name)[1] for _, text, name in lines[0].stretches)])
    fall = max([0.21, *(-ink(text, name)[0] for _, text, name in lines[-1].stretches)])

    def marks() -> Iterator[Mark]:
        for number, line in enumerate(lines):
            room = width - line.width * size
            x = {"left": 0.0, "right": room, "centre": room / 2}[align]
            y = (rise + number * leading) * size
            yield from line_marks(line, x=x, y=y, size=size, colour=colour, block=block)

    last = rise + (len(lines) - 1) * leading
    reach = max(line.width for line in lines) * size
    return Block(width, (last + fall) * size, marks, first=rise * size, last=last * size, reach=reach)


def joined(*parts: str) -> str:
    """The parts that are not empty with a raised dot between."""
    return f" {DOT} ".join(part for part in parts if part)


def bound(text: str) -> str:
    """A short phrase that stays on one line; a long one may break."""
    return text.replace(" ", "\u00a0") if len(text) <= 24 else text


def plain(
    text: str, width: float, style: Style, *, block: str, face_name: str = "", size: float = 0.0, colour: str = ""
) -> Block:
    """One string as a paragraph in the style's text face, size and ink, or in others."""
    if not text:
        return EMPTY
    return paragraph(
        ((text, face_name or style.regular),),
        width=width,
        size=size or style.base,
        block=block,
        colour=colour or style.ink,
        leading=style.leading,
    )


@lru_cache(maxsize=512)
def heading(content: LabelContent, width: float, style: Style, *, centred: bool = False) -> Block:
    """Title and story line; at their right, or below them, the front-of-package symbol where there is one."""
    if content.symbol is None:
        return _title(content, width, style, centred=centred)
    symbol = symbol_block(content.symbol)
    if symbol.width > width + 1e-6:
        return Block(width, math.inf)
    beside = _title(content, width - symbol.width, style) if width - symbol.width > _TITLE_ROOM * style.base else EMPTY
    if beside.height and not math.isinf(beside.height):
        parts = ((0.0, 0.0, beside), (width - symbol.width, 0.0, symbol))
        return Block(width, max(beside.height, symbol.height), parts=parts)
    title = _title(content, width, style, centred=centred)
    below = (width - symbol.width, title.height, symbol)
    return Block(width, title.height + symbol.height, parts=((0.0, 0.0, title), below))


_TITLE_ROOM = 14.0
"""Width that a title keeps beside a symbol, in sizes of the running text."""


def _title(content: LabelContent, width: float, style: Style, *, centred: bool = False) -> Block:
    """Title and story line, and on a sign the price."""
    align: Align = "centre" if centred else "left"
    # An ampersand never ends a line of a title.
    words_of_title = ((content.title.replace("& ", "&\u00a0"), "title"),)
    if style.title > CUT_BELOW and longest_word(words_of_title) * style.base * style.title > width:
        return Block(width, math.inf)
    title = paragraph(
        words_of_title,
        width=width,
        size=style.base * style.title,
        block="title",
        colour=style.accent,
        leading=1.04,
        even=True,
        align=align,
    )
    story = paragraph(
        ((content.story, "story"),),
        width=width,
        size=max(style.base, min(style.base * 1.25, style.base * style.title * 0.5)),
        block="story",
        colour=style.ink,
        leading=style.leading,
        even=centred,
        align=align,
    )
    price = paragraph(
        ((content.price, style.bold),),
        width=width,
        size=max(style.base * 1.25, style.base * style.title * 0.7),
        block="price",
        colour=style.ink,
        leading=style.leading,
        align=align,
    )
    return stack([title, story, price] if content.price else [title, story], style.between(0.1, 0.6), width)


def runs_of(runs: tuple[Run, ...], style: Style) -> tuple[Stretch, ...]:
    """Runs with the faces that a style gives them."""
    return tuple((run.text, style.bold if run.emphasised else style.regular) for run in runs if run.text)


@lru_cache(maxsize=512)
def ingredients(content: LabelContent, width: float, style: Style) -> Block:
    """The ingredient list with its heading."""
    runs = runs_of(content.ingredients, style)
    if not runs:
        return EMPTY
    heading = words(content.list_language or content.language)["ingredients"]
    opening = (f"{heading} ", style.bold)
    return paragraph(
        (opening, *runs), width=width, size=style.base, block="ingredients", colour=style.ink, leading=style.leading
    )


@lru_cache(maxsize=512)
def allergens(content: LabelContent, width: float, style: Style) -> Block:
    """The allergen statement between two rules, so that it is found at a glance."""
    runs = runs_of(content.allergens, style)
    if not runs:
        return EMPTY
    body = paragraph(runs, width=width, size=style.base, block="allergens", colour=style.ink, leading=style.leading)
    weight, pad = 0.7, style.between(0.28, 0.5)
    height = body.height + 2 * pad + weight
    rules = tuple(RuledLine(0, y, width, y, weight, style.line, "allergens") for y in (weight / 2, height - weight / 2))
    return Block(width, height, rules, ((0.0, pad + weight / 2, body),))


@lru_cache(maxsize=512)
def cautions(content: LabelContent, width: float, style: Style) -> Block:
    """Storage and cautions, one paragraph each."""
    blocks = [plain(content.storage, width, style, block="storage")]
    blocks += [plain(text, width, style, block="cautions", face_name=style.bold) for text in content.cautions]
    return stack(blocks, style.between(0.2, 0.5), width)
