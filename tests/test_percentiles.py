"""Percentiles of ordered values."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from labeler.percentiles import percentile


@given(
    arrays(np.float64, st.integers(1, 60), elements=st.floats(-1e9, 1e9)),
    st.sampled_from((0.0, 0.025, 0.5, 0.975, 1.0)),
)
def test_it_is_numpys_to_the_last_digit(values: np.ndarray, share: float) -> None:
    """The same number as `numpy.percentile` gives by its default, method 7 of Hyndman and Fan."""
    assert percentile(np.sort(values), share) == pytest.approx(float(np.percentile(values, 100 * share)), rel=1e-15)


def test_between_two_values_it_is_linear() -> None:
    """A quarter of the way from the first of five to the last is the second."""
    assert [percentile(np.arange(5.0), share) for share in (0.0, 0.25, 0.3, 1.0)] == [0.0, 1.0, pytest.approx(1.2), 4.0]
