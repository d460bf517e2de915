"""Short ways to write a line, in plainer words."""

import pytest

from labeler.parsing import read_line


@pytest.mark.parametrize("text", ["S&P", "s & p", "S+P to taste", "s and p"])
def test_letters_for_salt_and_pepper(text):
    """The letters that cooks write for salt and pepper are both."""
    assert read_line(text).name == "salt and pepper"
