"""The panels of small packages: the tabular form, as wide as two columns of lines, and the linear one."""

from __future__ import annotations

from labeler.label.panels.content import PanelContent, PanelRow
from labeler.label.panels.pen import BOLD, CAP, INDENT, PAD, REGULAR, PanelPen, length
from labeler.label.panels.vertical import calories, footnote, servings, servings_words
from labeler.label.typesetting import text_width

__all__ = ["linear", "linear_width", "tabular", "tabular_width"]


def short(pen: PanelPen, row: PanelRow) -> str:
    """A line's name, abbreviated where the form has it so."""
    shorter: dict[str, str] = dict(pen.data.get("short", {}))
    for long, brief in shorter.items():
        before, amount, after = long.partition("{amount}")
        if amount and row.name.startswith(before) and row.name.endswith(after):
            return brief.format(amount=row.name[len(before) : len(row.name) - len(after)])
    return shorter.get(row.name, row.name)


def _halves(panel: PanelContent) -> tuple[list[PanelRow], list[PanelRow]]:
    """The nutrients in two columns of about the same length, a line kept with those below it."""
    rows = [row for row in panel.rows if row.group == "nutrients"]
    starts = [n for n, row in enumerate(rows) if row.indent == 0 and n]
    middle = min(starts, key=lambda n: abs(2 * n - len(rows)), default=len(rows))
    return rows[:middle], rows[middle:]


def _tabular_sizes(panel: PanelContent) -> tuple[float, float]:
    """Widths of the identity on the left and of one column of nutrients [pt]."""
    pen = PanelPen(panel, 0)
    first = max(
        length("Nutrition", BOLD, pen.points("heading") * 1.5),
        max(length(w, REGULAR, pen.points("servings")) for w in servings_words(pen).split()) * 2.2,
        length(pen.word("calories"), BOLD, pen.points("calories word"))
        + length(f"  {panel.energy[0]}", BOLD, pen.points("calories number")),
    )
    size = pen.points("nutrients")
    rows = [row for half in _halves(panel) for row in half]
    names = max(
        length(f"{short(pen, row)} {row.amounts[0]}", pen.bold(row.id), size) + row.indent * INDENT for row in rows
    )
    return first + 10, names + length("  100%", BOLD, size) + 8


def tabular_width(panel: PanelContent) -> float:
    first, column = _tabular_sizes(panel)
    return first + 2 * column + 8 + 2 * PAD


def tabular(pen: PanelPen) -> None:
    first, _ = _tabular_sizes(pen.panel)
    whole = (pen.left, pen.right)
    top = pen.y
    pen.right = pen.left + first - 10
    words = pen.data["heading"].split(" ")
    size = max(min((pen.right - pen.left) / max(text_width(w, BOLD) for w in words), 30.0), pen.points("heading"))
    for word in words:
        pen.y += CAP * size + 3.0
        pen.put(word, BOLD, size, pen.left, pen.y)
    pen.y += 0.22 * size
    servings(pen)
    serving = f"{pen.word('serving size')} {pen.panel.serving}"
    pen.lines(((serving, pen.bold("serving size")),), pen.points("serving size"), pen.leading("other"))
    calories(pen)
    per_serving = pen.word("per serving")
    pen.lines(((per_serving, REGULAR),), pen.points("amount per serving"), pen.leading("other"))
    lowest, below = pen.y, 0.0
    left = whole[0] + first
    half = (whole[1] - left - 8) / 2
    for number, rows in enumerate(_halves(pen.panel)):
        pen.y = top
        pen.left = left + number * (half + 8)
        pen.right = pen.left + half
        size, name = pen.points("amount per serving"), pen.bold("amount per serving")
        pen.y += (CAP + 0.25) * size
        pen.put(pen.word("amount per serving"), name, size, pen.left, pen.y)
        size, name = pen.points("percent heading"), pen.bold("percent heading")
        pen.put(pen.word("percent heading"), name, size, pen.right, pen.y, right=True)
        pen.y += 0.4 * size
        pen.rule(pen.weight("thick bar") / 2)
        _tabular_rows(pen, rows)
        below = max(below, pen.y)
    pen.y = below + 1.0
    pen.left, pen.right = left, whole[1]
    pen.rule(pen.weight("middle bar"))
    vitamins = [row for row in pen.panel.rows if row.group == "vitamins"]
    text = " • ".join(f"{short(pen, row)} {row.amounts[0]} {row.percents[0]}".strip() for row in vitamins)
    if text:
        pen.lines(((text, REGULAR),), pen.points("vitamins"), pen.leading("other"))
        pen.rule(pen.weight("hairline"))
    footnote(pen)
    pen.y = max(pen.y, lowest)
    pen.left, pen.right = whole


def _tabular_rows(pen: PanelPen, rows: list[PanelRow]) -> None:
    size = pen.points("nutrients")
    pitch = size + max(pen.leading("nutrients"), 2.6)  # room for descenders above the hairline
    for number, row in enumerate(rows):
        if number:
            pen.rule(pen.weight("hairline"))
        baseline = pen.y + pitch / 2 + CAP * size / 2
        end = pen.put(short(pen, row), pen.bold(row.id), size, pen.left + row.indent * INDENT, baseline)
        if row.amounts[0]:
            pen.put(row.amounts[0], REGULAR, size, end + 0.3 * size, baseline)
        if row.percents[0]:
            pen.put(row.percents[0], BOLD, size, pen.right, baseline, right=True)
        pen.y += pitch


def linear(pen: PanelPen) -> None:
    """Heading and serving, energy on one line, then all lines in one paragraph."""
    words = pen.data["words"]
    opening = [(f"{pen.data['heading']} ", BOLD)]
    if "servings" in words:
        serving = f"{pen.word('serving size')} {pen.panel.serving}"
        opening.append((", ".join(part for part in (servings_words(pen), serving) if part), pen.bold("serving size")))
        pen.lines(tuple(opening), pen.points("heading"), pen.leading("other"))
        word, number = pen.points("calories word"), pen.points("calories number")
        pen.y += CAP * number + 1.5
        small = pen.points("amount per serving")
        x = pen.put(f"{pen.word('amount per serving')} ", REGULAR, small, pen.left, pen.y)
        x = pen.put(f"{pen.word('calories')} ", BOLD, word, x, pen.y)
        pen.put(pen.panel.energy[0], BOLD, number, x, pen.y)
        pen.y += 2.0
        opening = []
    else:
        percent = pen.panel.energy_percent
        share = f" ({percent} {pen.word('percent heading', 'RI')})" if percent else ""
        opening.append((f"{pen.panel.energy[0]}{share}, ", REGULAR))
    stretches = list(opening)
    for number, row in enumerate(pen.panel.rows):
        share = f" ({row.percents[0]} {pen.word('percent heading', 'RI')})" if row.percents[0] else ""
        amount = f" {row.amounts[0]}" if row.amounts[0] else ""
        end = "." if number + 1 == len(pen.panel.rows) else ", "
        name = short(pen, row).replace(" ", "\u00a0")
        stretches += [(name, pen.bold(row.id)), (f"{amount}{share}{end}", REGULAR)]
    pen.lines(tuple(stretches), pen.points("nutrients"), pen.leading("other"))
    footnote(pen)


def linear_width(panel: PanelContent) -> float:
    pen = PanelPen(panel, 0)
    return 24 * pen.points("nutrients") + 2 * PAD
