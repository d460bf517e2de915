"""What the ingredient list of a pickle names is what is in the jar that is sold, however it is eaten."""

from __future__ import annotations

import pytest

from labeler.label.make import make_label
from labeler.nutrition.analysis import analyse
from labeler.parsing.document import read_recipe

JARS = (
    "Pickled radishes\nMakes 5 jars\nNet: 500 g\n\nIngredients\n1.6 kg radishes\n700 ml vinegar\n500 ml water\n"
    "50 g salt\n70 g sugar\n4 cloves garlic\n\nMethod\n1. Slice the radishes and pack them into the jars with the "
    "garlic.\n2. Bring the vinegar, water, salt and sugar to the boil. Pour over the radishes and seal.\n"
)
WAITS = "3. Leave 2 weeks before eating.\n"


@pytest.mark.parametrize("end", ["", WAITS])
def test_the_brine_in_the_jar_is_listed_whether_or_not_it_is_eaten(end):
    """One sentence of when to eat it takes no water out of the jar."""
    declared = make_label(read_recipe(JARS + end), market="uk").declared
    assert declared["ingredients"].startswith("radishes, vinegar, water, ")


def test_jars_of_pickles_hold_their_brine_as_they_are_filled():
    """Five jars of 500 g can be filled with the brine, though the figures are of what is eaten of it."""
    found = analyse(read_recipe(JARS + WAITS), market="uk")
    assert "packs-over-batch" not in {problem.code for problem in found.problems}
    assert found.dish.sold_g > 1.3 * float(found.dish.mix.total_mass[0])
