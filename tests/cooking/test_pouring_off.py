"""Pouring off is one act, whatever the cook calls it and whatever the liquid is."""

from __future__ import annotations

import numpy as np
import pytest
from kitchen_help import imbalance

from labeler.cooking.pipeline import cook
from labeler.cooking.state.ledger import Dish
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe


def made(lines: str, handling: str) -> Dish:
    dish = cook(weigh(read_recipe(f"# Test\n{lines}\n> {handling}\n")))
    assert max(imbalance(ledger) for ledger in dish.ledgers) < 1e-9
    return dish


RICE = "- 200 g rice\n- 2 litres water\n- 20 g salt"
CHICKEN = "- 500 g chicken breast\n- 500 ml milk\n- 20 g salt"
DUCK = "- 500 g duck leg\n- 500 ml olive oil\n- 10 g salt"
PORK = "- 500 g pork loin, 1-inch cubes\n- 100 ml soy sauce\n- 100 ml water"
MINCE = "- 500 g minced beef\n- 1 tbsp sunflower oil"


@pytest.mark.parametrize(
    ("lines", "start", "wordings"),
    [
        (RICE, "boil 12 minutes, ",
         ["discard the water", "discard the liquid", "pour off the water", "tip away the water", "strain",
          "throw away the cooking water", "strain, throwing away the water", "strain the rice"]),
        (CHICKEN, "soak 8 hours, ",
         ["discard the milk", "pour off the liquid", "tip away the milk", "strain, throwing away the milk",
          "lift out of the milk"]),
        (DUCK, "confit 3 hours, ",
         ["discard the oil", "pour off the oil", "pour off the liquid", "tip away the oil", "lift out of the oil"]),
        (PORK, "marinate 8 hours, ",
         ["discard the marinade", "tip away the marinade", "discard the soy sauce and water", "pour off the liquid"]),
        (MINCE, "brown 10 minutes, ", ["pour off the fat", "discard the fat", "drain off the fat"]),
    ],
)  # fmt: skip
def test_every_wording_of_pouring_off_is_draining(lines, start, wordings):
    """What is poured off is the same amount of every nutrient under every name; by what the words mean."""
    plain = made(lines, f"{start}drain")
    for wording in wordings:
        other = made(lines, f"{start}{wording}")
        np.testing.assert_allclose(other.mix.total[0], plain.mix.total[0], rtol=1e-9, atol=1e-9, err_msg=wording)
        assert other.mix.total_mass[0] == pytest.approx(plain.mix.total_mass[0]), wording


def test_an_ingredient_that_is_thrown_away_leaves_what_it_gave():
    """A bone in a broth leaves with its own; what it gave to the broth is the broth's: conservation."""
    dish = made(
        "- 1 litre water\n- 300 g carrots, sliced\n- 300 g potatoes, diced", "boil 30 minutes, discard the carrots"
    )
    left = {(item.name, item.phase) for item in dish.mix.items}
    assert ("carrots", "dissolved") in left and ("carrots", "") not in left


def test_what_a_later_step_adds_is_not_poured_off():
    """Oil that is stirred in after the draining is still there when it is drained."""
    after = made("- 200 g spaghetti\n- 3 litres water\n- 30 ml olive oil",
                 "boil 10 minutes. Drain. Toss with the olive oil.")  # fmt: skip
    oil = [float(after.mix.mass[0, at]) for at, item in enumerate(after.mix.items) if item.name == "olive oil"]
    assert sum(oil) == pytest.approx(27.5, abs=1.0)  # 30 mL of 0.92 g/mL


def test_a_pan_that_is_wiped_is_not_food():
    """Wiping a pan or a jar takes nothing off the food: common practice, no source."""
    jar = made("- 500 g tomatoes\n- 5 g salt", "simmer 20 minutes. Wipe the rims of the jars.")
    assert {entry.stream for entry in jar.ledgers[0].streams} <= {"evaporated water", "destroyed by heat"}


@pytest.mark.parametrize("handling", ["rinse", "rinse, drain", "drain, rinse", "drain"])
def test_the_liquid_of_a_can_runs_off_once_whatever_comes_first(handling):
    """Food that is rinsed in a sieve loses the liquid of its can, as it does by draining, and only once."""
    dish = cook(weigh(read_recipe(f"- 500 g sauerkraut\n> {handling}\n")))
    assert float(dish.mix.total_mass[0]) == pytest.approx(320.0, abs=1.0)
