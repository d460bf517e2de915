"""Allergens of lines and whole recipes, and what the label of each market says of them."""

from __future__ import annotations

import pytest

from labeler.allergens import (
    EVERY_MARKET,
    Assessment,
    assess,
    assess_line,
    assess_name,
    declared_names,
    matrix,
    statement,
)
from labeler.allergens.package_statement import assess_own
from labeler.foods.model import Match, WeighedLine, WeighedPart, WeighedRecipe
from labeler.foods.resolve import weigh_line
from labeler.foods.user_foods import PackIngredient, UserFood
from labeler.parsing.document import read_recipe
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.model import Line, Recipe
from labeler.types import LabelerError


def unweighed(recipe: Recipe) -> WeighedRecipe:
    """A recipe whose lines have neither food nor grams; lines that name a part are marked as such."""
    titles = [part.title for part in recipe.parts if part.title]

    def named(line: Line) -> str | None:
        return next((title for title in titles if line.name.lower().endswith(title.lower())), None)

    return WeighedRecipe(
        recipe,
        tuple(
            WeighedPart(part.title, tuple(WeighedLine(line, None, None, part=named(line)) for line in part.lines))
            for part in recipe.parts
        ),
    )


def recipe_of(text: str) -> WeighedRecipe:
    return unweighed(read_recipe(text))


# --- lines and recipes ---


def test_a_line_counts_its_preparation_its_note_and_its_alternatives() -> None:
    """Flour that coats, a cheese in brackets and the other food of an "or" all touch what is sold."""
    line = Line(
        "2 cod fillets or hake, dredged in flour (serve over parmesan)",
        name="cod fillets",
        preparation="dredged in flour",
        note="over parmesan",
        alternatives=("hake",),
    )
    found = assess_line(WeighedLine(line, None, None), market="us")
    assert found.allergens == {"fish", "wheat", "milk"}
    fish = {name for finding in found.contains if finding.allergen == "fish" for name in finding.names}
    assert fish == {"cod", "hake"}


THREE_HIDDEN = """
---
title: Stall fritters
---
## Brine
- 1 litre water
- 60 g salt
- 2 tablespoons fish sauce
## Marinade
- 200 ml buttermilk
## Fritters
- 500 g courgettes
- 100 g rice flour
- 1 litre groundnut oil (cold-pressed), for frying
> lay in the brine 2 hours, then drain and discard the brine
> leave in the marinade overnight, then drain
> deep-fry at 175 °C for 6 minutes, drain
"""


@pytest.mark.parametrize("market", ["us", "eu"])
def test_nothing_washes_off(market: str) -> None:
    """Brine, marinade and frying oil each carry an allergen that no finished piece shows: all three are declared."""
    found = assess(recipe_of(THREE_HIDDEN), market=market)
    assert found.allergens == {"fish", "milk", "peanut"}
    assert len(statement(found, market).names) == 3


def test_a_food_that_only_the_handling_names_counts() -> None:
    """Oil shared with prawns and a dusting of flour are in no line and still in the food."""
    found = assess(recipe_of("- 1 kg potatoes\n> dust with flour\n> fry in the oil used for the prawns\n"), market="us")
    assert found.allergens == {"wheat", "crustaceans"}
    assert all("the handling says so" in finding.reason for finding in found.contains)


def test_what_the_handling_only_compares_with_or_serves_beside_does_not_count() -> None:
    """Neither "until it resembles breadcrumbs" nor "the thickness of cream" nor "serve with bread" adds anything."""
    text = "- 200 g polenta\n> rub until it resembles breadcrumbs\n> simmer to the thickness of cream\n"
    text += "> serve with bread\n"
    assert not assess(recipe_of(text), market="us").contains


def test_the_handling_may_speak_of_the_foods_that_are_there() -> None:
    """The noodles to boil, the cream to fold in and the nuts to toast are the rice noodles, coconut cream, walnuts."""
    text = (
        "- 200 g rice noodles\n- 100 ml coconut cream\n- 50 g walnuts\n- 200 g gluten-free flour blend\n"
        "> boil the noodles\n> fold in the cream\n> toast the nuts\n> knead the dough and roll out the pastry\n"
    )
    assert assess(recipe_of(text), market="us").allergens == {"walnut"}


def test_own_parts_are_resolved_at_any_depth() -> None:
    """A part in a part in a part still gives its allergens, once, from its own line."""
    text = (
        "## Nut crumb\n- 50 g hazelnuts\n## Filling\n- all of the Nut crumb\n- 1 egg\n"
        "## Tart\n- Filling\n- 200 g plain flour\n"
    )
    found = assess(recipe_of(text), market="us")
    assert found.allergens == {"hazelnut", "egg", "wheat"}
    assert [f.from_ for f in found.contains if f.allergen == "hazelnut"] == ["50 g hazelnuts: hazelnuts"]


