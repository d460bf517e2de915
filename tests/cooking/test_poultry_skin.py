"""The skin of birds that is thrown away, by the table's own twin entries."""

from __future__ import annotations

import pytest
from kitchen_help import imbalance

from labeler.cooking.pipeline import cook
from labeler.cooking.state.mixture import column
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe


def made(lines: str, handling: str):
    dish = cook(weigh(read_recipe(f"# Test\n{lines}\n> {handling}\n")))
    assert max(imbalance(ledger) for ledger in dish.ledgers) < 1e-9
    return dish


def per_100g(dish, key: str) -> float:
    return float(100.0 * dish.mix.total[0, column(key)] / dish.mix.total_mass[0])


def test_a_raw_bird_without_its_skin_is_the_meat_alone():
    """Raw chicken skinned weighs and holds what SR28 says of meat only: 52 % refuse of which 32 % bone, 3.08 % fat."""
    dish = made("- 1 kg chicken {food 05006, 1000 g}", "Remove the skin.")
    assert dish.mix.total_mass[0] == pytest.approx(1000.0 * 48.0 / 68.0, rel=0.01)
    assert per_100g(dish, "FAT") == pytest.approx(3.08, abs=0.05)
    assert per_100g(dish, "PROCNT") == pytest.approx(21.39, abs=0.5)


def test_roast_skin_that_is_thrown_away_takes_its_fat():
    """A roast chicken without its skin has the fat of roast meat only, 7.41 % (SR28 05013), and not 13.6 % (05009)."""
    dish = made("- 1 kg chicken {food 05006, 1000 g}", "Roast at 190 °C for 80 minutes. Discard the skin and bones.")
    assert per_100g(dish, "FAT") == pytest.approx(7.4, abs=1.0)


@pytest.mark.parametrize("handling", ["Lift out the bird, discard the skin and bones", "Take off the skin and shred"])
def test_skin_that_leaves_a_pot_leaves_its_juice(handling):
    """A bird boiled and skinned weighs less than one that is not, and the broth keeps what it got: conservation."""
    lines, boil = "- 1 kg chicken {food 05006, 1000 g}\n- 2 litres water\n- 10 g salt", "Simmer for 1 hour."
    whole, bare = made(lines, boil), made(lines, f"{boil} {handling}.")
    lost = whole.mix.total_mass[0] - bare.mix.total_mass[0]
    assert 80.0 < lost < 260.0
    assert whole.mix.total[0, column("FAT")] - bare.mix.total[0, column("FAT")] > 0.25 * lost


def test_a_skin_that_the_table_does_not_tell_is_said_to_be_counted():
    """Wild duck has no twin without skin, so the figures stay and a problem says what to pin."""
    dish = made("- 1 kg wild duck {food 05144, 1000 g}", "Roast for 1 hour. Discard the skin.")
    assert "skin-counted" in {problem.code for problem in dish.problems}


def test_meat_that_is_counted_without_skin_has_none_to_lose():
    """Throwing away the skin of an entry that is meat only changes nothing and needs no word."""
    dish = made("- 1 kg chicken {food 05011, 1000 g}", "Remove the skin.")
    assert dish.mix.total_mass[0] == pytest.approx(1000.0) and not dish.problems
