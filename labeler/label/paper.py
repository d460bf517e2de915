"""The paper that pictures are drawn on: measures, colours, and text that any recipe's words can be set in.

Colours were chosen to stay apart for eyes that see red and green alike, and in grey print by their order from dark to
light; whatever a colour says stands beside it in words too. Lengths are in points.
"""

from __future__ import annotations

from functools import lru_cache

from labeler.label.compose import can_print, contrast
from labeler.label.drawing import MM, Drawing, Mark, Patch, RuledLine
from labeler.label.printable_text import plain_text
from labeler.label.typesetting import text_marks, text_width

__all__ = [
    "ACCENT",
    "BOLD",
    "FAINT",
    "HUES",
    "INK",
    "REST",
    "SIZE",
    "SOFT",
    "TEXT",
    "Paper",
    "fitted",
    "readable_on",
    "words",
]

INK, SOFT, FAINT, ACCENT = "#1f2a2e", "#56656a", "#d5dedd", "#2b4a52"
HUES = ("#2b4a52", "#c98a1b", "#7a3e65", "#3f7cac", "#a8442a", "#6f8f3c", "#8a7a63", "#9cc3c9")
"""For things that are told apart, most important first."""

REST = "#c9d1d1"
"""For all the rest together."""

TEXT, BOLD, TITLE = "text", "text-bold", "title"
SIZE = 8.5
_HEAD = 18.0
"""Of the title [pt]; one that is wider than the page goes on in a line below."""


@lru_cache(maxsize=4096)
def words(text: str) -> str:
    """A text as it can be printed; what the type family lacks is replaced visibly."""
    return plain_text(text, can_print)[0]


def readable_on(colour: str) -> str:
    """Ink or white, whichever stands out more."""
    return INK if contrast(INK, colour) >= contrast("#ffffff", colour) else "#ffffff"


class Paper:
    """A page that grows downward while it is drawn on.

    Parameters
    ----------
    title, about : str
        Over the picture: what it is of, and the sentence that says how to read it.
    width : float
        Of the page [pt].
    """

    def __init__(self, title: str, about: str, *, width: float = 180 * MM) -> None:
        self.title = words(title)
        self.width = width
        self.left, self.right = 18.0, width - 18.0
        self.marks: list[Mark] = []
        self.y = 34.0
        for line in wrapped(self.title, self.right - self.left, _HEAD, TITLE):
            self.text(self.left, self.y, fitted(line, self.right - self.left, _HEAD, TITLE), _HEAD, TITLE, ACCENT)
            self.y += 1.2 * _HEAD
        self.y += 16.0 - 1.2 * _HEAD
        for line in wrapped(words(about), self.right - self.left, SIZE):
            self.text(self.left, self.y, line, colour=SOFT)
            self.y += 1.3 * SIZE
        self.y += 4.0

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float = SIZE,
        face: str = TEXT,
        colour: str = INK,
        *,
        align: str = "left",
    ) -> float:
        """Set one line on the baseline `y`; `x` is its left end, right end or middle. Returns its width [pt]."""
        text = words(text)
        wide = text_width(text, face) * size
        start = x - wide if align == "right" else x - wide / 2 if align == "middle" else x
        self.marks += text_marks(text, face, x=start, y=y, size=size, colour=colour, block="picture")
        return wide

    def bar(self, x: float, y: float, width: float, height: float, colour: str) -> None:
        """A filled rectangle; one without width leaves no mark."""
        if width > 0:
            self.marks.append(Patch(x, y, width, height, colour, "picture"))

    def rule(self, x0: float, y0: float, x1: float, y1: float, weight: float = 0.5, colour: str = FAINT) -> None:
        """A straight line."""
        self.marks.append(RuledLine(x0, y0, x1, y1, weight, colour, "picture"))

    def key(self, entries: list[tuple[str, str]]) -> None:
        """Colours with what they stand for, as many in a row as fit."""
        x, self.y = self.left, self.y + 8.0
        for colour, name in entries:
            name = fitted(words(name), 150.0, SIZE)
            need = 13.0 + text_width(name, TEXT) * SIZE + 16.0
            if x + need > self.right and x > self.left:
                x, self.y = self.left, self.y + 1.6 * SIZE
            self.bar(x, self.y - 7.0, 9.0, 9.0, colour)
            self.text(x + 13.0, self.y, name)
            x += need
        self.y += 1.2 * SIZE

    def note(self, text: str) -> None:
        """A sentence below the picture."""
        for line in wrapped(words(text), self.right - self.left, 7.5):
            self.y += 1.35 * 7.5
            self.text(self.left, self.y, line, 7.5, colour=SOFT)

    def drawing(self, description: str) -> Drawing:
        """The page as it stands, with what it shows in words."""
        height = self.y + 16.0
        safe = (self.left, 12.0, self.right, height - 8.0)
        return Drawing(self.width, height, safe, tuple(self.marks), self.title, description=words(description))


def fitted(text: str, width: float, size: float, face: str = TEXT) -> str:
    """A text that is no wider than `width` [pt]: cut where it must be, with a sign that it was."""
    if text_width(text, face) * size <= width:
        return text
    while text and text_width(f"{text.rstrip()}…", face) * size > width:
        text = text[:-1]
    return f"{text.rstrip()}…" if text.strip() else ""


def wrapped(text: str, width: float, size: float, face: str = TEXT) -> list[str]:
    """A text in lines no wider than `width` [pt]."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}".strip()
        if line and text_width(longer, face) * size > width:
            lines.append(line)
            line = word
        else:
            line = longer
    return [*lines, line] if line else lines
