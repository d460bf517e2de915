"""Totals, divisions and what is not known about them."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.foods.composition.food_table import load_table
from labeler.foods.composition.values import imputed_value
from labeler.nutrition.analysis import analyse, missing_bound
from labeler.parsing import read_recipe
from labeler.types import Status

TABLE = load_table()


def recipe(*lines, head="serves: 2"):
    return read_recipe(f"---\n{head}\n---\n" + "\n".join(f"- {line}" for line in lines))


def pinned(food, grams):
    return f"{grams} g food {{food {food}, {grams} g}}"


def test_one_food_is_its_row_of_the_table():
    """100 g of one pinned food per 100 g is SR28's own row: butter, salted (01001)."""
    found = analyse(recipe(pinned("01001", 100)), draws=0)
    for key in ("ENERC_KCAL", "FAT", "FASAT", "FATRN", "NA", "VITD", "CA", "CHOLE"):
        assert found.per_100g[key].best == pytest.approx(TABLE.value("01001", key)), key
        assert found.per_serving[key].best == pytest.approx(TABLE.value("01001", key) / 2), key


def test_energy_is_the_tables_and_the_factors_stand_beside_it():
    """Energy is what SR28 prints (butter 717 kcal); 4 × 0.85 + 4 × 0.06 + 9 × 81.11 = 733.63 kcal is the check."""
    found = analyse(recipe(pinned("01001", 100), head="serves: 1"), draws=0)
    assert found.per_serving["ENERC_KCAL"].best == pytest.approx(717)
    assert found.energy_check == pytest.approx(4 * 0.85 + 4 * 0.06 + 9 * 81.11)


def test_figures_of_some_nutrients_are_those_of_all():
    """Asking for less changes no figure, so that a table of a few nutrients need not wait for the rest."""
    made = recipe("200 g butter", "3 eggs", "2 cups flour", "salt to taste", head="serves: 4")
    whole, some = analyse(made, draws=400), analyse(made, draws=400, nutrients=("SUGAR_ADDED", "NA", "FAT"))
    for found, of in (
        (some.per_serving, whole.per_serving),
        (some.per_100g, whole.per_100g),
        (some.batch, whole.batch),
    ):
        assert list(found) == ["FAT", "NA", "SUGAR_ADDED"]
        for key, figure in found.items():
            assert figure.status == of[key].status
            for end in ("best", "low", "high"):
                assert getattr(figure, end) == pytest.approx(getattr(of[key], end), rel=1e-9)
    assert some.energy_check == whole.energy_check


FOODS = ["01001", "20081", "19335", "15028", "11080", "01077", "09150", "02047", "14411", "05006"]
AMOUNTS = st.lists(st.tuples(st.sampled_from(FOODS), st.integers(min_value=1, max_value=3000)), min_size=1, max_size=6)


@settings(max_examples=40, deadline=None)
@given(AMOUNTS, st.integers(min_value=2, max_value=9))
def test_totals_are_linear_in_weight(amounts, factor):
    """A batch of so many times the weights holds so many times every nutrient, and per 100 g stays the same."""
    once = analyse(recipe(*(pinned(food, grams) for food, grams in amounts)), draws=0)
    many = analyse(recipe(*(pinned(food, grams * factor) for food, grams in amounts)), draws=0)
    for key, figure in once.batch.items():
        assert many.batch[key].best == pytest.approx(figure.best * factor, rel=1e-9, abs=1e-9)
        assert many.per_100g[key].best == pytest.approx(once.per_100g[key].best, rel=1e-9, abs=1e-9)
        assert many.batch[key].status == figure.status


@settings(max_examples=40, deadline=None)
@given(AMOUNTS, st.randoms(use_true_random=False))
def test_totals_do_not_depend_on_the_order_of_lines(amounts, random):
    """The same lines in another order give the same totals and statuses."""
    lines = [pinned(food, grams) for food, grams in amounts]
    once = analyse(recipe(*lines), draws=0)
    random.shuffle(lines)
    again = analyse(recipe(*lines), draws=0)
    for key, figure in once.batch.items():
        assert again.batch[key].best == pytest.approx(figure.best, rel=1e-9, abs=1e-9)
        assert again.batch[key].status == figure.status


