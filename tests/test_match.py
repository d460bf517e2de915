"""Which food a name means."""

from __future__ import annotations

from labeler.foods.match import find, match, split_foods


def test_a_plain_name_means_the_plain_thing() -> None:
    """Kosher salt is table salt, and garlic cloves are raw garlic."""
    assert match("kosher salt").food == "02047"
    assert match("garlic cloves").food == "11215"


def test_two_foods_in_one_name_are_two() -> None:
    """Salt and pepper are two foods; half and half is one."""
    assert split_foods("salt and pepper") == ("salt", "pepper")
    assert split_foods("half and half") == ("half and half",)


def test_nothing_is_found_for_nothing() -> None:
    """An empty name has no candidates."""
    assert find("") == ()
