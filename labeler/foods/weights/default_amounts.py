"""Lines without an amount: "salt to taste", "oil for frying", "parsley for garnish".

They are not nothing, and nobody knows how much they are. Each is counted at a stated default for the purpose that it
names, with a wide interval, and reported, so that the cook can write an amount instead.
"""

from __future__ import annotations

from functools import lru_cache

from labeler.foods.composition.food_table import load_table
from labeler.foods.weights.reference_weights import best_figure, load_figures
from labeler.foods.weights.unit_weights import piece_weight
from labeler.parsing.model import Line
from labeler.parsing.units import canonical_unit
from labeler.text.deferred_pattern import pattern_when_used
from labeler.types import Interval, Problem

__all__ = ["shortened", "unquantified_weight"]

_VESSEL = "pan|pans|dish|dishes|tin|tins|sheet|sheets|griddle|grill|skillet|mold|moulds?"
_PURPOSES = (
    ("deep frying", pattern_when_used(r"\bdeep[- ]?(?:fat[- ])?fr(?:y|ying|ied)\b")),
    ("frying", pattern_when_used(r"\b(?:fry|frying|saut[eé]ing|saut[eé]|browning|searing)\b")),
    ("greasing", pattern_when_used(rf"\b(?:greas\w*|(?:oil\w*|butter\w*|coat\w*|for) (?:the |a )?(?:{_VESSEL}))\b")),
    ("brushing", pattern_when_used(r"\b(?:brush\w*|glaz\w*|egg wash)\b")),
    ("dusting", pattern_when_used(r"\b(?:dust\w*|flouring|rolling|kneading|dredg\w*|work surface|coating)\b")),
    ("drizzling", pattern_when_used(r"\bdrizzl\w*\b")),
    ("garnish", pattern_when_used(r"\b(?:garnish\w*|decorat\w*|sprinkl\w*|topping|to top|to finish|finishing)\b")),
    ("serving", pattern_when_used(r"\b(?:serv\w*|accompan\w*|on the side|at the table)\b")),
    ("taste", pattern_when_used(r"\bto (?:\w+ )?taste\b|\bseason\w*")),
)  # fmt: skip
_PIECES = frozenset(
    "wedge slice sprig branch strip segment twist stick spear stalk fillet sheet leaf cube chunk".split()
)
# How many pieces a plural without a number is taken for, and how little one may weigh [g] to be counted and not strewn.
# Common practice, no source.
_STREWN = frozenset("spinach arugula rocket kale chard salad baby watercress collard cress mixed sorrel".split())
_SOME, _LEAST = Interval(4.0, 2.0, 8.0), 0.4
_STATED = {"needed": "no amount given", "taste": "to taste"}


def shortened(line: Line) -> str:
    """The line's text, cut where it is long, to quote in a sentence."""
    text = line.text.strip() or line.name
    return text if len(text) <= 60 else text[:57] + "..."


@lru_cache(maxsize=64)
def _purpose(text: str) -> str:
    """What a line says that its food is for; empty where it does not. A long line of many foods is read once."""
    return next((key for key, pattern in _PURPOSES if pattern.search(text)), "")


def unquantified_weight(line: Line, food: str, name: tuple[str, ...]) -> tuple[Interval, tuple[Problem, ...]]:
    """The default weight of a line without an amount [g], and the problem that says so.

    Parameters
    ----------
    line : Line
        What the cook wrote.
    food : str
        Table id.
    name : tuple of str
        Normal words of the food.
    """
    pieces = _some_pieces(line, food, name)
    if pieces is not None:
        return pieces
    table = load_table()
    group = int(table.group_codes[table.position[food]])
    text = f"{line.preparation} {line.note} {line.text}".lower()
    fallback = "taste" if line.to_taste else "needed"
    purpose = _purpose(text) or fallback
    rows = load_figures("unquantified.csv")
    figure = best_figure(rows[purpose], name, group)
    if purpose == "taste" and figure and not (figure.wanted or figure.groups):
        figure = best_figure(rows["needed"], name, group)
    assert figure is not None  # each purpose has a row for any food, which the file's test holds
    value = figure.value
    basis = f"{_STATED.get(purpose, 'for ' + purpose)}: taken for {value.basis} (a default, no source)"
    problem = Problem(
        "default-weight",
        f"“{shortened(line)}” gives no amount; it is counted as {value.best:g} g, {value.basis}. "
        f"Write an amount, or pin the grams: {{{value.best:g} g}}.",
        line.number,
    )
    return Interval(value.best, value.low, value.high, basis), (problem,)


def _some_pieces(line: Line, food: str, name: tuple[str, ...]) -> tuple[Interval, tuple[Problem, ...]] | None:
    """Pieces without a number, where the weight of one is known: one "lime wedge", some "lime wedges"."""
    last = line.name.lower().rsplit(None, 1)[-1] if " " in line.name.strip() else ""
    unit = canonical_unit(last)
    if unit not in _PIECES or (unit == "leaf" and _STREWN & frozenset(name)):
        return None
    one = piece_weight(food, unit, line.size, name)
    if one is None or one.default or one.grams.best < _LEAST:
        return None
    number = Interval(1.0, 1.0, 1.0) if last == unit else _SOME
    value = Interval(one.grams.best * number.best, one.grams.low * number.low, one.grams.high * number.high)
    text = f"{number.best:g} {last}"
    problem = Problem(
        "default-weight",
        f"“{shortened(line)}” gives no number; it is counted as {text}, {value.best:.3g} g. Write how many.",
        line.number,
    )
    basis = f"no number given: taken for {text} (a default, no source); {one.grams.basis}"
    return Interval(value.best, value.low, value.high, basis), (problem,)
