"""What a run of the kitchen tells the cook."""

import pytest

from labeler.cooking.messages import nothing_left
from labeler.types import Severity


@pytest.mark.parametrize(
    ("put_in", "kept", "said"), [(500.0, 0.0, 1), (500.0, 499.0, 0), (500.0, 50.0, 0), (0.0, 0.0, 0)]
)
def test_a_dish_of_which_nothing_is_left_is_refused(put_in, kept, said):
    """What went in and left nothing was misread; a dish with no lines yet is merely empty."""
    found = nothing_left(put_in, kept)
    assert len(found) == said
    assert all(problem.severity is Severity.REFUSE for problem in found)
