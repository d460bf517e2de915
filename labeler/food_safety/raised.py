"""What a rule of food safety hands on, and the small questions that every rule asks of the facts."""

from __future__ import annotations

from collections.abc import Iterable

from labeler.food_safety.model import FoodKind, HeatTreatment, SafetyFacts

__all__ = ["Raised", "because", "named", "with_kinds"]

Raised = tuple[str, str, str, tuple[str, ...]]
"""A caution's code, what it is about, a figure, and the lines that raise it."""


def named(foods: Iterable[HeatTreatment]) -> str:
    """The foods by name, each once."""
    return ", ".join(dict.fromkeys(food.name for food in foods))


def because(foods: Iterable[HeatTreatment]) -> tuple[str, ...]:
    """The lines of the foods, each once."""
    return tuple(dict.fromkeys(food.text for food in foods))


def with_kinds(facts: SafetyFacts, *kinds: FoodKind) -> list[HeatTreatment]:
    """The foods that are of any of the kinds."""
    return [food for food in facts.foods if food.kinds & set(kinds)]
