"""Setting text in lines: where a paragraph breaks, and the marks of its lines.

A paragraph is a sequence of (text, face) stretches. Lines break at spaces and after hyphens, dashes and slashes; a
word wider than the line is cut between letters, with a hyphen. Among all ways to break it into the fewest lines, the
one with the least uneven right edge is taken (the sum of squared empty widths, last line left out: the classic
minimum-raggedness paragraph), but a last line of a single short word counts as uneven too.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from labeler.label.drawing import Mark, Text
from labeler.label.fonts import face

__all__ = [
    "DOT",
    "Stretch",
    "TextLine",
    "break_lines",
    "covered",
    "ink",
    "line_marks",
    "longest_word",
    "text_marks",
    "text_width",
]

Stretch = tuple[str, str]
"""A text and the name of its face."""

_PIECES = re.compile(r" +|[^ ]*?[\-‐–—/](?=[^\s\d])|[^ ]+")
_UNITS = r"%|°[CF]|k?g|mg|mcg|µg|m[lL]|[lL]|fl|oz|lb|kcal|kJ|[cm]m"
_BOUND = re.compile(rf"(?<=\d) (?=(?:{_UNITS})(?![^\W_]))")
"""The space between a figure and its unit, at which no line breaks."""

_LAST_LINE, _LONELY = 0.33, 3.0
"""Share of the width that the last line of a paragraph should fill, and how much more a short one weighs."""

STAND_INS = ("text", "signs", "symbols", "japanese")
"""The faces that stand in, in this order, for a letter or sign that a face lacks."""

DOT = "·"
"""Stands between phrases on a line; where the line ends between them, the line's end takes its place."""


@dataclass(frozen=True, slots=True)
class _Atom:
    """What stays together on a line.

    `space` is the width of the space before it, 0 where it is glued on; `cut` is True where a word goes on behind it on
    the next line; `overhangs` say how far its first and last letters reach out of it [em].
    """

    stretches: tuple[Stretch, ...]
    width: float
    space: float
    overhangs: tuple[float, float]
    cut: bool = False


@dataclass(frozen=True, slots=True)
class TextLine:
    """One line: its stretches with their places from the left edge [em] and its width, overhangs included [em]."""

    stretches: tuple[tuple[float, str, str], ...]
    width: float


@lru_cache(maxsize=8192)
def covered(text: str, face_name: str) -> tuple[Stretch, ...]:
    """`text` cut into stretches, each in a face that has its letters; raises ValueError where none has."""
    stretches: list[Stretch] = []
    for char in text:
        name = next((name for name in (face_name, *STAND_INS) if face(name).has(char)), None)
        if name is None:
            raise ValueError(f"no face prints U+{ord(char):04X}; texts go through labeler.label.printable_text first")
        if stretches and stretches[-1][1] == name:
            stretches[-1] = (stretches[-1][0] + char, name)
        else:
            stretches.append((char, name))
    return tuple(stretches)


@lru_cache(maxsize=16384)
def text_width(text: str, face_name: str) -> float:
    """Set width [em]."""
    return sum(face(name).width(part) for part, name in covered(text, face_name))


@lru_cache(maxsize=16384)
def ink(text: str, face_name: str) -> tuple[float, float]:
    """How far a text reaches below (negative) and above its baseline [em]."""
    reaches = [face(name).ink(part) for part, name in covered(text, face_name)]
    return min((low for low, _ in reaches), default=0.0), max((high for _, high in reaches), default=0.0)


@lru_cache(maxsize=2048)
def overhang(char: str, face_name: str) -> tuple[float, float]:
    """How far a letter reaches out of its set width, to the left and to the right [em]."""
    return face(face_name).overhang(char)


def _clusters(text: str) -> list[str]:
    """Letters with the combining marks that follow them."""
    clusters: list[str] = []
    for char in text:
        if clusters and unicodedata.combining(char):
            clusters[-1] += char
        else:
            clusters.append(char)
    return clusters


def _atom(stretches: list[Stretch], width: float, space: float) -> _Atom:
    (first, first_face), (last, last_face) = stretches[0], stretches[-1]
    overhangs = (overhang(first[0], first_face)[0], overhang(last[-1], last_face)[1])
    return _Atom(tuple(stretches), width, space, overhangs)


@lru_cache(maxsize=2048)
def _atoms(stretches: tuple[Stretch, ...]) -> tuple[_Atom, ...]:
    atoms: list[_Atom] = []
    pending: list[Stretch] = []
    space = 0.0
    breakable = True

    def close() -> None:
        nonlocal pending, space
        if pending:
            atoms.append(_atom(pending, sum(text_width(t, f) for t, f in pending), space))
        pending, space = [], 0.0

    for text, face_name in stretches:
        for piece in _PIECES.findall(_BOUND.sub("\u00a0", text)):
            if piece.startswith(" "):
                close()
                space = text_width(" ", face_name)
                breakable = True
                continue
            if breakable and pending:
                close()
            pending.extend(covered(piece, face_name))
            breakable = piece[-1] in "-‐–—/"
    close()
    return tuple(atoms)


def _cut(atom: _Atom, width: float) -> list[_Atom]:
    """A word that no line can hold, cut between letters into parts no wider than `width`, a hyphen at each cut.

    The last letter does not stand alone. Figures are cut without a hyphen, which would be read as part of them.
    """
    letters = [(cluster, name) for text, name in atom.stretches for cluster in _clusters(text)]
    parts: list[_Atom] = []
    first, space = 0, atom.space
    while first < len(letters):
        last = first + 1
        while last < len(letters) and _reach(letters, first, last + 1) + _OVERHANG <= width:
            last += 1
        if last == len(letters) - 1 and last - first > 2:
            last -= 1
        stretches = _joined(letters, first, last)
        part = _atom(stretches, sum(text_width(*one) for one in stretches), space)
        parts.append(replace(part, cut=last < len(letters)))
        first, space = last, 0.0
    return parts


