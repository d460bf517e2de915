"""What a sentence leaves out: no source but the words themselves."""

import pytest

from labeler.flow.build import build_flow
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe


def weighed(text):
    return weigh(read_recipe(text))


@pytest.mark.parametrize("words", ["and add to the pan", "and add them to the pan"])
def test_what_was_just_cut_is_what_is_added(words):
    """ "Chop the onion and add (it) to the pan": the onion goes there."""
    part = weighed(
        f"# P\n- 300 g ground beef\n- 1 onion\n- 1 tbsp oil\n> Brown the beef in the oil in a pan. Chop the onion "
        f"{words}. Cook 10 minutes.\n"
    )
    flow = build_flow(part, market="us").parts[0]
    assert len(flow.dish) == 1


def test_an_amount_for_each_piece_counts_for_all():
    """Three fillets with a teaspoon of salt each hold three teaspoons."""
    flow = build_flow(
        weighed(
            "# F\n- 3 mackerel fillets\n- 1 tbsp oil\n> Season each fillet with 1 tsp of salt. Fry in the oil 8 "
            "minutes.\n"
        ),
        market="us",
    ).parts[0]
    salt = next(one for one in flow.unlisted if "salt" in one.name)
    assert salt.grams is not None and salt.grams.best == pytest.approx(3 * 6.0, rel=0.1)


def test_a_quarter_cup_of_listed_water_is_a_part_of_it():
    """An amount that is less than the line is no new water."""
    flow = build_flow(
        weighed(
            "# B\n- 1 1/2 cups warm water\n- 500 g flour\n- 7 g yeast\n> Stir the yeast into 1/4 cup water. Add the "
            "rest of the water and the flour and knead.\n"
        ),
        market="us",
    ).parts[0]
    assert not any("water" in one.name for one in flow.unlisted)
