"""What is kept: a liquid that stays where it is, all of a liquid, and which of several is thrown away.

Shares are what a cook would expect, wide enough for any yield table; common practice, no source.
"""

from __future__ import annotations

import pytest
from told_dishes import kept

DISHES = {
    "what is strained into a liquid of the list is eaten with it": (
        "- 500 g hake\n- 400 ml whole milk\n- 600 ml vegetable stock\n- 200 g barley",
        "Poach the hake in the milk for 8 minutes. Lift the hake out. Strain the milk into the stock. Cook the barley "
        "in the stock for 30 minutes. Flake in the hake.",
        {"400 ml whole milk": (0.7, 1.0), "500 g hake": (0.9, 1.0)},
    ),
    "food boiled in a pan of its own is no part of what waits": (
        "- 600 g plaice\n- 2 litres water\n- 1 onion, sliced\n- 500 g potatoes",
        "Simmer the onion in the water for 20 minutes. Add the plaice and take off the heat, 15 minutes. While it "
        "sits, boil the potatoes in their own pan and drain. Lift out the plaice and discard the poaching liquid.",
        {"500 g potatoes": (0.9, 1.0), "600 g plaice": (0.85, 1.0), "2 litres water": (0.0, 0.15)},
    ),
    "so much of a blended marinade is kept for the plate, and what raw meat lay in goes": (
        "- 800 g veal chops\n- 60 ml soy sauce\n- 100 g honey\n- 100 g onion",
        "Everything but the veal goes in the blender. Whizz till smooth. Take out 50 ml and hide it in the "
        "fridge, that's your sauce. The remainder goes in a bag with the chops for 4 hours (not overnight, the "
        "honey makes them soft). Take the veal out of the bag, throw that marinade away, it's been with raw meat."
        " Grill 5 minutes a side and spoon the sauce you saved over the top.",
        {"800 g veal chops": (0.95, 1.0), "60 ml soy sauce": (0.2, 0.5), "100 g onion": (0.1, 0.5)},
    ),
    "juice that is kept and that nothing takes later stays with the food": (
        "- 1 kg white radish, diced\n- 25 g salt\n- 10 g sugar",
        "Mix the radish with the salt and sugar and leave for 3 days at room temperature. Keep the juice.",
        {"25 g salt": (0.95, 1.0)},
    ),
    "fat that is kept in the pan is not set aside": (
        "- 500 g ground lamb\n- 1 onion, chopped\n- 400 g canned tomatoes",
        "Brown the lamb with the onion for 8 minutes, keeping all of the fat in the pan. Add the tomatoes and simmer "
        "for 20 minutes.",
        {"500 g ground lamb": (0.97, 1.0)},
    ),
    "fat that is kept and used later is parted from the meat": (
        "- 400 g bacon\n- 300 g potatoes, boiled",
        "Fry the bacon until crisp. Lift out the bacon, keep the fat. Fry the potatoes in the fat for 10 minutes.",
        {"400 g bacon": (0.7, 1.0)},
    ),
    "all of the brine is the brine, and no share of it": (
        "- 700 g gherkins\n- 600 ml water\n- 30 g salt",
        "Dissolve the salt in the water, pour over the gherkins and ferment for 2 weeks. Serve the gherkins in all of "
        "the brine.",
        {"30 g salt": (0.95, 1.0), "600 ml water": (0.9, 1.0)},
    ),
    "what goes is what the food was poached in, and not what runs off the food that was lifted out": (
        "- 600 g cod fillet\n- 500 ml whole milk\n- 2 bay leaves",
        "Poach the cod in the milk with the bay leaves for 10 minutes. Lift out the cod, throw away the milk and the "
        "bay leaves.",
        {"500 ml whole milk": (0.0, 0.1), "2 bay leaves": (0.0, 0.1), "600 g cod fillet": (0.9, 1.0)},
    ),
    "the syrup is what holds the sugar, and not the water poured off before": (
        "- 600 g orange peel, in strips\n- 500 g sugar\n- 400 ml water",
        "Boil the orange peel in plenty of water for 20 minutes, drain. Simmer with the sugar and 400 ml water, "
        "covered, for 40 minutes, lift out, discard the syrup.",
        {"500 g sugar": (0.1, 0.6)},
    ),
    "two lines of one amount are each given out once": (
        "- 500 g ground turkey\n- 1/2 tsp salt\n- 800 g potatoes\n- 60 g butter\n- 1/2 tsp salt",
        "Fry the turkey with 1/2 tsp salt for 8 minutes. Boil the potatoes in plenty of water for 20 minutes, drain, "
        "mash with the butter and 1/2 tsp salt. Cover the turkey with the potatoes and bake at 200 °C for 20 minutes.",
        {"500 g ground turkey": (0.95, 1.0), "1/2 tsp salt": (0.95, 1.0), "60 g butter": (0.95, 1.0)},
    ),
}


@pytest.mark.parametrize("case", list(DISHES))
def test_what_is_kept_and_what_goes(case):
    """The share of each food that is in the dish is what a cook would expect."""
    lines, method, wanted = DISHES[case]
    found = kept(lines, method)
    for line, (low, high) in wanted.items():
        assert low <= found[line] <= high, (case, line, found[line])


def test_juices_that_are_served_are_those_of_the_last_cooking():
    """Water that salted meat was soaked in stays poured off, though the juices of the braise are eaten."""
    method = (
        "Rub the pork with the salt and leave for 5 days, then soak in fresh water for 24 hours, drain. Bake covered "
        "at 150 °C for 2 hours and serve with all the juices."
    )
    assert kept("- 1 kg pork belly\n- 60 g salt", method)["60 g salt"] < 0.8