@pytest.mark.parametrize(
    ("written", "contains", "asked"),
    [
        ("1 cup almonds or walnuts", {"almond"}, {"walnut"}),
        ("100 g butter or margarine", {"milk"}, {"soybean"}),
        ("2 tbsp soy sauce or tamari", {"soybean", "wheat"}, set()),
        ("200 g prawns or shrimp", {"crustaceans"}, set()),
        ("1 cup oat milk or milk", set(), {"milk"}),
    ],
)
def test_a_choice_shows_the_allergens_of_every_option(written: str, contains: set[str], asked: set[str]) -> None:
    """What is counted and printed is declared, what only another option brings is asked, and a choice that changes
    the allergens is a problem."""
    found = assess_line(weigh_line(read_line(written)), market="us")
    assert found.allergens == contains and asked <= found.possible
    codes = [problem.code for problem in found.problems]
    assert codes == (["choice-open"] if asked or "tamari" in written else [])


@pytest.mark.parametrize("market", ["us", "eu", "jp"])
def test_a_pin_that_names_no_food_stops_nothing(market: str) -> None:
    """The words of the line still count, and the line is a problem of the assessment."""
    found = assess_line(weigh_line(read_line("200 g butter {food 99999}")), market=market)
    assert found.allergens == {"milk"}
    assert [problem.code for problem in found.problems] == ["no-such-food"]


# --- statements ---


def whole(*lines: str) -> Assessment:
    return assess(recipe_of("\n".join(f"- {line}" for line in lines)), market=EVERY_MARKET)


STALL = (
    "200 g cod",
    "100 g prawns",
    "8 mussels",
    "50 g walnuts",
    "1 egg",
    "250 ml milk",
    "100 g barley flour",
    "1 tbsp Dijon mustard",
    "2 sticks celery",
    "50 g lupin flour",
    "30 g wheat flour",
    "1 tbsp soy flour",
)


@pytest.mark.parametrize(
    ("market", "language", "text"),
    [
        ("us", "en", "Contains: milk, egg, cod, shrimp, walnut, soy, wheat"),
        (
            "eu",
            "en",
            "Contains: milk, egg, fish, crustaceans, molluscs, walnut, soy, wheat, barley, mustard, celery, lupin",
        ),
        (
            "uk",
            "en",
            "Contains: milk, egg, fish, crustaceans, molluscs, walnut, soy, wheat, barley, mustard, celery, lupin",
        ),
        ("ca", "en", "Contains: Milk, Egg, Cod, Shrimp, Mussel, Walnut, Soy, Wheat, Barley, Mustard"),
        ("ca", "fr", "Contient : Lait, Œuf, Morue, Crevette, Moule, Noix, Soja, Blé, Orge, Moutarde"),
        ("anz", "en", "Contains: milk, egg, fish, crustacean, mollusc, walnut, soy, wheat, gluten, lupin"),
        ("codex", "en", "Contains: milk, egg, fish, crustaceans, walnut, wheat, barley"),
        ("jp", "en", "Contains: milk, egg, shrimp, walnut, soy, wheat"),
        ("jp", "ja", "（一部に乳・卵・えび・くるみ・大豆・小麦を含む）"),
    ],
)
def test_the_statement_of_each_market(market: str, language: str, text: str) -> None:
    """us and ca by species, eu and uk by the law's list, anz by Schedule 9 with gluten, jp its own items."""
    said = statement(whole(*STALL), market, language)
    assert said.text == text and said.source


def test_where_the_statement_may_stand() -> None:
    """eu and uk set the names apart in the list and want no second box; us and ca allow one that is then complete."""
    found = whole(*STALL)
    assert statement(found, "eu").in_list and not statement(found, "eu").beside_list
    assert not statement(found, "us").in_list and statement(found, "us").beside_list
    assert statement(found, "anz").in_list and statement(found, "anz").beside_list


def test_an_allergen_that_the_printed_list_does_not_set_apart_is_told_apart() -> None:
    """Milk that a sentence brushes on is in no ingredient list: the statement says which, and asks for its line."""
    found = assess(recipe_of("- 200 g wheat flour\n> bake and brush with milk\n"), market="uk")
    said = statement(found, "uk", set_apart=("wheat",))
    assert said.names == ("milk", "wheat") and said.unlisted == ("milk",)
    assert any("brush with milk" in note and "write it as a line" in note for note in said.notes)


