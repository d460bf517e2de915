"""The state that handling works on."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kitchen_help import pot_of

from labeler.cooking.state.constituents import _carriers, food_constituents
from labeler.cooking.state.mixture import CONSTITUENTS, KEYS, column, empty, join
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.foods.composition.food_table import load_table
from labeler.foods.composition.values import food_values
from labeler.nutrition.totals import figures
from labeler.types import Interval, Status

TABLE = load_table()


def test_the_followed_nutrients_are_in_the_table():
    """Every key is a nutrient of the table, once, and the survey's are all there."""
    assert len(set(KEYS)) == len(KEYS) and set(KEYS) <= set(TABLE.column)
    assert {"FATRN", "SUGAR", "ASH", "VITB12_ADDED", "F22D6", "WATER", "ALC"} <= set(KEYS)
    carrier, mobile = _carriers()
    assert len(carrier) == len(KEYS) and 0.0 <= mobile.min() <= mobile.max() == 1.0


@settings(deadline=None, max_examples=200)
@given(st.sampled_from(TABLE.ids))
def test_constituents_add_up_to_the_food(food):
    """Masses of the constituents sum to one gram, nutrients to the food's value, and nothing is negative."""
    weight, composition, status = food_constituents(food)
    assert weight.sum() == pytest.approx(1.0, abs=1e-12) and weight.min() >= -1e-12
    assert composition.min() > -1e-9
    row = food_values(food).best[[TABLE.column[key] for key in KEYS]] / 100.0
    np.testing.assert_allclose(composition.sum(axis=0), np.nan_to_num(row), atol=1e-9)
    assert all((status == Status.MISSING) == np.isnan(row))


def test_what_carries_what():
    """Sodium is salt's, fatty acids are fat's, energy is divided by the food's own factors."""
    weight, composition, _ = food_constituents("01009")
    place = {name: at for at, name in enumerate(CONSTITUENTS)}
    assert composition[place["salt"], column("NA")] == pytest.approx(composition[:, column("NA")].sum())
    assert composition[place["fat"], column("FASAT")] == pytest.approx(composition[:, column("FASAT")].sum())
    oil, energy, _ = food_constituents("04053")  # SR28: fat factor of olive oil 8.84 kcal/g
    assert energy[place["fat"], column("ENERC_KCAL")] == pytest.approx(8.84 * oil[place["fat"]])
    assert weight[place["salt"]] == pytest.approx(2.542 * composition[:, column("NA")].sum() / 1000.0)


@settings(deadline=None, max_examples=50)
@given(
    st.lists(st.tuples(st.sampled_from(TABLE.ids), st.floats(0.0, 1e4)), min_size=1, max_size=6), st.floats(0.0, 1.0)
)
def test_splitting_and_joining(rows, share):
    """What is split and joined again is the same amount; scaling is linear."""
    mix, _ = pot_of(*[("it", food, grams) for food, grams in rows])
    one, other = mix.split(share)
    np.testing.assert_allclose(join([one, other]).total, mix.total, rtol=1e-9, atol=1e-9)
    np.testing.assert_allclose(mix.scaled(3.0).total, 3.0 * mix.total, atol=1e-12)
    np.testing.assert_allclose(mix.amount.sum(axis=1), mix.total, rtol=1e-9, atol=1e-9)
    np.testing.assert_allclose(mix.mass.sum(axis=1), mix.total_mass, atol=1e-12)
    np.testing.assert_allclose(mix.of("FAT").sum(axis=1), mix.total[:, column("FAT")], atol=1e-9)


def test_nothing():
    """An empty mix weighs nothing and joins with anything; joining nothing is an error."""
    assert float(empty(2).total_mass.sum()) == 0.0 and empty(2).total.shape == (2, len(KEYS))
    assert {figure.status for figure in figures(empty(1), 1.0).values()} == {Status.ASSUMED_ZERO}
    mix, _ = pot_of(("it", "14411", 5.0))
    assert join([empty(1), mix]) is mix
    with pytest.raises(ValueError):
        join([])
    with pytest.raises(KeyError):
        mix.of("MOONLIGHT")
    with pytest.raises(KeyError):
        food_constituents("99999")


def test_draws_of_an_interval():
    """Row 0 is the best value; bounds are percentiles; the same key is the same draw; nothing is below zero."""
    draws = Sampler(4000, seed=3)
    skewed = draws.draw(Interval(10.0, 8.0, 20.0), Cause.YIELD, "beef")
    assert skewed[0] == 10.0
    np.testing.assert_allclose(np.percentile(skewed[1:], [2.5, 50, 97.5]), [8.0, 10.0, 20.0], rtol=0.01)
    np.testing.assert_array_equal(draws.draw(Interval(10.0, 8.0, 20.0), Cause.YIELD, "beef"), skewed)
    assert not np.array_equal(draws.draw(Interval(10.0, 8.0, 20.0), Cause.YIELD, "pork"), skewed)
    assert draws.draw(Interval(1.0, 0.0, 9.0)).min() >= 0.0
    assert draws.draw(Interval(0.9, 0.5, 1.0), most=1.0).max() <= 1.0
    assert set(draws.draw(Interval(4.0, 4.0, 4.0))) == {4.0}
    with pytest.raises(ValueError):
        Sampler(-1)
