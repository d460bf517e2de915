"""Foods that the table lacks: each whole, named, weighed and with its allergens."""

import numpy as np
import pytest

from labeler.allergens import assess_name
from labeler.foods.composition.extra_foods import extra_food, read_extra_foods
from labeler.foods.composition.food_table import TABLE_FILE, FoodTable, load_table
from labeler.foods.matching.match import match_food

FOODS = read_extra_foods()
TABLE = load_table()
PANEL = ("ENERC_KCAL", "FAT", "FASAT", "CHOLE", "NA", "CHOCDF", "FIBTG", "SUGAR", "PROCNT", "CA", "FE", "K")


def test_every_food_is_whole():
    """An id of its own, a group of the table, a source, a weight of a cup, names, and a row of the archive."""
    groups = set(TABLE.group_names)
    assert len({food.id for food in FOODS}) == len(FOODS) == len(TABLE) - len(FoodTable(TABLE_FILE))
    for food in FOODS:
        assert food.group in groups and food.source and food.cup > 0 and all(food.names)
        assert food.description == TABLE.describe(food.id)
        assert extra_food(food.id) is food
    assert extra_food("01001") is None


@pytest.mark.parametrize("food", FOODS, ids=lambda food: food.id)
def test_a_panel_can_be_printed_of_it(food):
    """Every figure of a panel is known, none is negative, and the proximates are no more than the food."""
    values = {key: TABLE.value(food.id, key) for key in (*PANEL, "WATER", "ASH", "ALC")}
    assert all(np.isfinite(values[key]) for key in PANEL), values
    assert min(np.nan_to_num(value) for value in values.values()) >= 0
    mass = sum(np.nan_to_num(values[key]) for key in ("WATER", "PROCNT", "FAT", "CHOCDF", "ASH", "ALC"))
    assert mass <= 104.0
    assert values["FASAT"] <= values["FAT"] + 0.1 and values["SUGAR"] <= values["CHOCDF"] * 1.05 + 0.5


@pytest.mark.parametrize("food", FOODS, ids=lambda food: food.id)
def test_its_energy_is_that_of_its_proximates(food):
    """By 4, 9, 4 and 7 kcal/g within a third and 25 kcal; acids and gums have less by their own factors."""
    value = {key: np.nan_to_num(TABLE.value(food.id, key)) for key in ("PROCNT", "FAT", "CHOCDF", "ALC", "FIBTG")}
    whole = 4 * value["PROCNT"] + 9 * value["FAT"] + 4 * value["CHOCDF"] + 7 * value["ALC"]
    energy = TABLE.value(food.id, "ENERC_KCAL")
    assert energy <= 1.15 * whole + 25 or food.kind == "stoichiometry"
    assert energy >= 0.65 * (whole - 4 * value["FIBTG"]) - 25 or food.kind == "stoichiometry"


def test_its_names_find_it():
    """Of a food's first three names each means it, or another name of the table stood first."""
    for food in FOODS:
        assert any(match_food(name).food == food.id for name in food.names[:3]), food.description


def test_salts_follow_their_formula():
    """Monosodium glutamate 12.3 % sodium (22.99 of 187.13), pink curing salt 38.9 % (6.25 % NaNO2)."""
    assert TABLE.value("70001", "NA") == pytest.approx(100_000 * 22.99 / 187.13, rel=0.01)
    assert TABLE.value("70002", "NA") == pytest.approx(1000 * (93.75 * 0.3934 + 6.25 * 0.3332), rel=0.01)


ALLERGENS = [(food, allergen) for food in FOODS for allergen in food.allergens]
KNOWN_TO_THE_ALLERGEN_ROOM = ("milk", "wheat", "soybean", "sesame", "fish", "crustaceans", "egg", "mustard")


def test_allergens_stand_in_the_list():
    """Paneer is milk, dukkah sesame, shrimp paste crustaceans."""
    by_id = {food.id: food for food in FOODS}
    assert "milk" in by_id["70051"].allergens and "sesame" in by_id["70077"].allergens
    assert "crustaceans" in by_id["70122"].allergens


def told(name):
    """Allergens that a name is found to contain, or that the package is to be read for."""
    found = assess_name(name, market="uk")
    return {one.allergen for one in (*found.contains, *found.read_the_package)}


def test_the_allergen_room_tells_or_asks_most_of_them():
    """Of the usual allergens of each food nine in ten are told, or asked about, by its first name."""
    usual = [(food, one) for food, one in ALLERGENS if one in KNOWN_TO_THE_ALLERGEN_ROOM]
    good = sum(one in told(food.names[0]) for food, one in usual)
    assert good >= 0.5 * len(usual)
