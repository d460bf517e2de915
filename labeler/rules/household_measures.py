"""Household measures and fractions as a label words them: the measure nearest to an amount.

A label cup is not the kitchen's cup: the market's rule file says how many millilitres a cup, a tablespoon and a
teaspoon are and which multiples of each may be printed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from labeler.rules.model import Rule

__all__ = ["HouseholdMeasure", "mixed", "nearest_fraction", "nearest_measure"]

_MOST_CUPS = 4


@dataclass(frozen=True, slots=True)
class HouseholdMeasure:
    """So many of a household unit, and how many millilitres that is on a label."""

    amount: Fraction
    unit: str
    millilitres: Fraction

    @property
    def words(self) -> str:
        """As printed: ``"1 2/3 tbsp"``."""
        return f"{mixed(self.amount)} {self.unit}"


def mixed(number: Fraction) -> str:
    """A number as a mixed fraction: ``"1 2/3"``, ``"3/4"``, ``"2"``."""
    whole, rest = divmod(number.numerator, number.denominator)
    if not rest:
        return str(whole)
    part = f"{rest}/{number.denominator}"
    return f"{whole} {part}" if whole else part


def _candidates(household: Rule) -> Iterator[HouseholdMeasure]:
    """Every measure that may be printed, smallest first."""
    sizes = household.data["millilitres"]
    least = Fraction(0)
    for step in household.data["steps"]:
        size = Fraction(sizes[step["unit"]])
        most = Fraction(step["below"]) if "below" in step else size * _MOST_CUPS
        amounts = set(step.get("only", ()))
        for every in step.get("every", ()):
            count = 1
            while every * count * size < most:
                amounts.add(every * count)
                count += 1
        for amount in sorted(amounts):
            if least <= amount * size < most:
                yield HouseholdMeasure(amount, step["unit"], amount * size)
        least = most


def nearest_measure(household: Rule, millilitres: Fraction) -> HouseholdMeasure:
    """The printable measure closest to a volume [mL]; exactly half-way between two goes up."""
    return min(_candidates(household), key=lambda at: (abs(at.millilitres - millilitres), -at.millilitres))


def nearest_fraction(fractions: Rule, unit: Fraction, target: Fraction) -> Fraction:
    """The allowed fraction of a large unit [g] closest to an amount [g]; half-way goes up."""
    allowed: tuple[Fraction, ...] = fractions.data["allowed"]
    return min(allowed, key=lambda part: (abs(part * unit - target), -part))
