"""Exact rounding: the small engine that runs the stepped rules of every market.

A regulation rounds by bands: below 5 calories print 0, up to 50 the nearest 5, above that the nearest 10.
`Ladder` is such a list of bands as a rule file gives it; `Ladder.apply` finds the band of an unrounded amount and
rounds within it, half-way up, in decimal arithmetic. Nothing here knows a market or a nutrient.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal

__all__ = ["Band", "Ladder", "Rounded", "exact", "plain", "to_figures", "to_step"]

SIGNIFICANT_DIGITS = 12


def exact(value: float | int | str | Decimal) -> Decimal:
    """The decimal number that a computed amount stands for.

    Parameters
    ----------
    value : float, int, str or Decimal
        A finite number, in any unit.

    Raises
    ------
    ValueError
        For NaN, infinity or text that is no number.

    A float is written with 12 significant digits before it becomes a decimal. No food datum has as many, and the
    noise of binary sums, about one part in 10^16, is cut off: 0.1 + 0.2 g is 0.3 g and 2.4999999999999996 g is
    2.5 g, so that the order in which ingredients were added cannot move a figure over a half-way point. Decimals,
    integers and text are taken as they are; numbers of other libraries as the float they stand for.
    """
    if not isinstance(value, (int, str, Decimal)):
        value = float(value)
        if not math.isfinite(value):
            raise ValueError(f"{value} is not an amount")
        return Decimal(format(value, f".{SIGNIFICANT_DIGITS}g"))
    try:
        number = Decimal(value)
    except ArithmeticError as error:
        raise ValueError(f"{value!r} is not a number") from error
    if not number.is_finite():
        raise ValueError(f"{value!r} is not an amount")
    return number


def to_step(amount: Decimal, step: Decimal, rounding: str = ROUND_HALF_UP) -> Decimal:
    """`amount` to the nearest whole multiple of `step`; exactly half-way goes up.

    The regulations that give the rule by example round half-way up (2.5 g to 3 g); rounding to even, which many
    languages do by default, would print 6 g for 6.5 g and 140 for 145 calories.
    """
    return (amount / step).quantize(Decimal(1), rounding=rounding) * step


def to_figures(amount: Decimal, figures: int) -> Decimal:
    """`amount` to so many significant figures, half-way up; zero stays zero."""
    if amount == 0:
        return Decimal(0)
    rounded = amount.quantize(Decimal(1).scaleb(amount.adjusted() - figures + 1), rounding=ROUND_HALF_UP)
    # 0.999 to two figures is 1.0: a figure that rounds up into the next place has one place fewer behind the mark.
    return rounded.quantize(Decimal(1).scaleb(rounded.adjusted() - figures + 1), rounding=ROUND_HALF_UP)


def plain(number: Decimal) -> str:
    """A decimal without exponent and without zeros that carry nothing: ``"5"``, ``"0.5"``, ``"1300"``."""
    text = format(number, "f")
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


@dataclass(frozen=True, slots=True)
class Band:
    """One band of a ladder: where it ends and what is printed in it.

    Parameters
    ----------
    upper : Decimal or None
        Upper end, in the unit of the rule; None for the last band, which has none.
    inclusive : bool
        True where the upper end belongs to this band ("up to 50"), False where it does not ("below 5").
    step : Decimal or None
        Increment to round to.
    figures : int or None
        Significant figures to round to, where the rule counts those.
    prints : str or None
        The fixed text of the band ("0", "<1", "less than 5").
    verb : str
        "shall" or "may", as the regulation has it; empty where it does not matter.
    also : tuple of str
        Other texts that are lawful in this band.
    choose : str
        For bands that pick a course and not a number: its word.
    """

    upper: Decimal | None = None
    inclusive: bool = False
    step: Decimal | None = None
    figures: int | None = None
    prints: str | None = None
    verb: str = ""
    also: tuple[str, ...] = ()
    choose: str = ""

    def holds(self, amount: Decimal) -> bool:
        """True where `amount` lies under the upper end of this band."""
        return self.upper is None or amount < self.upper or (self.inclusive and amount == self.upper)


@dataclass(frozen=True, slots=True)
class Rounded:
    """What a ladder makes of an amount: the text without its unit, the number in it, and the freedom left."""

    text: str
    value: Decimal | None
    verb: str = ""
    also: tuple[str, ...] = ()

    @property
    def is_zero(self) -> bool:
        """True where a plain zero is printed ("less than" forms are not zero)."""
        return self.value == 0


@dataclass(frozen=True, slots=True)
class Ladder:
    """Bands in ascending order, the last one open.

    Parameters
    ----------
    bands : tuple of Band
        Checked by the loader: ascending, one way of printing each, the last without an upper end.
    zeros : bool
        True where decimals of the step are printed in full ("3.0"), False where they may be dropped ("3").
    """

    bands: tuple[Band, ...]
    zeros: bool = False

    def band(self, amount: Decimal) -> Band:
        """The band in which `amount` lies."""
        return next(band for band in self.bands if band.holds(amount))

    def apply(self, amount: Decimal) -> Rounded:
        """Round one unrounded amount, not negative, in the unit of the rule."""
        band = self.band(amount)
        if band.prints is not None:
            fixed = Decimal(band.prints) if band.prints.replace(".", "", 1).isdigit() else None
            return Rounded(band.prints, fixed, band.verb, band.also)
        value = self._round(band, amount)
        return Rounded(self._write(value, band), value, band.verb, band.also)

    def floor(self, amount: Decimal) -> Rounded | None:
        """The largest printable figure that is not above `amount`, for an amount that is a lower bound.

        None where nothing but zero would be left.
        """
        band = self.band(amount)
        if band.prints is not None:
            return None
        value = to_step(amount, band.step, ROUND_FLOOR) if band.step is not None else self._round(band, amount)
        return Rounded(self._write(value, band), value) if 0 < value <= amount else None

    @staticmethod
    def _round(band: Band, amount: Decimal) -> Decimal:
        if band.step is not None:
            return to_step(amount, band.step)
        return to_figures(amount, band.figures or SIGNIFICANT_DIGITS)

    def _write(self, value: Decimal, band: Band) -> str:
        if not self.zeros:
            return plain(value)
        # 0.996 g rounds to 1.00 g, which is already in the next band: print it as that band would, 1.0 g.
        reached = self.band(value)
        step = max(at.step for at in (band, reached) if at.step is not None) if band.step is not None else None
        if step is not None and to_step(value, step) == value:
            return format(value.quantize(step), "f") if step < 1 else plain(value)
        return format(value, "f")
