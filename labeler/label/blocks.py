"""The blocks of a label: each takes a width and a style and becomes a `Block` of known height.

Blocks know nothing of the page. They are set from their own top left corner, so a layout may try a block at several
sizes and keep the one that fits.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from labeler.label.content import LabelContent, Run
from labeler.label.drawing import Mark, Rule, Text, moved
from labeler.label.fonts import face
from labeler.label.setting import Stretch, break_lines, line_marks, text_width
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
        return f"{self.regular}-bold"

    @property
    def italic(self) -> str:
        """Name of the slanted face."""
        return f"{self.regular}-italic"

    def between(self, tight: float, wide: float) -> float:
        """A length between two, as the air allows, in points where both are given in ems of the base size."""
        return self.base * (tight + (wide - tight) * self.air)

    @property
    def leading(self) -> float:
        """Distance of baselines in running text, in ems of its size."""
        return 1.08 + 0.26 * self.air


@dataclass(frozen=True, slots=True)
class Block:
    """Marks set from (0, 0), their width and their height [pt]; an empty block has no marks and no height."""

    marks: tuple[Mark, ...] = ()
    width: float = 0.0
    height: float = 0.0

    def at(self, x: float, y: float) -> list[Mark]:
        """The marks with the block's top left corner at (x, y)."""
        return [moved(mark, x, y) for mark in self.marks]


EMPTY = Block()
DOT = " · "


def stack(blocks: list[Block], gap: float, width: float) -> Block:
    """Blocks one below the other, `gap` points apart; empty ones are left out."""
    marks: list[Mark] = []
    y = 0.0
    for block in (b for b in blocks if b.height):
        if marks:
            y += gap
        marks.extend(block.at(0, y))
        y += block.height
    return Block(tuple(marks), width, y)


def beside(left: Block, right: Block, right_x: float, width: float) -> Block:
    """Two blocks side by side, tops level."""
    return Block((*left.at(0, 0), *right.at(right_x, 0)), width, max(left.height, right.height))


def runs_of(runs: tuple[Run, ...], style: Style) -> tuple[Stretch, ...]:
    """Runs with the faces that a style gives them."""
    return tuple((run.text, style.bold if run.emphasised else style.regular) for run in runs if run.text)


def paragraph(
    stretches: tuple[Stretch, ...],
    *,
    width: float,
    size: float,
    block: str,
    colour: str,
    leading: float = 1.2,
    align: Literal["left", "right", "centre"] = "left",
) -> Block:
    """A paragraph from its tallest letter to the lowest; `width` and `size` in points, `leading` in ems."""
    lines = break_lines(stretches, round(width / size, 4))
    if not lines:
        return EMPTY
    # Half a hair beneath the ascenders keeps paragraphs evenly spaced whatever their letters.
    rise = max([0.77, *(face(f).ink(t)[1] for _, t, f in lines[0].stretches)])
    fall = max([0.21, *(-face(f).ink(t)[0] for _, t, f in lines[-1].stretches)])
    marks: list[Mark] = []
    for number, line in enumerate(lines):
        room = width - line.width * size
        x = {"left": 0.0, "right": room, "centre": room / 2}[align]
        y = (rise + number * leading) * size
        marks.extend(line_marks(line, x=x, y=y, size=size, colour=colour, block=block))
    return Block(tuple(marks), width, (rise + (len(lines) - 1) * leading + fall) * size)


def joined(*parts: str) -> str:
    """The parts that are not empty with a raised dot between."""
    return DOT.join(part for part in parts if part)


def bound(text: str) -> str:
    """A short phrase that stays on one line; a long one may break after its first word."""
    return text.replace(" ", "\u00a0") if len(text) <= 24 else text


def plain(text: str, width: float, style: Style, *, block: str, face_name: str = "", size: float = 0.0) -> Block:
    """One string as a paragraph in the style's text size, or in a given face and size."""
    if not text:
        return EMPTY
    return paragraph(
        ((text, face_name or style.regular),),
        width=width,
        size=size or style.base,
        block=block,
        colour=style.ink,
        leading=style.leading,
    )


