"""Words in the pan that only sound like the brine: brown bits, the juices of the plate, the salt to taste."""

from __future__ import annotations

import pytest
from told_dishes import kept

LINES = "- 1 l water\n- 50 g salt\n- 60 g brown sugar\n- 1 kg turkey steaks\n- 30 g butter\n- 250 ml pear cider\n"
BRINE = "Stir the water, salt and sugar. Add the turkey and brine for 4 hours. Remove the turkey and pat dry."
FRY = "Fry the turkey in the butter for 10 minutes. Transfer to a plate."
TASTE = "- salt and pepper to taste\n"


@pytest.mark.parametrize(
    "told",
    [
        "Add the cider and scrape up the brown bits. Simmer 5 minutes.",
        "Pour in the cider, scraping the brown bits off, and boil 5 minutes.",
        "Add the cider. Simmer 5 minutes. Stir in the juices from the plate.",
        "Simmer the cider 5 minutes. Add the plate juices.",
    ],
)
def test_bits_and_juices_of_the_pan_bring_no_brine_into_it(told):
    """An adjective that sugar shares names no sugar, and juices are of what was cooked: the brine is poured off."""
    found = kept(LINES, f"{BRINE} {FRY} {told} Serve with the turkey.")
    assert found["1 l water"] < 0.05
    assert found["60 g brown sugar"] < 0.3
    assert found["250 ml pear cider"] > 0.9


@pytest.mark.parametrize("told", ["Season and serve.", "Season the sauce.", "Season with salt and pepper and serve."])
def test_salt_to_taste_goes_in_where_the_method_seasons(told):
    """What only the last step takes is in no brine and in no fat that is poured off, whole with its pepper."""
    found = kept(LINES + TASTE, f"{BRINE} {FRY} Add the cider and simmer 5 minutes. {told} Serve with the turkey.")
    assert found["salt and pepper to taste"] > 0.99
    assert found["50 g salt"] < 0.3
