"""One place says whose market a recipe is, so that every way through the rooms gives the same figures."""

from pathlib import Path

import pytest

from labeler.cooking import cook
from labeler.foods.resolve import weigh
from labeler.markets import MARKETS, market_of
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe

DEMOS = sorted((Path(__file__).parents[1] / "demo").glob("*.md"))
CUPS = "---\nmarket: anz\n---\n- 2 cups water\n- 1 cup sugar\n> simmer until reduced to 1 cup\n"


def test_what_is_asked_for_wins_over_the_head_and_the_head_over_us():
    """The market of a call, else of the recipe, else us."""
    said, silent = read_recipe(CUPS), read_recipe("- 1 cup sugar\n")
    assert (market_of(said, "uk"), market_of(said), market_of(silent), market_of(silent, "")) == (
        "uk",
        "anz",
        "us",
        "us",
    )


@pytest.mark.parametrize("text", [CUPS, *(path.read_text(encoding="utf-8") for path in DEMOS)])
def test_the_rooms_one_by_one_give_what_the_analysis_gives(text):
    """`cook(weigh(read_recipe(text)))` is the dish of `analyse`, whatever market the head names."""
    recipe = read_recipe(text)
    by_hand, whole = cook(weigh(recipe)), analyse(recipe, draws=0).dish
    assert by_hand.mix.total_mass[0] == pytest.approx(float(whole.mix.total_mass[0]))
    assert by_hand.mix.total[0].tolist() == pytest.approx(whole.mix.total[0].tolist())


def test_a_method_is_measured_in_the_cups_that_its_lines_are():
    """A cup is 250 mL in Australia and 236.6 mL in the United States, on lines and in sentences alike."""
    recipe = read_recipe(CUPS)
    masses = {market: float(cook(weigh(recipe, market=market)).mix.total_mass[0]) for market in ("anz", "us")}
    assert masses["anz"] / masses["us"] == pytest.approx(250.0 / 236.588, rel=0.01)
    assert set(MARKETS) >= masses.keys()
