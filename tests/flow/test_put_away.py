"""What is put away for another day: servings of the dish that are eaten later, or food of another dish."""

from __future__ import annotations

import pytest
from told_dishes import cooked, grams, kept

from labeler.flow.choices import Doubt

STEW = "- 400 g chickpeas\n- 800 ml water\n- 2 carrots"
SIMMER = "Simmer the chickpeas and carrots in the water for 40 minutes."
DOUGH = "- 400 g flour\n- 250 ml water\n- 8 g salt\n- 100 g cheddar"
KNEAD = "Knead the flour, water and salt to a dough."
BAKE = "Roll out the rest, scatter with the cheddar and bake for 10 minutes at 240 C."


@pytest.mark.parametrize(
    "told",
    [
        "Freeze half for another night.",
        "Put half in the fridge and half in the freezer.",
        "Freeze half for later.",
        "Set half aside for tomorrow's lunch.",
        "Serve half and freeze the rest.",
        "Freeze half and reheat before serving.",
    ],
)
def test_servings_of_a_finished_dish_that_are_eaten_later_are_servings(told):
    """Half of the pot in the freezer makes no serving smaller, and nothing is asked."""
    assert grams(STEW, f"{SIMMER} {told}") == pytest.approx(grams(STEW, SIMMER), rel=0.01)
    _, dish = cooked(f"# Dish\n{STEW}\n> {SIMMER} {told}\n")
    assert not [one for one in dish.problems if one.code == "rest-of-nothing"]


def test_what_is_kept_for_a_dish_of_another_name_is_no_serving():
    """Half of the stew that fills a pie another time is not eaten here."""
    assert grams(STEW, f"{SIMMER} Freeze half for a pie.") == pytest.approx(0.5 * grams(STEW, SIMMER), rel=0.05)


def test_whether_the_servings_count_a_dough_that_is_frozen_is_asked():
    """Half of the dough goes before the rest is baked: most likely for another time, and it is asked."""
    told = f"{KNEAD} Freeze half of the dough for next time. {BAKE}"
    assert kept(DOUGH, told)["400 g flour"] == pytest.approx(0.5, abs=0.06)
    _, dish = cooked(f"# Flatbreads\n{DOUGH}\n> {told}\n")
    assert dish.flow is not None
    asked = [reading.choice.question.doubt for reading in dish.flow.parts[0].readings]
    assert asked == [Doubt.PUT_AWAY]
