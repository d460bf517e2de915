"""What is named again: the food that was drained, the liquid that was kept, the mixture that is poured over."""

import pytest
from told_dishes import kept

BRAISE = "- 700 g pork shoulder\n- 80 ml vinegar\n- 3 tbsp soy sauce\n- 1 tsp salt\n- 120 ml water\n- 2 tbsp oil"


@pytest.mark.parametrize("liquid", ["sauce", "the sauce", "liquid", "the liquid"])
@pytest.mark.parametrize("meat", ["meat", "the meat", "pork"])
def test_what_is_drained_and_what_runs_off_both_go_on(liquid, meat):
    """A braise is drained, browned and covered with its own sauce; the soy sauce is in it all the time."""
    shares = kept(
        BRAISE,
        f"Combine all ingredients except oil in a pot. Simmer covered for 1 hour. Drain and reserve {liquid}. Heat oil "
        f"in a skillet. Brown {meat} on all sides. Pour {liquid} over {meat} and serve.",
    )
    for line in ("700 g pork shoulder", "80 ml vinegar", "3 tbsp soy sauce", "1 tsp salt"):
        assert shares[line] > 0.8, (line, shares)


def test_all_but_what_is_told_goes_in_and_what_is_strewn_later_waits():
    """ "Everything except the oil" takes the pork that is browned later, and not the seeds that are rolled on later."""
    lines = "- 400 g pork mince\n- 1 egg\n- 30 g sesame seeds\n- 60 ml oil"
    shares = kept(
        lines,
        "Blend everything except the oil. Shape into balls, roll in the sesame seeds, then brown the pork in the oil.",
    )
    assert shares["400 g pork mince"] > 0.9
    assert shares["30 g sesame seeds"] < 0.999  # what does not cling stays behind


@pytest.mark.parametrize("told", ["over", "over the top", "over top", "over it", "over the fish"])
def test_the_mixture_that_is_poured_over_a_food_is_not_that_food(told):
    """A marinade that was stirred before goes over fish, however that is told, and stays behind later."""
    shares = kept(
        "- 200 ml buttermilk\n- 2 tsp salt\n- 600 g cod fillet",
        f"Combine the buttermilk and salt. Put the cod in a dish and pour the mixture {told}. Let stand for 1 hour. "
        "Remove the cod. Bake the cod for 15 minutes.",
    )
    assert shares["600 g cod fillet"] > 0.85
    assert shares["200 ml buttermilk"] < 0.5, shares


def test_what_is_added_after_meat_went_onto_a_plate_is_fried_in_the_pan():
    """An onion that is added when the ribs are on a plate is fried in their fat, and the ribs come back later."""
    shares = kept(
        "- 30 ml oil\n- 900 g beef short ribs\n- 1 onion, diced\n- 500 ml beef stock",
        "Heat the oil in a pot. Brown the ribs, then transfer to a plate. Add 1 diced onion and cook for 8 minutes. "
        "Add the stock and the ribs and braise for 2 hours.",
    )
    assert all(share > 0.75 for share in shares.values()), shares


def test_a_batter_that_is_dropped_into_hot_oil_holds_together():
    """Fritters keep their flour when they are drained, and of oil in no line only what they take up is counted."""
    lines = "- 140 g flour\n- 1 tsp salt\n- 2 tbsp oil, plus enough for deep-frying\n- 90 ml water\n- 2 onions, sliced"
    shares = kept(
        lines,
        "Sift the flour and salt into a bowl. Mix in the oil and stir in the water to form a batter. Mix in onions. "
        "Heat enough oil for deep-frying in a wok. Drop in spoonfuls of the onion mixture and fry for 2 minutes. Drain "
        "well on kitchen paper. Fry the remaining batches of fritters and serve.",
    )
    assert shares["140 g flour"] > 0.95 and shares["1 tsp salt"] > 0.95, shares
