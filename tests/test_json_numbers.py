"""A number of the JSON is the same text on any processor: its last bit decides nothing."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labeler.json_numbers import json_number


@given(st.integers(100000, 999999), st.integers(-6, 6))
def test_a_figure_half_way_between_two_is_rounded_alike_whatever_its_last_bit(digits, tens):
    """0.1 + 0.2 and 0.3 differ in their last bit, and so do sums of decimals on two processors."""
    half = float(f"{digits}5e{tens - 7}")
    for near in (math.nextafter(half, 0.0), math.nextafter(half, math.inf)):
        assert json_number(near) == json_number(half) == pytest.approx(half, rel=1e-5)


def test_what_is_left_of_equal_amounts_is_nothing():
    """0.1 + 0.2 - 0.3 g is 0 g, and a nanogram is not."""
    assert json_number(0.1 + 0.2 - 0.3) == 0.0
    assert json_number(-5e-14) == 0.0
    assert json_number(1e-8) == 1e-8


def test_what_is_not_known_is_no_number():
    """Not known, not a number and without end are written as null."""
    assert json_number(None) is json_number(math.nan) is json_number(math.inf) is None
