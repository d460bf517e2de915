"""Figures for people: likely ranges in round numbers, and single figures no finer than they are known."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

__all__ = ["likely_ends", "plain_figure"]


def _decimal(value: float) -> Decimal:
    return Decimal(f"{value:.9g}")


def _text(value: Decimal, step: Decimal) -> str:
    return f"{value.quantize(step) if step < 1 else value:f}"


def _step(most: Decimal) -> Decimal:
    """The greatest 1, 2 or 5 × 10ⁿ that is not over `most`."""
    ten = Decimal(1).scaleb(most.adjusted())
    return max(ten * digit for digit in (1, 2, 5) if ten * digit <= most)


def likely_ends(low: float, high: float, *, finest: Decimal = Decimal(0)) -> tuple[str, str]:
    """Both ends of a range in round numbers that hold it: 541.2 to 587.9 reads 540 to 590.

    Parameters
    ----------
    low, high : float
        Not negative, ``low < high``, in one unit.
    finest : Decimal
        A power of ten that the numbers are multiples of, such as 1 beside a figure in whole numbers; 0 for any.

    The numbers are multiples of the greatest 1, 2 or 5 × 10ⁿ that fits into the width four times, the low end rounded
    down and the high end up: the range that is read is never narrower than the one that was found, nor, if `finest`
    allows, wider than one and a half times it.
    """
    lower, upper = _decimal(low), _decimal(high)
    if not 0 <= lower < upper:
        raise ValueError(f"a range needs 0 <= low < high, not {low}, {high}")
    step = max(_step((upper - lower) / 4), finest)
    down = (lower / step).to_integral_value(ROUND_FLOOR) * step
    up = (upper / step).to_integral_value(ROUND_CEILING) * step
    return _text(down, step), _text(up, step)


def plain_figure(value: float) -> str:
    """An amount to two significant digits, whole numbers from 10 on: 0.042, 1.3, 17, 1160; 0 for nothing.

    Parameters
    ----------
    value : float
        Not negative.
    """
    amount = _decimal(value)
    if amount <= 0:
        return "0"
    step = Decimal(1).scaleb(min(0, amount.adjusted() - 1))
    rounded = amount.quantize(step, ROUND_HALF_UP)
    return f"{rounded.normalize():f}"
