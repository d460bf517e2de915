"""Fruit that boils with sugar boils in its own juice: what leaves the pot goes by its surface and its setting point."""

from __future__ import annotations

import pytest

from labeler.cooking.pipeline import cook
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe

FRUIT = "# Plum jam\n- 1 kg plums {1000 g}\n- 800 g sugar\n"
SPLASHES = ["", "- 10 ml lemon juice\n", "- 50 ml lemon juice\n", "- 300 ml water\n", "- 1 litre water\n"]


def jam(splash: str, method: str):
    return cook(weigh(read_recipe(f"{FRUIT}{splash}> {method}\n"))).mix


def lost(splash: str, method: str) -> float:
    """Grams that boil away."""
    put_in = float(jam(splash, "Stir together.").total_mass[0])
    return put_in - float(jam(splash, method).total_mass[0])


@pytest.mark.parametrize("method", ["Boil for 30 minutes.", "Simmer for 45 minutes.", "Cook for 20 minutes."])
def test_more_liquid_never_means_that_less_boils_away(method):
    """A splash of lemon juice takes nothing from what 30 minutes of boiling drive out of fruit and sugar."""
    grams = [lost(splash, method) for splash in SPLASHES]
    assert grams == sorted(grams) and grams[0] > 80.0, grams


@pytest.mark.parametrize("splash", SPLASHES)
@pytest.mark.parametrize(
    "end",
    [
        "Boil for 30 minutes until set.",
        "Boil until it sets.",
        "Cook until thick.",
        "Boil until a drop sets on a cold plate, 30 minutes.",
        "Boil until a teaspoon of it wrinkles on a cold plate.",
    ],
)
def test_jam_that_sets_has_the_solids_of_jam(splash, end):
    """Set or thick, fruit with sugar holds 60 to 71 % of solids, however much water it was boiled with."""
    mix = jam(splash, end)
    solids = 1.0 - float(mix.constituent("water")[0].sum() / mix.total_mass[0])
    assert 0.6 < solids < 0.71


def test_a_compote_that_is_thick_is_no_jam():
    """With a tenth of sugar, thick fruit is not boiled down to what sets."""
    text = "# Compote\n- 1 kg apples {1000 g}\n- 100 g sugar\n- 100 ml water\n> Simmer 20 minutes until thick.\n"
    mix = cook(weigh(read_recipe(text))).mix
    assert float(mix.total_mass[0]) > 800.0
