"""A stated weight that cannot be: more than went in, where no step brings water."""

from __future__ import annotations

import pytest

from labeler.cooking.pipeline import cook
from labeler.foods.resolve import weigh
from labeler.label.make import make_label
from labeler.parsing.document import read_recipe
from labeler.types import LabelerError, Severity

CAKE = "# Polenta cake\nserves: 8\n- 250 g polenta\n- 150 g butter\n- 120 g sugar\n"


def dish_of(method: str):
    return cook(weigh(read_recipe(f"{CAKE}{method}\n")))


@pytest.mark.parametrize(
    "method", ["> bake 30 minutes, weighs 4 kg", "> mix\n> bake 30 minutes\n> cool\n> weighs 4 kg"]
)
def test_more_than_went_in_is_not_believed_after_an_oven(method):
    """A slip of the unit makes no thin cake, though polenta would take up water: the weight is refused and not used."""
    dish = dish_of(method)
    told = [problem for problem in dish.problems if problem.code == "heavier-than-added"]
    assert [problem.severity for problem in told] == [Severity.REFUSE]
    assert float(dish.mix.total_mass[0]) < 521.0


def test_a_weight_that_scales_may_differ_by_is_a_question_only():
    """Two per cent more than went in is told, and stops no label."""
    told = [one for one in dish_of("> bake 30 minutes, weighs 530 g").problems if one.code == "heavier-than-added"]
    assert [problem.severity for problem in told] == [Severity.PROBLEM]


def test_food_that_was_boiled_may_weigh_more_than_its_lines():
    """Water that no line lists is what the weight shows."""
    dish = cook(weigh(read_recipe("# Rice\n- 200 g rice\n> boil 15 minutes\n> drain\n> weighs 560 g\n")))
    assert float(dish.mix.total_mass[0]) == pytest.approx(560.0, rel=0.01)


def test_no_final_label_of_a_weight_that_cannot_be():
    """What would be printed is a tenth of the truth: only a draft is made of it, and only where that is asked for."""
    recipe = read_recipe(f"{CAKE}> bake 30 minutes, weighs 4 kg\n")
    with pytest.raises(LabelerError, match="cannot weigh 4000 g"):
        make_label(recipe, final=True)
