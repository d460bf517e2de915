"""The ingredient list of a recipe in its market: ingoing weights, allergens by name, quantities where asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from labeler.allergens import Finding, assess_line, assess_name, declared_names
from labeler.allergens.vocabulary import allergen_names
from labeler.cooking.state.ledger import Dish
from labeler.cooking.state.mixture import Origin
from labeler.foods.composition.food_table import load_table
from labeler.foods.model import WeighedLine
from labeler.label.words import name_allergen, tongues
from labeler.nutrition.analysis import Nutrition
from labeler.nutrition.ingredient_weights import ingoing
from labeler.parsing.model import Recipe
from labeler.rules.compound_ingredients import CompoundKind, compound, usual_names
from labeler.rules.ingredient_list import IngredientList, ListedIngredient, ingredient_list
from labeler.rules.ingredient_quantities import Quantities
from labeler.rules.label_elements import Condition, Element
from labeler.rules.sale import Sale

__all__ = ["asked_compounds", "listed_of", "taken_as_usual", "unlisted_foods"]

_MEATS = frozenset({500, 700, 1000, 1300, 1700})
"""Food groups of the table: poultry, sausages and luncheon meats, pork, beef, lamb and game."""


def _quantities(recipe: Recipe, nutrition: Nutrition, sale: Sale | None) -> Quantities | None:
    """Of which ingredients the market wants the quantity, as the food is sold; none where drained weight stands."""
    if sale is None or "drained" in recipe.head:
        return None
    asked = {
        requirement.condition
        for requirement in sale.obligations.requirements
        if requirement.what is Element.PERCENTAGES and requirement.state in ("mandatory", "mandatory unless")
    }
    if not asked:
        return None
    codes, position = load_table().group_codes, load_table().position
    lines = [line for part in nutrition.weighed.parts for line in part.lines if line.match is not None]
    foods = {line.line.number: line.match.food for line in lines if line.match is not None and line.match.food}
    meat = frozenset(
        number for number, food in foods.items() if food in position and int(codes[position[food]]) in _MEATS
    )
    title = recipe.title if Condition.EMPHASISED in asked else ""
    return Quantities(title, meat if Condition.MEAT in asked else frozenset())


def listed_of(
    recipe: Recipe, nutrition: Nutrition, market: str, sale: Sale | None, language: str = "en"
) -> IngredientList:
    """The ingredient list by what goes into the dish and stays, each line with the allergens that the market names.

    In another language, or in two ("en+fr"), the names of the allergens are those of the language: a name that the
    cook's word does not say stands behind it.
    """
    weighed, dish = nutrition.weighed, nutrition.dish
    lines = [line for part in weighed.parts for line in part.lines if line.part is None]
    return ingredient_list(
        weighed,
        {line.line.number: _names(line, market, language) for line in lines},
        market=market,
        grams=ingoing(weighed, dish),
        finished_g=dish.sold_g,
        by_name=_package_names(lines, market, language),
        quantities=_quantities(recipe, nutrition, sale),
        usual=usual_names(market) if sale is not None else None,
        further=tuple(_of_method(dish, market, language)),
    )


_BY_METHOD = {Origin.UNLISTED: "", Origin.FRYING_OIL: "oil", Origin.POT_SALT: "salt"}
"""What only the method adds, and what it is called where its own name says where it was."""


def _of_method(dish: Dish, market: str, language: str) -> Iterator[ListedIngredient]:
    """The foods in the dish that only its method names, as ingredients of the weight that is taken for them."""
    masses: dict[str, float] = {}
    for at, item in enumerate(dish.mix.items):
        if item.origin in _BY_METHOD:
            name = _BY_METHOD[item.origin] or item.name
            masses[name] = masses.get(name, 0.0) + float(dish.mix.mass[0, at])
    for name, grams in masses.items():
        found = assess_name(name, market=market)
        called = tuple(dict.fromkeys(each for one in found.declared for each in _called(one, market, language)))
        yield ListedIngredient(name, grams or None, allergens=called)


def unlisted_foods(dish: Dish) -> str:
    """What lacks of the list where the method adds foods that no line lists, in a sentence; empty where it adds none.

    Salt of cooking water is listed and asks for nothing: what food takes up of it is little and comes out computed.
    """
    origins = (Origin.UNLISTED, Origin.FRYING_OIL)
    names = dict.fromkeys(_BY_METHOD[item.origin] or item.name for item in dish.mix.items if item.origin in origins)
    if not names:
        return ""
    listed = ", ".join(f"“{name}”" for name in names)
    return f"The method adds {listed}, and no line lists it: write each as a line with its weight."


def _package_names(lines: Iterable[WeighedLine], market: str, language: str) -> dict[str, tuple[str, ...]]:
    """What the market calls the allergens of each name in the ingredient lists of the cook's own foods."""
    owns = [one.match.own for line in lines for one in (line, *line.also) if one.match is not None and one.match.own]
    listed = [one for own in owns for one in own.listed]
    found = {one.name: assess_name(one.name, market=market) for one in listed if not one.components}
    return {
        name: tuple(dict.fromkeys(each for one in stated.declared for each in _called(one, market, language)))
        for name, stated in found.items()
    }


