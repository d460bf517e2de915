"""Methods as somebody tells them across the table: what goes back, what a word means, what is left; own dishes."""

from __future__ import annotations

from told_dishes import grams, kept


def test_what_was_just_drained_is_what_is_rinsed():
    """ "Drain and rinse them" is about the noodles of the sentence, though meat lies in a marinade beside them."""
    lines = "- 60 ml soy sauce\n- 10 g honey\n- 400 g lamb, sliced\n- 400 g egg noodles"
    method = (
        "Stir the soy sauce and honey and leave the lamb in it for half an hour. Boil the noodles in water 5 minutes, "
        "drain and rinse them cold. Fry the lamb in its marinade 4 minutes and toss with the noodles."
    )
    shares = kept(lines, method)
    assert shares["60 ml soy sauce"] > 0.9 and shares["400 g egg noodles"] > 0.9


def test_the_marinade_is_what_was_stirred_and_not_the_water_of_the_noodles():
    """Water that food was boiled in is no marinade: that is the liquid with soy sauce in it."""
    lines = "- 60 ml soy sauce\n- 10 g honey\n- 400 g lamb, sliced\n- 400 g egg noodles"
    method = (
        "Stir the soy sauce and honey and leave the lamb in it for half an hour. Boil the noodles in water 5 minutes "
        "and drain, keep back 60 ml of that water. Lift the lamb out of its marinade and fry it 3 minutes. Add the "
        "noodles, the marinade and the noodle water and toss."
    )
    assert kept(lines, method)["60 ml soy sauce"] > 0.9
    assert grams(lines, method) < 1700.0


def test_what_was_boiled_and_drained_takes_no_second_pot_of_water():
    """Two minutes more in the pan are two minutes in the pan: noodles that have boiled want no new water."""
    lines = "- 400 g egg noodles\n- 200 g prawns, peeled\n- 20 ml sesame oil"
    method = (
        "Boil the noodles in water 5 minutes, drain. Tip them back, toss with the sesame oil. The prawns go in, they "
        "only want two minutes."
    )
    assert grams(lines, method) < 1700.0


_CUTLETS = (
    "- 500 g turkey breast slices\n- 60 g flour\n- 2 eggs, beaten\n- 120 g dry breadcrumbs\n- 240 ml sunflower oil"
)


def test_a_share_of_a_coating_that_is_left_over_is_what_goes():
    """ "A third of it is left over; I throw it out": so much of flour, egg and crumbs is not eaten."""
    shares = kept(
        _CUTLETS,
        "Flour, egg, crumbs, press well. There is always a third of it left over; I throw it out. Heat the oil "
        "and fry the slices 3 minutes a side. Onto a rack.",
    )
    assert all(0.55 < shares[line] < 0.75 for line in ("60 g flour", "2 eggs, beaten", "120 g dry breadcrumbs"))
    assert shares["500 g turkey breast slices"] > 0.9 and shares["240 ml sunflower oil"] < 0.4


def test_what_is_left_in_the_bowls_goes_and_the_food_stays():
    """ "You will have flour left in the bowl - bin that" throws away no cutlet."""
    shares = kept(
        _CUTLETS,
        "Roll the slices in the flour, then the egg, then the crumbs. You will have flour and crumbs left in the "
        "bowls - bin that, it's had raw meat in it. Heat the oil and fry the slices 3 minutes a side. Onto a rack.",
    )
    assert shares["500 g turkey breast slices"] > 0.9 and 0.1 < shares["60 g flour"] < 0.9
