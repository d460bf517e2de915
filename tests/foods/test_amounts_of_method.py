"""A line without an amount takes that of the method where this says it, and nothing else."""

import pytest

from labeler.foods.resolve import weigh
from labeler.parsing import read_recipe


def _weighed(lines, method):
    rows = "".join(f"- {line}\n" for line in lines)
    weighed = weigh(read_recipe(f"# Noodles\n\n## Ingredients\n{rows}\n## Method\n{method}\n"))
    return [line for part in weighed.parts for line in part.lines]


@pytest.mark.parametrize(
    ("line", "said", "written"),
    [
        ("Butter", "Melt **6 tbsp butter** in a pan.", "6 tbsp butter"),
        ("Garlic, sliced", "Fry 8 cloves of garlic for 2 minutes.", "8 cloves of garlic, sliced"),
        ("soy sauce", "Toss with *2 tablespoons* soy sauce.", "2 tablespoons soy sauce"),
        ("unsalted butter", "Melt 50 g butter. Stir the butter in.", "50 g unsalted butter"),
        ("Butter", "Turn off the heat and add a couple tablespoons of cold butter.", "2 tbsp butter"),
        ("sugar", "Boil 100 g sugar. Stir in 20 g sugar.", "120 g sugar"),
    ],
)
def test_an_amount_that_only_the_method_gives_is_that_of_the_line(line, said, written):
    """Law: the line weighs what it would with the amount written in it, and says where that comes from."""
    told, _ = _weighed([line, "400 g noodles"], f"1. {said}\n2. Boil the noodles.")
    stated, _ = _weighed([written, "400 g noodles"], "1. Boil the noodles.")
    assert (told.match.food, told.grams.best) == (stated.match.food, pytest.approx(stated.grams.best))
    assert [problem.code for problem in told.problems if problem.code != "fat-of-today"] == ["amount-of-method"]


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (["butter"], "Melt 1 tbsp butter. Serve with the remaining butter."),
        (["soy sauce"], "Marinate in 2 tbsp soy sauce. Season with more soy sauce."),
        (["butter"], "Spread each roll with 1 tsp butter."),
        (["salt and pepper"], "Season with 1 tsp salt."),
        (["peanut butter"], "Melt 20 g butter."),
        (["ginger garlic paste"], "Fry 1 tbsp ginger."),
        (["olive oil", "sesame oil"], "Heat 2 tbsp oil."),
        (["30 g butter"], "Melt 20 g butter."),
        (["butter"], "Do not add 200 g butter."),
    ],
)
def test_an_amount_of_another_food_or_of_a_part_is_not_that_of_the_line(lines, said):
    """What is left, what is of each piece, of another food, or of two lines alike, settles nothing."""
    found = _weighed([*lines, "400 g noodles"], f"1. {said}\n2. Boil the noodles.")
    assert "amount-of-method" not in [problem.code for line in found for problem in line.problems]


@pytest.mark.parametrize("said", ["the spices (2 tsp cumin, 1 tsp coriander)", "2 tsp cumin and 1 tsp coriander"])
def test_an_amount_in_a_bracket_counts_once(said):
    """What a name for several foods lists is the amount of each, and not twice that."""
    cumin, _, _ = _weighed(["cumin", "coriander", "400 g noodles"], f"1. Toss the noodles with {said}.")
    stated, _ = _weighed(["2 tsp cumin", "400 g noodles"], "1. Boil the noodles.")
    assert cumin.grams.best == pytest.approx(stated.grams.best)
