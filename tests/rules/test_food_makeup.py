"""Reference amounts by name and composition: foods of every kind, each with the category that table 2 puts it in."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from labeler.foods.makeup_class import makeup_classes, makeup_classes_of
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe
from labeler.rules.food_makeup import loose_density, makeup_of
from labeler.rules.loading.reader import Where
from labeler.rules.makeup import Makeup, conditions
from labeler.rules.model import RuleFileError
from labeler.rules.reference_amounts import propose_reference
from labeler.rules.requirements import serving_of
from labeler.rules.serving import SURE

FOODS = yaml.safe_load((Path(__file__).parents[1] / "data" / "reference_foods.yaml").read_text(encoding="utf-8"))
HERE = Where(Path("x.csv"))


def nutrition_of(food):
    """The recipe of a food, and its nutrition."""
    lines = "\n".join(line if line.startswith(">") else f"- {line}" for line in food["lines"])
    head = yaml.safe_dump({"title": food["title"], **food["head"]}, allow_unicode=True, sort_keys=False)
    recipe = read_recipe(f"---\n{head}---\n{lines}\n")
    return recipe, analyse(recipe, market="us")


@pytest.mark.parametrize("food", FOODS, ids=[food["title"] for food in FOODS])
def test_a_food_falls_under_its_reference_amount(food) -> None:
    """Title and composition together name the category; `statement` is the serving where the file gives one."""
    recipe, nutrition = nutrition_of(food)
    serving = serving_of(recipe, nutrition, "us")
    assert serving.reference is not None
    assert serving.reference.data["id"] == food["reference"]
    assert (serving.confidence >= SURE) == food.get("sure", True)
    if "statement" in food:
        assert (serving.statement, serving.servings) == (food["statement"], food["servings"])


def test_the_file_of_foods_is_of_every_kind() -> None:
    """Forty foods and more, of at least thirty categories."""
    assert len(FOODS) >= 40
    assert len({food["reference"] for food in FOODS}) >= 30


def test_a_name_that_the_composition_denies_is_refused() -> None:
    """Rhubarb butter is no fat; without composition its name says so."""
    assert propose_reference("Rhubarb butter")[0].rule.data["id"] == "fats"
    fruit = Makeup({"vegetable": 70.0, "sugar": 30.0}, {"total_fat": 0.2, "total_sugar": 40.0, "moisture": 55.0})
    assert propose_reference("Rhubarb butter", makeup=fruit)[0].rule.data["id"] == "jams"


def test_a_condition_reads_as_it_is_written() -> None:
    """Shares add up, figures are compared, and a figure that is not known meets nothing."""
    several, moist = conditions("fruit+sugar >= 50; moisture <= 30", HERE)
    makeup = Makeup({"fruit": 30.0, "sugar": 20.0}, {})
    assert several.holds(makeup)
    assert not moist.holds(makeup)
    assert moist.holds(Makeup({}, {"moisture": 30.0}))
    assert str(several) == "fruit and sugar at least 50 %"


@pytest.mark.parametrize(
    "text", ["fruits >= 5", "fruit > 5", "moisture+fruit >= 3", "total_fat+moisture >= 3", "fruit"]
)
def test_a_condition_that_cannot_be_read_is_refused(text: str) -> None:
    """An unknown class, another sign, or a sum with a figure is an error of the file."""
    with pytest.raises(RuleFileError):
        conditions(text, HERE)


def test_classes_overlap_where_foods_do() -> None:
    """A tomato is a vegetable too, an almond a nut and no fat, and salt is salt (SR28 11529, 12061, 02047)."""
    assert makeup_classes_of("11529") == {"tomato", "vegetable"}
    assert makeup_classes_of("12061") == {"nut"}
    assert makeup_classes_of("02047") == {"salt"}
    assert {"flour", "fruit", "meat", "chilli"} <= makeup_classes()


def test_shares_are_of_what_went_in() -> None:
    """Classes of one recipe: half flour, a quarter of butter and of sugar."""
    food = {
        "title": "Shortbread",
        "head": {"makes": "20 cookies"},
        "lines": ["200 g plain flour", "100 g butter", "100 g sugar"],
    }
    makeup = makeup_of(nutrition_of(food)[1])
    assert makeup.shares["flour"] == pytest.approx(50.0)
    assert makeup.shares["sugar"] == pytest.approx(25.0)


def test_a_cup_of_grains_is_lighter_than_its_solids() -> None:
    """Rolled oats: SR28 08120 has 81 g in a cup of 236.6 mL, 0.34 g/mL, where the grain itself is above 1."""
    food = {"title": "Oats", "head": {"makes": "1 bag"}, "lines": ["500 g rolled oats"]}
    assert loose_density(nutrition_of(food)[1]) == pytest.approx(81 / 236.6, rel=0.15)
