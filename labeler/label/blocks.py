"""The blocks of a label: each takes a width and a style and becomes a `Block` of known height.

Blocks know nothing of the page. They are set from their own top left corner and hold the blocks they are made of, so
that a layout may try many sizes cheaply and write out only the marks of the one it keeps.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from labeler.label.content import LabelContent, Run
from labeler.label.drawing import Mark, Rule, moved
from labeler.label.fonts import face
from labeler.label.setting import DOT, Stretch, break_lines, ink, line_marks
from labeler.label.words import words

__all__ = [
    "EMPTY",
    "Block",
    "Style",
    "allergens",
    "cautions",
    "foot",
    "heading",
    "ingredients",
    "joined",
    "net",
    "paragraph",
    "plain",
    "stack",
]


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
    ink, accent, line : str
        Colours as "#rrggbb": of text, of title and headings, of hairlines.
    """

    base: float
    set_width: str = "text"
    air: float = 0.0
    title: float = 2.0
    net_mm: float = 0.0
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


@dataclass(frozen=True, slots=True)
class Block:
    """A rectangle of marks; one with no height is empty, one of infinite height cannot be set in its width.

    Parameters
    ----------
    width, height : float
        [pt].
    marks : tuple of Mark
        Its own, set from (0, 0).
    parts : tuple of (x, y, Block)
        The blocks that it is made of.
    first, last : float
        Baselines of the first and last line of a paragraph [pt].
    reach : float
        Right end of the longest line of a paragraph [pt].
    """

    width: float = 0.0
    height: float = 0.0
    marks: tuple[Mark, ...] = ()
    parts: tuple[tuple[float, float, Block], ...] = ()
    first: float = 0.0
    last: float = 0.0
    reach: float = 0.0

    def at(self, x: float, y: float) -> list[Mark]:
        """All marks with the block's top left corner at (x, y)."""
        flat = [moved(mark, x, y) for mark in self.marks]
        for dx, dy, part in self.parts:
            flat.extend(part.at(x + dx, y + dy))
        return flat


EMPTY = Block()


def stack(blocks: list[Block], gap: float, width: float) -> Block:
    """Blocks one below the other, `gap` points apart; empty ones are left out."""
    parts: list[tuple[float, float, Block]] = []
    y = 0.0
    for block in (b for b in blocks if b.height):
        y += gap if parts else 0.0
        parts.append((0.0, y, block))
        y += block.height
    return Block(width, y, parts=tuple(parts))


def paragraph(
    stretches: tuple[Stretch, ...],
    *,
    width: float,
    size: float,
    block: str,
    colour: str,
    leading: float = 1.2,
    align: Literal["left", "right", "centre"] = "left",
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
    marks: list[Mark] = []
    for number, line in enumerate(lines):
        room = width - line.width * size
        x = {"left": 0.0, "right": room, "centre": room / 2}[align]
        marks.extend(line_marks(line, x=x, y=(rise + number * leading) * size, size=size, colour=colour, block=block))
    last = rise + (len(lines) - 1) * leading
    reach = max(line.width for line in lines) * size
    return Block(width, (last + fall) * size, tuple(marks), first=rise * size, last=last * size, reach=reach)


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
def heading(content: LabelContent, width: float, style: Style) -> Block:
    """Title and story line."""
    title = paragraph(
        # An ampersand never ends a line of a title.
        ((content.title.replace("& ", "&\u00a0"), "title"),),
        width=width,
        size=style.base * style.title,
        block="title",
        colour=style.accent,
        leading=1.04,
        even=True,
    )
    story_size = max(style.base, min(style.base * 1.25, style.base * style.title * 0.5))
    story = plain(content.story, width, style, block="story", face_name="story", size=story_size)
    return stack([title, story], style.between(0.1, 0.6), width)


def runs_of(runs: tuple[Run, ...], style: Style) -> tuple[Stretch, ...]:
    """Runs with the faces that a style gives them."""
    return tuple((run.text, style.bold if run.emphasised else style.regular) for run in runs if run.text)


@lru_cache(maxsize=512)
def ingredients(content: LabelContent, width: float, style: Style) -> Block:
    """The ingredient list with its heading."""
    runs = runs_of(content.ingredients, style)
    if not runs:
        return EMPTY
    opening = (f"{words(content.language)['ingredients']} ", style.bold)
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
    rules = tuple(Rule(0, y, width, y, weight, style.line, "allergens") for y in (weight / 2, height - weight / 2))
    return Block(width, height, rules, ((0.0, pad + weight / 2, body),))


@lru_cache(maxsize=512)
def cautions(content: LabelContent, width: float, style: Style) -> Block:
    """Storage and cautions, one paragraph each."""
    blocks = [plain(content.storage, width, style, block="storage")]
    blocks += [plain(text, width, style, block="cautions", face_name=style.bold) for text in content.cautions]
    return stack(blocks, style.between(0.2, 0.5), width)


def scotch(width: float, style: Style, block: str) -> Block:
    """A thick rule with a thin one close below."""
    thick, thin = 1.4, 0.4
    second = thick + 1.2 + thin / 2
    marks = (
        Rule(0, thick / 2, width, thick / 2, thick, style.line, block),
        Rule(0, second, width, second, thin, style.line, block),
    )
    return Block(width, second + thin / 2, marks)


def colophon(content: LabelContent, width: float, style: Style, *, run_in: bool) -> Block:
    """Maker, dates and lot, and the recipe's hash: a line each, or one paragraph where room is short."""
    fixed = words(content.language)
    dates = (("made", content.made), ("best_before", content.best_before), ("lot", content.lot))
    stamp = (("recipe", content.digest), ("as_of", content.as_of))
    lines = [
        (joined(bound(content.maker), content.place), style.bold, "maker"),
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


@lru_cache(maxsize=512)
def net(content: LabelContent, width: float, style: Style) -> Block:
    """The net quantity, its letters as high as the rule asks for."""
    name = "slim-bold" if style.set_width == "slim" else "title"
    size = max(face(name).size_for(style.net_mm), style.base)
    return plain(content.net, width, style, block="net", face_name=name, size=size, colour=style.accent)


@lru_cache(maxsize=512)
def foot(content: LabelContent, width: float, style: Style, *, side_by_side: bool, run_in: bool) -> Block:
    """Net quantity and colophon under a double rule."""
    amount = net(content, width, style)
    if side_by_side and amount.height:
        x = amount.reach + 1.6 * style.base
        if width - x < 9 * style.base:
            return Block(width, math.inf)
        side = colophon(content, width - x, style, run_in=run_in)
        drop = max(amount.first - side.first, 0.0) if run_in else 0.0
        body = Block(width, max(amount.height, side.height + drop), parts=((0.0, 0.0, amount), (x, drop, side)))
    else:
        body = stack([amount, colophon(content, width, style, run_in=run_in)], style.between(0.2, 0.5), width)
    return stack([scotch(width, style, "net"), body], style.between(0.3, 0.6), width) if body.height else EMPTY