_OVERHANG = 0.2
"""Room for what the letters at the ends of a part may reach out of it [em]."""


def _joined(letters: list[Stretch], first: int, last: int) -> list[Stretch]:
    """Some letters of a word as stretches, with a hyphen where the word goes on."""
    found: list[Stretch] = []
    for cluster, name in letters[first:last]:
        if found and found[-1][1] == name:
            found[-1] = (found[-1][0] + cluster, name)
        else:
            found.append((cluster, name))
    if last < len(letters) and letters[last][0][0].isalpha() and letters[last - 1][0][0].isalpha():
        found[-1] = (found[-1][0] + "-", found[-1][1])
    return found


def _reach(letters: list[Stretch], first: int, last: int) -> float:
    """Width of some letters of a word, with the hyphen that they need [em]."""
    return sum(text_width(text, name) for text, name in _joined(letters, first, last))


def _line(atoms: list[_Atom]) -> TextLine:
    merged: list[tuple[str, str]] = []
    for place, atom in enumerate(atoms):
        gap = " " if place and atom.space else ""
        for text, face_name in atom.stretches:
            if merged and merged[-1][1] == face_name and face(face_name).has(" "):
                merged[-1] = (merged[-1][0] + gap + text, face_name)
            elif gap and merged and face(merged[-1][1]).has(" "):
                merged[-1] = (merged[-1][0] + gap, merged[-1][1])
                merged.append((text, face_name))
            elif gap and face(face_name).has(" "):
                merged.append((gap + text, face_name))
            else:  # faces of signs alone have no space
                merged.extend([(gap, STAND_INS[0])] if gap else [])
                merged.append((text, face_name))
            gap = ""
    placed: list[tuple[float, str, str]] = []
    x = atoms[0].overhangs[0]
    for text, face_name in merged:
        placed.append((x, text, face_name))
        x += text_width(text, face_name)
    # A bound space has done its work: in print and in copied text it is a space.
    return TextLine(
        tuple((at, text.replace("\u00a0", " "), name) for at, text, name in placed), x + atoms[-1].overhangs[1]
    )


@lru_cache(maxsize=4096)
def break_lines(stretches: tuple[Stretch, ...], width: float, even: bool = False) -> tuple[TextLine, ...]:
    """The lines of a paragraph.

    Parameters
    ----------
    stretches : tuple of (text, face)
        In order; a space at the edge of a stretch counts.
    width : float
        Of the line [em].
    even : bool
        Make all lines alike in length, the last one too, as a title asks for.
    """
    atoms: list[_Atom] = []
    for atom in _atoms(stretches):
        atoms.extend([atom] if atom.width + sum(atom.overhangs) <= width else _cut(atom, width))
    return tuple(_lines(atoms, _best_breaks(atoms, width, even)))


def _best_breaks(atoms: list[_Atom], width: float, even: bool) -> list[int]:
    """For each atom that may open a line the one that opens the next: fewest lines first, then the least slack."""
    count = len(atoms)
    best: list[tuple[int, float]] = [(0, 0.0)] * (count + 1)
    following = [count] * (count + 1)
    for first in range(count - 1, -1, -1):
        used = atoms[first].overhangs[0]
        best[first] = (10**9, 0.0)
        for last in range(first, count):
            used += atoms[last].width + (atoms[last].space if last > first else 0.0)
            if last > first and (used + atoms[last].overhangs[1] > width or atoms[last - 1].cut):
                break
            lines, cost = best[last + 1]
            ends = last + 1 == count
            slack = (width - used) ** 2
            if ends and not even:
                slack = _LONELY * max(_LAST_LINE * width - used, 0.0) ** 2
            if (lines + 1, cost + slack) < best[first]:
                best[first] = (lines + 1, cost + slack)
                following[first] = last + 1
    return following


def _lines(atoms: list[_Atom], following: Sequence[int]) -> Iterator[TextLine]:
    """The lines between the breaks; a dot between two names is not set at the edge of a line."""
    first, count = 0, len(atoms)
    while first < count:
        opens = first == 0
        held = atoms[first : following[first]]
        first = following[first]
        if not opens and len(held) > 1 and held[0].stretches[-1][0] == DOT:
            held = held[1:]
        if first < count and len(held) > 1 and held[-1].stretches[-1][0] == DOT:
            held = held[:-1]
        yield _line(held)


def line_marks(line: TextLine, *, x: float, y: float, size: float, colour: str, block: str) -> list[Mark]:
    """The marks of one line whose left edge is at `x` and whose baseline is at `y` [pt]."""
    return [Text(x + place * size, y, name, size, text, colour, block) for place, text, name in line.stretches]


def text_marks(text: str, face_name: str, *, x: float, y: float, size: float, colour: str, block: str) -> list[Mark]:
    """The marks of one text that starts at `x` on the baseline `y` [pt]."""
    marks: list[Mark] = []
    for part, name in covered(text, face_name):
        marks.append(Text(x, y, name, size, part, colour, block))
        x += text_width(part, name) * size
    return marks


def longest_word(stretches: tuple[Stretch, ...]) -> float:
    """Width of the widest stretch that should stay on one line [em]."""
    return max((atom.width + sum(atom.overhangs) for atom in _atoms(stretches)), default=0.0)
