"""The table per 100 g, with a column per portion beside it where one is given."""

from __future__ import annotations

from dataclasses import dataclass

from labeler.label.panels.content import PanelContent, PanelRow
from labeler.label.panels.pen import BOLD, CAP, INDENT, PAD, REGULAR, PanelPen, length
from labeler.label.panels.vertical import PARTS, names_width
from labeler.label.printed_figures import split_figure

__all__ = ["table", "table_width"]


@dataclass(frozen=True, slots=True)
class _Column:
    """A column of the table: the widths of what stands after the decimal mark and of the unit, and its own [pt]."""

    fraction: float
    unit: float
    width: float


def _table_columns(panel: PanelContent) -> list[_Column]:
    pen = PanelPen(panel, 0)
    size, columns = pen.points("nutrients"), []
    for n, heading in enumerate(panel.headings):
        figures = [split_figure(row.amounts[n], panel.decimal) for row in panel.rows]
        fraction = max(length(f.fraction, REGULAR, size) for f in figures)
        unit = max(length(f.unit, REGULAR, size) for f in figures) + 0.2 * size
        whole = max(length(f.whole or f.phrase, REGULAR, size) for f in figures)
        head = max(length(p, pen.bold("column headings"), pen.points("column headings")) for p in _broken(heading))
        energy = length(panel.energy[n], REGULAR, size)
        columns.append(_Column(fraction, unit, max(whole + fraction + unit, head, energy) + 10))
    return columns


def _broken(heading: str) -> list[str]:
    """A column's heading on two lines, what stands in parentheses on the second."""
    return heading.replace(" (", "\n(").split("\n")


def _percent_head(panel: PanelContent) -> list[str]:
    pen = PanelPen(panel, 0)
    return [pen.word("percent heading", "% RI"), panel.headings[0]]


def _percent_width(panel: PanelContent) -> float:
    """Width of the percentages, which are of the first column [pt]; 0 where there are none."""
    if not any(row.percents[0] for row in panel.rows):
        return 0.0
    pen = PanelPen(panel, 0)
    size, name = pen.points("column headings"), pen.bold("column headings")
    return max(length(text, name, size) for text in [*_percent_head(panel), "100 %"]) + 10


def table_width(panel: PanelContent) -> float:
    pen = PanelPen(panel, 0)
    figures = sum(column.width for column in _table_columns(panel)) + _percent_width(panel)
    names = max(names_width(panel, amounts=False), length(_energy_name(pen), REGULAR, pen.points("nutrients")))
    return max(names + figures, length(panel.data["heading"], BOLD, pen.points("heading"))) + 2 * PAD


def table(pen: PanelPen) -> None:
    """The parts in their order; energy leads the nutrients, and a footnote stands only beside percentages."""
    columns = _table_columns(pen.panel)
    rights = _right_edges(pen, columns)
    for part in pen.data["sequence"]:
        if part == "heading":
            pen.lines(((pen.data["heading"], BOLD),), pen.points("heading"), pen.leading("other"))
        elif part == "column headings":
            _table_heads(pen, rights)
        elif part in {"nutrients", "vitamins"}:
            if part == "nutrients":
                _energy_line(pen, rights)
            for row in (row for row in pen.panel.rows if row.group == part):
                _table_row(pen, row, columns, rights)
        elif part != "footnote" or _percent_width(pen.panel):
            PARTS[part](pen)


def _right_edges(pen: PanelPen, columns: list[_Column]) -> list[float]:
    """Where each column of amounts ends [pt]."""
    rights: list[float] = []
    right = pen.right - _percent_width(pen.panel)
    for column in reversed(columns):
        rights.insert(0, right)
        right -= column.width
    return rights


def _energy_line(pen: PanelPen, rights: list[float]) -> None:
    """Energy in each column, and its percentage."""
    baseline, size = _table_line(pen, _energy_name(pen), REGULAR, 0.0), pen.points("nutrients")
    for at, energy in zip(rights, pen.panel.energy, strict=True):
        pen.put(energy, REGULAR, size, at, baseline, right=True)
    if pen.panel.energy_percent:
        pen.put(pen.panel.energy_percent, REGULAR, size, pen.right, baseline, right=True)


def _energy_name(pen: PanelPen) -> str:
    return pen.word("energy name", "Energy")


def _table_heads(pen: PanelPen, rights: list[float]) -> None:
    size, name = pen.points("column headings"), pen.bold("column headings")
    heads = [(_broken(heading), right) for heading, right in zip(pen.panel.headings, rights, strict=True)]
    if _percent_width(pen.panel):
        heads.append((_percent_head(pen.panel), pen.right))
    deepest = max(len(head) for head, _ in heads)
    for line in range(deepest):
        pen.y += (CAP + 0.3) * size
        for head, right in heads:
            at = line - (deepest - len(head))
            if at >= 0:
                pen.put(head[at], name, size, right, pen.y, right=True)
    pen.y += 0.35 * size


def _table_line(pen: PanelPen, name: str, face: str, indent: float) -> float:
    """A line's name; returns its baseline."""
    size = pen.points("nutrients")
    baseline = pen.y + 0.65 * size + CAP * size / 2
    pen.put(name, face, size, pen.left + indent, baseline)
    pen.y += 1.3 * size
    return baseline


def _table_row(pen: PanelPen, row: PanelRow, columns: list[_Column], rights: list[float]) -> None:
    size = pen.points("nutrients")
    baseline = _table_line(pen, row.name, pen.bold(row.id), row.indent * INDENT)
    for column, right, amount in zip(columns, rights, row.amounts, strict=True):
        figure = split_figure(amount, pen.panel.decimal)
        if figure.phrase:
            pen.put(figure.phrase, REGULAR, size, right, baseline, right=True)
        elif amount:
            point = right - column.unit - column.fraction
            pen.put(figure.whole, REGULAR, size, point, baseline, right=True)
            pen.put(figure.fraction, REGULAR, size, point, baseline)
            pen.put(figure.unit, REGULAR, size, right - column.unit + 0.2 * size, baseline)
    if row.percents[0]:
        pen.put(row.percents[0], REGULAR, size, pen.right, baseline, right=True)
