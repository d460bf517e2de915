"""What food is turned in: what clings of it, and what stays in the bowl."""

import pytest

from labeler.cooking.steps.coating import Station, clings_of
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe

LINES = "- 500 g cod fillets\n- {flour} g plain flour\n- 180 ml cold beer\n- 2 litres sunflower oil\n"
METHOD = "> whisk the flour and beer\n> dip the cod in the batter and deep-fry at 180 °C for 5 minutes, drain"


def left_in_the_bowl(text):
    found = analyse(read_recipe(text))
    return sum(row.grams for part in found.parts for row in part.ledger if row.stream == "left on the plate")


@pytest.mark.parametrize("station", Station)
def test_each_station_has_its_figures(station):
    """What clings is between nothing and as much as the food weighs."""
    found = clings_of(station)
    assert 0.0 < found.low < found.best < found.high <= 1.0


def test_of_a_batter_no_more_clings_than_food_can_carry():
    """Of a bowl of batter for a few pieces the rest stays in the bowl, whether the words say so or not."""
    little = left_in_the_bowl(LINES.format(flour=40) + METHOD)
    much = left_in_the_bowl(LINES.format(flour=600) + METHOD)
    assert little < 20.0
    assert much > 450.0


def test_what_is_left_of_a_coating_is_told():
    """That the rest of a batter leaves is a guess, and is said."""
    found = analyse(read_recipe(LINES.format(flour=600) + METHOD))
    assert "coating-assumed" in {problem.code for problem in found.problems}


def test_a_coating_that_the_method_speaks_of_again_goes_where_it_says():
    """Flour that thickens the sauce afterwards has not stayed in the bowl."""
    lines = "- 600 g chicken thighs\n- 200 g plain flour\n- 2 tbsp oil\n- 500 ml stock\n"
    method = (
        "> dredge the chicken in the flour\n> fry in the oil 10 minutes\n> stir in the remaining flour and the stock"
    )
    assert left_in_the_bowl(lines + method) == 0.0


def test_a_sauce_that_food_is_tossed_in_stays_on_it():
    """What food is tossed in is served with it; only flour, crumbs, egg and batters are left in a bowl."""
    lines = "- 500 g cooked prawns\n- 300 g tomato ketchup\n- 100 g honey\n"
    assert left_in_the_bowl(lines + "> mix the ketchup and honey\n> toss the prawns in the sauce") == 0.0
