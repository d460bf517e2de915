"""The nutrition table of the generic label.

The columns of figures are aligned on the decimal mark, with the units in a column of their own. A hairline stands over
each main line; the lines that belong to it follow close below, indented. The first line, energy, is on a scale of its
own: its figures are bold and end at the edge of their column.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache, partial

from labeler.label.blocks import EMPTY, Block, Style, bound, joined, paragraph, plain, stack
from labeler.label.content import LabelContent
from labeler.label.drawing import Mark, RuledLine
from labeler.label.panels.draw import panel_block, panel_width
from labeler.label.printed_figures import PrintedFigure, split_figure
from labeler.label.typesetting import longest_word, text_marks, text_width
from labeler.label.words import words

__all__ = ["nutrition", "table_width"]

_UNIT_GAP = 0.2
_INDENT = 0.8
_COLUMN_GAP = 1.0


@dataclass(frozen=True, slots=True)
class _Column:
    """A column of figures: its heading and the widths of its parts [em of the base size]."""

    heading: str
    texts: tuple[str, ...]
    figures: tuple[PrintedFigure, ...]
    fraction: float
    unit: float
    width: float


def _column(head: str, texts: tuple[str, ...], style: Style, decimal: str) -> _Column | None:
    if not any(texts):
        return None
    figures = tuple(split_figure(text, decimal) for text in texts)
    rest = figures[1:]

    def widest(parts: list[str]) -> float:
        return max((text_width(part, style.regular) for part in parts), default=0.0)

    fraction = widest([f.fraction for f in rest])
    unit = widest([f.unit for f in rest])
    unit += _UNIT_GAP if unit else 0.0
    width = max(
        widest([f.whole for f in rest]) + fraction + unit,
        widest([f.phrase for f in rest]),
        text_width(figures[0].text, style.bold),
    )
    width = max(width, _heading_width(head, width * 1.5, style))
    return _Column(head, texts, figures, fraction, unit, width)


def _heading_width(head: str, room: float, style: Style) -> float:
    """The width that a heading asks for [em]: on one line where there is room, else on two as even as can be."""
    lean = 0.12  # slanted letters reach out of their set width
    alone = text_width(head, style.italic) + lean
    if alone <= room:
        return alone
    splits = [(head[: found.start()], head[found.end() :]) for found in re.finditer(" ", head)]
    return min((max(text_width(part, style.italic) for part in split) + lean for split in splits), default=alone)


@lru_cache(maxsize=64)
def _columns(content: LabelContent, set_width: str) -> list[_Column]:
    fixed = words(content.language)
    rows, style = content.nutrition, Style(1.0, set_width)
    columns = [
        _column(fixed["per_serving"], tuple(row.per_serving for row in rows), style, content.decimal),
        _column(content.percent_heading, tuple(row.percent for row in rows), style, content.decimal),
        _column(fixed["per_100g"], tuple(row.per_100g for row in rows), style, content.decimal),
    ]
    return [column for column in columns if column]


@lru_cache(maxsize=256)
def table_width(content: LabelContent, style: Style, *, wrap: bool = False) -> float:
    """Width of the nutrition table [pt]: with every name on one line, or the least that cuts no word."""
    if content.panel is not None:
        return panel_width(content.panel)
    if not content.nutrition:
        return 0.0
    columns = sum(column.width + _COLUMN_GAP for column in _columns(content, style.set_width))
    least = max(text_width(words(content.language)["nutrition"], "title") * 1.5 + 0.2, 8.0)
    names = max(
        row.level * _INDENT + (longest_word(((row.name, face),)) if wrap else text_width(row.name, face))
        for n, row in enumerate(content.nutrition)
        for face in (_name_face(style, n),)
    )
    return max(names + columns, least) * style.base + 0.05


def _name_face(style: Style, number: int) -> str:
    return style.regular if number else style.bold


def _set_figure(column: _Column, number: int, right: float, y: float, style: Style) -> list[Mark]:
    """The marks of one figure in a column that ends at `right` [pt], decimal marks one under the other."""
    figure, size, name = column.figures[number], style.base, _name_face(style, number)

    def mark(text: str, x: float) -> list[Mark]:
        return text_marks(text, name, x=x, y=y, size=size, colour=style.ink, block="nutrition")

    if figure.phrase or not number:
        return mark(figure.text, right - text_width(figure.text, name) * size)
    point = right - (column.unit + column.fraction) * size
    marks = mark(figure.whole + figure.fraction, point - text_width(figure.whole, name) * size)
    return marks + mark(figure.unit, right - (column.unit - _UNIT_GAP) * size)


def _set_figures(columns: list[_Column], rights: list[float], number: int, y: float, style: Style) -> Iterator[Mark]:
    """The marks of one line's figures."""
    for column, right in zip(columns, rights, strict=True):
        if column.texts[number]:
            yield from _set_figure(column, number, right, y, style)


