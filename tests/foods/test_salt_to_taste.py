"""Salt without an amount: what a dish of that weight is salted with."""

import csv

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.foods.resolve import weigh
from labeler.foods.weights.salt_to_taste import TABLE
from labeler.parsing import read_recipe


def salt_of(*lines, name="salt"):
    """Grams of the lines of a recipe that name salt alone, without an amount."""
    weighed = weigh(read_recipe("# Test\n" + "".join(f"- {line}\n" for line in lines)))
    return [one.grams for part in weighed.parts for one in part.lines if one.line.text == name]


def test_table_has_growing_shares():
    """Each kind of dish has low, best and high shares in that order, and the least is below the usual."""
    with TABLE.open(encoding="utf-8") as stream:
        rows = list(csv.DictReader(line for line in stream if not line.startswith("#")))
    assert {row["kind"] for row in rows} == {"savoury", "cold", "sweet"}
    for row in rows:
        assert 0.0 < float(row["low"]) < float(row["best"]) < float(row["high"]) <= 1.5
        assert 0.0 < float(row["least_low"]) < float(row["least"]) < float(row["least_high"]) < float(row["high"])
        assert float(row["least"]) < float(row["best"])


@settings(deadline=None, max_examples=60)
@given(st.floats(0.2, 8.0), st.floats(1.1, 4.0))
def test_more_food_takes_more_salt(kilograms, times):
    """What is salted to taste grows with what is salted."""
    (little,) = salt_of(f"{1000 * kilograms:.0f} g potatoes", "salt")
    (much,) = salt_of(f"{1000 * kilograms * times:.0f} g potatoes", "salt")
    assert much.best > little.best
    assert little.low < little.best < little.high


def test_what_is_salty_takes_less():
    """Beside bacon and soy sauce less salt is needed than beside the same weight of potatoes."""
    (plain,) = salt_of("500 g potatoes", "500 g cabbage", "300 g potatoes", "salt")
    (salty,) = salt_of("500 g potatoes", "500 g cabbage", "200 g bacon", "100 g soy sauce", "salt")
    assert 0.0 < salty.best < plain.best


def test_lines_share_it():
    """Two lines of salt without an amount are no more than one."""
    one = salt_of("1 kg potatoes", "salt")
    two = salt_of("1 kg potatoes", "salt", "salt")
    assert sum(each.best for each in two) == pytest.approx(one[0].best)


def test_salt_of_a_brine_salts_nothing_else():
    """A brine's 60 g leave the salt of the dish as it is."""
    (with_brine,) = salt_of("1 kg chicken thighs", "1 litre water", "60 g salt", "salt")
    (without,) = salt_of("1 kg chicken thighs", "1 litre water", "salt")
    assert with_brine.best == pytest.approx(without.best, rel=0.1)


def test_an_amount_and_a_pin_win():
    """What the cook has written stays as it is."""
    assert salt_of("1 kg potatoes", "5 g salt", name="5 g salt")[0].best == 5.0
    assert salt_of("1 kg potatoes", "salt {4 g}", name="salt {4 g}")[0].best == 4.0


def test_it_is_told():
    """The problem names the grams that are counted."""
    weighed = weigh(read_recipe("# Test\n- 1 kg potatoes\n- salt and pepper\n"))
    (told,) = [one for one in weighed.parts[0].lines[1].problems if one.code == "default-weight"]
    assert "6 g" in told.message


def test_a_dish_that_nothing_heats_is_salted_less():
    """A salad is salted through its dressing alone; the same food fried is salted as a hot dish (common practice)."""

    def salt(method):
        text = f"# Test\n\n## Ingredients\n- 500 g tomatoes\n- 50 g olive oil\n- salt\n\n## Method\n1. {method}\n"
        return weigh(read_recipe(text)).parts[0].lines[2].grams.best

    assert salt("Toss it all.") < salt("Fry the tomatoes in the oil for 10 minutes and season with the salt.")
