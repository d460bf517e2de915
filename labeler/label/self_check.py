"""What a label lacks, by what every package knows: allergens, cautions, the ingredient list, the serving."""

from __future__ import annotations

from labeler.allergens import statement
from labeler.food_safety import cautions as cautions_of
from labeler.label.builder import LabelFacts, net_of
from labeler.label.content import LabelContent
from labeler.label.element_checks import check_label
from labeler.label.front_symbol_choice import high_nutrients
from labeler.label.ingredient_list import asked_compounds, listed_of, taken_as_usual, unlisted_foods
from labeler.label.lacks import LabelCheck
from labeler.label.liquid_medium import sold_in_liquid
from labeler.label.market_statements import market_statements
from labeler.label.named_foods import holds_meat, name_lacks
from labeler.parsing.model import Recipe
from labeler.rules.front_of_pack import symbol_rule
from labeler.rules.label_elements import Element
from labeler.rules.market import load_market
from labeler.rules.obligations import OBLIGATIONS
from labeler.rules.requirements import serving_of
from labeler.rules.sale import Sale
from labeler.rules.serving import SURE, Serving
from labeler.types import LabelerError

__all__ = ["check_of"]


def check_of(content: LabelContent, recipe: Recipe, facts: LabelFacts, sale: Sale) -> LabelCheck:
    """What a label lacks, by what the packages know of its food."""
    weighed = facts.nutrition.weighed
    lines = [one for part in weighed.parts for line in part.lines for one in (line, *line.also)]
    stated = statement(facts.allergens, facts.market)
    listed = listed_of(recipe, facts.nutrition, facts.market, sale)
    emphasised = listed.emphasised
    serving = _serving(recipe, facts)
    lack_of = _serving_lacks(content, recipe, facts, serving)
    unlisted = unlisted_foods(facts.nutrition.dish)
    asked = " ".join(filter(None, (unlisted, *asked_compounds(listed, facts.nutrition, facts.market))))
    if asked:
        lack_of[Element.INGREDIENTS] = asked
    high = high_nutrients(recipe, facts)
    wanted = market_statements(recipe, facts, sale)
    named = name_lacks(recipe, facts, listed, figures=content.panel is not None) if sale.packed else ""
    if named:
        lack_of[Element.NAME] = named
    held = net_of(recipe, facts.nutrition, facts.market)
    unmeasured = [one.message for one in held.problems if one.code.startswith("net-needs-v")] if held else []
    if unmeasured:
        lack_of[Element.NET] = f"{unmeasured[0]} Write it as “net: 180 ml”."
    if high and content.symbol is not None:
        lack_of[Element.SYMBOL] = ""
    elif high:
        lack_of[Element.SYMBOL] = f"The food is high in {', '.join(high)}: the layout has no symbol on its front."
    return check_label(
        content,
        recipe,
        sale,
        foods=[line.match.food for line in lines if line.match is not None and line.match.food],
        cautions=[caution.code for caution in cautions_of(weighed, market=facts.market, dish=facts.nutrition.dish)],
        open_allergens=stated.notes,
        emphasised=bool(emphasised),
        high_in=bool(high),
        needs=wanted.needs,
        frees=wanted.frees,
        percentages=all(item.grams is not None for item in emphasised),
        lack_of=lack_of,
        in_liquid=sold_in_liquid(facts.nutrition),
        questions=(*_asked_kind(content, serving), *wanted.food_questions),
        sale_questions=wanted.questions,
        notes=(
            *taken_as_usual(listed, facts.market),
            *_meat_notes(facts),
            *_symbol_notes(content, facts),
            *_net_notes(content, facts),
            *wanted.notes,
        ),
    )


_BY_SERVING = frozenset({"ca", "anz"})
"""Markets whose panel is by a serving that the maker states, as no table of reference amounts is held for them."""

_OPEN_SERVINGS = frozenset(
    {
        "no-serving",
        "no-reference-amount",
        "reference-amount-in-words",
        "no-household-measure",
        "no-weight-of-measure",
        "ounces-need-a-picture",
    }
)
"""Problems that leave the serving of a panel without something that the law wants in it."""


def _serving_lacks(
    content: LabelContent, recipe: Recipe, facts: LabelFacts, serving: Serving | None
) -> dict[Element, str]:
    """What a panel lacks of its serving: a reference amount, its measure, or, without reference amounts, the cook's."""
    if content.panel is None:
        return {}
    if _unknown_figures(content, facts.market):
        return {Element.NUTRITION: "Figures of the panel are not known: see which line leaves them open, and mend it."}
    unsettled = [one.message for one in serving.problems if one.code in _OPEN_SERVINGS] if serving else []
    if unsettled and facts.market not in _BY_SERVING | _PER_HUNDRED:
        return {Element.NUTRITION: " ".join(unsettled)}
    if facts.market not in _BY_SERVING or "serving" in recipe.head:
        return {}
    if facts.nutrition.portion.packs is None and "net" not in recipe.head:
        return {}
    return {Element.NUTRITION: "State the serving, as “serving: 1 tablespoon” or “serving: 30 g”, in the head."}


def _unknown_figures(content: LabelContent, market: str) -> bool:
    """Whether the panel has no number somewhere: a value that is not known, or a lower bound."""
    words = load_market(market).setting("words")
    if content.panel is None or not words:
        return False
    unknown, bound = words["unknown"], words["at_least"].partition("{")[0].strip()
    figures = [*content.panel.energy, *(amount for row in content.panel.rows for amount in row.amounts)]
    names = [row.name for row in content.panel.rows]
    return any(word in figure for figure in (*figures, *names) for word in (unknown, bound) if word)


_PER_HUNDRED = frozenset({"eu", "uk", "codex", "jp"})
"""Markets whose table is of 100 g or 100 mL, with or without a portion."""


def _asked_kind(content: LabelContent, serving: Serving | None) -> tuple[str, ...]:
    """The question which reference amount a food falls under, where that is not sure."""
    if content.panel is None or serving is None or serving.reference is None or serving.confidence >= SURE:
        return ()
    return tuple(one.message for one in serving.problems if one.code == "reference-amount-proposed")


def _serving(recipe: Recipe, facts: LabelFacts) -> Serving | None:
    try:
        return serving_of(recipe, facts.nutrition, facts.market)
    except LabelerError:
        return None


def _symbol_notes(content: LabelContent, facts: LabelFacts) -> tuple[str, ...]:
    """How the symbol was drawn, where one was."""
    rule = symbol_rule(facts.market)
    if content.symbol is None or rule is None:
        return ()
    return (
        f"The symbol on the front says what the food is high in ({', '.join(content.symbol.bars)}), judged on the "
        "serving; a reference amount that is more counts instead. It is drawn after the description of the law: "
        f"compare size and form with Health Canada's own artwork. {rule.note} ({rule.paragraph}; {rule.reading})",
    )


def _net_notes(content: LabelContent, facts: LabelFacts) -> tuple[str, ...]:
    """That nobody has weighed a pack, where its net quantity follows from the batch."""
    if not content.net or facts.nutrition.portion.pack_stated:
        return ()
    return (
        f"The net quantity, {content.net}, is worked out from the batch: weigh what a pack holds and write it, as "
        "“net: 190 g”, in the head.",
    )


def _meat_notes(facts: LabelFacts) -> tuple[str, ...]:
    """Who regulates a food with meat in the United States; empty elsewhere and without meat."""
    rule = load_market(facts.market).rules(OBLIGATIONS).get("usda-foods")
    return (f"It holds meat. {rule.summary} ({rule.paragraph}; {rule.reading})",) if rule and holds_meat(facts) else ()
