"""Rounding backwards: what a printed figure may stand for."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.rules.market import load_market, market_ids
from labeler.rules.rounding import exact
from labeler.rules.rounding_intervals import behind, last_digit, read_figure

LADDERS = [
    (market, rule.id, rule.data["ladder"])
    for market in market_ids()
    for rule in load_market(market).rules("nutrients").values()
    if rule.kind == "rounding"
]


@pytest.mark.parametrize(
    ("ladder", "printed", "low", "high"),
    [
        # 21 CFR 101.9(c)(2): below 0.5 g is 0; below 5 g in halves
        ("round-fat", "0 g", "0", "0.5"),
        ("round-fat", "0.5 g", "0.5", "0.75"),
        ("round-fat", "7 g", "6.5", "7.5"),
        # 21 CFR 101.9(c)(3): "less than 5 mg" from 2 to 5 mg
        ("round-cholesterol", "less than 5 mg", "2", "5"),
        ("round-cholesterol", "<5mg", "2", "5"),
        # 21 CFR 101.9(c)(4): 140 mg is in fives from below and in tens from above
        ("round-sodium", "140 mg", "137.5", "145"),
        # 21 CFR 101.9(c)(6): "<1 g" from half a gram; 1 g may be printed for it
        ("round-grams", "Contains less than 1 gram", "0.5", "1"),
        ("round-grams", "1 g", "0.5", "1.5"),
        # 21 CFR 101.9(c)(1): below 5 may be 0 and need not be
        ("round-energy", "5", "2.5", "7.5"),
        ("round-energy", "0", "0", "5"),
        ("round-energy", "1,210", "1205", "1215"),
    ],
)
def test_a_printed_figure_is_the_interval_of_its_band(ladder, printed, low, high):
    """Bands of 21 CFR 101.9(c), read backwards by hand."""
    found = behind(load_market("us").ladder("nutrients", ladder), read_figure(printed))
    assert found == (Decimal(low), Decimal(high))


def test_a_figure_that_the_rule_never_prints_is_told_apart():
    """7.3 g of fat was not printed under US rounding; its last digit is all that is known."""
    figure = read_figure("7.3 g")
    assert behind(load_market("us").ladder("nutrients", "round-fat"), figure) is None
    assert last_digit(figure) == (Decimal("7.25"), Decimal("7.35"))


def test_traces_are_less_than_the_least_figure_and_not_nothing():
    """A trace of fat may be anything below half a gram."""
    assert behind(load_market("us").ladder("nutrients", "round-fat"), read_figure("traces")) == (0, Decimal("0.5"))


@pytest.mark.parametrize(
    ("text", "number", "less", "unit"),
    [
        ("1,5 g", "1.5", False, "g"),
        ("1 250 kJ", "1250", False, "kj"),
        ("< 0,1g", "0.1", True, "g"),
        ("0", "0", False, ""),
    ],
)
def test_figures_are_read_in_every_way_that_panels_write_them(text, number, less, unit):
    """Decimal commas, divided thousands, "less than" in signs."""
    figure = read_figure(text)
    assert (figure.number, figure.less, figure.unit) == (Decimal(number), less, unit)


@pytest.mark.parametrize("text", ["", "g", "-3 g", "3 g 4 g", "3-4 g", "lots"])
def test_what_is_no_figure_is_none(text):
    """Nothing is made of text that holds no single figure."""
    assert read_figure(text) is None


@settings(deadline=None, max_examples=200)
@given(st.sampled_from(LADDERS), st.floats(0, 5000, allow_nan=False))
def test_what_a_ladder_prints_read_backwards_contains_the_amount(ladder, amount):
    """For every ladder of every market: the amount lies in the interval of each text that it may be printed as."""
    _, _, rungs = ladder
    rounded = rungs.apply(exact(amount))
    for text in (rounded.text, *rounded.also):
        figure = read_figure(text)
        if figure is not None:
            low, high = behind(rungs, figure)
            assert low <= exact(amount) <= high
