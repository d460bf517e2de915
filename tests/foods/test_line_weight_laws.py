"""Laws of weights: any line ends in ordered bounds or a problem, and grams go with the amount."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from measure_help import line

from labeler.foods.composition.food_table import load_table
from labeler.foods.weights.household_measures import households
from labeler.foods.weights.line_weight import grams
from labeler.parsing.model import Amount, Line
from labeler.parsing.units import SPELLINGS

FOODS = st.sampled_from(load_table().ids)
UNITS = st.sampled_from([None, *sorted(set(SPELLINGS.values()))])
NAMES = st.sampled_from(
    ["onions", "chicken thighs", "salt", "basil leaves", "garlic", "butter", "cheddar cheese", "corn syrup", "milk",
     "lemon juice", "shrimp", "tomatoes", "x", "", "coconut milk", "egg whites", "brown sugar"]
)  # fmt: skip
PREPARATIONS = st.sampled_from(
    ["", "chopped", "peeled and sliced", "packed", "drained", "grated", "in shells", "bone-in"]
)
NUMBERS = st.floats(0.0, 1e4, allow_nan=False)
AMOUNTS = st.builds(Amount, NUMBERS, NUMBERS, UNITS, st.sampled_from(["main", "each", "same", "plus"]), st.booleans())
LINES = st.builds(
    Line,
    text=st.text(max_size=40),
    amounts=st.lists(AMOUNTS, max_size=4).map(tuple),
    name=st.one_of(NAMES, st.text(max_size=20)),
    preparation=PREPARATIONS,
    note=st.text(max_size=20),
    size=st.sampled_from([None, "small", "medium", "large", "extra large"]),
    to_taste=st.booleans(),
    derived=st.sampled_from([None, "juice", "zest", "kernels", "leaves", "whites"]),
)


@settings(deadline=None, max_examples=400)
@given(written=LINES, food=FOODS, market=st.sampled_from(["us", "uk", "anz", "eu", "jp"]))
def test_no_line_crashes_and_bounds_are_ordered(written: Line, food: str, market: str) -> None:
    """Any line for any food gives an ordered interval that is not negative, or a problem."""
    weight, problems = grams(written, food, market=market)
    if weight is None:
        assert problems
    else:
        assert 0 <= weight.low <= weight.best <= weight.high
        assert weight.basis


@settings(deadline=None, max_examples=200)
@given(
    food=FOODS,
    unit=UNITS,
    name=NAMES,
    preparation=PREPARATIONS,
    amount=st.floats(0.01, 1e3),
    factor=st.floats(0.01, 100),
)
def test_grams_scale_with_the_amount(
    food: str, unit: str | None, name: str, preparation: str, amount: float, factor: float
) -> None:
    """Twice as many cups, pounds or cloves weigh twice as much, bounds included."""
    one, _ = grams(line(name, (amount, unit), preparation=preparation), food)
    many, _ = grams(line(name, (amount * factor, unit), preparation=preparation), food)
    if one is None or many is None:
        assert one is many or unit is None  # a bare number beyond two dozen has lost its unit
        return
    assert many.best == pytest.approx(one.best * factor, rel=1e-9)
    assert many.low == pytest.approx(one.low * factor, rel=1e-9)
    assert many.high == pytest.approx(one.high * factor, rel=1e-9)


def test_every_household_weight_of_the_table_can_be_read() -> None:
    """Each of SR28's 15,438 measures parses to a positive weight or is passed over, none crashes."""
    count = 0
    for food in load_table().ids:
        for measure in households(food):
            count += 1
            assert measure.grams > 0
            assert measure.millilitres is None or measure.millilitres > 0
    assert count > 9000
