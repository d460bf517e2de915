"""The chart of a serving against a day's reference values, in characters, for people at a terminal.

Each figure is a line: its name, its best estimate, and a track on which the 95 % interval is a beam and the best
estimate a bead. Where a terminal has only ASCII the same is drawn with signs that it has.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from labeler.charts.shares import ShareBand, scale_for

__all__ = ["Piece", "chart_lines"]

Piece = tuple[str, str]
"""A stretch of text and its part: "name", "figure", "beam", "bead", "open", "track", "scale" or "words"."""

_LEAST, _MOST = 24, 72


@dataclass(frozen=True, slots=True)
class _Signs:
    beam: str
    begins: str
    ends: str
    bead: str
    open: str
    tick: str
    more: str
    dash: str


_FINE = _Signs("━", "╺", "╸", "●", "○", "┊", "▶", "–")
_ASCII = _Signs("=", "=", "=", "O", "o", ":", ">", "-")


def chart_lines(bands: Sequence[ShareBand], *, width: int, plain: bool = False) -> list[list[Piece]]:
    """The lines of the chart, each as stretches of text with the part they play.

    Parameters
    ----------
    bands : sequence of ShareBand
        In order; none gives no lines.
    width : int
        Characters that a line may take; under 60 it takes 60.
    plain : bool
        True for ASCII alone.
    """
    if not bands:
        return []
    signs = _ASCII if plain else _FINE
    names = min(max(len(_ascii(band.name, plain)) for band in bands), 26)
    figures = max(len(_figures(band, signs)) for band in bands)
    cells = max(_LEAST, min(_MOST, max(width, 60) - names - figures - 4))
    end = scale_for(bands)
    lines = []
    for band in bands:
        name = _ascii(band.name, plain)[:names].ljust(names)
        stated = _figures(band, signs).rjust(figures)
        lines.append([(f"{name} ", "name"), (f"{stated}  ", "figure"), *_track(band, end, cells, signs)])
    lines.append([(" " * (names + figures + 3), "scale"), (_scale(end, cells), "scale")])
    open_bead = any(band.at_least for band in bands)
    told = f"{signs.bead} best estimate   {signs.beam * 3} 95 % interval"
    if open_bead:
        told += f"   {signs.open} the least it can be: the table lacks a value"
    if any(band.high > end for band in bands):
        told += f"   {signs.more} goes on"
    lines.append([(told, "words")])
    return lines


def _ascii(text: str, plain: bool) -> str:
    return text.encode("ascii", "replace").decode() if plain else text


def _share(value: float) -> str:
    return f"{value:.0f}" if value >= 10 or value < 0.05 else f"{value:.1f}"


def _figures(band: ShareBand, signs: _Signs) -> str:
    """Best estimate and interval [%], such as "31 % (28-34)"."""
    return f"{_share(band.best)} % ({_share(band.low)}{signs.dash}{_share(band.high)})"


def _track(band: ShareBand, end: float, cells: int, signs: _Signs) -> list[Piece]:
    """The track of one figure; a cell is the size of `end / cells` and a beam may begin or end half-way through one."""
    kinds = ["track"] * cells
    track = [" "] * cells
    for part in range(5):
        at = min(round(part * cells / 4), cells - 1)
        track[at] = signs.tick
    halves = 2 * cells / end
    first = min(int(band.low * halves), 2 * cells - 1)
    last = min(max(round(band.high * halves), first + 1), 2 * cells)  # exclusive
    for cell in range(first // 2, (last + 1) // 2):
        left, right = 2 * cell >= first, 2 * cell + 2 <= last
        track[cell] = signs.beam if left and right else signs.begins if right else signs.ends if left else signs.beam
        kinds[cell] = "beam"
    if band.high > end:
        track[-1], kinds[-1] = signs.more, "beam"
    if band.best <= end:
        at = min(int(band.best * cells / end), cells - 1)
        track[at], kinds[at] = (signs.open, "open") if band.at_least else (signs.bead, "bead")
    pieces: list[Piece] = []
    for sign, kind in zip(track, kinds, strict=True):
        if pieces and pieces[-1][1] == kind:
            pieces[-1] = (pieces[-1][0] + sign, kind)
        else:
            pieces.append((sign, kind))
    return pieces


def _scale(end: float, cells: int) -> str:
    """The figures under the track: at each quarter, the last one with its sign."""
    line = [" "] * (cells + 5)
    for part in range(5):
        text = f"{end * part / 4:g}" + (" %" if part == 4 else "")
        at = min(round(part * cells / 4), cells - 1)
        start = max(0, at - (len(text) - 1) // 2 if part < 4 else at - 1)
        line[start : start + len(text)] = list(text)
    return "".join(line).rstrip()
