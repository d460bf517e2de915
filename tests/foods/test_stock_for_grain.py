"""Stock without an amount is what the dry grain beside it takes."""

import pytest

from labeler.foods.resolve import weigh
from labeler.foods.weights.reference_weights import load_figures
from labeler.parsing import read_recipe


def stock_of(*lines):
    """The grams of the last line of a recipe."""
    weighed = weigh(read_recipe("# Test\n" + "".join(f"- {line}\n" for line in lines)))
    return weighed.parts[0].lines[-1].grams


def test_table_ends_with_a_row_for_any_grain():
    """Each row has low, best and high in that order, and the last holds for any food."""
    rows = load_figures("stock_for_grain.csv")["stock"]
    assert not rows[-1].wanted
    assert all(0.5 < row.value.low < row.value.best < row.value.high < 6 for row in rows)


def test_a_risotto_takes_its_stock():
    """400 g rice take more than a litre (common practice, no source), and twice the rice twice the stock."""
    once, twice = stock_of("400 g risotto rice", "chicken stock"), stock_of("800 g risotto rice", "chicken stock")
    assert 1000 < once.best < 1600 and once.low < once.best < once.high
    assert twice.best == pytest.approx(2 * once.best)


def test_measured_liquid_is_taken_off():
    """What is measured of water and wine need not come from the stock."""
    with_wine = stock_of("400 g risotto rice", "200 g white wine", "chicken stock")
    assert with_wine.best == pytest.approx(stock_of("400 g risotto rice", "chicken stock").best - 200)


@pytest.mark.parametrize(
    "lines",
    [["500 g potatoes", "chicken stock"], ["400 g cooked rice", "chicken stock"], ["20 g rice", "chicken stock"]],
)
def test_elsewhere_the_default_stays(lines):
    """Without dry grain that is cooked in it a line of stock is counted as before."""
    assert stock_of(*lines).best == stock_of("chicken stock").best


def test_an_amount_in_the_line_wins():
    """Law: stock that is measured is what it says."""
    assert stock_of("400 g risotto rice", "500 g chicken stock").best == 500
