"""What the food table knows: group, scientific name, LanguaL source codes and description of a table food."""

from __future__ import annotations

from dataclasses import replace
from functools import cache, lru_cache

from labeler.allergens.detect import assess_text
from labeler.allergens.model import Assessment, Finding, merge
from labeler.allergens.vocabulary import allergen_names, rows
from labeler.foods.composition.food_table import load_table

__all__ = ["assess_food"]

LANGUAL = "LanguaL food source and treatment codes, as SR28 carries them"


@cache
def _codes() -> dict[str, tuple[str, str]]:
    """Allergen and name by LanguaL code."""
    return {
        row["code"]: (row["allergen"], row["name"] or allergen_names()[row["allergen"]]) for row in rows("langual.csv")
    }


@lru_cache(maxsize=4096)
def assess_food(food: str) -> Assessment:
    """The allergens of a table food by its scientific name, its LanguaL codes and its description.

    Parameters
    ----------
    food : str
        Table id, five digits; raises KeyError for one that is not in the table.
    """
    table = load_table()
    at = table.position[food]
    description = table.descriptions[at]
    place = f"{description} (food {food})"
    found = [assess_text(description)]
    scientific = table.scientific_names[at]
    if scientific:
        found.append(assess_text(scientific))
    by_code = [
        Finding(*_named(code), f"LanguaL code {code}, {term.lower()}", place, "certain", "langual", LANGUAL)
        for code, term in table.langual(food)
        if code in _codes()
    ]
    listed = Assessment(description, tuple(by_code))
    named = merge(description, (*found, listed))
    return Assessment(
        description,
        tuple(replace(finding, from_=place) for finding in named.contains),
        tuple(replace(finding, from_=place) for finding in named.read_the_package),
    )


def _named(code: str) -> tuple[str, tuple[str, ...]]:
    allergen, name = _codes()[code]
    return allergen, (name,)