def heading(content: LabelContent, width: float, style: Style) -> Block:
    """Title and story line."""
    title = paragraph(
        ((content.title, "title"),),
        width=width,
        size=style.base * style.title,
        block="title",
        colour=style.accent,
        leading=1.04,
    )
    story_size = max(style.base, min(style.base * 1.25, style.base * style.title * 0.5))
    story = plain(content.story, width, style, block="story", face_name="story", size=story_size)
    return stack([title, story], style.between(0.1, 0.55), width)


def labelled(word: str, stretches: tuple[Stretch, ...], width: float, style: Style, *, block: str) -> Block:
    """A paragraph that opens with a bold word."""
    if not stretches:
        return EMPTY
    body = ((f"{word} ", style.bold), *stretches) if word else stretches
    return paragraph(body, width=width, size=style.base, block=block, colour=style.ink, leading=style.leading)


def ingredients(content: LabelContent, width: float, style: Style) -> Block:
    """The ingredient list with its heading."""
    word = words(content.language)["ingredients"]
    return labelled(word, runs_of(content.ingredients, style), width, style, block="ingredients")


def allergens(content: LabelContent, width: float, style: Style) -> Block:
    """The allergen statement between two rules, so that it is found at a glance."""
    body = labelled("", runs_of(content.allergens, style), width, style, block="allergens")
    if not body.marks:
        return EMPTY
    pad = style.between(0.28, 0.5)
    top = Rule(0, 0.35, width, 0.35, 0.7, style.line, "allergens")
    height = body.height + 2 * pad
    return Block((top, *body.at(0, pad), replace(top, y0=height, y1=height)), width, height + 0.35)


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
    return Block(marks, width, second + thin / 2)


def colophon(content: LabelContent, width: float, style: Style, *, run_in: bool) -> Block:
    """Maker, dates and lot, and the recipe's hash: a line each, or one paragraph where room is short."""
    fixed = words(content.language)
    maker = joined(bound(content.maker), content.place)
    dates = joined(*(bound(f"{fixed[key]} {value}") for key, value in _dates(content) if value))
    stamp = joined(*(bound(f"{fixed[key]} {value}") for key, value in _stamp(content) if value))
    lines = [(maker, style.bold, "maker"), (dates, style.regular, "dates"), (stamp, style.italic, "stamp")]
    if not run_in:
        gap = style.between(0.1, 0.3)
        return stack([plain(t, width, style, block=b, face_name=f) for t, f, b in lines], gap, width)
    stretches: list[Stretch] = []
    for text, face_name, _ in lines:
        if text and stretches:
            stretches.append((DOT, style.regular))
        if text:
            stretches.append((text, face_name))
    size = style.base
    return paragraph(
        tuple(stretches), width=width, size=size, block="maker", colour=style.ink, leading=style.leading
    )


def _dates(content: LabelContent) -> list[tuple[str, str]]:
    return [("made", content.made), ("best_before", content.best_before), ("lot", content.lot)]


def _stamp(content: LabelContent) -> list[tuple[str, str]]:
    return [("recipe", content.digest), ("as_of", content.as_of)]


def foot(content: LabelContent, width: float, style: Style, *, side_by_side: bool, run_in: bool) -> Block:
    """Net quantity and colophon under a double rule."""
    net_face = "slim-bold" if style.set_width == "slim" else "title"
    size = max(face(net_face).size_for(style.net_mm), style.base)
    net = plain(content.net, width, style, block="net", face_name=net_face, size=size)
    net = replace(net, marks=tuple(replace(m, colour=style.accent) for m in net.marks))
    if side_by_side and net.marks:
        used = max(m.x + text_width(m.text, m.face) * m.size for m in net.marks if isinstance(m, Text))
        x = used + 1.6 * style.base
        if width - x < 9 * style.base:
            return Block((), width, math.inf)
        body = beside(net, colophon(content, width - x, style, run_in=run_in), x, width)
    else:
        body = stack([net, colophon(content, width, style, run_in=run_in)], style.between(0.2, 0.5), width)
    return stack([scotch(width, style, "net"), body], style.between(0.3, 0.6), width) if body.height else EMPTY
