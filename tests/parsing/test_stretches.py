"""Lines that the method names by where they stand in the list."""

from __future__ import annotations

import pytest
from method_help import method_of

from labeler.parsing.instructions.model import Stretch


@pytest.mark.parametrize(
    ("text", "stretch"),
    [
        ("Combine the first 3 ingredients in a bowl.", Stretch(count=3, first=True)),
        ("Stir in the next two ingredients.", Stretch(count=2)),
        ("Add the leeks and next 4 ingredients.", Stretch("leeks", count=5)),
        ("Add leeks and the next 4 ingredients (leeks through stock).", Stretch("leeks", "stock", count=5)),
    ],
)
def test_a_stretch_of_the_list_is_one_mention(text, stretch):
    """How many lines, from where, and the last where a bracket names it."""
    mentions = method_of(text).instructions[0].mentions
    assert [one.stretch for one in mentions] == [stretch]


def test_what_goes_through_a_food_is_no_stretch():
    """ "Stir the honey through the rice" names a food and where it goes."""
    mentions = method_of("Stir the honey through the butter.").instructions[0].mentions
    assert [(one.name, one.stretch) for one in mentions] == [("honey", None), ("butter", None)]
