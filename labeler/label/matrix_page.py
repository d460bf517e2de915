"""The allergen matrix of a stall: one line for each dish, one column for each allergen of the market.

A field says that the dish contains the allergen, or that a package has to be read, or nothing; the page says in words
that an empty field promises nothing.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from labeler.label.blocks import joined, paragraph
from labeler.label.boxes import Block, stack
from labeler.label.compose import INK, LEAST_X_HEIGHT_MM, DoesNotFit, can_print, checked_colour
from labeler.label.drawing import MM, Drawing, Mark, RuledLine, Text
from labeler.label.fitting import margin_of
from labeler.label.fonts import face
from labeler.label.printable_text import plain_text
from labeler.label.typesetting import text_marks, text_width
from labeler.label.words import words
from labeler.types import LabelerError, Problem

__all__ = ["CONTAINS", "READ_THE_PACKAGE", "MatrixContent", "MatrixRow", "compose_matrix", "draw_matrix"]

CONTAINS, READ_THE_PACKAGE, NOT_FOUND = "contains", "read the package", ""
SIGNS = {CONTAINS: "●", READ_THE_PACKAGE: "?", NOT_FOUND: ""}


@dataclass(frozen=True, slots=True)
class MatrixRow:
    """One dish.

    Parameters
    ----------
    name : str
        As the stall calls it.
    states : tuple of str
        `CONTAINS`, `READ_THE_PACKAGE` or empty, one for each allergen of the matrix.
    digest : str
        Short hash of its recipe.
    """

    name: str
    states: tuple[str, ...]
    digest: str = ""


@dataclass(frozen=True, slots=True)
class MatrixContent:
    """What the matrix says: title, allergens in the order of the columns, dishes, whose it is and as of when.

    `notes` say of which dish an ingredient could not be assessed, so that an empty field is no answer there.
    """

    title: str
    allergens: tuple[str, ...]
    rows: tuple[MatrixRow, ...]
    maker: str = ""
    place: str = ""
    as_of: str = ""
    language: str = "en"
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for row in self.rows:
            if len(row.states) != len(self.allergens) or not set(row.states) <= set(SIGNS):
                raise LabelerError(
                    f"the matrix line of {row.name!r} needs one state for each of {len(self.allergens)} allergens:"
                    f" '{CONTAINS}', '{READ_THE_PACKAGE}' or nothing"
                )


def _printable(content: MatrixContent) -> tuple[MatrixContent, tuple[Problem, ...]]:
    replaced: set[str] = set()

    def clean(text: str) -> str:
        result, changed = plain_text(text, can_print)
        replaced.update(changed)
        return result

    rows = tuple(replace(row, name=clean(row.name), digest=clean(row.digest)) for row in content.rows)
    cleaned = replace(
        content,
        title=clean(content.title),
        allergens=tuple(clean(name) for name in content.allergens),
        rows=rows,
        maker=clean(content.maker),
        place=clean(content.place),
        as_of=clean(content.as_of),
        notes=tuple(map(clean, content.notes)),
    )
    listed = ", ".join(sorted(f"U+{ord(char):04X}" for char in replaced)[:5])
    problem = Problem("cannot-print", f"the matrix: not printable as written and replaced: {listed}")
    return cleaned, (problem,) if replaced else ()


@dataclass(frozen=True, slots=True)
class _Look:
    """Size of the text [pt], colour of title and rules, and white above and below each line of the table [em]."""

    size: float
    accent: str
    pad: float = 0.35


def _foot(content: MatrixContent, width: float, look: _Look) -> Block:
    fixed = words(content.language)
    legend = f"{SIGNS[CONTAINS]} {fixed['contains']} · ? {fixed['read_the_package']} · {fixed['not_found']}"
    maker = joined(content.maker, content.place, f"{fixed['as_of']} {content.as_of}" if content.as_of else "")
    blocks = [
        paragraph(((text, name),), width=width, size=look.size, block=block, colour=INK, leading=1.2)
        for text, name, block in (
            ("! " + " · ".join(content.notes) if content.notes else "", "text-bold", "notes"),
            (legend, "text", "legend"),
            (maker, "text-bold", "maker"),
        )
        if text
    ]
    return stack(blocks, 0.5 * look.size, width)


def _grid(content: MatrixContent, width: float, look: _Look) -> Block:
    """The table: names on the left, the allergens' names upright over their columns."""
    size = look.size
    count = len(content.allergens)
    head = max((text_width(name, "text-bold") for name in content.allergens), default=0.0) * size + 0.8 * size
    names = width * 0.36
    column = (width - names) / max(count, 1)
    if column < 1.5 * size:
        return Block(width, math.inf)
    marks: list[Mark] = []
    for number, name in enumerate(content.allergens):
        x = names + (number + 0.5) * column + 0.357 * size
        marks.append(Text(x, head - 0.4 * size, "text-bold", size, name, INK, "heads", turn=90))
    parts: list[tuple[float, float, Block]] = []
    y = head
    rules = [RuledLine(0, y, width, y, 0.8, look.accent, "grid")]
    for row in content.rows:
        label = paragraph(
            ((row.name, "text"), *(((f" {row.digest}", "text-italic"),) if row.digest else ())),
            width=names - 0.6 * size,
            size=size,
            block="grid",
            colour=INK,
            leading=1.15,
        )
        high = max(label.height, size) + 2 * look.pad * size
        parts.append((0.0, y + look.pad * size, label))
        baseline = y + look.pad * size + (label.first or 0.77 * size)
        for number, state in enumerate(row.states):
            sign = SIGNS[state]
            if sign:
                name = "text-bold" if state == READ_THE_PACKAGE else "text"
                x = names + (number + 0.5) * column - text_width(sign, name) * size / 2
                parts.append(
                    (0.0, 0.0, _sign(sign, name, x, baseline, size)),
                )
        y += high
        rules.append(RuledLine(0, y, width, y, 0.3, look.accent, "grid"))
    rules += [
        RuledLine(names + number * column, 0.2 * size, names + number * column, y, 0.3, look.accent, "grid")
        for number in range(count)
    ]
    return Block(width, y, (*rules, *marks), tuple(parts))


