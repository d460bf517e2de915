"""Amounts that lack something which changes nothing that is printed of them: bounded, so as good as known."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

from labeler.rules.model import Rule
from labeler.rules.unrounded_amounts import DeclarableQuantity
from labeler.types import Status

__all__ = ["settle"]

_HUNDRED = Decimal(100)
# What is missing of an amount and is less than this share of it leaves it known. Common practice, no source.
_NEGLIGIBLE = Decimal("0.01")


def settle(rule: Rule, quantity: DeclarableQuantity, rules: Mapping[str, Rule]) -> DeclarableQuantity:
    """An amount with something missing that could not change what is printed, or next to nothing of it, as one known.

    Parameters
    ----------
    rule : Rule
        The line of the panel.
    quantity : DeclarableQuantity
    rules : mapping
        The market's rules that the line refers to, by id.

    Returns
    -------
    Quantity
        With the status bounded; any other comes back as it is.
    """
    if quantity.known or quantity.reach is None:
        return quantity
    ladder = rules[rule.data["rounding"]].data["ladder"]
    percent = rule.data.get("percent")
    reference = rules[percent["of"]].data["amount"] if percent else None
    printed = {
        (
            ladder.apply(amount).text,
            rules[percent["rounding"]].data["ladder"].apply(amount * _HUNDRED / reference).text
            if percent and reference
            else "",
        )
        for amount in quantity.reach
    }
    least, best, most = quantity.reach
    if len(printed) > 1 and most - least > _NEGLIGIBLE * best:
        return quantity
    low, high = (best if end is None else end for end in (quantity.low, quantity.high))
    return replace(quantity, best=best, low=min(low, least), high=max(high, most), status=Status.BOUNDED, missing=())
