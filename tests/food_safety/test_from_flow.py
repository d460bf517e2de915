"""What an executed flow tells of food safety: raw juice that is served, and a crust that bakes and is not eaten."""

from __future__ import annotations

import pytest

from labeler.food_safety import cautions
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe

WINGS = (
    "# Wings\n- 800 g chicken wings\n- 120 ml soy sauce\n- 60 g brown sugar\n> stir the sugar into the soy sauce\n"
    "> marinate the wings in it for 2 hours in the fridge\n> lift the wings out and keep the marinade\n"
    "> roast the wings at 200 C for 40 minutes\n"
)


def codes(text: str) -> set[str]:
    return {caution.code for caution in cautions(weigh(read_recipe(text)), market="us")}


@pytest.mark.parametrize(
    ("served", "cautioned"),
    [
        ("> spoon the marinade over the wings and serve\n", True),
        ("> boil the marinade for 5 minutes and spoon it over the wings\n", False),
        ("> throw the marinade away and serve the wings\n", False),
    ],
)
def test_a_marinade_of_raw_poultry_is_raw_until_it_is_boiled(served, cautioned):
    """What raw poultry lay in calls for the caution of raw food where it is served without being boiled."""
    assert ("raw-animal-food" in codes(WINGS + served)) is cautioned


def test_the_egg_white_of_a_salt_crust_is_baked_and_not_eaten():
    """A crust that is broken off bakes with what is in it, so its egg calls for no caution of raw egg."""
    found = codes(
        "# Bream\n- 1 whole sea bream, 800 g\n- 1.2 kg coarse salt\n- 3 egg whites\n"
        "> beat the egg whites into the salt\n> lay half of it on a tray, put the bream on it and cover with the rest\n"
        "> bake at 210 C for 30 minutes\n"
    )
    assert "raw-animal-food" not in found


def test_flour_that_simmers_in_gravy_is_not_raw():
    """Flour whisked into hot stock off the heat is cooked where the gravy simmers afterwards."""
    found = codes(
        "# Gravy\n- 400 ml beef stock\n- 2 tbsp flour\n> bring the stock to the boil and take it off the heat\n"
        "> whisk in the flour, then simmer the gravy for 6 minutes\n"
    )
    assert "raw-flour" not in found


@pytest.mark.parametrize(
    ("line", "bones"),
    [
        ("2 whole sea bream", True),
        ("4 herrings, left whole", True),
        ("400 g cod, poached in whole milk", False),
        ("200 g smoked salmon, 1 whole pack", False),
    ],
)
def test_a_fish_has_its_bones_where_it_is_whole_itself(line, bones):
    """Bones are warned of for a whole fish, not for whole milk or a whole pack."""
    assert ("bones-label" in codes(f"# Fish\n- {line}\n> bake at 200 C for 20 minutes\n")) is bones