def test_the_statement_says_what_must_be_settled_first() -> None:
    """An unnamed nut, an unnamed species, an unread package and an unknown food are each a note for the cook."""
    said = statement(whole("50 g mixed nuts", "200 g white fish", "1 stock cube", "1 zorblat"), "us")
    notes = " ".join(said.notes)
    assert "Name each nut" in notes and "Name the species" in notes and "Read the package" in notes
    assert "could not be assessed" in notes


def test_a_precaution_comes_only_from_what_the_cook_declares() -> None:
    """No "may contain" is ever made up."""
    found = whole("1 carrot")
    assert statement(found, "us").precaution == ""
    assert statement(found, "us", also_handled=("peanut", "sesame")).precaution == (
        "Made in a kitchen that also handles peanut, sesame."
    )


def test_unknown_markets_and_languages_are_refused_in_words() -> None:
    """The message names what there is."""
    with pytest.raises(LabelerError, match="us, eu, uk"):
        assess_name("milk", market="mars")
    with pytest.raises(LabelerError, match="there are en, fr"):
        statement(whole("1 egg"), "ca", "de")


@pytest.mark.parametrize(("market", "names_"), [("us", ("cod",)), ("eu", ("fish",)), ("anz", ("fish",))])
def test_a_finding_is_called_what_its_market_wants(market: str, names_: tuple[str, ...]) -> None:
    """The species where the law wants it, else the class."""
    (finding,) = assess_name("cod", market=market).contains
    assert declared_names(finding, market=market) == names_


def test_the_matrix_says_what_its_marks_leave_open() -> None:
    """A dot beside a name that nobody knows is no answer: the note names the food and the line."""
    table = matrix([("Slaw", whole("1 cabbage", "1 zorblat"))], "uk")
    assert table.notes == ("Slaw: “zorblat” could not be assessed.",) and "zorblat" in table.to_text()


def test_the_matrix_of_a_stall() -> None:
    """A row for each food, a column for each allergen of the market, and three states that stay apart."""
    foods = [("Pie", whole("200 g cod", "1 stock cube")), ("Slaw", whole("1 cabbage"))]
    table = matrix(foods, "uk")
    assert table.titles == ("Pie", "Slaw")
    assert table.marks[0][table.allergens.index("fish")] == "contains"
    assert table.marks[0][table.allergens.index("celery")] == "read the package"
    assert set(table.marks[1]) == {""}
    shown = table.to_text()
    assert "Pie" in shown and "not a promise" in shown and "free" not in shown


# --- the cook's own packages ---


@pytest.mark.parametrize(
    ("states", "warns", "contains", "asked"),
    [
        ("nuts", "", {"tree_nuts"}, {"peanut"}),
        ("tree nuts", "", {"tree_nuts"}, set()),
        ("", "may contain nuts", set(), {"tree_nuts", "peanut"}),
        ("milk. May contain traces of nuts and soy", "", {"milk"}, {"tree_nuts", "peanut", "soybean"}),
        ("milk, soya, traces of egg", "", {"milk", "soybean"}, {"egg"}),
        ("cereals", "", set(), {"wheat", "barley"}),
    ],
)
def test_what_a_package_leaves_open_stays_open(states: str, warns: str, contains: set[str], asked: set[str]) -> None:
    """ "Contains nuts" claims nuts without a name and asks of peanuts; a trace is a perhaps wherever it stands."""
    sugar = (PackIngredient("sugar"),)
    for listed in ((), sugar):
        own = UserFood("larder:bar", "Bar", ingredients=listed, contains=states, may_contain=warns)
        found = assess_own(own)
        assert found.allergens == contains
        assert asked <= found.possible and not (found.possible & {"peanut"} - asked)


@pytest.mark.parametrize(
    ("aside", "brought"), [("Quay broth, plus butter", "milk"), ("Quay broth (prawn)", "crustaceans"),
                           ("Quay broth (with soya suace)", "soybean"), ("Quay broth, dusted with flour", "wheat")]
)  # fmt: skip
def test_what_stands_beside_an_own_package_is_read(aside: str, brought: str) -> None:
    """The package's list speaks of the package, and what the line says beside it of what else goes in."""
    own = UserFood("larder:quay-broth", "Quay broth", ingredients=(PackIngredient("water"), PackIngredient("celery")))
    match = Match("06172", "Soup, stock, chicken", 1.0, "the cook's own", own=own)
    found = assess_line(WeighedLine(read_line(aside), match, None), market="eu")
    assert "celery" in found.allergens and brought in found.allergens | found.possible
