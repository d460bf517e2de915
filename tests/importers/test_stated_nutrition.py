"""Nutrition that somebody else printed with a recipe is read, and nothing is computed from it."""

import pytest

from labeler.as_json import nutrition_object
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe
from labeler.parsing.stated_nutrition import StatedOf, stated_nutrition


def recipe_with(nutrition: str):
    """A recipe with such a block."""
    return read_recipe(f"# Mash\n\nServes 2\n\n## Ingredients\n- 500 g potatoes\n\n## Nutrition\n{nutrition}\n")


@pytest.mark.parametrize(
    ("text", "tag", "amount", "of"),
    [
        ("Calories: 640kcal | Protein: 18g", "PROCNT", 18.0, StatedOf.SERVING),
        ("210 kcal, 5 g fat", "FAT", 5.0, StatedOf.SERVING),
        ("Energy 900 kJ per 100 g", "ENERC_KCAL", 215.1, StatedOf.HUNDRED_GRAMS),
        ("Salt: 1.5 g", "NA", 600.0, StatedOf.SERVING),
        ("sodiumContent 0,4 g", "NA", 400.0, StatedOf.SERVING),
        ("For the whole recipe: 1200 calories", "ENERC_KCAL", 1200.0, StatedOf.BATCH),
    ],
)  # fmt: skip
def test_a_printed_figure_is_read_in_the_unit_of_the_table(text, tag, amount, of):
    """Whichever stands first, the name or the figure; kJ are 4.184 to the kcal, a gram of salt is 400 mg of sodium."""
    found = {(one.tag, one.of): one.amount for one in stated_nutrition(recipe_with(text))}
    assert found[tag, of] == pytest.approx(amount, abs=0.05)


def test_a_percentage_of_a_day_is_no_amount():
    """ "Iron: 12 %" says nothing in milligrams."""
    assert stated_nutrition(recipe_with("Iron: 12 % | Calcium: 8%")) == ()


def test_nothing_is_computed_from_what_was_printed():
    """The same recipe with and without the block has the same figures, and the block is shown beside them."""
    with_it, without = (analyse(recipe_with(text), draws=0) for text in ("Calories: 9999", "none"))
    assert with_it.per_serving == without.per_serving
    assert nutrition_object(with_it)["stated_elsewhere"][0]["amount"] == 9999
    assert "stated_elsewhere" not in nutrition_object(without)
