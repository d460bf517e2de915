"""How much "stock", without an amount, a dry grain is cooked in: a risotto's stock is most of its weight.

The weights of the grain are known only when all lines are weighed, so this comes after them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.foods.food_class import kind_of
from labeler.foods.matching.name_words import words
from labeler.foods.model import WeighedLine, WeighedPart
from labeler.foods.weights.reference_weights import best_figure, load_figures
from labeler.parsing.instructions.grammar import grammar
from labeler.types import Interval, Problem

__all__ = ["stock_for_grain"]

_DRY = frozenset({"grain", "dry legume"})
_WET = frozenset({"water", "liquid"})
_STOCK = grammar("stock")
_LEAST = 50.0  # g of dry grain from which on it is what the stock is for: a choice, no source


def stock_for_grain(parts: Sequence[WeighedPart]) -> tuple[WeighedPart, ...]:
    """The parts of a recipe with stock that gives no amount weighed by the dry grain that is cooked in it.

    Parameters
    ----------
    parts : sequence of WeighedPart
        All lines weighed; stock without an amount stands at a default.

    Returns
    -------
    tuple of WeighedPart
        The same parts. In a part with one such line and dry grain or pulses G [g] the line has ``r G - L``, with the
        ratio r of the table and the measured watery liquids L [g], where that is more than the default.
    """
    return tuple(_weighed(part) for part in parts)


def _weighed(part: WeighedPart) -> WeighedPart:
    dry = [line for line in part.lines if _kind(line) in _DRY and line.line.amounts]
    mass = sum(line.grams.best for line in dry if line.grams is not None)
    open_lines = [line for line in part.lines if _is_open(line)]
    if mass < _LEAST or len(open_lines) != 1:
        return part
    main = max(dry, key=lambda line: line.grams.best if line.grams is not None else 0.0)
    figure = best_figure(load_figures("stock_for_grain.csv")["stock"], words(main.line.name), None)
    assert figure is not None  # the file ends with a row for any food, which its test holds
    others = sum(
        line.grams.best
        for line in part.lines
        if line is not open_lines[0] and line.grams is not None and _kind(line) in _WET
    )
    ratio, default = figure.value, open_lines[0].grams
    assert default is not None
    best = ratio.best * mass - others
    if best <= default.best:
        return part
    low = max(ratio.low * mass - others, default.low)
    basis = f"no amount given: {ratio.basis}, {ratio.best:g} times its weight (a default, no source)"
    grams = Interval(best, low, ratio.high * mass - others, basis)
    return replace(part, lines=tuple(_with(line, grams) if line is open_lines[0] else line for line in part.lines))


def _kind(line: WeighedLine) -> str:
    return kind_of(line.match.food) if line.match is not None and line.match.food is not None else ""


def _is_open(line: WeighedLine) -> bool:
    """Whether a line is stock without an amount and without a purpose that tells one."""
    stated = line.line
    named = bool(_STOCK & set(words(stated.name)))
    pinned = stated.pin is not None and stated.pin.grams is not None
    free = not stated.amounts and not pinned and stated.purpose is None and not stated.unreadable
    return named and free and line.grams is not None and _kind(line) in (*_WET, "soup")


def _with(line: WeighedLine, grams: Interval) -> WeighedLine:
    message = (
        f"“{line.line.text.strip()[:60]}” gives no amount; it is counted as {grams.best:.0f} g ({grams.low:.0f}–"
        f"{grams.high:.0f}), {grams.basis.partition(': ')[2].partition(' (')[0]}. Write an amount, or pin the grams: "
        f"{{{grams.best:.0f} g}}."
    )
    problems = tuple(
        Problem(one.code, message, one.line, one.severity) if one.code == "default-weight" else one
        for one in line.problems
    )
    return replace(line, grams=grams, problems=problems)
