"""The columns of a recipe's table."""

import pytest

from labeler.importers.reading import form_of, import_recipe
from labeler.parsing.columns import columns_of, units_of, with_units


@pytest.mark.parametrize(
    ("heads", "units"),
    [
        (["Ingredient", "Amount (g)"], ["", "g"]),
        (["Ingredient", "Grams"], ["", "Grams"]),
        (["Ingredient", "Amount [in ml]"], ["", "ml"]),
        (["Ingredient", "Amount (each)"], ["", ""]),
    ],
)
def test_a_head_says_the_unit_of_its_figures(heads, units):
    """It stands in brackets behind the head, or is the head."""
    assert units_of(heads) == units and columns_of(heads)[0] == "name"


def test_a_bare_figure_is_in_the_unit_of_its_column():
    """A cell with a unit of its own keeps it."""
    assert with_units(["", "g"], ["Salt", "10"]) == ["Salt", "10 g"]
    assert with_units(["", "g"], ["Oil", "2 tbsp"]) == ["Oil", "2 tbsp"]


def test_the_one_column_without_a_head_beside_two_systems_is_the_food():
    """Amounts in units of two lands are of the same food."""
    assert columns_of(["", "Metric", "US"]) == ["name", "", ""]


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("loaf.csv", b"Ingredient,Amount (g)\nRye flour,500\nSalt,10\n"),
        ("loaf.md", b"# Loaf\n\n| Ingredient | Amount (g) |\n|---|---|\n| Rye flour | 500 |\n| Salt | 10 |\n"),
        (
            "loaf.html",
            b"<h1>Loaf</h1><table><tr><th>Ingredient</th><th>Amount (g)</th></tr>"
            b"<tr><td>Rye flour</td><td>500</td></tr><tr><td>Salt</td><td>10</td></tr></table>",
        ),
    ],
)
def test_every_form_of_a_table_reads_the_unit_of_its_head(name, data):
    """500 under "Amount (g)" are grams and no pieces."""
    recipe = import_recipe(data, form_of(data, name), name)
    assert [line.text for line in recipe.parts[0].lines] == ["500 g Rye flour", "10 g Salt"]