def test_a_sum_over_a_missing_value_is_a_lower_bound_and_says_so():
    """Vitamin D that neither SR28 nor the imputation has: the sum is known from below, the high end is bounded."""
    food = next(
        food
        for food in TABLE.ids
        if np.isnan(TABLE.value(food, "VITD")) and imputed_value(food, "VITD") is None and TABLE.value(food, "FAT") > 5
    )
    found = analyse(recipe(pinned("01001", 100), pinned(food, 100)), draws=0)
    figure = found.batch["VITD"]
    assert figure.status == Status.MISSING and figure.lower_bound
    assert figure.best == pytest.approx(TABLE.value("01001", "VITD"))
    assert figure.best < figure.high <= figure.best + missing_bound(food, "VITD") + 1e-9


def test_what_cannot_be_there_is_not_missing():
    """No fat, no fatty acids: a missing trans fat of sugar (19335, fat 0) leaves the sum whole."""
    assert missing_bound("19335", "FATRN") <= TABLE.value("19335", "FAT") + 1e-9
    found = analyse(recipe(pinned("01001", 100), pinned("19335", 100)), draws=0)
    assert found.batch["FATRN"].status != Status.MISSING


def test_a_food_that_is_not_found_makes_every_sum_a_lower_bound():
    """An ingredient without a food counts with its weight, and no nutrient sum is whole any more."""
    found = analyse(recipe(pinned("01001", 100), "50 g qzxvium"), draws=0)
    assert found.batch["FAT"].lower_bound and found.batch["FAT"].best == pytest.approx(81.11)
    assert any("qzxvium" in problem.message for problem in found.problems)


def test_added_sugars_are_those_of_sugars_and_bounds_of_made_up_foods():
    """100 g sugar beside 100 g milk: the sugar's sugars are added, the lactose is not (21 CFR 101.9(c)(6)(iii))."""
    plain = analyse(recipe(pinned("19335", 100), pinned("01077", 100)), draws=0).batch["SUGAR_ADDED"]
    assert plain.best == plain.low == plain.high == pytest.approx(TABLE.value("19335", "SUGAR"))
    hidden = analyse(recipe(pinned("11935", 100)), draws=0).batch["SUGAR_ADDED"]
    assert hidden.low == 0 and hidden.high == pytest.approx(TABLE.value("11935", "SUGAR"))
    assert hidden.status == Status.IMPUTED


def test_best_estimates_do_not_depend_on_the_draws():
    """The best estimate is the same with and without draws; the interval is the same on every run."""
    text = recipe("2 cups flour", "1/2 cup sugar", "2 eggs", "salt")
    without, with_draws, again = analyse(text, draws=0), analyse(text, draws=500), analyse(text, draws=500)
    for key, figure in without.batch.items():
        assert with_draws.batch[key].best == figure.best
        assert dataclasses.astuple(with_draws.batch[key]) == dataclasses.astuple(again.batch[key])
    assert (
        with_draws.batch["ENERC_KCAL"].low < with_draws.batch["ENERC_KCAL"].best < with_draws.batch["ENERC_KCAL"].high
    )


@pytest.mark.parametrize(
    ("head", "count", "grams"),
    [
        ("serves: 4", 4, 250),
        ("makes: 8 boxes", 8, 125),
        ("serving: 50 g", 20, 50),
        ("makes: 10 jars\nserving: 20 g\nnet: 95 g", 50, 20),
        ("makes: 20 rolls\nserving: 2 rolls", 10, 100),
    ],
)
def test_the_head_divides_the_batch(head, count, grams):
    """`serves`, `makes` and `serving` divide 1 kg of sugar as they say."""
    found = analyse(recipe(pinned("19335", 1000), head=head), draws=0)
    assert (found.servings, found.serving_g) == (pytest.approx(count), pytest.approx(grams))
    assert not {problem.code for problem in found.problems} & {"no-servings", "serving-unread"}


def test_a_serving_in_spoons_goes_by_the_density_of_the_dish():
    """A tablespoon (14.8 mL, NIST Handbook 44 appendix C) of water weighs 14.8 g within 1 %."""
    found = analyse(recipe(pinned("14411", 1000), head="serving: 1 tablespoon"), draws=0)
    assert found.serving_g == pytest.approx(14.8, rel=0.01)


