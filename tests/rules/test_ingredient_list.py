"""The ingredient list: order, parts, allergens, small amounts and water, market by market."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.foods.model import Match, WeighedLine, WeighedPart, WeighedRecipe
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe
from labeler.parsing.model import Line, Part, Recipe
from labeler.rules.common_names import common_name
from labeler.rules.ingredient_list import IngredientList, ListedIngredient, ingredient_list
from labeler.types import Interval


def line(number: int, name: str, grams: float | None, part: str | None = None, description: str = "") -> WeighedLine:
    weight = None if grams is None else Interval(grams, grams, grams, "given")
    match = Match("00000", description, 1.0, "given") if description else None
    return WeighedLine(Line(text=name, name=name, number=number), match, weight, part=part)


def recipe(*parts: tuple[str, list[WeighedLine]], title: str = "Dish") -> WeighedRecipe:
    weighed = tuple(WeighedPart(name, tuple(lines)) for name, lines in parts)
    return WeighedRecipe(Recipe(title, tuple(Part(part.title, ()) for part in weighed)), weighed)


def marked(found: IngredientList) -> str:
    """The list with emphasised stretches between asterisks."""
    return "".join(f"*{span.text}*" if span.emphasised else span.text for span in found.spans)


# An invented pie: filling with fish and milk, crust with wheat.
PIE = recipe(
    (
        "Filling",
        [
            line(3, "cold whole milk", 300),
            line(4, "smoked haddock fillet", 400),
            line(5, "butter", 40),
            line(6, "ground black pepper", 1),
        ],
    ),
    ("Crust", [line(9, "plain flour", 200), line(10, "butter", 100), line(11, "ice water", 50)]),
    ("Pie", [line(14, "all of the Filling", None, "Filling"), line(15, "all of the Crust", None, "Crust")]),
    title="Pie",
)
PIE_ALLERGENS = {3: ["milk"], 4: ["haddock"], 5: ["milk"], 9: ["wheat"], 10: ["milk"]}


def test_parts_stand_in_parentheses_by_their_weight_and_allergen_sources_beside_them_in_the_us() -> None:
    # 21 CFR 101.4(b)(2); 21 USC 343(w)(1): the source in parentheses unless the name has it.
    found = ingredient_list(PIE, PIE_ALLERGENS, market="us")
    assert found.text == (
        "Ingredients: Filling (smoked haddock fillet, milk, butter (milk), ground black pepper), "
        "Crust (wheat flour, butter (milk), water)."
    )
    assert [(item.name, item.grams) for item in found.items] == [("Filling", 741), ("Crust", 350)]
    assert found.items[0].share == pytest.approx(100 * 741 / 1091)
    assert not any(span.emphasised for span in found.spans)


def test_allergens_are_set_in_another_type_in_the_eu_and_uk() -> None:
    # Regulation 1169/2011, Article 21(1)(b).
    for market in ("eu", "uk"):
        assert marked(ingredient_list(PIE, {**PIE_ALLERGENS, 4: ["fish"]}, market=market, finished_g=1000)) == (
            "Filling (smoked haddock fillet (*fish*), *milk*, butter (*milk*), ground black pepper), "
            "Crust (*wheat* flour, butter (*milk*), water)."
        )


def test_every_word_of_an_allergen_is_emphasised_where_the_name_says_it() -> None:
    nuts = recipe(("", [line(1, "chopped Brazil nuts", 30), line(2, "2 eggs", 20), line(3, "cherries", 10)]))
    assert marked(ingredient_list(nuts, {1: ["Brazil nut"], 2: ["egg"]}, market="eu")) == (
        "*Brazil* *nuts*, 2 *eggs*, cherries."
    )


def test_a_word_inside_another_word_does_not_name_an_allergen() -> None:
    drink = recipe(("", [line(1, "buttermilk", 30), line(2, "nutmeg", 1)]))
    assert marked(ingredient_list(drink, {1: ["milk"]}, market="eu")) == "buttermilk (*milk*), nutmeg."


def test_canada_gives_each_ingredient_a_capital() -> None:
    # B.01.008.2(3)(b)(i), (5)(c): first letter of each ingredient upper case, components lower case.
    plain = recipe(("", [line(1, "tomatoes", 30), line(2, "soy sauce", 10)]))
    assert ingredient_list(plain, {2: ["soy", "wheat"]}, market="ca").text == (
        "Ingredients: Tomatoes, Soy sauce (wheat)."
    )


def test_small_amounts_stand_last_in_the_us_where_there_are_three() -> None:
    # 21 CFR 101.4(a)(2): 2 percent or less of the whole.
    lines = [line(1, "cucumbers", 900), line(2, "dill", 15), line(3, "fine sea salt", 20), line(4, "mustard seed", 2)]
    found = ingredient_list(recipe(("", [*lines, line(5, "cider vinegar", 300)])), {4: ["mustard"]}, market="us")
    assert found.text == (
        "Ingredients: cucumbers, cider vinegar, contains 2% or less of: sea salt, dill, mustard seed."
    )
    assert [item.name for item in found.small] == ["sea salt", "dill", "mustard seed"]
    two = ingredient_list(recipe(("", lines[:3])), market="us")
    assert two.small == ()
    assert "contains" not in ingredient_list(recipe(("", lines)), market="eu").text


def test_water_stands_by_what_goes_in_or_by_what_stays() -> None:
    brine = recipe(("", [line(1, "flour", 500), line(2, "lukewarm water", 340), line(3, "salt", 10)]))
    # us, 21 CFR 101.4: as added. eu, Annex VII, A 1: what is left of it, 800 - 510 = 290 g; here still second.
    assert ingredient_list(brine, market="us").text == "Ingredients: wheat flour, water, salt."
    eu = ingredient_list(brine, market="eu", finished_g=800)
    assert [(item.name, item.grams) for item in eu.items] == [("wheat flour", 500), ("water", 290), ("salt", 10)]
    # 530 g finished: 20 g of water left, 3.8 % of it, at most 5 %: left out.
    assert ingredient_list(brine, market="eu", finished_g=530).text == "Ingredients: wheat flour, salt."
    unknown = ingredient_list(brine, market="eu")
    assert unknown.problems[0].code == "water-by-what-went-in"
    assert ingredient_list(brine, market="jp").text == "Ingredients: wheat flour, salt."  # from memory


def test_additives_stand_with_their_class_in_the_eu() -> None:
    # Annex VII, part C.
    cake = recipe(("", [line(1, "plain flour", 200), line(2, "bicarbonate of soda", 5)]))
    assert ingredient_list(cake, {1: ["wheat"]}, market="eu").text == (
        "Ingredients: wheat flour, raising agent: sodium bicarbonate."
    )
    assert ingredient_list(cake, {1: ["wheat"]}, market="us").text == "Ingredients: wheat flour, bicarbonate of soda."


def test_the_same_ingredient_twice_is_named_once() -> None:
    twice = recipe(("", [line(1, "sugar", 50), line(2, "flour", 80), line(3, "caster sugar", 40)]))
    found = ingredient_list(twice, market="us")
    assert found.text == "Ingredients: sugar, wheat flour."
    assert found.items[0].lines == (1, 3)


def test_an_ingredient_without_a_weight_stands_last_and_is_reported() -> None:
    found = ingredient_list(recipe(("", [line(1, "parsley", None), line(2, "flour", 80)])), market="us")
    assert found.text == "Ingredients: wheat flour, parsley."
    assert (found.problems[0].code, found.problems[0].line) == ("ingredient-not-weighed", 1)


def test_weights_may_be_given_by_place_and_what_weighs_nothing_is_no_ingredient() -> None:
    grams = {(15,): 900.0, (14, 6, "ground black pepper"): 0.0}
    found = ingredient_list(PIE, PIE_ALLERGENS, market="us", grams=grams)
    assert [item.name for item in found.items] == ["Crust", "Filling"]
    assert "pepper" not in found.text


def test_parts_that_no_part_takes_are_compounds_of_the_dish() -> None:
    salad = recipe(("Salad", [line(1, "lettuce", 100)]), ("Dressing", [line(2, "olive oil", 30)]), title="Lunch")
    assert ingredient_list(salad, market="us").text == "Ingredients: Salad (lettuce), Dressing (olive oil)."


def test_a_part_that_takes_itself_ends() -> None:
    circle = recipe(("A", [line(1, "B", None, "B")]), ("B", [line(2, "A", None, "A"), line(3, "flour", 10)]), title="B")
    assert "wheat flour" in ingredient_list(circle, market="us").text


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("large fresh eggs", "eggs"),
        ("all-purpose flour", "wheat flour"),
        ("strong white bread flour", "wheat flour"),
        ("coarse kosher salt", "salt"),
        ("hot water", "water"),
        ("hot sauce", "hot sauce"),
        ("mussels in the shell", "mussels"),
        ("Worcestershire sauce", "Worcestershire sauce"),
        ("cloves garlic", "garlic"),
        ("butter (softened)", "butter"),
        ("freshly ground black pepper", "ground black pepper"),
        ("minced beef", "minced beef"),
        ("raw prawns", "prawns"),
        ("uncooked peeled tiger prawns", "tiger prawns"),
        ("thawed frozen peas", "peas"),
        ("raw milk cheese", "raw milk cheese"),
        ("raw cane sugar", "raw cane sugar"),
        ("frozen yogurt", "frozen yogurt"),
        # A state that changes what the food is stays: Reg. (EU) 1169/2011 Annex VI Part A point 1.
        ("smoked haddock", "smoked haddock"),
        ("dried thyme", "dried thyme"),
        ("salted cod", "salted cod"),
        ("pickled onions", "pickled onions"),
        ("powdered milk", "powdered milk"),
        ("concentrated tomato puree", "concentrated tomato puree"),
    ],
)
def test_names_lose_what_is_no_part_of_them(words: str, name: str) -> None:
    assert common_name(line(1, words, 1)) == name


def test_a_line_without_words_takes_the_name_of_its_food() -> None:
    assert common_name(line(1, "", 1, description="Spices, allspice, ground")) == "allspice"
    assert common_name(line(1, "", 1)) == ""


names = st.sampled_from(["flour", "sugar", "butter", "eggs", "milk", "salt", "parsley", "lemon juice", "rice", "cod"])


@given(
    st.lists(st.tuples(names, st.integers(1, 5000)), min_size=1, max_size=10),
    st.randoms(),
    st.sampled_from(["us", "eu", "uk", "ca", "codex", "anz", "jp"]),
)
@settings(deadline=None, max_examples=150)
def test_the_list_does_not_depend_on_the_order_of_lines_and_descends(
    foods: list[tuple[str, int]], shuffle: random.Random, market: str
) -> None:
    def made(order: list[tuple[str, int]]) -> IngredientList:
        return ingredient_list(
            recipe(("", [line(1, name, grams / 10) for name, grams in order])), market=market, finished_g=1.0
        )

    shuffled = foods[:]
    shuffle.shuffle(shuffled)
    found = made(foods)
    assert found.text == made(shuffled).text
    weights = [item.grams or 0 for item in found.items]
    assert weights == sorted(weights, reverse=True)
    assert sum(item.grams or 0 for item in (*found.items, *found.small)) == pytest.approx(sum(g for _, g in foods) / 10)


def every(items: tuple[ListedIngredient, ...]) -> list[ListedIngredient]:
    return [one for item in items for one in (item, *every(item.components))]


@pytest.mark.parametrize("market", ["us", "eu", "uk", "ca", "codex", "anz", "jp"])
def test_no_allergen_given_is_ever_lost(market: str) -> None:
    found = ingredient_list(PIE, {n: ["sesame"] for n in (3, 4, 5, 6, 9, 10)}, market=market)
    assert found.text.count("sesame") == 6
    assert all(
        item.allergens == ("sesame",) for item in every(found.items) if not item.components and item.name != "water"
    )


@pytest.mark.parametrize(
    ("lines", "listed"),
    [
        (["1 kg beef", "10 g salt", "salt and pepper", "2 g black pepper"], "beef, salt, pepper"),
        (["4 bone-in pork chops", "100 g onions", "5 g chile flakes per jar"], "pork chops, onions, chile flakes"),
        (["500 g boneless skinless chicken thighs", "100 g onion", "50 g onions"], "chicken thighs, onion"),
        (["300 g plain flour", "100 g gluten-free flour"], "wheat flour, gluten-free flour"),
        (["200 g red and green peppers", "100 g rice"], "red and green peppers, rice"),
    ],
)
def test_a_food_stands_once_under_its_plain_name(lines: list[str], listed: str) -> None:
    """A pair in a line is two foods, one food has one name, and cuts, bones and what an amount is of drop out."""
    made = read_recipe("# Dish\n" + "\n".join(f"- {one}" for one in lines) + "\n")
    assert "".join(span.text for span in ingredient_list(weigh(made), market="anz").spans).casefold() == f"{listed}."
