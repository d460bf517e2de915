"""Which side of a liquid that runs off food goes on.

Shares are what a cook would expect, wide enough for any yield table; common practice, no source.
"""

from __future__ import annotations

from told_dishes import kept


def test_what_drips_through_is_wanted_where_the_pulp_is_thrown_away():
    """A jelly is made of what drips overnight: the pulp, which goes on the compost, says so."""
    method = (
        "Simmer the quinces in the water for 40 minutes, lid on. Tip into a bag and let it drip overnight. The pulp "
        "goes on the compost. Measure the juice, bring it up with the sugar and boil for 12 minutes."
    )
    found = kept("- 1 kg quinces\n- 700 ml water\n- 450 g sugar", method)
    assert found["1 kg quinces"] < 0.5 and found["450 g sugar"] > 0.95 and found["700 ml water"] > 0.3


def test_water_that_food_was_steamed_over_is_not_eaten():
    """Salted water under a basket has nothing in it, and is no part of the dish."""
    method = "Bring the water with the salt to a boil, steam the beans in a basket above it for 7 minutes."
    found = kept("- 1 kg green beans\n- 2 litres water\n- 30 g salt", method)
    assert found["30 g salt"] < 0.05 and found["1 kg green beans"] > 0.9
