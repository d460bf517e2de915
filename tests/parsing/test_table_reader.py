"""A table row by row."""

import pytest

from labeler.parsing import read_recipe
from labeler.parsing.table_reader import TableReader, TableRowKind


def test_a_bold_cell_alone_names_the_part_that_follows():
    """The rows below it are its ingredients; without bold letters or a colon it is one itself."""
    table = TableReader()
    assert list(table.rows(["Ingredient", "Amount"], is_head=True)) == []
    found = [
        next(table.rows(cells, is_head=False, bold=bold))
        for cells, bold in ((["Dough", ""], [True, False]), (["Flour", "500 g"], []), (["Salt", ""], []))
    ]
    assert found == [(TableRowKind.PART, "Dough"), (TableRowKind.LINE, "500 g Flour"), (TableRowKind.LINE, "Salt")]


@pytest.mark.parametrize("name", ["**Dough**", "Dough:"])
def test_the_parts_of_a_table_are_groups_of_the_recipe(name):
    """A page with such a table has the lines in their groups."""
    table = f"| Ingredient | Amount |\n|---|---|\n| {name} | |\n| Flour | 500 g |\n| Salt | 1 tsp |\n"
    recipe = read_recipe(f"# Loaf\n\n{table}\n## Method\n\nKnead it.\n")
    assert [(line.text, line.group) for line in recipe.parts[0].lines] == [
        ("500 g Flour", "Dough"),
        ("1 tsp Salt", "Dough"),
    ]
