"""What of a counted fruit goes in: its juice, its zest."""

import pytest

from labeler.parsing import read_line


@pytest.mark.parametrize(
    "text", ["zest & juice of 1/2 lemon", "juice + zest of 2 limes", "grated zest and juice of 1 orange"]
)
def test_any_sign_joins_zest_and_juice(text):
    """A sign for "and" between the two is read as the word is, and the amount counts the fruit."""
    line = read_line(text)
    assert line.derived == "juice and zest"
    assert [amount.unit for amount in line.amounts] == [None]
