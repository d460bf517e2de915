"""Of a counted fruit goes in what the method takes of it."""

import pytest

from labeler.foods.resolve import weigh
from labeler.parsing import read_recipe


def _foods(method, *lines):
    rows = "".join(f"- {line}\n" for line in lines)
    weighed = weigh(read_recipe(f"# Test\n\n## Ingredients\n{rows}\n## Method\n1. {method}\n"))
    return [[one.match.food for one in (line, *line.also)] for part in weighed.parts for line in part.lines]


@pytest.mark.parametrize(
    ("method", "food"),
    [
        ("Beat the eggs with the orange juice.", ["09206"]),
        ("Beat the eggs with the juice of the orange.", ["09206"]),
        ("Beat the eggs with the orange juice and the orange zest.", ["09206", "09216"]),
    ],
)
def test_a_fruit_of_which_the_method_takes_the_juice_is_juice(method, food):
    """The line weighs and counts as the juice of one, and no flesh is left over that nobody eats."""
    assert _foods(method, "2 eggs", "1 orange")[1] == food


@pytest.mark.parametrize(
    ("method", "lines"),
    [
        ("Slice the orange and pour over the orange juice.", ["1 orange"]),
        ("Beat the eggs with the orange juice.", ["1 orange, sliced"]),
        ("Beat the eggs with the orange juice.", ["1 orange", "100 ml orange juice"]),
        ("Beat the eggs with the sugar.", ["1 orange"]),
        ("Beat the eggs with the orange zest.", ["1 orange"]),
    ],
)
def test_a_fruit_that_may_go_in_whole_stays_whole(method, lines):
    """Where the method or another line names more than the juice, nothing is taken off the fruit here."""
    assert _foods(method, "2 eggs", *lines)[1] == ["09200"]
