"""What stands behind the name of a food."""

import pytest

from labeler.parsing import read_line


@pytest.mark.parametrize(
    ("text", "name"), [("500 ml whey from the cheese", "whey"), ("2 cups stock from the bones", "stock")]
)
def test_where_a_food_comes_from_is_no_part_of_its_name(text, name):
    """What stands behind "from the" is a note."""
    assert read_line(text).name == name


@pytest.mark.parametrize(
    ("text", "name", "further", "unit"),
    [
        ("200 ml milk and a cup of sugar", "milk", "a cup of sugar", "cup"),
        ("2 tins of tuna and a jar of olives", "tuna", "a jar of olives", "jar"),
        ("300 g leeks plus half a cup of cream", "leeks", "half a cup of cream", "cup"),
        ("300 g leeks and two cloves of garlic", "leeks", "two cloves of garlic", "clove"),
        ("1 kg kipper, skinned and a cup of peas", "kipper", "a cup of peas", "cup"),
        ("200 ml milk and a pinch of salt", "milk", "a pinch of salt", "pinch"),
        ("1 cup cream with a dash of sherry", "cream", "a dash of sherry", "dash"),
        ("2 tbsp olive oil plus a big knob of butter", "olive oil", "a big knob of butter", "knob"),
        ("2 eggs and a splash of milk, beaten", "eggs", "a splash of milk", "splash"),
        ("salt and a pinch of sugar", "salt", "a pinch of sugar", "pinch"),
    ],
)
def test_a_second_food_whose_amount_is_told_in_words_has_it_for_its_own(text, name, further, unit):
    """A cup of sugar beside 200 ml of milk is no 100 ml of sugar."""
    line = read_line(text)
    assert (line.name, [(one.text, one.amounts[0].unit) for one in line.further]) == (name, [(further, unit)])


@pytest.mark.parametrize(
    "text",
    [
        "200 ml cream, or a cup of milk and a knob of butter",
        "1 egg yolk, whisked with a splash of milk",
        "1 pork loin with an inch of fat",
        "2 gurnards and their heads",
    ],
)
def test_what_is_offered_done_or_measured_along_the_food_is_no_second_food(text):
    """Only what goes in beside the food is one."""
    assert read_line(text).further == ()