def _sign(sign: str, name: str, x: float, y: float, size: float) -> Block:
    return Block(marks=tuple(text_marks(sign, name, x=x, y=y, size=size, colour=INK, block="grid")))


def _page(content: MatrixContent, width: float, look: _Look) -> tuple[Block, Block]:
    title = paragraph(
        ((content.title, "title"),), width=width, size=2.4 * look.size, block="title", colour=look.accent, leading=1.05
    )
    body = stack([title, _grid(content, width, look)], 0.8 * look.size, width)
    return body, _foot(content, width, look)


def compose_matrix(
    content: MatrixContent, *, size: tuple[float, float] = (297.0, 210.0), colour: str | None = None
) -> Drawing:
    """The matrix on one page.

    Parameters
    ----------
    content : MatrixContent
        What it says.
    size : tuple of float
        Width and height of the page [mm].
    colour : str or None
        Of title and rules; None for black only.

    Raises
    ------
    DoesNotFit
        There are more dishes or allergens than the page holds at the smallest lawful type.
    """
    content, problems = _printable(content)
    accent = checked_colour(colour) if colour else INK
    least = face("text").size_for(LEAST_X_HEIGHT_MM) * 1.0002
    margin = margin_of(size[0] * MM, size[1] * MM)
    width, height = (side * MM - 2 * margin for side in size)

    def high(points: float, room: float = width, pad: float = 0.35) -> float:
        body, foot = _page(content, room, _Look(points, accent, pad))
        return body.height + 1.2 * points + foot.height

    if high(least) > height:
        raise DoesNotFit(size, _needed(size, lambda room: high(least, room)))
    low, most = least, 14.0
    while most - low > 0.05:
        middle = (low + most) / 2
        low, most = (middle, most) if high(middle) <= height else (low, middle)
    pad = max(p / 100 for p in range(35, 95, 5) if p == 35 or high(low, pad=p / 100) <= height)
    body, foot = _page(content, width, _Look(low, accent, pad))
    marks = (*body.at(margin, margin), *foot.at(margin, margin + height - foot.height))
    safe = (margin, margin, margin + width, margin + height)
    return Drawing(size[0] * MM, size[1] * MM, safe, marks, content.title, content.language, problems=problems)


def _needed(size: tuple[float, float], high: Callable[[float], float]) -> tuple[float, float]:
    """The least page that holds the matrix with its own margins, in whole millimetres, no narrower than asked [mm]."""
    wide, tall = size
    while True:
        margin = margin_of(wide * MM, tall * MM)
        need = high(wide * MM - 2 * margin)
        if math.isinf(need):
            wide = math.ceil(wide * 1.05)
        elif need > tall * MM - 2 * margin:
            tall = max(tall + 1, math.ceil((need + 2 * margin) / MM))
        else:
            return float(math.ceil(wide)), float(math.ceil(tall))


def draw_matrix(
    content: MatrixContent, *, size: tuple[float, float] = (297.0, 210.0), colour: str | None = None
) -> bytes:
    """The matrix as PDF bytes; parameters and errors as `compose_matrix`."""
    from labeler.label.pdf import write_pdf

    return write_pdf(compose_matrix(content, size=size, colour=colour))
