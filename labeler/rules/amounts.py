"""Unrounded amounts: whatever form a figure is handed over in, exact and with what is known of it.

`Amounts` works out the sums that a rule file defines over them (`take`): carbohydrate without fibre, salt from
sodium, energy from its factors.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from numbers import Number
from typing import Any

from labeler.knowledge import Status
from labeler.rules.engine import exact
from labeler.rules.loader import nearest
from labeler.rules.model import Rule

__all__ = ["TAGNAME", "Amounts", "Quantity", "read_amount"]

# What subtraction of floats may leave of nothing; no food datum is as small.
_DUST = Decimal("1e-9")
TAGNAME = re.compile(r"[A-Z][A-Z0-9_+]*")


@dataclass(frozen=True, slots=True)
class Quantity:
    """An unrounded amount, exact, with its bounds and what is known of it.

    `best` is None where nothing is known; where `status` is `MISSING` and `best` is not None it is a lower bound.
    """

    best: Decimal | None
    low: Decimal | None = None
    high: Decimal | None = None
    status: Status = Status.CALCULATED
    missing: tuple[str, ...] = ()

    @property
    def known(self) -> bool:
        """True where `best` is the amount and not just a lower bound."""
        return self.best is not None and self.status is not Status.MISSING


def read_amount(value: Any) -> Quantity:
    """Any form in which an amount is handed over, as a `Quantity`.

    Parameters
    ----------
    value : float, int, Decimal, None, mapping or object
        A bare number; None or NaN for an unknown one; or something with ``best``, ``low``, ``high`` and ``status``,
        as attributes or as keys (the status as `Status` or in its words).

    Raises
    ------
    ValueError
        For a negative or infinite amount, a status that is not known, or anything else.
    """
    if value is None:
        return Quantity(None, status=Status.MISSING)
    if isinstance(value, Number):
        return _quantity(value, value, value, Status.CALCULATED)
    if isinstance(value, Mapping) and "best" in value:
        best, low, high, status = (value.get(key) for key in ("best", "low", "high", "status"))
    elif hasattr(value, "best"):
        best, low, high, status = (getattr(value, key, None) for key in ("best", "low", "high", "status"))
    else:
        raise ValueError(f"{value!r} is not an amount: a number, or something with best, low, high and status")
    return _quantity(best, low, high, _status(status))


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


def _quantity(best: Any, low: Any, high: Any, status: Status) -> Quantity:
    number = _bound(best)
    if number is None:
        return Quantity(None, status=Status.MISSING)
    if -_DUST < number < 0:
        number = Decimal(0)
    if number < 0:
        raise ValueError(f"an amount is not negative: {best}")
    lower, upper = _bound(low), _bound(high)
    return Quantity(number, number if lower is None else lower, number if upper is None else upper, status)


class Amounts:
    """The amounts of one food under a market's quantities, worked out as they are asked for."""

    def __init__(self, values: Mapping[str, Any], rules: Mapping[str, Rule]) -> None:
        self._given = {key: _named(key, value) for key, value in values.items()}
        self._rules = rules
        self._found: dict[str, Quantity] = {}

    def of(self, name: str) -> Quantity:
        """The amount of a tagname, or of a quantity or line of the rule file."""
        if name not in self._found:
            rule = self._rules.get(name)
            if rule is not None and "take" in rule.data:
                self._found[name] = self._combine(rule)
            else:
                self._found[name] = self._given.get(name) or Quantity(None, status=Status.MISSING, missing=(name,))
        return self._found[name]

    def _combine(self, rule: Rule) -> Quantity:
        """A sum of amounts times factors, not below zero; interval bounds are the widest that the terms allow."""
        best = low = high = zero = Decimal(0)
        status, usable = Status.ANALYSED, True
        missing: list[str] = []
        for name, factor in rule.data["take"].items():
            term = self.of(name)
            if term.best is None and name in rule.data.get("assume_none", ()):
                continue
            status = max(status, term.status)
            if not term.known:
                missing += term.missing or (name,)
                # An unknown part that is added still leaves a lower bound; one that is taken off leaves nothing.
                usable &= factor > 0
            if term.best is not None:
                ends = sorted(((term.low or zero) * factor, (term.high or zero) * factor))
                best, low, high = best + term.best * factor, low + ends[0], high + ends[1]
        if missing and (not usable or best <= 0):
            return Quantity(None, status=Status.MISSING, missing=tuple(missing))
        return Quantity(max(best, zero), max(low, zero), max(high, zero), status, tuple(missing))


def _named(key: str, value: Any) -> Quantity:
    try:
        found = read_amount(value)
    except ValueError as error:
        raise ValueError(f"{key}: {error}") from None
    return Quantity(found.best, found.low, found.high, found.status, (key,) if not found.known else ())
