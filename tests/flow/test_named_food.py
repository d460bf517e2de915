"""A step that names a food acts on that food alone, whether by its name, its head word or a word for its kind."""

import pytest

from labeler.cooking.pipeline import cook
from labeler.foods.resolve import weigh
from labeler.parsing import read_recipe

LINES = "- 200 g rice noodles\n- 100 g almonds\n- 2 onions\n- 150 g mackerel fillets\n- 100 g lentils\n"


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("toast the nuts", "almonds"), ("toast the almonds", "almonds"), ("boil the noodles 8 minutes", "noodles"),
        ("boil noodles for 8 minutes", "noodles"), ("grill the fish", "mackerel"), ("fry the vegetables", "onions"),
        ("boil the pulses 30 minutes", "lentils"), ("grill the seafood 5 minutes", "mackerel"),
    ],
)  # fmt: skip
def test_a_step_acts_on_the_food_that_it_names(said, meant):
    """Nothing else loses water or nutrients by it."""
    cooked = cook(weigh(read_recipe(f"## Bowl\n{LINES}> {said}\n")))
    touched = {item.name for item in cooked.mix.items if item.cooked and "water" not in item.name}
    assert len(touched) == 1 and meant in touched.pop(), touched
