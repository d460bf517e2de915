"""What is uncertain beside composition: which food, how a number is rounded, how the batch is divided."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeler.foods.composition.food_table import load_table
from labeler.foods.resolve import weigh, weigh_line
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_line, read_recipe
from labeler.uncertainty.amount_rounding import half_step, with_rounding
from labeler.uncertainty.food_identity import plausible, trust
from labeler.uncertainty.portioning import division

TABLE = load_table()


def foods(text):
    return dict(plausible(weigh_line(read_line(text))))


def described(text):
    return " | ".join(TABLE.describe(food) for food in foods(text))


def test_a_plain_name_may_be_another_food_of_the_name():
    """Milk may be skimmed and cheese Swiss; the weights sum to 1 and the match has the largest."""
    milk = foods("2 cups milk")
    assert sum(milk.values()) == pytest.approx(1.0)
    assert max(milk, key=milk.get) == weigh_line(read_line("2 cups milk")).match.food
    assert "nonfat" in described("2 cups milk")
    assert "swiss" in described("100 g cheese")


@pytest.mark.parametrize(
    ("line", "never"),
    [
        ("2 cups milk", "dry"),  # powder weighs and holds something else
        ("500 g ground beef", "cooked"),
        ("1 kg beets", "greens"),
        ("2 eggs", "dried"),
        ("100 g butter", "oil"),
    ],
)
def test_nobody_takes_another_thing_for_it(line, never):
    """Not powder for milk, cooked meat for raw, or greens for roots."""
    assert never not in described(line).lower()


def test_a_name_in_other_words_means_no_other_cut():
    """Shin is called shank in the table, so it is neither tripe nor mince nor flank; potatoes keep varieties."""
    shin = described("1 kg beef shin").lower()
    assert not any(other in shin for other in ("tripe", "ground", "round", "flank"))
    assert len(foods("3 yukon potatoes")) > 1


def test_a_pinned_food_is_that_food():
    """What stands in braces leaves no choice."""
    assert foods("100 g cheese {food 01040}") == {}


def test_more_words_leave_fewer_foods():
    """The choice narrows with what the line says."""
    assert len(foods("100 g cheddar cheese")) < len(foods("100 g cheese"))


@given(st.floats(0, 1), st.floats(0, 1))
def test_trust_rises_with_confidence(one, two):
    """A surer match is more often the food."""
    low, high = sorted((one, two))
    assert 0 < trust(low) <= trust(high) < 1


def test_a_weak_match_widens_the_interval_and_a_pin_narrows_it():
    """Fat of a dish with "cheese" is less sure than with its food pinned; the best estimate is the same."""
    food = weigh_line(read_line("300 g cheese")).match.food
    loose = analyse(read_recipe("---\nserves: 2\n---\n- 300 g cheese\n- 200 g flour\n")).batch["FAT"]
    pinned = analyse(read_recipe(f"---\nserves: 2\n---\n- 300 g cheese {{food {food}}}\n- 200 g flour\n")).batch["FAT"]
    assert loose.best == pytest.approx(pinned.best)
    assert loose.high - loose.low > 1.5 * (pinned.high - pinned.low)


@pytest.mark.parametrize(
    ("value", "unit", "half"),
    [
        (0.5, "cup", (2 / 3 - 1 / 2) / 2 / 0.5),  # to two thirds
        (1.0, "cup", 0.125),  # to three quarters, or one and a quarter
        (500.0, "gram", 0.05),  # in steps of 50
        (454.0, "gram", 0.5 / 454),  # a figure of that kind was weighed
        (0.0, "cup", 0.0),
    ],
)
def test_a_written_number_is_good_to_half_its_step(value, unit, half):
    """Half the distance to the next usual figure (common practice, no source)."""
    assert half_step(value, unit) == pytest.approx(half)


def test_rounding_widens_bounds_and_leaves_best_weights():
    """A cup may be a little more or less than one; two eggs are two, a pinned weight is itself."""
    weighed = weigh(read_recipe("- 1 cup milk\n- 2 eggs\n- 1 cup sugar {201 g}\n"))
    (milk, eggs, sugar), (wide_milk, wide_eggs, wide_sugar) = (
        [line.grams for line in one.parts[0].lines] for one in (weighed, with_rounding(weighed))
    )
    assert wide_milk.best == milk.best and wide_milk.low < milk.low and wide_milk.high > milk.high
    assert (wide_eggs, wide_sugar) == (eggs, sugar)


@pytest.mark.parametrize(
    ("head", "half"),
    [
        ("serving: 50 g", 0.02),
        ("makes: 12 cookies", 0.07),
        ("serves: 4", 0.12),
        ("makes: 7 jars\nnet: 190 g", 0.03),
        ("makes: about 20 rolls", 0.15),
    ],
)
def test_servings_are_as_even_as_they_are_made(head, half):
    """Weighed, counted, by eye, filled by weight, "about" (common practice, no source)."""
    found = analyse(read_recipe(f"---\n{head}\n---\n- 1000 g sugar\n"))
    divided = division(found.portion, found.weighed.recipe.head)
    assert (divided.low, divided.high) == (pytest.approx(1 - half), pytest.approx(1 + half))


def test_a_range_of_servings_is_a_range_of_serving_sizes():
    """Serves 4 to 6: a serving is between 1/6 and 1/4 of the batch, so energy per serving is that loose."""
    loose = analyse(read_recipe("---\nserves: 4 to 6\n---\n- 1000 g sugar\n")).per_serving["ENERC_KCAL"]
    assert loose.best == pytest.approx(3870 / 5, rel=0.01)
    assert loose.low < 3870 / 5.5 and loose.high > 3870 / 4.3


def test_a_batch_that_nothing_divides_is_in_no_doubt_about_it():
    """Without servings the whole is one serving, evenly."""
    found = analyse(read_recipe("1000 g sugar\n"))
    assert division(found.portion, {}).low == 1.0


def test_an_unknown_food_bounds_the_sum_from_above_by_what_foods_are():
    """Nobody knows what 50 g of it hold, but no more than the richest food (soy protein isolate, 88.32 g/100 g)."""
    found = analyse(read_recipe("---\nserves: 1\n---\n- 100 g butter {food 01001}\n- 50 g qzxvium\n"))
    figure = found.batch["PROCNT"]
    assert figure.lower_bound and figure.missing == pytest.approx(44.16)
    assert 44 < figure.high - figure.best < 46


@pytest.mark.parametrize(
    ("line", "never"),
    [
        ("1 cup water", ("tonic", "Coconut", "vitamin")),
        ("2 potatoes", ("Sweet potato", "canned")),
        ("1 cup peas", ("canned", "Pigeonpeas")),
        ("1 cup peaches", ("canned", "sweetened", "syrup")),
        ("1 cup almonds", ("butter", "paste", "roasted")),
    ],
)
def test_another_meaning_of_a_name_is_the_same_food_prepared_alike(line, never):
    """Who writes "water" pours no tonic, and who writes "peas" opens no can (SR28 descriptions)."""
    foods = plausible(weigh_line(read_line(line), market="us"))
    told = [load_table().describe(food) for food, _ in foods]
    assert not [(one, word) for one in told for word in never if word in one]


def test_butter_may_be_salted_or_not():
    """What the match is, and the line does not say, another food need not be."""
    told = {food for food, _ in plausible(weigh_line(read_line("2 tbsp butter"), market="us"))}
    assert {"01001", "01145"} <= told
