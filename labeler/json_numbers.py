"""Numbers as the JSON of every command writes them: the same text on any processor."""

from __future__ import annotations

import math

__all__ = ["json_number"]

NOISE = 1e-9
"""What differences of equal amounts leave: below it a figure is 0, in any unit that is written (g, mg, µg, kcal)."""


def json_number(value: float | None) -> float | None:
    """A figure with six significant digits; None where it is not known, or not finite.

    It is written with 12 digits first, as the rules round it (`labeler.rules.rounding.exact`): sums of decimals often
    lie half-way between two figures of six digits, and the last bit, which differs between processors, is not to
    decide which of them is printed.
    """
    if value is None or not math.isfinite(value):
        return None
    if abs(value) < NOISE:
        return 0.0
    return float(f"{float(f'{value:.12g}'):.6g}")
