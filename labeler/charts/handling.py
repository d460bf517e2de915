"""A picture of what handling does: what was put in, and how much of it is in the dish."""

from __future__ import annotations

from labeler.label.drawing import Drawing
from labeler.label.paper import ACCENT, BOLD, INK, REST, SIZE, SOFT, TEXT, Paper, fitted, readable_on, words
from labeler.label.typesetting import text_width
from labeler.worksheet.breakdown import WEIGHT
from labeler.worksheet.model import Balance, Worksheet

__all__ = ["draw_handling"]

_ROW, _BAR = 19.0, 12.0
_NAMES, _FIGURES = 118.0, 118.0
# Bars reach over what was put in by so much at most; the figure in them says how far they would go on.
_LONGEST = 1.25
_DISH, _LEFT_OVER = "in the dish", "left over"
_DIFFERENCE = "difference of table entries"
COLOURS = {
    _DISH: ACCENT,
    "poured off": "#3f7cac",
    "evaporated water": "#9cc3c9",
    "evaporated alcohol": "#c7b5d6",
    "dripped": "#c98a1b",
    "destroyed by heat": "#a8442a",
    "discarded": "#7a3e65",
    "stuck to the pan": "#8a7a63",
    "left on the plate": "#6f8f3c",
    _DIFFERENCE: "#e3c48c",
    _LEFT_OVER: REST,
}
"""What can become of food, each always in the same colour."""


def _shown(found: Worksheet) -> list[tuple[str, str, Balance]]:
    """The weight and the nutrients of the label's lines, with their names and units."""
    on_label = {term.tag for row in found.declared if row.on_label for term in row.made_of}
    names = {one.tag: one for one in found.nutrients}
    shown = []
    for balance in found.balances:
        if balance.tag == WEIGHT:
            shown.append(("Weight", "g", balance))
        elif balance.tag in on_label and (balance.put_in > 0 or balance.in_dish > 0):
            shown.append((names[balance.tag].name, names[balance.tag].unit, balance))
    return shown


def _pieces(balance: Balance) -> list[tuple[str, float]]:
    """What became of it, the dish first; what the table adds when it changes from raw to cooked is in the dish."""
    lost = [(name, amount) for name, amount in balance.streams.items() if amount > 0]
    if balance.left_over > 0:
        lost.append((_LEFT_OVER, balance.left_over))
    order = list(COLOURS)
    lost.sort(key=lambda pair: order.index(pair[0]) if pair[0] in order else len(order))
    return [(_DISH, balance.in_dish), *lost]


def _amount(value: float, unit: str) -> str:
    digits = 0 if abs(value) >= 100 else 1 if abs(value) >= 10 else 2 if abs(value) >= 1 else 3
    number = f"{value:,.{digits}f}"
    return f"{number.rstrip('0').rstrip('.') if '.' in number else number} {unit}"


def draw_handling(found: Worksheet) -> Drawing:
    """For the weight and each nutrient of the label: what was put in, what left by which way, what is in the dish.

    Amounts are those of one serving. A bar is as long as what was put in; where the table's figure of a cooked food is
    above that of the raw one, it runs over the mark.
    """
    rows = _shown(found)
    over = found.servings if found.servings > 0 else 1.0
    paper = Paper(
        f"{found.title}: before and after handling",
        "Dark is in the dish, other colours are what became of the rest. Figures are of one serving: before → after.",
    )
    start, end = paper.left + _NAMES, paper.right - _FIGURES
    longest = max(
        (sum(amount for _, amount in _pieces(one)) / one.put_in for _, _, one in rows if one.put_in > 0), default=1.0
    )
    wide = (end - start) / min(max(longest, 1.0), _LONGEST)
    used: dict[str, None] = {}
    for name, unit, balance in rows:
        base = paper.y + 0.74 * _BAR
        paper.text(paper.left, base, fitted(words(name), _NAMES - 8.0, SIZE, BOLD), face=BOLD)
        x = start
        for kind, amount in _pieces(balance):
            share = amount / balance.put_in if balance.put_in > 0 else 0.0
            width = min(share * wide, end - x)
            colour = COLOURS.get(kind, REST)
            paper.bar(x, paper.y, width, _BAR, colour)
            if share >= 0.002:
                used[kind] = None
            text = f"{share:.0%}"
            if text_width(text, TEXT) * 7.5 + 6.0 <= width:
                paper.text(x + 3.0, base - 0.4, text, 7.5, colour=readable_on(colour))
            x += width
        figures = f"{_amount(balance.put_in / over, unit)} → {_amount(balance.in_dish / over, unit)}"
        paper.text(paper.right, base, fitted(figures, _FIGURES - 6.0, SIZE), align="right")
        paper.y += _ROW
    full = start + wide
    paper.rule(full, paper.y - len(rows) * _ROW - 3.0, full, paper.y - 2.0, 0.8, INK)
    for part in (0.0, 0.25, 0.5, 0.75, 1.0):
        paper.text(start + part * wide, paper.y + 6.0, f"{part:.0%}", 7.0, colour=SOFT, align="middle")
    paper.y += 11.0
    paper.key([(COLOURS.get(kind, REST), kind) for kind in COLOURS if kind in used])
    if any(balance.streams.get(_DIFFERENCE, 0.0) < 0 for _, _, balance in rows):
        paper.note(
            "Where a bar passes 100%, the food table's figure of a cooked food is above that of the raw one that was "
            "put in."
        )
    if any(balance.left_over < 0 for _, _, balance in rows):
        paper.note("The recipe takes more of a part than it makes; what is in the dish counts what it takes.")
    return paper.drawing(_in_words(rows))


def _in_words(rows: list[tuple[str, str, Balance]]) -> str:
    sentences = []
    for name, _, balance in rows:
        if balance.put_in <= 0:
            continue
        parts = ", ".join(f"{amount / balance.put_in:.0%} {kind}" for kind, amount in _pieces(balance))
        sentences.append(f"{name}: {parts}.")
    return " ".join(sentences)
