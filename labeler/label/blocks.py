"""The blocks of a label: each takes a width and a style and becomes a `Block` of known height.

Blocks know nothing of the page. They are set from their own top left corner, so a layout may try a block at several
sizes and keep the one that fits.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Literal

from labeler.label.content import LabelContent, NutritionRow, Run
from labeler.label.drawing import Mark, Rule, Text, moved
from labeler.label.fonts import face
from labeler.label.setting import Stretch, break_lines, line_marks, text_width
from labeler.label.words import words

__all__ = ["Block", "Style", "foot", "heading", "nutrition", "paragraph", "runs_of", "stack", "table_width"]


@dataclass(frozen=True, slots=True)
class Style:
    """What a layout may change to make a label fit.

    Parameters
    ----------
    base : float
        Size of the running text [pt].
    narrow : bool
        Set the running text in the narrower width of the family.
    air : float
        0 for the tightest leading and gaps, 1 for the widest.
    title : float
        Size of the title, in `base`.
    net : float
        Size of the net quantity [pt].
    ink, accent, line : str
        Colours as "#rrggbb": of text, of title and headings, of hairlines.
    """

    base: float
    narrow: bool = False
    air: float = 0.0
    title: float = 2.0
    net: float = 0.0
    ink: str = "#000000"
    accent: str = "#000000"
    line: str = "#000000"

    @property
    def regular(self) -> str:
        """Name of the upright face."""
        return "narrow" if self.narrow else "text"

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
        return 1.14 + 0.2 * self.air


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


def stack(blocks: list[Block], gap: float, width: float) -> Block:
    """Blocks one below the other, `gap` points apart; empty ones are left out."""
    marks: list[Mark] = []
    y = 0.0
    for block in (b for b in blocks if b.marks):
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


@dataclass(frozen=True, slots=True)
class _Figure:
    """A figure in its three parts around the decimal mark, or a phrase that has none."""

    whole: str
    fraction: str = ""
    unit: str = ""
    phrase: str = ""


def _figure(text: str, decimal: str) -> _Figure:
    mark = re.escape(decimal)
    thousands = "," if decimal == "." else "."
    pattern = rf"([<>≤≥~≈]?\s?\d{{1,3}}(?:[{thousands}\u00a0 ]?\d{{3}})*|[<>≤≥~≈]?\s?\d+)({mark}\d+)?\s*([^\d]*)"
    found = re.fullmatch(pattern, text)
    if not found:
        return _Figure("", phrase=text)
    return _Figure(found[1], found[2] or "", found[3].strip())


@dataclass(frozen=True, slots=True)
class _Column:
    """A column of figures: its heading and the widths of its parts [em of the base size]."""

    heading: str
    texts: tuple[str, ...]
    figures: tuple[_Figure, ...]
    whole: float
    fraction: float
    unit: float
    width: float


_UNIT_GAP = 0.22
_INDENT = 0.9


def _column(head: str, texts: tuple[str, ...], style: Style, decimal: str) -> _Column | None:
    if not any(texts):
        return None
    figures = tuple(_figure(text, decimal) for text in texts)
    faces = (style.bold, *(style.regular for _ in figures[1:]))
    whole = max(text_width(f.whole, name) for f, name in zip(figures, faces, strict=True))
    fraction = max(text_width(f.fraction, name) for f, name in zip(figures, faces, strict=True))
    unit = max(text_width(f.unit, name) for f, name in zip(figures, faces, strict=True))
    unit += _UNIT_GAP if unit else 0.0
    phrase = max(text_width(f.phrase, name) for f, name in zip(figures, faces, strict=True))
    width = max(whole + fraction + unit, phrase, *(text_width(w, style.italic) for w in head.split(" ")))
    if text_width(head, style.italic) < width * 1.6:
        width = max(width, text_width(head, style.italic))
    return _Column(head, texts, figures, whole, fraction, unit, width)


def _columns(content: LabelContent, style: Style) -> list[_Column]:
    fixed = words(content.language)
    rows = content.nutrition
    columns = [
        _column(fixed["per_serving"], tuple(row.per_serving for row in rows), style, content.decimal),
        _column(fixed["percent"], tuple(row.percent for row in rows), style, content.decimal),
        _column(fixed["per_100g"], tuple(row.per_100g for row in rows), style, content.decimal),
    ]
    return [column for column in columns if column]


def _name_width(row: NutritionRow, style: Style, leads: bool) -> float:
    return row.level * _INDENT + text_width(row.name, style.bold if leads else style.regular)


def table_width(content: LabelContent, style: Style, *, wrap: bool = False) -> float:
    """Width of the nutrition table [pt]: with every name on one line, or the least that its words allow."""
    if not content.nutrition:
        return 0.0
    columns = sum(column.width + 1.1 for column in _columns(content, style))
    if wrap:
        return (6.0 + columns) * style.base
    names = max(_name_width(row, style, number == 0) for number, row in enumerate(content.nutrition))
    return (names + columns) * style.base


def _set_figure(figure: _Figure, column: _Column, right: float, y: float, style: Style, leads: bool) -> list[Mark]:
    """The marks of one figure in a column that ends at `right` [pt], decimal marks one under the other."""
    name = style.bold if leads else style.regular
    size = style.base

    def mark(text: str, x: float) -> Mark:
        return Text(x, y, name, size, text, style.ink, "nutrition")

    if figure.phrase:
        return [mark(figure.phrase, right - text_width(figure.phrase, name) * size)]
    point = right - (column.unit + column.fraction) * size
    number = figure.whole + figure.fraction
    marks = [mark(number, point - text_width(figure.whole, name) * size)] if number else []
    if figure.unit:
        marks.append(mark(figure.unit, right - column.unit * size + _UNIT_GAP * size))
    return marks


def nutrition(content: LabelContent, width: float, style: Style) -> Block:
    """The nutrition table: serving, columns of figures aligned on the decimal mark, and what to know about them.

    A hairline stands over each main line; the lines that belong to it follow close below, indented.
    """
    if not content.nutrition:
        return EMPTY
    fixed, size = words(content.language), style.base
    marks: list[Mark] = []
    head = plain(fixed["nutrition"], width, style, block="nutrition", face_name=style.bold, size=size * 1.25)
    head = replace(head, marks=tuple(replace(m, colour=style.accent) for m in head.marks))
    serving_parts = [f"{fixed['serving']} {content.serving}" if content.serving else "", content.servings]
    serving = plain(" · ".join(p for p in serving_parts if p), width, style, block="nutrition")
    top = stack([head, serving], style.between(0.12, 0.3), width)
    marks.extend(top.marks)
    y = top.height + style.between(0.3, 0.6)

    columns = _columns(content, style)
    rights: list[float] = []
    right = width
    for column in reversed(columns):
        rights.insert(0, right)
        right -= (column.width + 1.1) * size
    name_room = right
    heads = [
        paragraph(
            ((column.heading, style.italic),),
            width=column.width * size + 0.01,
            size=size,
            block="nutrition",
            colour=style.ink,
            leading=1.1,
            align="right",
        )
        for column in columns
    ]
    deepest = max((h.height for h in heads), default=0.0)
    for column, block, place in zip(columns, heads, rights, strict=True):
        marks.extend(block.at(place - column.width * size - 0.01, y + deepest - block.height))
    y += deepest + style.between(0.1, 0.25)

    pitch = style.between(1.14, 1.5)
    for number, row in enumerate(content.nutrition):
        leads = number == 0
        if row.level == 0:
            y += style.between(0.1, 0.25)
            marks.append(Rule(0, y, width, y, 0.7 if leads else 0.3, style.line, "nutrition"))
            y += style.between(0.02, 0.12)
        indent = row.level * _INDENT * size
        name = paragraph(
            ((row.name, style.bold if leads else style.regular),),
            width=name_room - indent,
            size=size,
            block="nutrition",
            colour=style.ink,
            leading=pitch / size,
        )
        marks.extend(name.at(indent, y))
        baseline = y + (name.marks[0].y if name.marks and isinstance(name.marks[0], Text) else 0.8 * size)
        for column, place in zip(columns, rights, strict=True):
            if column.texts[number]:
                marks.extend(_set_figure(column.figures[number], column, place, baseline, style, leads))
        y += max(name.height - 0.98 * size, 0.0) + pitch
    y += style.between(0.1, 0.25)
    marks.append(Rule(0, y, width, y, 0.7, style.line, "nutrition"))
    notes = stack(
        [plain(n, width, style, block="nutrition", face_name=style.italic) for n in content.nutrition_notes],
        style.between(0.05, 0.2),
        width,
    )
    if notes.marks:
        y += style.between(0.25, 0.5)
        marks.extend(notes.at(0, y))
        y += notes.height
    return Block(tuple(marks), width, y)


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


def foot(content: LabelContent, width: float, style: Style, *, side_by_side: bool) -> Block:
    """Net quantity, maker, dates and lot, and the recipe's hash, over a rule."""
    fixed = words(content.language)
    net = plain(content.net, width, style, block="net", face_name="text-bold", size=style.net)
    maker = " · ".join(part for part in (content.maker, content.place) if part)
    dates = " · ".join(
        f"{fixed[key]} {value}"
        for key, value in (("made", content.made), ("best_before", content.best_before), ("lot", content.lot))
        if value
    )
    stamp = " · ".join(
        f"{fixed[key]} {value}" for key, value in (("recipe", content.digest), ("as_of", content.as_of)) if value
    )
    lines = [("maker", maker, style.bold), ("dates", dates, style.regular), ("stamp", stamp, style.italic)]
    gap = style.between(0.1, 0.3)

    def colophon(room: float) -> Block:
        return stack([plain(t, room, style, block=b, face_name=f) for b, t, f in lines], gap, room)

    rule = Rule(0, 0.35, width, 0.35, 0.7, style.line, "net")
    pad = style.between(0.35, 0.7)
    if side_by_side and net.marks:
        used = max(m.x + text_width(m.text, m.face) * m.size for m in net.marks if isinstance(m, Text))
        column = used + 1.6 * style.base
        body = beside(net, colophon(width - column), column, width)
    else:
        body = stack([net, colophon(width)], style.between(0.2, 0.5), width)
    if not body.marks:
        return EMPTY
    return Block((rule, *body.at(0, pad)), width, pad + body.height)
