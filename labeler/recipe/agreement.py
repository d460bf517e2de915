"""Whether the amounts of one line can be true and agree: zero, absurd, and two tellings that differ."""

from __future__ import annotations

from dataclasses import replace

from labeler.recipe.amounts import amounts_agree
from labeler.recipe.model import Amount
from labeler.recipe.reading import Reading
from labeler.recipe.words import CONTAINERS

__all__ = ["ABSURD", "check_amounts"]

ABSURD = 1e6
"""An amount beyond this is no kitchen's [in the line's own unit]. Common practice, no source."""


def check_amounts(reading: Reading) -> None:
    """Report what the amounts say that cannot be: nothing, less than nothing, too much, two things at once."""
    for amount in reading.amounts:
        if amount.low <= 0:
            reading.problem("amount-zero", "An amount of zero weighs nothing; write how much goes in.")
        if not amount.high <= ABSURD:
            reading.problem("amount-absurd", f"An amount of {amount.high:g} is beyond any kitchen; check the number.")
    same = [amount for amount in reading.amounts if amount.role == "same"]
    if not same:
        return
    main = reading.amounts[0]
    stated = [amount for amount in reading.amounts if amount.role in ("main", "plus")]
    each = [amount for amount in reading.amounts if amount.role == "each"]
    sums = [[amount] for amount in same]
    if not any(amounts_agree(stated, other) for other in sums):
        _disagree(stated, sums[0], reading)
    elif each and main.unit in (None, *CONTAINERS):
        packed = [replace(each[0], low=each[0].low * main.low, high=each[0].high * main.high)]
        bad = [other for other in sums if not amounts_agree(packed, other) and not amounts_agree(each[:1], other)]
        if bad:
            _disagree(packed, bad[0], reading)
    else:
        for other in sums:
            if not amounts_agree(stated, other):
                _disagree(stated, other, reading)
                return


def _say(amounts: list[Amount]) -> str:
    texts = []
    for amount in amounts:
        number = f"{amount.low:g}" if amount.low == amount.high else f"{amount.low:g}–{amount.high:g}"
        texts.append(f"{number} {amount.unit or ''}".strip().replace("_", " "))
    return " plus ".join(texts)


def _disagree(one: list[Amount], other: list[Amount], reading: Reading) -> None:
    reading.problem(
        "amounts-disagree",
        f"The line says both {_say(one)} and {_say(other)}, which are not the same; the first is taken. "
        "Keep the one that you weigh or measure.",
    )
