"""A can of no stated size is that of the market's shelf; one whose size is stated is the same everywhere."""

import pytest

from labeler.foods.resolve import weigh_line
from labeler.foods.weights.reference_weights import load_figures
from labeler.parsing import read_line


def _grams(text, market):
    return weigh_line(read_line(text), market=market).grams


@pytest.mark.parametrize("market", ["uk", "eu", "anz"])
def test_a_tin_of_tomatoes_is_400_g_where_cans_are_metric(market):
    """400 g and 14.5 oz, as printed on the cans; common practice, no source."""
    assert _grams("1 tin chopped tomatoes", market).best == 400
    assert _grams("1 tin chopped tomatoes", "us").best == 411


@pytest.mark.parametrize(
    "text", ["2 x 400g tins chickpeas", "1 (15 oz) can black beans, undrained", "1 tin coconut milk"]
)
def test_a_stated_size_or_one_without_figures_of_its_own_is_of_no_market(text):
    """Law: the market settles only what the line leaves open."""
    assert _grams(text, "uk").best == _grams(text, "us").best


@pytest.mark.parametrize("text", ["1 can corn", "1 can kidney beans"])
@pytest.mark.parametrize("market", ["us", "uk"])
def test_what_is_drained_weighs_less_than_what_is_not(text, market):
    """Law, in every market."""
    whole, drained = _grams(f"{text}, undrained", market), _grams(f"{text}, drained", market)
    assert 0.4 * whole.best < drained.best < 0.8 * whole.best


def test_every_metric_can_has_bounds_around_its_figure_and_a_basis():
    """The shape of ``data/metric_cans.csv``."""
    rows = [row for rows in load_figures("metric_cans.csv").values() for row in rows]
    assert len(rows) > 30
    assert all(row.value.low <= row.value.best <= row.value.high and row.wanted for row in rows)
    assert all("common practice, no source" in row.value.basis for row in rows)
