"""A picture of how sure each figure is, against the market's reference value of a day."""

from __future__ import annotations

from labeler.charts.shares import ShareBand, bands_of_worksheet, scale_for
from labeler.label.drawing import Drawing
from labeler.label.paper import ACCENT, BOLD, FAINT, HUES, INK, SIZE, SOFT, Paper, fitted, words
from labeler.worksheet.model import Worksheet

__all__ = ["draw_certainty"]

_ROW, _BAR = 19.0, 9.0
_NAMES, _FIGURES = 118.0, 112.0
_BAND = "#9cc3c9"


def draw_certainty(found: Worksheet) -> Drawing | None:
    """One serving in per cent of the day's reference values: each best estimate within its 95 % interval.

    Returns None where the market has no reference value for any line.
    """
    bands = bands_of_worksheet(found)
    if not bands:
        return None
    end_at = scale_for(bands)
    paper = Paper(
        f"{found.title}: how sure, and how much of a day",
        f"One serving in per cent of a day's reference values ({found.market_name}). "
        "The figure lies in the pale band in 95 of 100 cases.",
    )
    start, end = paper.left + _NAMES, paper.right - _FIGURES
    wide = end - start
    top = paper.y
    under: list[tuple[float, float]] = [(part, start + part / end_at * wide) for part in _ticks(end_at)]
    for _, x in under:
        paper.rule(x, top - 4.0, x, top + len(bands) * _ROW - 4.0, 0.5, FAINT)
    for band in bands:
        base = paper.y + 0.85 * _BAR
        paper.text(paper.left, base, fitted(words(band.name), _NAMES - 8.0, SIZE, BOLD), face=BOLD)
        low, best, high = (start + min(value, end_at) / end_at * wide for value in (band.low, band.best, band.high))
        paper.bar(low, paper.y, max(high - low, 0.8), _BAR, _BAND)
        if band.at_least:
            paper.bar(best - 1.2, paper.y - 1.5, 2.4, _BAR + 3.0, HUES[1])
        else:
            paper.bar(best - 1.2, paper.y - 1.5, 2.4, _BAR + 3.0, ACCENT)
        over = " and over" if band.high > end_at else ""
        text = (
            f"{'at least ' if band.at_least else ''}{_share(band.best)}  ({_share(band.low)}–{_share(band.high)}{over})"
        )
        paper.text(paper.right, base, fitted(text, _FIGURES - 6.0, SIZE), align="right", colour=INK)
        paper.y += _ROW
    for part, x in under:
        paper.text(x, paper.y + 5.0, f"{part:g}%", 7.0, colour=SOFT, align="middle")
    paper.y += 10.0
    key = [(ACCENT, "best estimate"), (_BAND, "95 % interval")]
    if any(band.at_least for band in bands):
        key.insert(1, (HUES[1], "the least it can be: the table lacks a value"))
    paper.key(key)
    return paper.drawing(_in_words(bands))


def _ticks(end: float) -> tuple[float, ...]:
    step = end / 4 if end in (20.0, 100.0, 200.0) else end / 5
    return tuple(step * number for number in range(round(end / step) + 1))


def _share(value: float) -> str:
    return f"{value:.0f}%" if value >= 10 or value == 0 else f"{value:.1f}%"


def _in_words(bands: tuple[ShareBand, ...]) -> str:
    return " ".join(
        f"{band.name}: {'at least ' if band.at_least else ''}{_share(band.best)} of {band.reference}, "
        f"between {_share(band.low)} and {_share(band.high)}."
        for band in bands
    )
