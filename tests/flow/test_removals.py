"""What leaves a heap, and what is said where it cannot."""

import pytest

from labeler.cooking.pipeline import cook
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe


def cooked(handling):
    return cook(weigh(read_recipe(f"# Greens\n- 500 g green beans\n- 1 onion\n> {handling}\n")))


def test_a_dish_that_would_be_thrown_away_whole_stays_and_is_said():
    """Taken literally nothing would be left: the food stays, and not in silence."""
    dish = cooked("boil the beans and onion for 5 minutes. Discard the beans and onion.")
    assert dish.mix.total_mass[0] > 100.0 or any(p.code == "nothing-left" for p in dish.problems)
    assert {"whole-dish-discarded", "nothing-left"} & {problem.code for problem in dish.problems}


@pytest.mark.parametrize(
    "handling", ["boil the beans and onion for 5 minutes. Discard the onion.", "boil, then drain."]
)
def test_a_part_that_is_thrown_away_needs_no_remark(handling):
    """What is left of the dish is a dish."""
    assert "whole-dish-discarded" not in {problem.code for problem in cooked(handling).problems}


def test_bones_that_are_discarded_leave_the_stock():
    """A stock is its liquid: the bones name what goes, and the weight that follows is the stock's."""
    recipe = "# Stock\n- 2 kg chicken bones\n- 4 l water\n- 1 onion\n> Simmer for 4 hours, strain, discard the bones.\n"
    dish = cook(weigh(read_recipe(recipe + "> Weighs 2.4 kg.\n")))
    assert dish.mix.total_mass[0] == pytest.approx(2400.0)


@pytest.mark.parametrize(
    "words", ["Throw the brine away.", "Drain off the brine.", "Take the turkey out of the brine."]
)
def test_a_brine_with_a_name_is_not_what_lies_in_it(words):
    """What was made and named is thrown away without the food that was put into it since."""
    recipe = (
        "# T\n- 2 kg turkey breast\n- 3 l water\n- 150 g salt\n> Make a brine of the water and the salt. Leave the "
        f"turkey in it for 12 hours. {words} Roast it for 90 minutes at 170 °C.\n"
    )
    dish = cook(weigh(read_recipe(recipe)))
    assert not {"whole-dish-discarded", "lifted-out-assumed"} & {problem.code for problem in dish.problems}
    assert 1000.0 < dish.mix.total_mass[0] < 2200.0


def test_what_was_put_away_and_is_worked_on_again_is_in_the_dish():
    """A heap that a later step takes up is food like any other, and leaves no arrow of nothing behind."""
    recipe = (
        "# C\n- 300 g cabbage\n- 100 g butter\n> Reserve the cabbage for another day. You may warm half of it in the "
        "butter.\n"
    )
    flow = cook(weigh(read_recipe(recipe))).flow
    taken = {portion.source for node in flow.parts[0].nodes for portion in node.inputs if portion.takes_all}
    assert not taken & {one.source for one in flow.parts[0].leaves}
