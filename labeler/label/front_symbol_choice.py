"""The front-of-package symbol of a label: whether its sale asks for one, and what stands in it."""

from __future__ import annotations

from labeler.label.builder import LabelFacts
from labeler.label.front_symbol import FrontSymbol
from labeler.parsing.model import Recipe
from labeler.rules.front_of_pack import high_in, symbol_rule
from labeler.rules.label_elements import Element
from labeler.rules.sale import Sale

__all__ = ["front_symbol", "high_nutrients"]


def high_nutrients(recipe: Recipe, facts: LabelFacts) -> tuple[str, ...]:
    """The words of what a food is high in, in the order of the symbol."""
    rule = symbol_rule(facts.market)
    added = facts.nutrition.per_100g.get("SUGAR_ADDED")
    found = high_in(
        facts.nutrition.per_100g,
        amount_g=facts.nutrition.serving_g,
        market=facts.market,
        title=recipe.title,
        added_sugars=added is None or added.best > 0.05,
    )
    return tuple(rule.data["bars"][key] for key in found) if rule is not None else ()


def front_symbol(recipe: Recipe, facts: LabelFacts, sale: Sale) -> FrontSymbol | None:
    """The symbol that the label of a sale carries; None where none is due, or an exemption frees the sale from it."""
    rule, asked = symbol_rule(facts.market), sale.requirement(Element.SYMBOL)
    if rule is None or asked is None or asked.state not in ("mandatory", "mandatory unless"):
        return None
    bars = high_nutrients(recipe, facts)
    words = rule.data["words"]
    return FrontSymbol(words["heading"], bars, words["credit"], float(rule.data["x_height_mm"])) if bars else None
