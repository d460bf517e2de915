"""Ingredients of one class that a market wants together in the list: the sugars of Canada, after the word “Sugars”."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from labeler.foods.composition.food_table import load_table
from labeler.foods.makeup_class import makeup_classes_of
from labeler.rules.model import Rule
from labeler.text.stems import find_phrase, stems

if TYPE_CHECKING:
    from labeler.rules.ingredient_list import ListedIngredient

__all__ = ["grouped"]


def grouped(items: tuple[ListedIngredient, ...], rule: Rule, foods: Mapping[int, str]) -> tuple[ListedIngredient, ...]:
    """The list with its ingredients of the rule's class as one, in parentheses, at the place of their joint weight.

    Parameters
    ----------
    items : tuple of ListedIngredient
        In descending order; what has no weight stands last.
    rule : Rule
        Of kind "grouped ingredients": the word before the group, the class of `labeler.foods.makeup_class`, and the
        word that lets a single one stand alone.
    foods : mapping
        Line number → table food.
    """
    members = [item for item in items if _is_of(item, str(rule.data["class"]), foods)]
    if not members or len(members) == len(items) or _alone(members, str(rule.data["alone"])):
        return items
    weights = [item.grams for item in members]
    whole = None if None in weights else sum(grams for grams in weights if grams is not None)
    lowered = tuple(replace(item, name=item.name[:1].lower() + item.name[1:]) for item in members)
    group = replace(members[0], name=str(rule.data["name"]), grams=whole, components=lowered, allergens=(), lines=())
    others = [item for item in items if item not in members]
    before = [item for item in others if whole is None or (item.grams is not None and item.grams >= whole)]
    return (*before, group, *(item for item in others if item not in before))


def _is_of(item: ListedIngredient, class_: str, foods: Mapping[int, str]) -> bool:
    """Whether an ingredient is of the class by every line that it stands for; one with components is itself none."""
    known = [foods[line] for line in item.lines if line in foods]
    return not item.components and bool(known) and all(
        food in load_table() and class_ in makeup_classes_of(food) for food in known
    )  # fmt: skip


def _alone(members: list[ListedIngredient], word: str) -> bool:
    """Whether the only one of them has the word in its name."""
    return len(members) == 1 and find_phrase(stems(word), stems(members[0].name)) is not None
