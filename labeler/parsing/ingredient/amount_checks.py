"""Whether the amounts of one line can be true and agree: zero, absurd, and two tellings that differ."""

from __future__ import annotations

from dataclasses import replace

from labeler.parsing.ingredient.amounts import amounts_agree
from labeler.parsing.ingredient.draft import LineDraft
from labeler.parsing.line_words import CONTAINERS
from labeler.parsing.model import Amount
from labeler.parsing.units import plural

__all__ = ["ABSURD", "check_amounts"]

ABSURD = 1e6
"""An amount beyond this is no kitchen's [in the line's own unit]. Common practice, no source."""


def check_amounts(reading: LineDraft) -> None:
    """Report what the amounts say that cannot be: nothing, less than nothing, too much, two things at once."""
    for amount in reading.amounts:
        if amount.low <= 0:
            reading.problem("amount-zero", "An amount of zero weighs nothing; write how much goes in.")
        if not amount.high <= ABSURD:
            reading.problem("amount-absurd", f"An amount of {amount.high:g} is beyond any kitchen; check the number.")
    if reading.unclear:
        digits = reading.unclear.replace(".", "")
        decimals = reading.unclear.rstrip("0").rstrip(".") if reading.unclear.count(".") == 1 else digits
        reading.problem(
            "amount-thousands",
            f"“{reading.unclear}” of so small a unit may be {int(digits):,} or {decimals}; it is read as {decimals}. "
            f"Write “{digits}” or “{decimals}”.",
        )
    same = [amount for amount in reading.amounts if amount.role == "same"]
    if not same:
        return
    main = reading.amounts[0]
    stated = [amount for amount in reading.amounts if amount.role in ("main", "plus")]
    each = next((amount for amount in reading.amounts if amount.role == "each"), None)
    for amount in same:
        # A second telling may speak of the sum or of one of its terms ("1 cup/240 ml plus 2 tablespoons/30 ml").
        if not any(amounts_agree(one, [amount]) for one in (stated, *([term] for term in stated))):
            _disagree(stated, [amount], reading)
            return
        if each is not None and main.unit in (None, *CONTAINERS):
            packed = replace(each, low=each.low * main.low, high=each.high * main.high)
            if not any(amounts_agree([one], [amount]) for one in (packed, each)):
                _disagree([packed], [amount], reading)
                return


def _say(amounts: list[Amount]) -> str:
    texts = []
    for amount in amounts:
        number = f"{amount.low:g}" if amount.low == amount.high else f"{amount.low:g}–{amount.high:g}"
        if amount.unit is not None:
            number += f" {plural(amount.unit) if amount.high > 1 else amount.unit.replace('_', ' ')}"
        texts.append(number)
    return " plus ".join(texts)


def _disagree(one: list[Amount], other: list[Amount], reading: LineDraft) -> None:
    reading.problem(
        "amounts-disagree",
        f"The line says both {_say(one)} and {_say(other)}, which are not the same; the first is taken. "
        "Keep the one that you weigh or measure.",
    )
