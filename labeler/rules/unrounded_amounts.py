"""Unrounded amounts: whatever form a figure is handed over in, exact and with what is known of it.

`Amounts` works out the sums that a rule file defines over them (`formula`): carbohydrate without fibre, salt from
sodium, energy from its factors.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from numbers import Number
from typing import Any

from labeler.rules.loading.reader import nearest
from labeler.rules.model import Rule
from labeler.rules.rounding import exact
from labeler.types import Status

__all__ = ["TAGNAME", "Amounts", "DeclarableQuantity", "read_amount"]

# What subtraction of floats may leave of nothing; no food datum is as small.
_DUST = Decimal("1e-9")
_FIELDS = ("best", "low", "high", "status", "missing")
TAGNAME = re.compile(r"[A-Z][A-Z0-9_+]*")


@dataclass(frozen=True, slots=True)
class DeclarableQuantity:
    """An unrounded amount, exact, with its bounds and what is known of it.

    `best` is None where nothing is known; where `status` is `MISSING` and `best` is not None it is a lower bound.
    `reach` is then the least, the best and the most that the amount is by what its missing parts can hold, bounds of
    its other parts aside; None where nobody can say.
    """

    best: Decimal | None
    low: Decimal | None = None
    high: Decimal | None = None
    status: Status = Status.CALCULATED
    missing: tuple[str, ...] = ()
    reach: tuple[Decimal, Decimal, Decimal] | None = None

    @property
    def known(self) -> bool:
        """True where `best` is the amount and not just a lower bound."""
        return self.best is not None and self.status is not Status.MISSING


def read_amount(value: Any) -> DeclarableQuantity:
    """Any form in which an amount is handed over, as a `DeclarableQuantity`.

    Parameters
    ----------
    value : float, int, Decimal, None, mapping or object
        A bare number; None or NaN for an unknown one; or something with ``best``, ``low``, ``high`` and ``status``,
        as attributes or as keys (the status as `Status` or in its words); ``missing``, where it has that, is the most
        that what is missing in a lower bound could add.

    Raises
    ------
    ValueError
        For a negative or infinite amount, a status that is not known, or anything else.
    """
    if value is None:
        return DeclarableQuantity(None, status=Status.MISSING)
    if isinstance(value, Number):
        return _quantity(value, value, value, Status.CALCULATED)
    if isinstance(value, Mapping) and "best" in value:
        best, low, high, status, missing = (value.get(key) for key in _FIELDS)
    elif hasattr(value, "best"):
        best, low, high, status, missing = (getattr(value, key, None) for key in _FIELDS)
    else:
        raise ValueError(f"{value!r} is not an amount: a number, or something with best, low, high and status")
    return _within_reach(_quantity(best, low, high, _status(status)), missing)


def _within_reach(quantity: DeclarableQuantity, missing: Any) -> DeclarableQuantity:
    """A lower bound with how far what is missing could take it."""
    if quantity.known or quantity.best is None or missing is None or not math.isfinite(missing):
        return quantity
    return replace(quantity, reach=(quantity.best, quantity.best, quantity.best + exact(float(missing))))


def _status(status: Any) -> Status:
    if status is None:
        return Status.CALCULATED
    if isinstance(status, str):
        try:
            return Status[status.upper().replace(" ", "_")]
        except KeyError:
            raise ValueError(f"'{status}' is no status{nearest(status, (known.words for known in Status))}") from None
    return Status(status)


def _bound(value: Any) -> Decimal | None:
    return None if value is None or (isinstance(value, float) and math.isnan(value)) else exact(value)


def _quantity(best: Any, low: Any, high: Any, status: Status) -> DeclarableQuantity:
    number = _bound(best)
    if number is None:
        return DeclarableQuantity(None, status=Status.MISSING)
    if -_DUST < number < 0:
        number = Decimal(0)
    if number < 0:
        raise ValueError(f"an amount is not negative: {best}")
    lower, upper = _bound(low), _bound(high)
    return DeclarableQuantity(number, number if lower is None else lower, number if upper is None else upper, status)


class Amounts:
    """The amounts of one food under a market's quantities, worked out as they are asked for."""

    def __init__(self, values: Mapping[str, Any], rules: Mapping[str, Rule]) -> None:
        self._given = {key: _named(key, value) for key, value in values.items()}
        self._rules = rules
        self._found: dict[str, DeclarableQuantity] = {}

    def of(self, name: str) -> DeclarableQuantity:
        """The amount of a tagname, or of a quantity or line of the rule file."""
        if name not in self._found:
            rule = self._rules.get(name)
            if rule is not None and "formula" in rule.data:
                self._found[name] = self._combine(rule)
            else:
                self._found[name] = self._given.get(name) or DeclarableQuantity(
                    None, status=Status.MISSING, missing=(name,)
                )
        return self._found[name]

    def _combine(self, rule: Rule) -> DeclarableQuantity:
        """A sum of amounts times factors, not below zero; interval bounds are the widest that the terms allow."""
        best = low = high = zero = Decimal(0)
        status, usable = Status.ANALYSED, True
        reach: tuple[Decimal, Decimal, Decimal] | None = (zero, zero, zero)
        missing: list[str] = []
        for name, factor in rule.data["formula"].items():
            term = self.of(name)
            if term.best is None and name in rule.data.get("assume_none", ()):
                continue
            status = max(status, term.status)
            reach = _farther(reach, term, factor)
            if not term.known:
                missing += term.missing or (name,)
                # An unknown part that is added still leaves a lower bound; one that is taken off leaves nothing.
                usable &= factor > 0
            if term.best is not None:
                ends = sorted(((term.low or zero) * factor, (term.high or zero) * factor))
                best, low, high = best + term.best * factor, low + ends[0], high + ends[1]
        within = (max(reach[0], zero), max(reach[1], zero), max(reach[2], zero)) if missing and reach else None
        if missing and (not usable or best <= 0):
            # What is missing and taken off takes no more than it can be: the least that is left is a lower bound.
            least = within[0] if within and within[0] > 0 else None
            return DeclarableQuantity(least, least, least, Status.MISSING, tuple(missing), within)
        return DeclarableQuantity(max(best, zero), max(low, zero), max(high, zero), status, tuple(missing), within)


def _farther(
    reach: tuple[Decimal, Decimal, Decimal] | None, term: DeclarableQuantity, factor: Decimal
) -> tuple[Decimal, Decimal, Decimal] | None:
    """How far a sum reaches with one term more; None where the term or the sum has no limit."""
    alone = term.reach
    if term.known and term.best is not None:
        alone = (term.best, term.best, term.best)
    if reach is None or alone is None:
        return None
    ends = sorted((alone[0] * factor, alone[2] * factor))
    return reach[0] + ends[0], reach[1] + alone[1] * factor, reach[2] + ends[1]


def _named(key: str, value: Any) -> DeclarableQuantity:
    try:
        found = read_amount(value)
    except ValueError as error:
        raise ValueError(f"{key}: {error}") from None
    return found if found.known else replace(found, missing=(key,))
