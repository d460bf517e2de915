"""Figures of a flow in words, to show."""

from __future__ import annotations

from collections.abc import Iterable

from labeler.flow.model import Node
from labeler.parsing.instructions.model import Mark
from labeler.types import Interval

__all__ = ["details_of", "dry_in_words", "grams_in_words", "percent", "shares_in_words"]

_NAMED = 3
_SHOWN_MARKS = (Mark.COVERED, Mark.IN_OVEN, Mark.FRIDGE, Mark.RACK, Mark.TO_THE_BOIL, Mark.GENTLE, Mark.HARD)


def grams_in_words(grams: float) -> str:
    """A weight as a cook says it: "1,240 g", "3.4 g"."""
    if grams >= 10:
        return f"{grams:,.0f} g"
    if grams >= 0.05 or grams == 0:
        return f"{grams:.1f} g"
    return "<0.1 g" if grams > 0 else f"−{grams_in_words(-grams)}"


def dry_in_words(grams: float) -> str:
    """A weight of dry matter and salt."""
    return f"{grams_in_words(grams)} dry"


def percent(share: float) -> str:
    """A share, 0 to 1, that is never rounded to all or nothing."""
    if 0 < share < 0.01:
        return "<1 %"
    if 0.99 < share < 1:
        return ">99 %"
    return f"{share:.0%}".replace("%", " %")


def shares_in_words(shares: Iterable[tuple[str, float]]) -> str:
    """What leaves of which ingredient: "all the flour, 79 % of the pork"."""
    told = [f"all the {name}" if share >= 0.98 else f"{percent(share)} of the {name}" for name, share in shares]
    return ", ".join(told[:_NAMED]) + (f" and {len(told) - _NAMED} more" if len(told) > _NAMED else "")


def _span(value: Interval, unit: str) -> str:
    if value.low == value.high or value.low >= 0.95 * value.high:
        return f"{value.best:.3g} {unit}"
    return f"{value.low:.3g}–{value.high:.3g} {unit}"


def _time(minutes: Interval) -> str:
    if minutes.best < 1:
        return _span(minutes.scaled(60), "s")
    return _span(minutes.scaled(1 / 60), "h") if minutes.best >= 120 else _span(minutes, "min")


def details_of(node: Node) -> tuple[str, ...]:
    """The figures of a node, each in words."""
    settings = node.settings
    told: list[str] = []
    if settings.minutes is not None:
        told.append(_time(settings.minutes))
    if settings.celsius is not None:
        told.append(_span(settings.celsius, "°C"))
    if settings.core is not None:
        told.append(f"{_span(settings.core, '°C')} inside")
    if settings.share is not None:
        told.append(f"to {percent(settings.share.best)}")
    if settings.grams is not None:
        told.append(f"to {grams_in_words(settings.grams.best)}")
    if settings.millilitres is not None:
        told.append(f"to {settings.millilitres.best:,.0f} ml")
    if settings.pieces is not None:
        told.append(_span(settings.pieces, settings.piece or "pieces"))
    told += [mark.value for mark in _SHOWN_MARKS if mark in settings.marks]
    return tuple(told)
