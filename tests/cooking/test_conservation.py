"""What goes into a pot comes out of it: mass and every nutrient, for any recipe and any steps."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kitchen_help import Put, imbalance, weighed

from labeler.cooking.pipeline import cook
from labeler.parsing.instructions.actions import actions

FOODS = {
    "water": "14411",
    "table salt": "02047",
    "sugar": "19335",
    "cider vinegar": "02048",
    "red wine": "14096",
    "whole milk": "01077",
    "soy sauce": "16123",
    "olive oil": "04053",
    "butter": "01001",
    "chicken thighs, whole": "05091",
    "beef chuck, 3 cm cubes": "13816",
    "ground beef": "23572",
    "cod fillets": "15015",
    "raw prawns": "15149",
    "cucumbers, sliced 3 mm": "11205",
    "potatoes, diced": "11352",
    "spinach": "11457",
    "onions, chopped": "11282",
    "mushrooms, sliced": "11260",
    "spaghetti": "20120",
    "long-grain rice": "20044",
    "dried kidney beans": "16032",
    "canned kidney beans, rinsed": "16034",
    "plain flour": "20081",
    "breadcrumbs": "18079",
    "eggs": "01123",
    "cheddar, grated": "01009",
    "black pepper": "02030",
    "bay leaves": "02004",
    "strawberries": "09316",
    "honey": "19296",
    "something nobody knows": None,
}
SENTENCES = (
    "soak 8 hours, then drain",
    "brine overnight in the fridge, drain and pat dry",
    "marinate 4 to 6 hours in the fridge",
    "toss with the salt and leave 30 minutes, then squeeze dry",
    "drain and rinse",
    "strain",
    "squeeze",
    "pickle 3 days",
    "roast at 375 °F to 135 °F in the middle",
    "roast at 200 °C for 1 hour, weighs 400 g",
    "bake 25 minutes at 180 °C",
    "grill until well done",
    "fry 4 minutes a side",
    "stir-fry 3 minutes",
    "brown the meat and pour off the fat",
    "add the drippings",
    "deep-fry 5 minutes",
    "boil 10 minutes, then drain",
    "boil the potatoes 20 minutes, then drain",
    "cook in salted water 10 minutes, drain",
    "simmer, covered, 30 minutes",
    "simmer until reduced to 700 ml",
    "reduce by half",
    "boil down from 5 pints to 2",
    "braise 2 hours at 150 °C",
    "steam 5 minutes",
    "blanch 1 minute, refresh, drain",
    "microwave 6 minutes",
    "flame",
    "bring to the boil, take off the heat, leave overnight",
    "skim off the fat",
    "discard the bay leaves",
    "remove the chicken",
    "discard the solids",
    "keep the liquid as brine",
    "keep 1 cup of the cooking water, drain",
    "weighs 600 g",
    "loses 20 % of its weight",
    "2 cups of brine left",
    "20 g of flour is left",
    "120 ml of oil is left",
    "make up to 2 litres with water",
    "dry in the oven at 60 °C",
    "makes 12 cakes",
    "mix well",
    "zonk it",
)

puts = st.builds(
    lambda words, grams, spread: Put(words, FOODS[words], grams, spread),
    st.sampled_from(sorted(FOODS)),
    st.one_of(st.floats(1.0, 2000.0), st.sampled_from([0.0, None])),
    st.sampled_from([0.0, 0.1]),
)
rows = st.lists(st.one_of(puts, st.sampled_from(SENTENCES)), min_size=1, max_size=10)


@settings(deadline=None, max_examples=150)
@given(rows)
def test_what_goes_in_comes_out(rows):
    """Mass and every nutrient put in are kept or in a named stream, in the best estimate and in every draw."""
    dish = cook(weighed({"Phases": rows}), draws=3)
    (ledger,) = dish.ledgers
    assert imbalance(ledger) < 1e-9


@settings(deadline=None, max_examples=60)
@given(rows)
def test_nothing_is_less_than_nothing(rows):
    """No stream and nothing kept holds a negative mass or nutrient, but for the difference of two table entries."""
    dish = cook(weighed({"Phases": rows}), draws=3)
    (ledger,) = dish.ledgers
    for mix in [ledger.kept, *(entry.mix for entry in ledger.streams if entry.stream != "difference of table entries")]:
        assert float(mix.held.min(initial=0.0)) > -1e-6
        assert float(mix.mass.min(initial=0.0)) > -1e-6
    assert np.isfinite(ledger.kept.held).all()


@settings(deadline=None, max_examples=40)
@given(rows, st.floats(0.1, 20.0))
def test_a_larger_batch_is_the_same_food(rows, factor):
    """Without stated weights, volumes and times of boiling down, twice of everything is twice as much of the same."""
    said = ("weighs", "ml", "cups", "pints", "g of", "litres", "boil", "simmer", "braise", "reduce", "cook", "blanch")
    rows = [row for row in rows if not (isinstance(row, str) and any(word in row for word in said))]
    more = [Put(row.words, row.food, row.grams and row.grams * factor) if isinstance(row, Put) else row for row in rows]
    one = [Put(row.words, row.food, row.grams) if isinstance(row, Put) else row for row in rows]
    if not any(isinstance(row, Put) for row in rows):
        return
    small, large = cook(weighed({"Phases": one})), cook(weighed({"Phases": more}))
    if any(problem.code == "not-among-lines" for problem in small.problems):
        return  # what no line lists has its usual amount, whatever the batch
    np.testing.assert_allclose(large.mix.total_mass, factor * small.mix.total_mass, rtol=1e-6, atol=1e-6)
    np.testing.assert_allclose(large.mix.total, factor * small.mix.total, rtol=1e-6, atol=1e-5)


@settings(deadline=None, max_examples=25)
@given(rows, rows, st.floats(0.05, 0.95))
def test_a_part_in_a_part_is_in_the_dish_once(first, second, share):
    """What one part takes of another is in the dish in that share, and what is left is reported."""
    from labeler.parsing.model import Amount

    first = [Put("water", "14411", 100.0), *first]
    take = Put(f"{100 * share:.0f}% of First", part="First", amount=Amount(share, share, None))
    dish = cook(weighed({"First": first, "Second": [take, *second]}), draws=2)
    made, used = dish.ledgers
    for ledger in dish.ledgers:
        assert imbalance(ledger) < 1e-9
    brought = sum(float(entry.mix.total_mass[0]) for entry in used.added if entry.name == "First")
    total = float(made.kept.total_mass[0])
    np.testing.assert_allclose(brought + made.left_over, total, rtol=1e-6, atol=1e-9)


TAILS = (
    "in the|with the|for 20 minutes|until reduced by half|to 500 ml|at 200 °C|overnight|then drain|as stock|"
    "in the fridge|to 60 °C in the middle|until it weighs 300 g|weighs 2 kg|120 g of oil is left|3 cups of brine left|"
    "into 4 pieces|0 minutes|to 0 g|by 100 %|drippings|fat|solids|salt|all but 1 tablespoon of the fat|-5 minutes|"
    "for 1000 days"
).split("|")
VERBS = sorted(verb for one in actions().values() for verb in one.verbs)
sentences = st.builds(
    lambda verb, tails: " ".join([verb, *tails]),
    st.sampled_from(VERBS),
    st.lists(st.one_of(st.sampled_from(TAILS), st.sampled_from(sorted(FOODS))), max_size=4),
)


@settings(deadline=None, max_examples=120)
@given(st.lists(st.one_of(puts, sentences), min_size=1, max_size=8))
def test_any_sentence_leaves_the_account_closed(rows):
    """Whatever kitchen words say, nothing is lost, nothing is made up and nothing raises."""
    (ledger,) = cook(weighed({"Phases": rows}), draws=3).ledgers
    assert imbalance(ledger) < 1e-8
    assert np.isfinite(ledger.kept.held).all()


@pytest.mark.parametrize("verb", sorted(one.verbs[0] for one in actions().values()))
def test_an_empty_pot_can_be_handled(verb):
    """Every kind of step is done where nothing weighs anything, nobody knows what it weighs, or only the fat does."""
    for grams in (0.0, None):
        dry = [Put("plain flour", "20081", grams), Put("ground beef", "23572", grams)]
        fat = [Put("plain flour", "20081", grams), Put("olive oil", "04053", 200.0)]
        for rows in (dry, fat):
            (ledger,) = cook(weighed({"Phases": [*rows, f"{verb} 20 minutes at 180 °C"]}), draws=2).ledgers
            assert imbalance(ledger) < 1e-8
