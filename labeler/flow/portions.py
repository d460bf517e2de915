"""How much of a line an instruction takes, where its words give an amount or a share of it (R4)."""

from __future__ import annotations

from collections.abc import Iterable

from labeler.flow.bind import Binder
from labeler.flow.ingredients import Ingredient
from labeler.flow.kind_sets import density_of
from labeler.parsing.instructions.actions import Trait, has
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import is_class
from labeler.parsing.instructions.model import Extent, Instruction, Quantity
from labeler.parsing.units import millilitres_per

__all__ = ["done_in_batches", "share_of_amount"]


def done_in_batches(later: Iterable[Instruction], one: Ingredient, binder: Binder) -> bool:
    """Whether what is said next of the rest of a line is that the same is done with it."""
    for other in later:
        rests = [mention for mention in other.mentions if mention.quantity.extent is Extent.REST]
        if any(is_class(mention.name, "rest", "everything") or one in binder.foods_named(mention) for mention in rests):
            return has(other.action, Trait.AGAIN)
    return False


def share_of_amount(one: Ingredient, quantity: Quantity, market: str) -> float | None:
    """Part of a line that an amount of the method is; None where it cannot be told."""
    if quantity.grams is not None:
        return quantity.grams.best / one.grams
    amounts = one.line.line.amounts
    if quantity.millilitres is not None:
        volumes = [
            v * a.low
            for a in amounts
            if a.role in ("main", "plus") and a.unit and (v := millilitres_per(a.unit, market=market))
        ]
        volume = sum(volumes) if volumes else None
        if volume:
            return quantity.millilitres.best / volume
        return quantity.millilitres.best * density_of(one.kind) / one.grams
    if quantity.count is not None and amounts and amounts[0].low > 0 and _counts_alike(amounts[0].unit, quantity.unit):
        return quantity.count.best / amounts[0].low
    return None


def _counts_alike(listed: str | None, told: str) -> bool:
    """Whether a line and the method count the same pieces: "4 stalks celery" and "2 celery ribs", but no "bunch"."""
    pieces = grammar("piece units")
    return listed is None or listed == told or (listed in pieces and (not told or told in pieces))
