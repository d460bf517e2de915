"""A label as a flat list of marks, which the writers (PDF, SVG) turn into pages.

Coordinates are in points (1/72 inch) from the top left corner of the trimmed page, x to the right and y down.
A mark names the block it belongs to, so that a test can ask whether two blocks touch.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from labeler.types import Problem

__all__ = ["MM", "Drawing", "Mark", "Patch", "RuledLine", "Shape", "Text", "moved", "upside_down"]

MM = 72 / 25.4
"""Points in a millimetre."""


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text in one face: `x` of its start and `y` of its baseline [pt].

    `turn` is the angle by which it is turned about its start, counter-clockwise, 0, 90 or 180 degrees.
    """

    x: float
    y: float
    face: str
    size: float
    text: str
    colour: str
    block: str
    turn: int = 0


@dataclass(frozen=True, slots=True)
class RuledLine:
    """A straight line of `weight` [pt] along its middle; `dash` is the length of its dashes [pt], 0 for none."""

    x0: float
    y0: float
    x1: float
    y1: float
    weight: float
    colour: str
    block: str
    dash: float = 0.0


@dataclass(frozen=True, slots=True)
class Patch:
    """A filled rectangle."""

    x: float
    y: float
    width: float
    height: float
    colour: str
    block: str


@dataclass(frozen=True, slots=True)
class Shape:
    """A filled polygon through its corners, (x, y) each [pt]."""

    points: tuple[tuple[float, float], ...]
    colour: str
    block: str


Mark = Text | RuledLine | Patch | Shape


@dataclass(frozen=True, slots=True)
class Drawing:
    """One label, ready to be written.

    Parameters
    ----------
    width, height : float
        Trimmed size [pt].
    safe : tuple of float
        Left, top, right and bottom of the area that may carry text [pt].
    marks : tuple of Mark
        In reading order.
    title, language : str
        For the PDF's own fields.
    bleed : float
        How far ground colour runs over the trimmed edge [pt].
    problems : tuple of Problem
        Characters that had to be replaced, and the like.
    description : str
        What the drawing shows, in words, for who cannot see it; empty where its own text says everything.
    """

    width: float
    height: float
    safe: tuple[float, float, float, float]
    marks: tuple[Mark, ...]
    title: str = ""
    language: str = "en"
    bleed: float = 0.0
    problems: tuple[Problem, ...] = field(default=())
    description: str = ""


def moved(mark: Mark, dx: float, dy: float) -> Mark:
    """The same mark, `dx` further right and `dy` further down [pt]."""
    if isinstance(mark, RuledLine):
        return replace(mark, x0=mark.x0 + dx, y0=mark.y0 + dy, x1=mark.x1 + dx, y1=mark.y1 + dy)
    if isinstance(mark, Shape):
        return replace(mark, points=tuple((x + dx, y + dy) for x, y in mark.points))
    return replace(mark, x=mark.x + dx, y=mark.y + dy)


def upside_down(mark: Mark, width: float, height: float) -> Mark:
    """The same mark on a page of that size that was turned by half a turn [pt]."""
    if isinstance(mark, RuledLine):
        return replace(mark, x0=width - mark.x0, y0=height - mark.y0, x1=width - mark.x1, y1=height - mark.y1)
    if isinstance(mark, Shape):
        return replace(mark, points=tuple((width - x, height - y) for x, y in mark.points))
    if isinstance(mark, Patch):
        return replace(mark, x=width - mark.x - mark.width, y=height - mark.y - mark.height)
    return replace(mark, x=width - mark.x, y=height - mark.y, turn=(mark.turn + 180) % 360)
