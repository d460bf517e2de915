"""What a sentence puts in and no line lists is never complete in silence."""

from __future__ import annotations

import pytest

from labeler.cooking.pipeline import cook
from labeler.foods.resolve import weigh
from labeler.nutrition.analysis import analyse
from labeler.parsing.document import read_recipe


def strangers(text: str) -> list[str]:
    dish = cook(weigh(read_recipe(text)))
    return [
        problem.message.split("“")[1].split("”")[0] for problem in dish.problems if problem.code == "not-among-lines"
    ]


@pytest.mark.parametrize(
    ("handling", "names"),
    [
        ("boil the spaghetti 10 minutes, drain. Add the prawns.", ["prawns"]),
        ("boil 10 minutes, drain. Stir in 2 tbsp honey and the garlic.", ["honey"]),
        ("boil 10 minutes, drain. Fry in oil.", ["oil"]),
        ("boil 10 minutes, drain. Toss with the grated cheese.", ["grated cheese"]),
        ("boil the pasta 10 minutes in salted water, drain. Add the garlic and toss together. Serve hot.", []),
        ("Add the sauce to the spaghetti. Stir in the remaining ingredients. Add the mixture to the pan.", []),
        ("Add boiling water and simmer 20 minutes.", []),
        ("boil 10 minutes, drain. Fold in half a pound of claw crab at the end.", ["claw crab"]),
    ],
)
def test_a_food_that_no_line_lists_is_named(handling, names):
    """A food that a sentence adds and no line has is a problem; pans, mixtures and own parts are none."""
    assert strangers(f"# Prawn test\n- 200 g spaghetti\n- 2 cloves garlic\n> {handling}\n") == names


def test_its_figures_are_lower_bounds():
    """Prawns that nobody weighed make energy and protein “at least”."""
    found = analyse(read_recipe("- 200 g oats\n- 20 g butter\n> toast. Stir in the prawns.\n"), draws=0)
    assert found.batch["ENERC_KCAL"].lower_bound and found.batch["PROCNT"].lower_bound


def test_an_amount_in_the_method_counts_like_that_of_a_line():
    """Two tablespoons of honey in a sentence weigh what they weigh on a line (SR28 19296: 21 g a tablespoon)."""
    dish = cook(weigh(read_recipe("- 200 g oats\n- 20 g butter\n> toast. Stir in 2 tbsp honey.\n")))
    (honey,) = [entry for entry in dish.ledgers[0].added if entry.name.startswith("honey")]
    assert honey.grams.best == pytest.approx(42.0, rel=0.05)


@pytest.mark.parametrize("told", ["2 glasses of dry white wine", "half a glass of water", "3 eggs"])
def test_a_measure_of_the_method_weighs_what_it_weighs_in_a_line(told: str) -> None:
    """Glasses and pieces that only the method names have the grams, and the doubt, of the same words in a line."""
    listed = weigh(read_recipe(f"- {told}\n")).parts[0].lines[0].grams
    dish = cook(weigh(read_recipe(f"- 500 g beef\n> brown. Add {told} and simmer 20 minutes.\n")))
    assert dish.flow is not None and listed is not None
    (added,) = dish.flow.parts[0].unlisted
    assert added.grams is not None
    assert (added.grams.low, added.grams.best, added.grams.high) == (listed.low, listed.best, listed.high)


def test_parts_and_kept_liquids_are_no_strangers():
    """Another part of the recipe, and a liquid that was kept, may be named without a line."""
    text = ("# Test\n## Garlic butter\n- 100 g butter\n- 2 cloves garlic\n> mix\n## Fish\n- 500 g cod fillets\n"
            "- 500 ml milk\n> poach 10 minutes, drain, keep the milk. Add the garlic butter.\n")  # fmt: skip
    assert strangers(text) == []


def test_water_that_a_sentence_adds_is_in_the_pot():
    """Water with an amount and without a line is put in, once."""
    added = cook(weigh(read_recipe("- 200 g lentils\n- 5 g salt\n> add 600 ml water and simmer 25 minutes\n")))
    assert [entry.grams.best for entry in added.ledgers[0].added] == pytest.approx([205.0, 600.0], rel=0.003)
    listed = cook(weigh(read_recipe("- 200 g lentils\n- 600 ml water\n> add 600 ml water and simmer 25 minutes\n")))
    assert len(listed.ledgers[0].added) == 1


def test_liquor_that_food_took_up_stays_with_it():
    """Water that boiled pasta holds does not steam off when bacon is fried beside it: conservation by owner."""
    text = "- 300 g spaghetti\n- 100 g bacon\n> boil the spaghetti 10 minutes, drain. Fry the bacon 5 minutes.\n"
    dish = cook(weigh(read_recipe(text)))
    fried = next(stage for stage in dish.ledgers[0].stages if stage.text.startswith("Fry"))
    steam = sum(entry.grams.best for entry in fried.streams if entry.stream == "evaporated water")
    assert 0.0 < steam < 60.0  # of 100 g of bacon
