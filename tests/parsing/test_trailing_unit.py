"""The unit that stands behind its food, or is its food."""

import pytest

from labeler.parsing import read_line


@pytest.mark.parametrize("text", ["2 beef stocks (in 500 ml hot water)", "2 beef stocks", "2 beef stock cubes"])
def test_counted_stocks_are_cubes(text):
    """Nothing else of a stock is counted."""
    line = read_line(text)
    assert (line.name, line.amounts[0].unit) == ("beef stock cube", "cube")


@pytest.mark.parametrize("name", ["beef bouillon", "beef boullion", "beef broth"])
def test_what_comes_in_cubes_is_what_the_table_of_units_says(name):
    """Its spellings stand with the unit, and nowhere else."""
    assert read_line(f"2 {name}").amounts[0].unit == "cube"
