"""Short ways to write a line, in plainer words."""

import pytest

from labeler.parsing import read_line


@pytest.mark.parametrize("text", ["S&P", "s & p", "S+P to taste", "s and p"])
def test_letters_for_salt_and_pepper(text):
    """The letters that cooks write for salt and pepper are both."""
    assert read_line(text).name == "salt and pepper"


@pytest.mark.parametrize(
    ("text", "name", "low", "unit"),
    [
        ("lemon, juice of half", "lemon juice", 0.5, None),
        ("limes (juice and zest of 2)", "lime juice and lime zest", 2, None),
        ("Egg (1, beaten)", "Egg", 1, None),
        ("Onion (1 large, chopped)", "Onion", 1, None),
        ("815. g flour", "flour", 815, "gram"),
    ],
)
def test_an_amount_behind_its_food(text, name, low, unit):
    """How many stands in brackets or behind "of", and a full stop behind a figure ends nothing."""
    line = read_line(text)
    assert (line.name, line.amounts[0].low, line.amounts[0].unit) == (name, low, unit)


def test_a_fruit_and_its_zest_is_the_fruit():
    """What belongs to the food is no other food."""
    assert (read_line("a lemon and its zest").name, read_line("a lemon and its zest").note) == (
        "lemon",
        "with its zest",
    )
