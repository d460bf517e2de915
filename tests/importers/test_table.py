"""Tables of recipes: one ingredient a row, or one recipe a row."""

from __future__ import annotations

import pytest

from labeler.importers.reading import import_recipe, import_recipes
from labeler.parsing import Recipe


def _read(text: str) -> list[Recipe]:
    return import_recipes(text.encode(), "table", "stall.csv")


def _lines(recipe: Recipe) -> list[str]:
    return [line.text for part in recipe.parts for line in part.lines]


def test_a_recipe_a_row_is_a_recipe_each() -> None:
    """Each title of a table is a recipe with its own servings, lines and steps; a cell's rows stay rows."""
    slaw, cakes = _read(
        "title,servings,ingredients,method\n"
        'Slaw,4,"1 cabbage\n2 tbsp vinegar","Shred the cabbage.\nMix."\n'
        'Pancakes,2,"1 cup flour\n2 eggs","Whisk and fry."\n'
    )
    assert (slaw.title, slaw.head["serves"], _lines(slaw)) == ("Slaw", "4", ["1 cabbage", "2 tbsp vinegar"])
    assert [step.text for part in slaw.parts for step in part.handling] == ["Shred the cabbage.", "Mix."]
    assert (cakes.title, cakes.head["serves"], _lines(cakes)) == ("Pancakes", "2", ["1 cup flour", "2 eggs"])


@pytest.mark.parametrize(
    ("cell", "lines"),
    [
        ('"1 cup milk; 2 eggs"', ["1 cup milk", "2 eggs"]),
        ('"2 cups flour, 1 egg, 3 tbsp butter, melted"', ["2 cups flour", "1 egg", "3 tbsp butter, melted"]),
        ('"[""1 cup milk"", ""2 eggs""]"', ["1 cup milk", "2 eggs"]),
        ("\"['1 cup milk', '2 eggs']\"", ["1 cup milk", "2 eggs"]),
        ('"2 cups flour, sifted"', ["2 cups flour, sifted"]),
    ],
)
def test_a_cell_may_hold_a_whole_list(cell: str, lines: list[str]) -> None:
    """Semicolons, commas before amounts and the brackets of programs part the lines of a cell; none is lost."""
    (recipe,) = _read(f"name,ingredients\nBatter,{cell}\n")
    assert recipe.title == "Batter" and _lines(recipe) == lines


def test_rows_under_one_title_are_of_one_recipe() -> None:
    """A title that is repeated, or stands in the first row alone, makes no recipe of a row."""
    again = _read("recipe,amount,ingredient\nSlaw,1,cabbage\nSlaw,2 tbsp,vinegar\n")
    once = _read("recipe,amount,ingredient\nSlaw,1,cabbage\n,2 tbsp,vinegar\n")
    assert [_lines(one) for one in again] == [_lines(one) for one in once] == [["1 cabbage", "2 tbsp vinegar"]]


def test_of_several_recipes_one_is_taken_and_the_others_are_told() -> None:
    """A table of several recipes says so, like any file that holds more than one."""
    table = b"title,ingredients\nSlaw,1 cabbage\nBatter,1 cup flour; 2 eggs\n"
    recipe = import_recipe(table, "table", "stall.csv")
    assert recipe.title == "Batter" and recipe.problems[0].code == "several-recipes"