def _top(content: LabelContent, width: float, style: Style) -> Block:
    """The table's own heading and the serving."""
    fixed = words(content.language)
    scale = min(1.5, max(1.1, 0.62 * style.title))
    head = plain(
        fixed["nutrition"],
        width,
        style,
        block="nutrition",
        face_name="title",
        size=style.base * scale,
        colour=style.accent,
    )
    size = bound(f"{fixed['serving']} {content.serving}") if content.serving else ""
    serving = plain(joined(size, bound(content.servings)), width, style, block="nutrition")
    x = head.reach + 0.7 * style.base
    if style.air < 0.1 and serving.height and x + serving.reach <= width and serving.first == serving.last:
        # Where room is short, both stand on one line if it holds them.
        drop = max(serving.first - head.first, 0.0)
        both = ((0.0, drop, head), (x, drop + head.first - serving.first, serving))
        return Block(width, max(drop + head.height, drop + head.first - serving.first + serving.height), parts=both)
    return stack([head, serving], style.between(0.1, 0.35), width)


def _heads(columns: list[_Column], rights: list[float], style: Style) -> Block:
    """The columns' headings, level at the foot."""
    size = style.base
    blocks = [
        paragraph(
            ((column.heading, style.italic),),
            width=column.width * size + 0.01,
            size=size,
            block="nutrition",
            colour=style.ink,
            leading=1.08,
            align="right",
        )
        for column in columns
    ]
    height = max((block.height for block in blocks), default=0.0)
    placed = [(right - b.width, height - b.height, b) for b, right in zip(blocks, rights, strict=True)]
    return Block(0.0, height, parts=tuple(placed))


@lru_cache(maxsize=512)
def nutrition(content: LabelContent, width: float, style: Style) -> Block:
    """The whole table with what to know about its figures, or the official panel; `width` in points."""
    if content.panel is not None:
        return panel_block(content.panel, max(width, panel_width(content.panel)))
    if not content.nutrition:
        return EMPTY
    size = style.base
    columns = _columns(content, style.set_width)
    spare = width - table_width(content, style)
    gap = _COLUMN_GAP * size + min(max(spare * 0.22, 0.0), 2.5 * size)
    rights: list[float] = []
    right = width
    for column in reversed(columns):
        rights.insert(0, right)
        right -= column.width * size + gap
    top = _top(content, width, style)
    heads = _heads(columns, rights, style)
    y = top.height + style.between(0.15, 0.6)
    parts = [(0.0, 0.0, top), (0.0, y, heads)]
    rules: list[Mark] = []
    y += heads.height + style.between(0.05, 0.2)

    drop = style.between(0.94, 1.12)  # from a rule to the baseline below it
    pitch = style.between(1.07, 1.34)  # between the lines of a group
    rest = style.between(0.3, 0.42)  # from a baseline to the rule below it
    baseline = y - rest
    for number, row in enumerate(content.nutrition):
        if number == 0 or row.level == 0:
            rule = baseline + rest
            rules.append(RuledLine(0, rule, width, rule, 0.3 if number else 0.8, style.line, "nutrition"))
            baseline = rule + drop
        else:
            baseline += pitch
        indent = row.level * _INDENT * size
        name = paragraph(
            ((row.name, _name_face(style, number)),),
            width=right - indent,
            size=size,
            block="nutrition",
            colour=style.ink,
            leading=1.07,
        )
        parts.append((indent, baseline - name.first, name))
        parts.append((0.0, 0.0, Block(marks=partial(_set_figures, columns, rights, number, baseline, style))))
        baseline += name.last - name.first
    y = baseline + rest
    rules.append(RuledLine(0, y, width, y, 0.8, style.line, "nutrition"))
    notes = stack(
        [plain(n, width, style, block="nutrition", face_name=style.italic) for n in content.nutrition_notes],
        style.between(0.05, 0.2),
        width,
    )
    if notes.height:
        y += style.between(0.2, 0.5)
        parts.append((0.0, y, notes))
        y += notes.height
    return Block(width, y, tuple(rules), tuple(parts))
