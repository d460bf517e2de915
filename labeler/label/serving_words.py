"""The serving of a label in words: the cook's measure with its weight, or its volume where the food is a liquid."""

from __future__ import annotations

from decimal import Decimal

from labeler.cooking.state.density import density
from labeler.nutrition.analysis import Nutrition
from labeler.parsing.model import Recipe
from labeler.rules.requirements import serving_of
from labeler.rules.rounding import exact, plain, to_step
from labeler.types import LabelerError

__all__ = ["grams_words", "serving_words", "servings_in", "servings_words"]

_OVER = 1.0001
"""A serving of more than a pack, rounding apart, is the pack."""


def grams_words(grams: float) -> str:
    """A weight as it is printed: whole grams, tenths below 5 g, exactly half-way up as the rules of every market."""
    amount = exact(grams)
    return f"{plain(to_step(amount, Decimal(1) if amount >= 5 else Decimal('0.1')))} g"


def serving_words(recipe: Recipe, nutrition: Nutrition, market: str) -> str:
    """The cook's own serving, with the metric amount beside a measure: "1 box (140 g)", "1 glass (250 mL)".

    A liquid stands in millilitres: Food and Drug Regulations B.01.401, table, item 1, and B.01.002A(2)(a) (Canada);
    Schedule 12, S12-2 (Australia and New Zealand); 21 CFR 101.9(b)(7) (United States).
    """
    portion = nutrition.portion
    household = portion.household
    try:
        serving = serving_of(recipe, nutrition, market)
    except LabelerError:
        return _with_metric(household, grams_words(nutrition.serving_g))
    if serving.amount is None or serving.reference is not None:
        per_ml = float(density(nutrition.dish.mix)[0]) if serving.unit == "mL" else 0.0
        volume = grams_words(nutrition.serving_g / per_ml).replace(" g", " mL") if per_ml > 0.0 else ""
        return _with_metric(household, volume or grams_words(nutrition.serving_g))
    if portion.pack_g and portion.grams > portion.pack_g * _OVER and not household.startswith("1 "):
        return serving.statement
    return _with_metric(household, f"{plain(exact(serving.amount))} {serving.unit}")


def _with_metric(household: str, metric: str) -> str:
    """A measure with its metric amount; the amount alone where the measure says the same."""
    same = household.replace(" ", "").lower() == metric.replace(" ", "").lower()
    return metric if not household or same else f"{household} ({metric})"


def servings_in(nutrition: Nutrition) -> tuple[str, bool, bool]:
    """How many servings, whether that is "about", and whether they are in a pack or in the batch."""
    divided = nutrition.portion
    count = divided.pack_g / divided.grams if divided.pack_g and divided.grams else divided.count
    if count < 1.0:
        return "1", False, bool(divided.pack_g)  # a serving is never more than the pack
    return plain(to_step(exact(count), Decimal(1))), abs(count - round(count)) >= 0.02, bool(divided.pack_g)


def servings_words(nutrition: Nutrition) -> str:
    """How many servings, in words."""
    count, about, in_pack = servings_in(nutrition)
    word = "serving" if count == "1" else "servings"
    return f"{'about ' if about else ''}{count} {word}{' in the pack' if in_pack else ''}"
