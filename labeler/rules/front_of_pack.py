"""The front-of-package symbol of Canada: in which of saturated fat, sugars and sodium a food is high (B.01.350)."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from labeler.rules.declare import NUTRIENTS, quantities
from labeler.rules.engine import exact
from labeler.rules.market import load_market
from labeler.rules.obligations import OBLIGATIONS

__all__ = ["high_in"]

_NAMES = {
    "saturated_plus_trans_fat": "saturated fat (Sat fat / Gras sat.)",
    "sugars": "sugars (Sugars / Sucres)",
    "sodium": "sodium (Sodium)",
}
_SMALL_G = 30.0
_HUNDRED = Decimal(100)


def high_in(
    per_100g: Mapping[str, Any], *, amount_g: float, market: str = "ca", added_sugars: bool = True
) -> tuple[str, ...]:
    """What the symbol of a food names; empty where none is due, or where the market has none.

    Parameters
    ----------
    per_100g : mapping
        INFOODS tagname → amount per 100 g, in the forms of `declare`.
    amount_g : float
        The greater of the serving of stated size and the reference amount [g].
    market : str
    added_sugars : bool
        False where no sugars were added: those of fruit, milk, grains, nuts and pulses do not count (B.01.350(6), (8)).

    The threshold is the one of reference amounts to 30 g where `amount_g` is no more than that, else the general one;
    the higher one of main dishes is not taken, which errs to the careful side.
    """
    place = load_market(market)
    rule = place.rules(OBLIGATIONS).get("front-of-pack-thresholds")
    if rule is None:
        return ()
    figures = rule.data["figures"]
    least = figures["reference amount to 30 g" if amount_g <= _SMALL_G else "reference amount above 30 g"]
    amounts = quantities(per_100g, place)
    found = []
    for key, name in _NAMES.items():
        amount = amounts[key].best
        percent = place.rule(NUTRIENTS, key).data["percent"]["of"]
        value = place.rule(NUTRIENTS, percent).data["amount"]
        if amount is None or not value or (key == "sugars" and not added_sugars):
            continue
        if amount * exact(amount_g) / _HUNDRED * _HUNDRED / value >= least:
            found.append(name)
    return tuple(found)