def _names(line: WeighedLine, market: str, language: str) -> tuple[str, ...]:
    """What the market calls the allergens of one line."""
    found = assess_line(line, market=market)
    return tuple(dict.fromkeys(name for one in found.declared for name in _called(one, market, language)))


def _called(finding: Finding, market: str, language: str) -> Iterator[str]:
    """What the market calls an allergen in the languages of the label: in English its own names, else its class."""
    plain = allergen_names()[finding.allergen]
    for one in tongues(language):
        if one == "en":
            yield from declared_names(finding, market=market)
        else:
            yield from name_allergen(finding.allergen, (plain,), one)


_LISTED_FROM_PERCENT = {"eu": 2.0, "uk": 2.0, "anz": 5.0}
"""Share of the food below which a compound ingredient whose composition is settled need not be broken down."""


def _walk(items: Iterable[ListedIngredient]) -> Iterator[ListedIngredient]:
    for item in items:
        yield item
        yield from _walk(item.components)


def asked_compounds(listed: IngredientList, nutrition: Nutrition, market: str) -> Iterator[str]:
    """What of the list is made of ingredients itself that nobody has named, with its likely list, in sentences.

    Regulation (EU) 1169/2011 Annex VII, part E, lets compounds under 2 % of the food stand alone, Standard 1.2.4 under
    5 %; 21 CFR 101.4(b)(2) and B.01.008.2(5) ask for all.
    """
    lines = {line.line.number: line for part in nutrition.weighed.parts for line in part.lines}
    total = sum(item.grams or 0.0 for item in (*listed.items, *listed.small))
    least = _LISTED_FROM_PERCENT.get(market, 0.0)
    for item in _walk((*listed.items, *listed.small)):
        own = any(getattr(lines[n].match, "own", None) is not None for n in item.lines if n in lines)
        if item.components or own or not item.lines:
            continue
        found = compound(item.name, market)
        if found is not None and found.kind is CompoundKind.SOURCE:
            yield f"“{item.name}” must say of which plants it is: name the oil of your bottle ({found.made_of})."
            continue
        if found is None or (item.grams is not None and total and 100.0 * item.grams / total < least):
            continue
        yield (
            f"“{item.name}” is made of several ingredients; give the list of its package in your larder (likely: "
            f"{found.made_of})."
        )


def taken_as_usual(listed: IngredientList, market: str) -> Iterator[str]:
    """What of the list was printed with what it usually holds, in sentences."""
    usual = set(usual_names(market).values())
    for item in _walk((*listed.items, *listed.small)):
        if item.name in usual:
            yield f"The list says “{item.name}”, as most packages do: read yours and put its list in your larder."