def test_a_recipe_without_servings_says_so():
    """A bare list is one serving, and that is a problem and no silent default."""
    found = analyse(read_recipe("100 g sugar\n"), draws=0)
    assert found.servings == 1
    assert "no-servings" in {problem.code for problem in found.problems}


def test_nothing_weighable_gives_zeros_with_problems():
    """A recipe of unknown words has no grams; it is answered with problems and not with a crash."""
    found = analyse(read_recipe("qzxv\nblorp\n"), draws=100)
    assert found.batch["ENERC_KCAL"].best == 0 and found.problems


def test_added_sugars_of_an_unknown_food_are_unknown_and_never_more_than_its_sugars():
    """A food that nobody knows may be a sugar: nothing to all of its weight, and its status says so."""
    found = analyse(recipe(pinned("01001", 100), "50 g qzxvium"), draws=200).batch["SUGAR_ADDED"]
    assert found.status == Status.MISSING and found.best == found.low == 0
    assert found.high == pytest.approx(50 * 0.998)  # SR28 19335, the richest in sugars: 99.8 g/100 g
    assert found.high <= analyse(recipe(pinned("01001", 100), "50 g qzxvium"), draws=200).batch["SUGAR"].high


@settings(max_examples=15, deadline=None)
@given(AMOUNTS, st.sampled_from(["1 cup sugar", "2 tablespoons ketchup", "3 cookies", "1 cup apples", "30 g qzxvium"]))
def test_added_sugars_are_never_more_than_sugars(amounts, line):
    """At the best estimate and at either end, of the batch, a serving, 100 g and every part."""
    found = analyse(recipe(*(pinned(food, grams) for food, grams in amounts), line), draws=200)
    for per in (found.batch, found.per_serving, found.per_100g, *(part.per_100g for part in found.parts)):
        added, sugar = per["SUGAR_ADDED"], per["SUGAR"]
        assert added.best <= sugar.best and added.low <= sugar.low and added.high <= sugar.high


def test_a_pinch_of_something_unknown_is_bounded_by_what_it_could_hold():
    """A pinch (0.308 mL) as heavy as salt (2.17 g/mL) holds 0.67 g of anything: protein stays known, sodium open."""
    lines = (pinned("20081", 400), pinned("01001", 100), pinned("02047", 6))
    found = analyse(recipe(*lines, "a pinch of blorpium"), draws=200).batch
    plain = analyse(recipe(*lines), draws=200).batch
    assert found["NA"].lower_bound and found["NA"].missing == pytest.approx(0.308 * 2.17 * 387.58, rel=0.01)
    assert found["CHOCDF"].status == Status.BOUNDED and found["CHOCDF"].best == plain["CHOCDF"].best
    assert found["CHOCDF"].high == pytest.approx(plain["CHOCDF"].high + 0.308 * 2.17, rel=0.01)
    assert analyse(recipe(*lines, "blorpium"), draws=0).batch["CHOCDF"].missing == float("inf")


@pytest.mark.parametrize("method", ["Mix.", "Simmer 20 minutes.", "Soak 2 hours, then simmer 10 minutes, stirring."])
def test_what_nobody_weighed_is_bounded_once_however_it_spreads_in_the_pot(method):
    """A food that is in a dish as put in, dissolved and taken up is at most all of it, and not so many times that."""
    lines = "- 2 cups glorp\n- 400 ml water\n- 300 g rice\n- 200 g carrots"
    cold = analyse(read_recipe(f"# Dish\n{lines}\n"), draws=0).batch["ENERC_KCAL"]
    told = analyse(read_recipe(f"# Dish\n{lines}\n> {method}\n"), draws=0).batch["ENERC_KCAL"]
    assert 0.0 < told.missing <= cold.missing * 1.001


@pytest.mark.parametrize("draws", [1, 2, 5, 20])
def test_few_draws_have_ends_too(draws):
    """Ends of intervals are asked of as many draws as there are, of the dish and of its parts."""
    text = "# Tart\n## Pastry\n- 100 g sugar\n- 100 g flour\n## Filling\n- Pastry\n- 200 g apples\n"
    made = analyse(read_recipe(text), draws=draws)
    for part in made.parts:
        for figure in part.per_100g.values():
            assert figure.low is None or figure.low <= figure.best + 1e-9
