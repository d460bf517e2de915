"""What stands behind the name of a food."""

import pytest

from labeler.parsing import read_line


@pytest.mark.parametrize(
    ("text", "name"), [("500 ml whey from the cheese", "whey"), ("2 cups stock from the bones", "stock")]
)
def test_where_a_food_comes_from_is_no_part_of_its_name(text, name):
    """What stands behind "from the" is a note."""
    assert read_line(text).name == name
