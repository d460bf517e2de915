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


@pytest.mark.parametrize("second", [["Amount", "Ingredient"], ["Ingredient", "Amount"]])
def test_a_further_head_opens_the_columns_again(second):
    """The rows below it are in its own order, and it is no ingredient itself."""
    table = TableReader()
    assert list(table.rows(["Ingredient", "Amount"], is_head=True)) == []
    assert list(table.rows(second, is_head=True)) == []
    cells = {"Ingredient": "Flour", "Amount": "500 g"}
    assert list(table.rows([cells[head] for head in second], is_head=False)) == [(TableRowKind.LINE, "500 g Flour")]


def test_a_further_head_that_begins_with_no_column_names_the_part():
    """ "Dressing | Amount" is the dressing's head."""
    table = TableReader()
    list(table.rows(["Ingredient", "Amount"], is_head=True))
    assert list(table.rows(["Dressing", "Amount"], is_head=True)) == [(TableRowKind.PART, "Dressing")]
    assert list(table.rows(["Cream", "200 g"], is_head=False)) == [(TableRowKind.LINE, "200 g Cream")]


def test_a_row_whose_first_cell_is_marked_is_still_an_ingredient():
    """Pages mark the food of each row as its head."""
    table = TableReader()
    list(table.rows(["Ingredient", "Amount"], is_head=True))
    assert list(table.rows(["Flour", "500 g"], is_head=True)) == [(TableRowKind.LINE, "500 g Flour")]
