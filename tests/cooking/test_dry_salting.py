"""Dry cures: what salt does to food that no liquor surrounds."""

from __future__ import annotations

import pytest
from kitchen_help import imbalance

from labeler.cooking.pipeline import cook
from labeler.cooking.state.ledger import interval_of
from labeler.cooking.state.mixture import column
from labeler.foods.composition.food_table import load_table
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe


def made(lines: str, handling: str, draws: int = 0):
    dish = cook(weigh(read_recipe(f"# Test\n{lines}\n> {handling}\n")), draws=draws)
    assert max(imbalance(ledger) for ledger in dish.ledgers) < 1e-9
    return dish


def sodium(dish) -> float:
    return float(dish.mix.total[0, column("NA")])


PORK = "- 1 kg pork loin\n- 40 g salt\n- 20 g sugar"
RINSED = [
    "rub the salt and sugar into the pork and leave 24 hours, rinse",
    "rub with the salt and sugar, leave 24 hours in the fridge, rinse off",
    "toss with the salt and sugar, leave 24 hours, then rinse",
    "cover the pork with the cure, stand 24 hours, rinse off",
    "bury in the salt and sugar for 24 hours, rinse",
    "pack in the salt and sugar, refrigerate 24 hours, rinse",
    "coat with the salt and sugar. Rest for 24 hours. Rinse off.",
    "sprinkle the pork with the salt and sugar, leave for 24 hours, rinse",
    "cure 24 hours, rinse",
    "dry-brine 24 hours, rinse",
]
WIPED = ["wipe off", "brush off the cure", "scrape off", "scrape off the salt", "pat dry", "remove the cure"]


def test_wordings_of_one_cure_are_one_figure():
    """However putting salt on and leaving it is said, it is one act: by what the words mean."""
    figures = [sodium(made(PORK, words)) for words in RINSED]
    assert figures == pytest.approx([figures[0]] * len(figures))


def test_wordings_of_wiping_off_are_one_figure():
    """However the cure is taken off dry, it is one act: by what the words mean."""
    figures = [sodium(made(PORK, f"rub the pork with the salt and sugar, leave 24 hours, {words}")) for words in WIPED]
    assert figures == pytest.approx([figures[0]] * len(figures))


def test_a_cured_salmon_has_the_salt_of_smoked_salmon():
    """Salmon two days under 10 % of salt has the sodium of lox (SR28 15179, 2000 mg/100 g) within its interval."""
    dish = made("- 1 kg salmon fillet\n- 100 g salt\n- 100 g sugar",
                "cover the fish with the cure, leave 48 hours in the fridge, wipe off", draws=400)  # fmt: skip
    kept = dish.ledgers[0].kept
    per_100g = interval_of(100.0 * kept.total[:, column("NA")] / kept.total_mass)
    table = load_table()
    assert per_100g.low < table.value("15179", "NA") < per_100g.high
    assert per_100g.high < 3.5 * per_100g.low
    assert float(kept.constituent("water")[0].sum()) < 649.0  # of 1 kg, SR28 15236: the cure takes water


def test_salt_that_nothing_takes_off_stays():
    """A rub that is roasted on is eaten: all of its salt is there (equilibrium tier: nothing is poured off)."""
    dish = made("- 1 kg pork loin\n- 15 g salt", "rub the pork with the salt and leave overnight")
    assert sodium(dish) == pytest.approx(sodium(made("- 1 kg pork loin\n- 15 g salt", "serve")))


def test_a_cure_without_a_time_says_so():
    """Salt that is rinsed off after nobody knows how long is a problem, and the interval is wide."""
    dish = made("- 1 kg pork loin\n- 40 g salt", "rub the pork with the salt, then rinse", draws=400)
    assert "time-assumed" in {problem.code for problem in dish.problems}
    spread = interval_of(dish.ledgers[0].kept.total[:, column("NA")])
    assert spread.high > 2.0 * spread.low


def test_food_is_washed_before_it_is_salted():
    """Rinsing fish before the salt goes on takes none of the salt: by the order of the sentences."""
    dish = made("- 500 g cod fillets\n- 15 g salt", "Rinse the fish and pat dry. Rub with the salt.")
    assert sodium(dish) == pytest.approx(sodium(made("- 500 g cod fillets\n- 15 g salt", "serve")), rel=0.002)


def test_the_oil_for_frying_is_not_rinsed_away():
    """Oil that waits beside salted aubergine is not what is rinsed: by what the words mean."""
    dish = made("- 2 aubergines, sliced 1 cm\n- 15 g salt\n- 4 tbsp olive oil",
                "Sprinkle the slices with the salt and leave 30 minutes. Rinse, pat dry. Fry in the oil.")  # fmt: skip
    oil = sum(float(dish.mix.mass[0, at]) for at, item in enumerate(dish.mix.items) if item.name == "olive oil")
    assert oil == pytest.approx(54.0, abs=1.5)  # 4 tablespoons of 13.5 g, SR28 04053


def test_juice_that_salt_draws_holds_its_share_of_the_salt():
    """Two per cent of salt draws a tenth to a third of cabbage's weight overnight, and the juice is as salty as it.

    Common practice, no source; where salt has time to spread, concentrations in the water are equal.
    """
    dish = made("- 1 kg cabbage, shredded {1000 g}\n- 20 g salt", "Salt the cabbage for 24 hours, drain.")
    (poured,) = [entry.mix for stage in dish.ledgers[0].stages for entry in stage.streams]
    assert 80.0 < poured.total_mass[0] < 320.0
    water = dish.mix.constituent("water")[0].sum() + poured.constituent("water")[0].sum()
    sodium = column("NA")
    share = poured.total[0, sodium] / (poured.total[0, sodium] + dish.mix.total[0, sodium])
    assert share == pytest.approx(poured.constituent("water")[0].sum() / water, rel=0.35)
