"""Rounding backwards: from a figure as a panel prints it to every amount that it may stand for.

A printed "0 g" of fat says that there is less than half a gram, not that there is none. `behind` takes a ladder apart
band by band and gives the least and the greatest amount that the rule, or a maker who used the freedom that it
leaves ("may"), would have printed so. Nothing here knows a market or a nutrient.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from labeler.rules.rounding import Band, Ladder

__all__ = ["PanelFigure", "behind", "last_digit", "read_figure"]

_LESS = re.compile(r"(?:contains\s+)?(?:<|≤|less than|under|below|fewer than)\s*", re.IGNORECASE)
_ABOUT = re.compile(r"(?:~|≈|about|approx\.?|ca\.?|circa)\s*", re.IGNORECASE)
_THOUSANDS = r"[1-9]\d{0,2}(?:[ ,]\d{3})+(?:\.\d+)?(?!\d)"
_NUMBER = re.compile(rf"(?P<thousands>{_THOUSANDS})|\d+(?:[.,]\d+)?|[.,]\d+")
_WORDS = {"trace": Decimal(0), "traces": Decimal(0), "nil": Decimal(0), "none": Decimal(0), "zero": Decimal(0)}


@dataclass(frozen=True, slots=True)
class PanelFigure:
    """A printed figure: its number, whether "less than" stands before it, how it was written, and its unit.

    Parameters
    ----------
    number : Decimal
    less : bool
        True for "<1" and "less than 1", and for "traces", whose number is 0.
    unit : str
        What stands behind the number, in lower case; empty where nothing does.
    places : int
        Decimals as printed.
    """

    number: Decimal
    less: bool
    unit: str
    places: int

    @property
    def key(self) -> tuple[bool, Decimal]:
        """What makes two figures the same print, unit apart."""
        return self.less, self.number.normalize()


def read_figure(text: str) -> PanelFigure | None:
    """A printed figure such as ``"<1 g"``, ``"less than 5mg"``, ``"1,5 g"``, ``"1,200 kJ"`` or ``"traces"``.

    Returns None where there is no such figure, or it is negative or more than one. A comma or a space before three
    digits divides thousands where no zero leads, any other comma is a decimal comma.
    """
    stated = " ".join(text.split())
    if stated.lower().rstrip(".") in _WORDS:
        return PanelFigure(Decimal(0), stated.lower().startswith("trace"), "", 0)
    about = _ABOUT.match(stated)
    stated = stated[about.end() :] if about else stated
    less = _LESS.match(stated)
    stated = stated[less.end() :] if less else stated
    found = _NUMBER.match(stated)
    if found is None:
        return None
    divided = found["thousands"] is not None
    written = found[0].replace(",", "").replace(" ", "") if divided else found[0].replace(",", ".")
    try:
        number = Decimal(written)
    except InvalidOperation:
        return None
    rest = stated[found.end() :].strip(" .").lower()
    if any(sign.isdigit() for sign in rest) or len(rest) > 20:
        return None
    places = -int(number.as_tuple().exponent) if "." in written else 0
    return PanelFigure(number, less is not None, rest, max(places, 0))


def last_digit(figure: PanelFigure) -> tuple[Decimal, Decimal]:
    """Least and greatest amount that a figure stands for where no rule says how it was rounded: half its last digit."""
    half = Decimal(5).scaleb(-figure.places - 1)
    if figure.less:
        return Decimal(0), max(figure.number, half)
    return max(figure.number - half, Decimal(0)), figure.number + half


def behind(ladder: Ladder, figure: PanelFigure) -> tuple[Decimal, Decimal] | None:
    """The least and the greatest amount that a ladder prints as a figure, both ends included.

    Parameters
    ----------
    ladder : Ladder
        In the unit of the figure.
    figure : PanelFigure
        As printed; its unit is not looked at.

    Returns
    -------
    tuple of Decimal or None
        None where the ladder never prints that figure: it was rounded by another rule.

    A band that "may" print a fixed text may as well round by the step of the band above it: 5 calories may be 4.
    """
    if figure.less and figure.number == 0:
        return Decimal(0), _least_printed(ladder)
    ends: list[Decimal] = []
    for one in _pieces(ladder, figure):
        ends.extend(one)
    return (min(ends), max(ends)) if ends else None


def _pieces(ladder: Ladder, figure: PanelFigure) -> Iterator[tuple[Decimal, Decimal]]:
    low = Decimal(0)
    for at, band in enumerate(ladder.bands):
        high = band.upper
        if band.prints is not None:
            texts = (band.prints, *band.also)
            if any((same := read_figure(text)) is not None and same.key == figure.key for text in texts):
                yield low, high if high is not None else max(low, figure.number)
            stepped = next((other for other in ladder.bands[at + 1 :] if other.prints is None), None)
            if band.verb == "may" and stepped is not None:
                yield from _within(low, high, stepped, figure)
        else:
            yield from _within(low, high, band, figure)
        low = high if high is not None else low


def _within(low: Decimal, high: Decimal | None, band: Band, figure: PanelFigure) -> Iterator[tuple[Decimal, Decimal]]:
    """The stretch of a band that rounds to the figure by the band's step or its significant figures."""
    if figure.less:
        return
    step = band.step
    if step is None:
        if figure.number == 0:  # significant figures never reach 0, makers do: less than half its last digit
            yield low, last_digit(figure)[1]
            return
        step = Decimal(1).scaleb(figure.number.adjusted() - (band.figures or 1) + 1)
    if figure.number % step:
        return
    first, last = max(figure.number - step / 2, low), figure.number + step / 2
    last = last if high is None else min(last, high)
    if first <= last:
        yield first, last


def _least_printed(ladder: Ladder) -> Decimal:
    """The greatest amount that may go under as a trace: the end of the first band that prints a figure above 0."""
    for band in ladder.bands:
        if band.upper is not None and band.upper > 0:
            return band.upper
        if band.step is not None:
            return band.step
    return Decimal(1)
