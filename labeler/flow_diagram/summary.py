"""The head of a flow diagram: what was put in, what leaves, what the dish weighs; and its foot: the dish."""

from __future__ import annotations

from labeler.flow_diagram.layout import ITALIC, SMALL, Columns
from labeler.flow_diagram.model import FlowPicture, Kind, Load, Missing
from labeler.flow_diagram.pen import FLOW, SPENT, WARNING, DiagramPen
from labeler.flow_diagram.words import grams_in_words, percent
from labeler.label.paper import ACCENT, BOLD, SIZE, SOFT, TEXT, fitted, words, wrapped
from labeler.label.typesetting import text_width

__all__ = ["draw_dish", "draw_head"]

_ROW = 14.0
_SPACE = 2.3
_FOOD_TOLD = 5.0  # g
_TITLE_SIZE, _NUMBER_SIZE = 18.0, 15.0


def draw_head(pen: DiagramPen, picture: FlowPicture, columns: Columns) -> float:
    """Title, three numbers and what the colours say; returns how far down it goes [pt]."""
    wide = columns.right - columns.gutter
    title = fitted(words(picture.title), wide, _TITLE_SIZE, "title")
    pen.text(columns.gutter, 34.0, title, _TITLE_SIZE, "title", ACCENT, block="title")
    x = columns.gutter
    for name, load in (("put in", picture.put_in), ("leaves", picture.leaves), ("is the dish", picture.dish.load)):
        wide = pen.text(x, 58.0, _grams(load), _NUMBER_SIZE, BOLD, block="numbers")
        wide += 5.0 + pen.text(x + wide + 5.0, 58.0, name, SIZE, TEXT, SOFT, block="numbers")
        dry = f"dry matter and salt {_dry(load)}"
        x += max(wide, pen.text(x, 70.0, dry, SMALL, TEXT, SOFT, block="numbers")) + 26.0
    if picture.food_leaves >= _FOOD_TOLD:
        told = f"{grams_in_words(picture.food_leaves)} of food leaves"
        pen.text(x, 58.0, told, SIZE + 2.5, BOLD, WARNING, block="numbers")
    y = 88.0
    x = columns.gutter
    key = (
        (FLOW, "goes on"),
        (SPENT, "leaves: bath, brine, water, bones, fat"),
        (WARNING, "food that leaves"),
    )
    for at, (colour, name) in enumerate(key):
        pen.across(x, x + 16.0, y - 2.6, 5.0, colour, "key")
        x += 20.0 + pen.text(x + 20.0, y, name, SMALL, BOLD if at == 2 else TEXT, colour if at == 2 else SOFT) + 14.0
    about = "An arrow is as wide as its dry matter and salt. Dashed boxes are not in the text but taken for granted."
    for line in wrapped(words(about), columns.right - x, SMALL):
        pen.text(x, y, line, SMALL, colour=SOFT)
        y += 1.25 * SMALL
    y = max(y, 88.0 + 1.25 * SMALL) + 3.0
    pen.rule(columns.gutter, y, columns.right, y)
    return y + 10.0


