"""Numbers of any length, as they are read."""

from __future__ import annotations

import math

import pytest

import labeler
from labeler.parsing.numbers import read_quantity
from labeler.parsing.row_shapes import ends_with_amount

_LONG = "9" * 400


@pytest.mark.parametrize("text", [_LONG, f"1/{_LONG}", f"{_LONG}/{_LONG}", f"{_LONG}-{_LONG}9"])
def test_a_number_of_any_length_is_a_number(text):
    """A longer run of digits than any float holds is read as the largest number that is read, or as none."""
    found = read_quantity(text, 0)
    assert found is None or (math.isfinite(found.low) and math.isfinite(found.high))


@pytest.mark.parametrize(
    "text",
    [
        "- {0} kg salt\n",
        "- {0} g salt\n",
        "- 100 g salt {{{0} g}}\n",
        "- 100 g salt\n> bake {0} minutes at {0} C\n",
        "- 100 g salt\n> add {0} g butter\n",
        "- 100 g salt\n- 9 g flour\n> weighs {0} kg\n",
    ],
)
def test_no_number_is_too_long_for_a_recipe(text):
    """Whatever is written of a line or a step, figures are finite and nothing is raised."""
    made = labeler.analyse(labeler.read_recipe("# Salt\n" + text.format("9" * 400)), draws=20)
    assert all(math.isfinite(figure.best) for figure in made.batch.values())


def test_a_word_of_any_length_is_soon_no_amount():
    """A word is looked back into so far and no further: a row of one long word is read in linear time."""
    assert not ends_with_amount("x" * 200_000)
    assert ends_with_amount("Plain flour ..... 225 g")
