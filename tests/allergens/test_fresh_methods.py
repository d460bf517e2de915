"""What a method only compares with, pokes at or makes of its own list is no food that it brings."""

from __future__ import annotations

import pytest

from labeler.allergens.assess import assess
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe

LIST = "## Ingredients\n### Dough\n- 2 cups masa harina\n- 1 cup water\n### Filling\n- 1 cup black beans\n\n## Method\n"


@pytest.mark.parametrize(
    "sentence",
    [
        "Stir until it is the color of peanut butter.",
        "Poke a hole in the middle and poke another beside it.",
    ],
)
def test_it_adds_no_allergen(sentence: str) -> None:
    assert not assess(weigh(read_recipe(f"{LIST}{sentence}\n"))).contains


def test_what_the_worth_of_eggs_measures_is_no_egg() -> None:
    recipe = read_recipe("- 2 eggs worth of egg replacer\n- 100 g oats\n")
    assert recipe.parts[0].lines[0].name == "egg replacer"