def draw_dish(pen: DiagramPen, picture: FlowPicture, columns: Columns, y: float) -> float:
    """The dish with its heaviest ingredients and what is not in it; returns how far down it goes [pt]."""
    dish = picture.dish
    left, right = columns.gutter, columns.right
    wide = right - left
    rows = (len(dish.heaviest) + 1) // 2
    missing = [*_missing_lines(dish.missing, wide - 24.0), *_unplaced_lines(dish.unplaced, wide - 24.0)]
    height = 30.0 + _ROW * max(rows, 1) + (12.0 if dish.more else 0.0) + 12.5 * len(missing) + 14.0
    pen.frame(left, y, wide, height, ACCENT, "dish", weight=1.4)
    pen.text(left + 12.0, y + 19.0, f"The dish: {_grams(dish.load)}", 13.0, BOLD, ACCENT, block="dish")
    most = max((grams for _, grams in dish.heaviest), default=0.0)
    half = (wide - 24.0) / 2
    base = y + 36.0
    for at, (name, grams) in enumerate(dish.heaviest):
        x = left + 12.0 + (at // max(rows, 1)) * half
        line = base + (at % max(rows, 1)) * _ROW
        pen.text(x + 46.0, line, grams_in_words(grams), SIZE, align="right", block="dish")
        bar = 60.0 * grams / most if most > 0 else 0.0
        pen.patch(x + 52.0, line - 7.0, bar, 8.0, FLOW, "dish")
        pen.text(x + 57.0 + bar, line, fitted(words(name), half - 64.0 - bar, SIZE), SIZE, block="dish")
    base += _ROW * max(rows, 1)
    if dish.more:
        pen.text(left + 12.0, base, f"and {dish.more} more", SMALL, ITALIC, SOFT, block="dish")
        base += 12.0
    base += 4.0
    for told in missing:
        x = left + 12.0
        for text, face, colour in told:
            x += pen.text(x, base, text, SIZE, face, colour, block="missing") + _SPACE
        base += 12.5
    return y + height


def _grams(load: Load) -> str:
    return "? g" if load.grams is None else grams_in_words(load.grams.best)


def _dry(load: Load) -> str:
    return grams_in_words(load.dry)


Run = tuple[str, str, str]


def _missing_lines(missing: tuple[Missing, ...], width: float) -> list[list[Run]]:
    """Lines "not in the dish": food first, what leaves by trade after it."""
    if not missing:
        return [[("Not in the dish:", BOLD, SOFT), ("nothing of note", TEXT, SOFT)]]
    lines: list[list[Run]] = []
    for kind, head, face, colour in (
        (Kind.FOOD, "Not in the dish:", BOLD, WARNING),
        (Kind.SPENT, "Not in the dish, gone with bath, fat and scraps:", TEXT, SOFT),
    ):
        lines += _listed([_told(one) for one in missing if one.kind is kind], head, face, colour, width)
    return lines


def _unplaced_lines(names: tuple[str, ...], width: float) -> list[list[Run]]:
    """A line "in the dish, and in no step"."""
    return _listed(list(names), "In the dish though no step takes it:", BOLD, WARNING, width)


def _listed(told: list[str], head: str, face: str, colour: str, width: float) -> list[list[Run]]:
    """Names behind a heading, on as many lines as they need; none for no names."""
    if not told:
        return []
    lines: list[list[Run]] = []
    line: list[Run] = [(head, BOLD, colour)]
    used = text_width(head, BOLD) * SIZE + _SPACE
    for at, name in enumerate(told):
        text = fitted(words(f"{name}," if at < len(told) - 1 else name), width - 20.0, SIZE, face)
        need = text_width(text, face) * SIZE + _SPACE
        if used + need > width:
            lines.append(line)
            line, used = [], 0.0
        line.append((text, face, colour))
        used += need
    return [*lines, line]


def _told(one: Missing) -> str:
    if one.kept is None:
        return f"{one.name} (no step takes it)"
    return f"{one.name} (all of it)" if one.kept <= 0.02 else f"{one.name} ({percent(1.0 - one.kept)} of it)"


def in_words(picture: FlowPicture) -> str:
    """What the picture shows, for who cannot see it."""
    told = [f"Put in {_grams(picture.put_in)}, leaves {_grams(picture.leaves)}, the dish {_grams(picture.dish.load)}."]
    for part in picture.parts:
        told.append(f"{part.title}:" if len(picture.parts) > 1 else "Steps:")
        for at, box in enumerate(part.boxes):
            into = [one.name for one in part.inflows if one.to == at]
            away = [one.name for one in part.outflows if one.source == at]
            comes = f"; in: {', '.join(into)}" if into else ""
            told.append(f"{box.number} {box.words}{comes}" + (f"; leaves: {', '.join(away)}." if away else "."))
    if picture.dish.missing:
        told.append("Not in the dish:" + ", ".join(_told(one) for one in picture.dish.missing) + ".")
    return " ".join(told)
