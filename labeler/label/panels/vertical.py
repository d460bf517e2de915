"""The vertical panel and that with two columns: parts one below the other, in the order that the rule gives."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from labeler.label.drawing import RuledLine
from labeler.label.panels.content import PanelContent
from labeler.label.panels.pen import BOLD, CAP, INDENT, INK, PAD, REGULAR, PanelPen, length
from labeler.label.typesetting import text_width

__all__ = [
    "PARTS",
    "calories",
    "dual_column_width",
    "footnote",
    "in_sequence",
    "names_width",
    "servings",
    "servings_words",
    "vertical_width",
]


def _heading(pen: PanelPen) -> None:
    """The heading, as wide as the panel and never smaller than its least size."""
    text, room = pen.data["heading"], pen.right - pen.left
    size = max(room / text_width(text, BOLD) * 0.998, pen.points("heading"))
    pen.y += CAP * size + 1.0
    pen.put(text, BOLD, size, pen.left, pen.y)
    pen.y += 0.2 * size


def servings_words(pen: PanelPen) -> str:
    count = pen.panel.servings
    return pen.word("one serving") if count.strip() == "1" else pen.word("servings", servings=count)


def servings(pen: PanelPen) -> None:
    if pen.panel.servings:
        pen.lines(((servings_words(pen), REGULAR),), pen.points("servings"), pen.leading("other"))


def in_two(serving: str) -> tuple[str, str]:
    """A serving in each language of the panel: "1 cup / 1 tasse (250 mL)" twice with its metric amount."""
    measures, aside, metric = serving.partition(" (")
    first, _, second = measures.partition(" / ")
    return f"{first}{aside}{metric}", f"{second or first}{aside}{metric}"


def _serving_size(pen: PanelPen) -> None:
    """The word at the left and the size at the right where one line holds both, else one after the other."""
    size, name = pen.points("serving size"), pen.bold("serving size")
    text, other = in_two(pen.panel.serving)
    word = pen.word("serving size", serving=text, other=other)
    if "{serving}" in pen.data["words"]["serving size"]:
        pen.lines(((word, name),), size, pen.leading("other"))
    elif length(word, name, size) + length(text, name, size) + 8 <= pen.right - pen.left:
        pen.y += (CAP + 0.12) * size + pen.leading("other") / 2
        pen.put(word, name, size, pen.left, pen.y)
        pen.put(text, name, size, pen.right, pen.y, right=True)
        pen.y += 0.24 * size + pen.leading("other") / 2
    else:
        pen.lines(((f"{word} {text}", name),), size, pen.leading("other"))


def _amount_per_serving(pen: PanelPen) -> None:
    text = pen.word("amount per serving")
    pen.lines(((text, pen.bold("amount per serving")),), pen.points("amount per serving"), pen.leading("other"))


def _columns(pen: PanelPen) -> list[tuple[float, float]]:
    """Left and right of each column of figures; one column has no left edge of its own."""
    if len(pen.panel.energy) == 1:
        return [(pen.left, pen.right)]
    each = _dual_width(pen.panel, pen.points("nutrients"))
    return [(pen.right - 2 * each, pen.right - each - 3.0), (pen.right - each, pen.right)]


def calories(pen: PanelPen) -> None:
    """The word and the number on one baseline."""
    word, number = pen.points("calories word"), pen.points("calories number")
    pen.y += CAP * number + 1.5
    pen.put(pen.word("calories"), BOLD, word, pen.left, pen.y)
    for (_, right), energy in zip(_columns(pen), pen.panel.energy, strict=True):
        pen.put(energy, BOLD, number, right, pen.y, right=True)
    pen.y += 2.5


def _calories_and_percents(pen: PanelPen) -> None:
    """Energy at the left with a bar under it, the heading of the percentages at the right on the same line."""
    size, small = pen.points("calories word"), pen.points("percent heading")
    pen.y += CAP * size + 2.0
    end = pen.put(f"{pen.word('calories')} ", BOLD, size, pen.left, pen.y)
    end = pen.put(pen.panel.energy[0], BOLD, pen.points("calories number"), end, pen.y)
    word = pen.word("percent heading")
    if end + 6 + length(word, BOLD, small) > pen.right:
        pen.y += 1.5
        bar = pen.weight("calories bar")
        pen.marks.append(RuledLine(pen.left, pen.y + bar / 2, end, pen.y + bar / 2, bar, INK, "nutrition"))
        pen.y += bar + (CAP + 0.3) * small
        pen.put(word, BOLD, small, pen.right, pen.y, right=True)
        pen.y += 2.0
        return
    pen.put(word, BOLD, small, pen.right, pen.y, right=True)
    pen.y += 2.0
    bar = pen.weight("calories bar")
    pen.marks.append(RuledLine(pen.left, pen.y + bar / 2, end, pen.y + bar / 2, bar, INK, "nutrition"))
    pen.y += bar


def _percent_heading(pen: PanelPen) -> None:
    size, name = pen.points("percent heading"), pen.bold("percent heading")
    pen.y += (CAP + 0.25) * size
    for _, right in _columns(pen):
        pen.put(pen.word("percent heading"), name, size, right, pen.y, right=True)
    pen.y += 0.35 * size


def _column_headings(pen: PanelPen) -> None:
    size, name = pen.points("column headings"), pen.bold("column headings")
    pen.y += (CAP + 0.25) * size
    for (_, right), text in zip(_columns(pen), pen.panel.headings, strict=True):
        pen.put(text, name, size, right, pen.y, right=True)
    pen.y += 0.2 * size


def _rows(pen: PanelPen, group: str) -> None:
    """Lines with a hairline between each two; above the most indented line it is indented too."""
    size, pitch = pen.points(group), pen.points(group) + pen.leading(group)
    columns = _columns(pen)
    main_only = pen.data.get("rules_above") == "main lines"
    top = pen.y
    for number, row in enumerate(row for row in pen.panel.rows if row.group == group):
        x = pen.left + row.indent * INDENT
        if number and not (row.indent and main_only):
            pen.rule(pen.weight("hairline"), left=x if row.indent > 1 else None)
        baseline = pen.y + pitch / 2 + CAP * size / 2
        end = pen.put(row.name, pen.bold(row.id), size, x, baseline)
        percent = BOLD if group == "nutrients" and "percents" in pen.data.get("bold", ()) else REGULAR
        for (left, right), amount, share in zip(columns, row.amounts, row.percents, strict=True):
            if amount:
                start = end + 0.3 * size if len(columns) == 1 else left + 4.0
                pen.put(amount, REGULAR, size, start, baseline)
            if share:
                lower = pitch / 2 if row.id == pen.data.get("between") else 0.0
                pen.put(share, percent, size, right, baseline + lower, right=True)
        pen.y += pitch
    if len(columns) > 1:
        pen.marks.extend(RuledLine(x, top, x, pen.y, pen.weight("hairline"), INK, "nutrition") for x, _ in columns)


def footnote(pen: PanelPen) -> None:
    text = pen.panel.quote(pen.data.get("footnote", ""))
    if text:
        pen.y += 1.0
        pen.lines(((text, REGULAR),), pen.points("footnote"), pen.leading("other"))


def _statement(pen: PanelPen) -> None:
    """What the form says below its figures."""
    pen.y += 1.5
    pen.lines(((pen.word("statement"), REGULAR),), pen.points("statement"), pen.leading("other"))


PARTS: Mapping[str, Callable[[PanelPen], None]] = MappingProxyType(
    {
        "heading": _heading,
        "hairline": lambda pen: pen.rule(pen.weight("hairline")),
        "thick bar": lambda pen: pen.rule(pen.weight("thick bar")),
        "middle bar": lambda pen: pen.rule(pen.weight("middle bar")),
        "servings": servings,
        "serving size": _serving_size,
        "amount per serving": _amount_per_serving,
        "column headings": _column_headings,
        "calories": calories,
        "calories and percents": _calories_and_percents,
        "percent heading": _percent_heading,
        "nutrients": lambda pen: _rows(pen, "nutrients"),
        "vitamins": lambda pen: _rows(pen, "vitamins"),
        "footnote": footnote,
        "statement": _statement,
    }
)


def in_sequence(pen: PanelPen) -> None:
    """A form whose parts stand one below the other."""
    for part in pen.data["sequence"]:
        PARTS[part](pen)


def names_width(panel: PanelContent, amounts: bool) -> float:
    pen = PanelPen(panel, 0)
    return max(
        length(row.name, pen.bold(row.id), pen.points(row.group))
        + row.indent * INDENT
        + (length(f" {row.amounts[0]}", REGULAR, pen.points(row.group)) if amounts else 0.0)
        for row in panel.rows
    )


def vertical_width(panel: PanelContent) -> float:
    pen = PanelPen(panel, 0)
    heading = length(panel.data["heading"], BOLD, pen.points("heading"))
    rows = names_width(panel, amounts=True) + length(" 100%", BOLD, pen.points("nutrients")) + 6
    calories = length(pen.word("calories"), BOLD, pen.points("calories word"))
    calories += length(f"  {panel.energy[0]}", BOLD, pen.points("calories number"))
    return max(heading, rows, calories) + 2 * PAD


def _dual_width(panel: PanelContent, size: float) -> float:
    """Width of one column of amount and percentage [pt]."""
    amounts = max(text_width(amount, REGULAR) for row in panel.rows for amount in row.amounts) * size
    percents = max(text_width(share, BOLD) for row in panel.rows for share in row.percents) * size
    number = max(text_width(energy, BOLD) for energy in panel.energy) * float(panel.data["points"]["calories number"])
    return max(amounts + percents + 14.0, number + 11.0)


def dual_column_width(panel: PanelContent) -> float:
    pen = PanelPen(panel, 0)
    figures = 2 * _dual_width(panel, pen.points("nutrients"))
    calories = length(pen.word("calories"), BOLD, pen.points("calories word"))
    names = max(names_width(panel, amounts=False), calories) + 4
    return max(names + figures, length(panel.data["heading"], BOLD, pen.points("heading"))) + 2 * PAD
