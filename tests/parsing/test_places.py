"""Words beside a phrase that are no food: a length of time with a fraction."""

import pytest
from method_help import deeds


@pytest.mark.parametrize(
    ("sentence", "minutes"),
    [
        ("Bake for an hour and a half.", 90.0),
        ("An hour and a half in the oven.", 90.0),
        ("Leave for a day and a half.", 2160.0),
        ("Give it an hour and a quarter at 150 °C.", 75.0),
    ],
)
def test_the_half_of_an_hour_is_no_half_of_the_dish(sentence, minutes):
    """ "And a half" behind a time belongs to the time."""
    (one,) = deeds(sentence)
    assert one.minutes.best == minutes
    assert all(mention.quantity.share is None for mention in one.mentions)
