"""Sizes of labels as they are typed."""

import pytest

from labeler.label.make import read_size
from labeler.types import LabelerError


@pytest.mark.parametrize("text", ["0x40", "62.5 x 0.0", "100x5001", "9" * 400 + "x70"])
def test_a_size_that_nothing_is_printed_in_is_refused(text):
    """No side of nothing, none over five metres, none without an end."""
    with pytest.raises(LabelerError, match="nothing of that size"):
        read_size(text)
    assert read_size(" 62.5 x 29 mm") == (62.5, 29.0)
