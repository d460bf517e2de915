"""What a table food counts as where a finished food is judged by what it was made of."""

from __future__ import annotations

from labeler.data_files import data_rows
from labeler.foods.composition.food_table import load_table
from labeler.foods.makeup_class import FILE, makeup_classes, makeup_classes_of


def test_a_sweetener_is_no_added_sugar() -> None:
    """One list says which foods are sweeteners, and none of them, polyols included, is added sugar as well."""
    sweet = [food for food in load_table().position if "sweetener" in makeup_classes_of(food)]
    assert sweet and not any("added_sugar" in makeup_classes_of(food) for food in sweet)
    assert "added_sugar" in makeup_classes_of("19335")  # sugars, granulated


def test_the_table_of_classes_is_whole() -> None:
    """A class that another one leaves out is a class, and no row stands twice."""
    rows = data_rows(FILE)
    assert {row["unless"] for row in rows} - {""} <= makeup_classes()
    assert len({tuple(row.values()) for row in rows}) == len(rows)
