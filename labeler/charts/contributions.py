"""A picture of what each ingredient brings to each figure of the label."""

from __future__ import annotations

from dataclasses import dataclass

from labeler.charts.shares import line_name
from labeler.label.drawing import Drawing
from labeler.label.paper import BOLD, FAINT, HUES, REST, SIZE, SOFT, TEXT, Paper, fitted, readable_on, words
from labeler.label.typesetting import text_width
from labeler.worksheet.model import DeclaredFor, DeclaredRow, Worksheet

__all__ = ["draw_contributions"]

_ROW, _BAR = 19.0, 13.5
_NAMES, _FIGURES = 118.0, 78.0
_THIN = 5.0
_REST = "everything else"
# Where one ingredient is nearly all of the rest, the rest is called by its name.
_MOST = 0.9


@dataclass(frozen=True, slots=True)
class _Bar:
    """One figure of the label: name, printed text, each ingredient's share of what is known, and if that is all."""

    name: str
    printed: str
    shares: tuple[tuple[str, float], ...]
    whole: bool


def _named(row: DeclaredRow) -> str:
    return line_name(row.label, {term.tag: term.factor for term in row.made_of})


def _bars(found: Worksheet) -> list[_Bar]:
    """The label's figures of one serving, each once: energy in two units is one figure."""
    bars: list[_Bar] = []
    seen: set[tuple[str, ...]] = set()
    for row in found.declared:
        made_of = tuple(sorted(term.tag for term in row.made_of))
        if row.basis is not DeclaredFor.SERVING or not row.on_label or made_of in seen:
            continue
        seen.add(made_of)
        amounts: dict[str, float] = {}
        for share in row.shares:
            amounts[share.name] = amounts.get(share.name, 0.0) + max(share.amount, 0.0)
        whole = sum(amounts.values())
        shares = tuple((name, amount / whole) for name, amount in amounts.items()) if whole > 0 else ()
        bars.append(_Bar(_named(row), row.printed, shares, row.status != "missing"))
    return bars


def draw_contributions(found: Worksheet) -> Drawing:
    """For each figure of the label, the share of it that each ingredient brings to one serving after handling.

    The eight ingredients that bring most over all figures have a colour each, in the same order in every bar; the rest
    is one piece.
    """
    bars = _bars(found)
    weight: dict[str, float] = {}
    for bar in bars:
        for name, share in bar.shares:
            weight[name] = weight.get(name, 0.0) + share
    leading = sorted(weight, key=lambda name: (-weight[name], name))[: len(HUES)]
    colours = dict(zip(leading, HUES, strict=False))
    paper = Paper(
        f"{found.title}: what brings what",
        "The share of each ingredient in one serving, after handling. The figures on the right are those of the label.",
    )
    start, end = paper.left + _NAMES, paper.right - _FIGURES
    for bar in bars:
        base = paper.y + 0.72 * _BAR
        paper.text(paper.left, base, fitted(words(bar.name), _NAMES - 8.0, SIZE, BOLD), face=BOLD)
        _stack(paper, bar, colours, start, end)
        paper.text(paper.right, base, fitted(words(bar.printed), _FIGURES - 8.0, SIZE), align="right")
        paper.y += _ROW
    for part in (0.0, 0.25, 0.5, 0.75, 1.0):
        x = start + part * (end - start)
        paper.rule(x, paper.y - 2.0, x, paper.y + 1.0, 0.5, SOFT)
        paper.text(x, paper.y + 9.0, f"{part:.0%}", 7.0, colour=SOFT, align="middle")
    paper.y += 14.0
    entries = [(colours[name], name) for name in leading]
    if len(weight) > len(leading):
        entries.append((REST, _REST))
    paper.key(entries)
    if not all(bar.whole for bar in bars):
        paper.note("Thin bars: the table lacks a value of some ingredient; the bar divides what is known.")
    return paper.drawing(_in_words(bars))


def _stack(paper: Paper, bar: _Bar, colours: dict[str, str], start: float, end: float) -> None:
    """One bar, the leading ingredients in their order and the rest behind them."""
    wide = end - start
    if not bar.shares:
        paper.rule(start, paper.y + _BAR / 2, end, paper.y + _BAR / 2, 0.5, FAINT)
        return
    shares = dict(bar.shares)
    pieces = [(name, colour, shares.pop(name, 0.0)) for name, colour in colours.items()]
    pieces.append((_REST, REST, sum(shares.values())))
    if shares and max(shares.values()) > _MOST * pieces[-1][2]:
        pieces[-1] = (max(shares, key=lambda name: shares[name]), REST, pieces[-1][2])
    x = start
    high = _BAR if bar.whole else _THIN
    for name, colour, share in pieces:
        width = share * wide
        paper.bar(x, paper.y + (_BAR - high) / 2, max(width - 0.6, min(width, 0.4)), high, colour)
        texts = (f"{words(name)} {share:.0%}", words(name), f"{share:.0%}")
        stated = next((text for text in texts if _fits(text, width)), "")
        if stated and bar.whole:
            paper.text(x + 3.5, paper.y + 0.72 * _BAR, stated, 7.5, colour=readable_on(colour))
        x += width


def _fits(text: str, width: float) -> bool:
    return text_width(text, TEXT) * 7.5 + 7.0 <= width


def _in_words(bars: list[_Bar]) -> str:
    sentences = []
    for bar in bars:
        most = sorted(bar.shares, key=lambda pair: (-pair[1], pair[0]))[:3]
        listed = ", ".join(f"{name} {share:.0%}" for name, share in most) or "nothing"
        sentences.append(f"{bar.name} {bar.printed}: {listed}.")
    return " ".join(sentences)
