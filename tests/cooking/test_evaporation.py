"""Boiling down, alcohol, measured weights."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from kitchen_help import Put, amount, imbalance, pot_of, streams, weighed

from labeler.cooking.models.evaporation import HOT, alcohol_kept
from labeler.cooking.pipeline import cook
from labeler.cooking.state.density import volume
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe


def test_jam():
    """10 kg fruit of 10 % solids and 10 kg sugar, boiled to 68 % solids, weigh 16.4 kg with 115 g of pectin and acid.

    Practical Action / KnO jam sheet: 11.115 kg solids / 0.68.
    """
    # Strawberries of SR28 have 9.05 % solids; 11.05 kg of them bring the sheet's kilogram of solids.
    rows = [Put("strawberries", "09316", 11050.0), Put("sugar", "19335", 10000.0), Put("pectin", "19306", 115.0)]
    dish = cook(weighed({"Jam": [*rows, "boil until it weighs 16.4 kg"]}))
    assert float(dish.mix.total_mass[0]) == pytest.approx(16400.0)
    water = amount(dish.mix, "WATER")
    assert 100.0 * (1.0 - water / 16400.0) == pytest.approx(68.0, abs=0.3)
    assert amount(dish.mix, "SUGAR") == pytest.approx(10000.0 * 0.998 + 11050.0 * 0.0489, rel=0.01)
    assert dish.ledgers[0].measured.best == 16400.0


@pytest.mark.parametrize(
    ("way", "minutes", "kept"),
    # USDA Table of Nutrient Retention Factors, Release 6 (2007), alcohol.
    [("stored", 720, 70), ("stirred", 0, 85), ("flamed", 1, 75), ("not stirred", 25, 45), ("stirred", 15, 40),
     ("stirred", 30, 35), ("stirred", 60, 25), ("stirred", 90, 20), ("stirred", 120, 10), ("stirred", 150, 5)],
)  # fmt: skip
def test_alcohol_table(way, minutes, kept):
    """Alcohol is kept as the USDA table says, with room for the spread of its six recipes."""
    share = alcohol_kept(way, minutes)
    assert share.best == pytest.approx(kept / 100.0)
    assert share.low < share.best < share.high


@settings(deadline=None)
@given(st.floats(0, 600), st.floats(0, 600))
def test_longer_heat_keeps_no_more_alcohol(one, other):
    """The longer it simmers the less alcohol is left."""
    assert alcohol_kept("stirred", max(one, other)).best <= alcohol_kept("stirred", min(one, other)).best


def test_wine_in_a_stew():
    """Half an hour of simmering leaves 35 % of the alcohol, and its energy leaves with it."""
    rows = [Put("red wine", "14096", 300.0), Put("beef broth", "06008", 300.0)]
    before = pot_of(("wine", "14096", 300.0), ("broth", "06008", 300.0))[0]
    dish = cook(weighed({"Stew": [*rows, "simmer 30 minutes"]}))
    assert amount(dish.mix, "ALC") / amount(before, "ALC") == pytest.approx(0.35)
    gone = streams(dish)["evaporated alcohol"]
    assert gone.amount("ENERC_KCAL").best == pytest.approx(6.93 * gone.amount("ALC").best, rel=0.01)


def test_reducing_to_a_volume():
    """A liquid reduced to 700 ml takes 700 ml, hot, and keeps its salt and solids."""
    rows = [Put("beef broth", "06008", 1500.0), Put("salt", "02047", 5.0)]
    before = pot_of(("broth", "06008", 1500.0), ("salt", "02047", 5.0))[0]
    dish = cook(weighed({"Sauce": [*rows, "simmer until reduced to 700 ml"]}))
    assert float(volume(dish.mix, temperature=HOT)[0]) == pytest.approx(700.0, rel=1e-6)
    assert amount(dish.mix, "NA") == pytest.approx(amount(before, "NA"))
    assert amount(dish.mix, "PROCNT") == pytest.approx(amount(before, "PROCNT"))


@pytest.mark.parametrize(
    ("sentence", "share"), [("reduce by half", 0.5), ("reduce to a third", 1 / 3), ("boil down from 5 pints to 2", 0.4)]
)
def test_reducing_by_a_share(sentence, share):
    """A share is of the volume."""
    dish = cook(weighed({"Sauce": [Put("beef broth", "06008", 1500.0), sentence]}))
    before = pot_of(("broth", "06008", 1500.0))[0]
    ratio = float(volume(dish.mix, temperature=HOT)[0] / volume(before, temperature=HOT)[0])
    assert ratio == pytest.approx(share, rel=1e-6)


def test_the_food_in_a_sauce_is_not_reduced():
    """ "Reduce by half" is about the liquid that meat lies in."""
    rows = [Put("chicken thighs", "05091", 800.0), Put("water", "14411", 800.0), Put("salt", "02047", 4.0)]
    dish = cook(weighed({"Phases": [*rows, "reduce by half"]}))
    assert float(dish.mix.total_mass[0]) == pytest.approx(1204.0, abs=25.0)


def test_a_time_gives_a_wide_interval():
    """Boiling away by time alone is a guess, and its interval says so."""
    dish = cook(weighed({"Soup": [Put("water", "14411", 2000.0), "simmer 1 hour"]}), draws=500)
    gone = streams(dish)["evaporated water"].grams
    assert gone.high / gone.low > 3.0


def test_a_lid_keeps_water_in():
    """Covered, less boils away than uncovered."""

    def left(sentence: str) -> float:
        return float(cook(weighed({"Soup": [Put("water", "14411", 2000.0), sentence]})).mix.total_mass[0])

    assert left("simmer, covered, 1 hour") > left("simmer 1 hour")


def test_a_weight_that_cannot_be_is_a_problem():
    """Less than what is not water cannot be weighed; more than went in neither, unless dry food swelled."""
    rows = [Put("sugar", "19335", 500.0), Put("water", "14411", 100.0)]
    assert [p.code for p in cook(weighed({"Syrup": [*rows, "weighs 300 g"]})).problems] == ["lighter-than-dry"]
    roast = cook(weighed({"Roast": [Put("carrots", "11124", 500.0), "roast 40 minutes, weighs 700 g"]}))
    assert "heavier-than-added" in [p.code for p in roast.problems]
    rice = cook(weighed({"Rice": [Put("rice", "20044", 200.0), "steam 20 minutes, weighs 560 g"]}))
    assert float(rice.mix.total_mass[0]) == pytest.approx(560.0) and not rice.problems


def test_energy_of_a_syrup_stays_when_water_goes():
    """Boiling down changes water and weight and nothing else."""
    rows = [Put("sugar", "19335", 500.0), Put("water", "14411", 500.0)]
    dish = cook(weighed({"Syrup": [*rows, "boil down until it weighs 700 g"]}))
    before = pot_of(("sugar", "19335", 500.0), ("water", "14411", 500.0))[0]
    for key in ("ENERC_KCAL", "SUGAR", "CHOCDF", "NA"):
        assert amount(dish.mix, key) == pytest.approx(amount(before, key))
    assert amount(dish.mix, "WATER") == pytest.approx(amount(before, "WATER") - 300.0)


def test_water_to_make_up_a_volume():
    """ "Make up to a litre with water" adds water."""
    dish = cook(weighed({"Brine": [Put("salt", "02047", 50.0), "make up to 1 litre with water"]}))
    assert float(volume(dish.mix)[0]) == pytest.approx(1000.0, rel=0.01)


@pytest.mark.parametrize("said", ["boil to setting point, about 15 minutes", "boil until it sets on a cold plate"])
def test_jam_is_boiled_to_its_solids_and_not_by_the_clock(said):
    """Equal weights of fruit and sugar at the setting point have some 68 % of solids (Practical Action, jam sheet)."""
    recipe = f"# Test\n- 1 kg raspberries {{1000 g}}\n- 1 kg sugar\n> Bring to the boil and {said}.\n"
    dish = cook(weigh(read_recipe(recipe)))
    solids = 1.0 - dish.mix.constituent("water")[0].sum() / dish.mix.total_mass[0]
    assert solids == pytest.approx(0.68, abs=0.04)


@pytest.mark.parametrize("end", ["Boil until reduced to 1 litre.", "weighs 1 kg"])
def test_a_measured_pot_overrules_what_was_guessed_to_boil_away(end):
    """Six hours of simmering are a guess; the litre that is measured in the end is in the pot."""
    recipe = (
        f"# Test\n- 1 kg beef bones\n- 3 litres water\n> Simmer for 8 hours. Strain, discarding the solids. {end}\n"
    )
    dish = cook(weigh(read_recipe(recipe)))
    assert dish.mix.total_mass[0] == pytest.approx(1000.0, rel=0.02)
    assert max(imbalance(ledger) for ledger in dish.ledgers) < 1e-9
    assert "water taken up" not in {entry.name for ledger in dish.ledgers for entry in ledger.added}
