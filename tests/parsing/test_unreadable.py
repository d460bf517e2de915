"""What stands where an amount stands and is none is counted as nothing known, never as some digits of it."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.foods.resolve import weigh_line
from labeler.parsing.ingredient.line import read_line


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("-5 g salt", "amount-negative"),
        ("-1/2 cup sugar", "amount-negative"),
        ("1e400 g water", "amount-unreadable"),
        ("1/0 cup flour", "amount-unreadable"),
        ("1.2.3 g salt", "amount-unreadable"),
        ("nan g salt", "amount-unreadable"),
        ("inf cups sugar", "amount-unreadable"),
        ("? cup olives", "amount-unreadable"),
    ],
)
def test_an_amount_that_is_none_leaves_the_food_and_no_weight(text, code):
    """The line says so, keeps its food, and neither its digits nor a usual amount stand in."""
    line = read_line(text)
    assert line.unreadable and line.amounts == () and line.name
    assert code in {problem.code for problem in line.problems}
    assert weigh_line(line).grams is None


@pytest.mark.parametrize(
    "text", ["- 5 g salt", "5 g salt", "1,5 kg carrots", "1/2 cup flour", "80/20 ground beef", "7up"]
)
def test_a_number_that_can_be_read_is_read(text):
    """A dash that opens a list, a decimal comma, a fraction and a name with figures are no trouble."""
    assert not read_line(text).unreadable


@settings(max_examples=60, deadline=None)
@given(st.floats(min_value=0.1, max_value=900).map(lambda value: f"{value:.3g}".replace("e+02", "00")))
def test_a_minus_never_becomes_an_amount(number):
    """Whatever number stands behind a minus, nothing of it is counted."""
    line = read_line(f"-{number} g salt")
    assert line.unreadable and line.amounts == ()
