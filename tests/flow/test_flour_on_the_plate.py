"""How much flour food takes along, however its turning in flour is worded; dishes of our own."""

from __future__ import annotations

import pytest
from told_dishes import kept, made

LINES = "- 600 g haddock\n- 200 g flour\n- 30 ml oil"
FRY = "Fry in the oil for 6 minutes."


@pytest.mark.parametrize(
    "told", ["Toss the haddock in the flour.", "Toss the haddock with the flour.", "Coat the haddock with the flour."]
)
def test_no_more_flour_clings_than_the_food_can_hold(told):
    """A third of the fish's weight in flour cannot lie on it: what does not cling stays on the plate, and is told."""
    assert kept(LINES, f"{told} {FRY}")["200 g flour"] < 0.5
    _, dish = made(LINES, f"{told} {FRY}")
    messages = [problem.message for problem in dish.problems if problem.code == "coating-assumed"]
    assert messages and not any("“”" in message for message in messages)


def test_a_little_flour_all_clings():
    """Two per cent of flour on meat that is browned for a stew are in the stew."""
    method = "Toss the beef with the flour. Brown in the oil. Add the stock and simmer for 2 hours."
    found = kept("- 1 kg stewing beef\n- 20 g flour\n- 30 ml oil\n- 800 ml beef stock", method)
    assert found["20 g flour"] > 0.9
