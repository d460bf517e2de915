"""Yolks or whites of a line of whole eggs; dishes of our own.

Shares are of dry matter: a yolk has two thirds of that of an egg (SR28).
"""

from __future__ import annotations

import pytest
from told_dishes import Told, check, made

DISHES = {
    "a custard of the yolks": Told(
        "- 6 eggs\n- 100 g sugar\n- 500 ml cream",
        "Whisk the yolks with the sugar. Heat the cream, pour it over the yolks and stir until thick.",
        {"6 eggs": (0.6, 0.7)},
        weight=(620.0, 720.0),
        problems=frozenset({"portion-left-over"}),
    ),
    "a meringue of the whites": Told(
        "- 4 eggs\n- 250 g sugar",
        "Whisk the egg whites until stiff, add the sugar and bake at 100C for 90 minutes.",
        {"4 eggs": (0.2, 0.55)},
        weight=(250.0, 400.0),
        problems=frozenset({"portion-left-over"}),
    ),
    "separated, and both go in": Told(
        "- 4 eggs\n- 200 g sugar\n- 500 g mascarpone",
        "Separate the eggs. Beat the yolks with the sugar and mascarpone. Whisk the whites and fold in.",
        {"4 eggs": (0.98, 1.0)},
        weight=(880.0, 930.0),
    ),
    "eggs are eggs": Told(
        "- 6 eggs\n- 100 g butter",
        "Fry the eggs in the butter for 3 minutes.",
        {"6 eggs": (0.98, 1.0)},
        weight=(330.0, 410.0),
    ),
    "separated in the line": Told(
        "- 3 eggs, separated\n- 150 g sugar\n- 200 g chocolate",
        "Melt the chocolate. Stir in the yolks and sugar. Whip the whites and fold in.",
        {"3 eggs": (0.98, 1.0)},
        weight=(490.0, 520.0),
    ),
    "yolks that are mashed and piled back": Told(
        "- 8 eggs\n- 100 g mayonnaise\n- 10 g mustard",
        "Boil the eggs for 10 minutes, cool and halve. Mash the yolks with the mayonnaise and mustard and pile back.",
        {"8 eggs": (0.98, 1.0)},
        weight=(450.0, 520.0),
    ),
    "whites for another day": Told(
        "- 2 eggs\n- 300 ml oil\n- 20 g mustard\n- 15 ml lemon juice",
        "Separate the eggs and keep the whites for another day. Whisk the yolks with the mustard, then "
        "whisk in the oil drop by drop. Add the lemon juice.",
        {"2 eggs": (0.6, 0.7), "300 ml": (0.98, 1.0)},
        weight=(330.0, 370.0),
    ),
    "the whites of the eggs": Told(
        "- 3 eggs\n- 300 g sugar\n- 200 g almonds, ground",
        "Whip the whites of the eggs to peaks, fold in the sugar and almonds and bake at 160C for 30 minutes.",
        {"3 eggs": (0.2, 0.55)},
        weight=(520.0, 610.0),
        problems=frozenset({"portion-left-over"}),
    ),
    "the yolk as a sign": Told(
        "- 3 eggs\n- 300 g flour\n- 100 ml milk",
        "Beat the eggs with the milk, stir in the flour and fry until the yolk is set.",
        {"3 eggs": (0.98, 1.0)},
    ),
    "yolks of a line of their own": Told(
        "- 5 eggs\n- 2 egg yolks\n- 500 ml milk\n- 100 g sugar",
        "Whisk the eggs, yolks and sugar. Heat the milk and pour it over. Bake at 150C for 40 minutes.",
        {"5 eggs": (0.98, 1.0), "2 egg": (0.98, 1.0)},
    ),
    "whites that are discarded": Told(
        "- 4 eggs\n- 200 g sugar\n- 500 g mascarpone\n- 200 g ladyfingers",
        "Separate the eggs. Beat the yolks with the sugar and the mascarpone. Discard the whites. Layer "
        "with the ladyfingers.",
        {"4 eggs": (0.6, 0.7)},
    ),
}


@pytest.mark.parametrize("dish", DISHES)
def test_eggs_are_parted_where_one_side_is_used(dish: str) -> None:
    """A line of eggs counts whole but where the method takes the yolks or the whites alone."""
    check(DISHES[dish])


@pytest.mark.parametrize(
    "method",
    [
        "Mix all the ingredients to a dough. Brush with egg yolk and bake for 25 minutes.",
        "Heat the butter. Crack them in. Spoon the hot butter over the yolks and fry for 3 minutes.",
        "Put everything into a bowl and whisk. Bake for 25 minutes. The yolks should be set.",
    ],
)
def test_eggs_that_go_in_with_all_else_are_whole(method: str) -> None:
    """A yolk that is named beside leaves the eggs where "everything" or an act that opens them has put them."""
    _, dish = made("- 3 eggs\n- 200 g flour\n- 50 g butter", method)
    assert not any("white" in item.name for item in dish.mix.items)
