"""The front-of-package symbol of Canada: in which of saturated fat, sugars and sodium a food is high (B.01.350)."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from labeler.rules.declaration import NUTRIENTS, quantities
from labeler.rules.market import load_market
from labeler.rules.model import Rule
from labeler.rules.obligations import OBLIGATIONS
from labeler.rules.rounding import exact
from labeler.text.stems import find_phrase, head_and_aside, stems

__all__ = ["high_in", "symbol_rule"]

_SMALL_G = 30.0
_HUNDRED = Decimal(100)


def high_in(
    per_100g: Mapping[str, Any], *, amount_g: float, market: str = "ca", title: str = "", added_sugars: bool = True
) -> tuple[str, ...]:
    """The lines of the nutrient file in which a food is high; empty where no symbol is due, or the market has none.

    Parameters
    ----------
    per_100g : mapping
        INFOODS tagname → amount per 100 g, in the forms of `declare`.
    amount_g : float
        The greater of the serving of stated size and the reference amount [g].
    market : str
    title : str
        Name of the food: some foods are exempt by what they are (B.01.350(5), (9), (11)).
    added_sugars : bool
        False where no sugars were added: those of fruit, milk, grains, nuts and pulses do not count (B.01.350(6), (8)).

    The threshold is the one of reference amounts to 30 g where `amount_g` is no more than that, else the general one;
    the higher one of main dishes is not taken, which errs to the careful side.
    """
    place = load_market(market)
    rules = place.rules(OBLIGATIONS)
    rule, symbol = rules.get("front-of-pack-thresholds"), symbol_rule(market)
    if rule is None or symbol is None or _named(rules.get("front-of-pack-exempt"), title):
        return ()
    figures = rule.data["figures"]
    least = figures["reference amount to 30 g" if amount_g <= _SMALL_G else "reference amount above 30 g"]
    amounts = quantities(per_100g, place)

    def reaches(key: str) -> bool:
        amount = amounts[key].best
        percent = place.rule(NUTRIENTS, key).data["percent"]["of"]
        value = place.rule(NUTRIENTS, percent).data["amount"]
        if amount is None or not value:
            return False
        return bool(amount * exact(amount_g) / _HUNDRED * _HUNDRED / value >= least)

    free: set[str] = set() if added_sugars else {_SUGARS}
    if _named(rules.get("front-of-pack-cheese"), title) and reaches("calcium"):
        free |= {"saturated_plus_trans_fat"} | ({"sodium"} if "cheese" in title.casefold() else set())
    return tuple(key for key in symbol.data["bars"] if key not in free and reaches(key))


_SUGARS = "sugars"


def symbol_rule(market: str) -> Rule | None:
    """What the symbol of a market says and how large; None where it has none."""
    return load_market(market).rules(OBLIGATIONS).get("front-of-pack-symbol")


def _named(rule: Rule | None, title: str) -> bool:
    """Whether a title is one of the names of a rule, or ends as one of its ends."""
    head = stems(head_and_aside(title)[0])
    if rule is None or not head:
        return False
    ends = (find_phrase(stems(words), head) == len(head) for words in rule.data["ends"])
    return any(ends) or head in {stems(words) for words in rule.data["whole"]}
