"""Words that speak of a rest: what it is the rest of, and what is told where there is none."""

from __future__ import annotations

import pytest
from told_dishes import kept, made


def _codes(lines: str, method: str) -> set[str]:
    _, dish = made(lines, method)
    return {problem.code for problem in dish.problems}


_BRAISE = "- 1 kg beef shin\n- 500 ml apple juice\n- 10 g salt"


@pytest.mark.parametrize("told", ["Keep the other half for another day.", "Freeze the rest for another day."])
def test_the_rest_of_a_dish_that_nothing_was_taken_of_stays(told: str) -> None:
    """Words that put a rest away where no share was taken empty no dish, and are told."""
    method = f"Braise the beef with the salt in the apple juice for 3 hours. {told}"
    assert kept(_BRAISE, method)["1 kg beef shin"] > 0.9
    assert "rest-of-nothing" in _codes(_BRAISE, method)


def test_the_rest_of_a_food_that_is_used_up_takes_no_pot_along() -> None:
    """ "The rest of the flour" is none where all of it has coated the beef: the butter stays without the beef."""
    lines = "- 1 kg beef\n- 60 g flour\n- 500 ml stock\n- 50 g butter"
    method = (
        "Toss the beef in the flour. Braise it in the stock for 2 hours. Lift out the beef. Mash the butter with the "
        "rest of the flour and whisk it into the stock."
    )
    assert "rest-of-nothing" in _codes(lines, method)


@pytest.mark.parametrize("left", ["what is left of the liquid", "the rest of the liquid"])
def test_what_is_left_of_a_liquid_that_was_all_poured_on_is_none(left: str) -> None:
    """Throwing away the rest of a brine that was poured over the food in its jars empties no jar."""
    lines = "- 500 g cucumbers\n- 500 ml vinegar\n- 100 g sugar"
    method = "Pack the cucumbers into jars. Boil the vinegar and sugar. Pour it over the cucumbers in the jars. "
    assert kept(lines, f"{method}Throw away {left}.")["500 ml vinegar"] > 0.9
