"""Times that open a sentence of the method: they tell when, and the deed behind them is read. No source."""

from __future__ import annotations

import pytest
from method_help import deeds, only, read


@pytest.mark.parametrize("comma", ["", ","])
@pytest.mark.parametrize(
    "opening",
    [
        "In the morning",
        "The next day",
        "Next morning",
        "The following evening",
        "After an hour",
        "After an hour or two",
        "After 30 minutes",
        "Half an hour later",
        "Two days later",
        "An hour before serving",
        "About 20 minutes before serving",
    ],
)
def test_the_deed_behind_a_time_that_opens_a_sentence_is_read(opening, comma):
    """With a comma or without, the time names nothing and is not how long the deed takes."""
    step = only(f"{opening}{comma} top with feta.")
    assert (step.action, [one.name for one in step.mentions], step.minutes) == ("top", ["feta"], None)


@pytest.mark.parametrize(
    "opening", ["After 30 minutes", "After 30 minutes,", "30 minutes later", "30 minutes later,", "Half an hour later"]
)
def test_a_time_that_has_gone_by_is_told_of_what_went_on(opening):
    """Simmering went on for the half hour; what is added then has no time of its own."""
    first, second = deeds(f"Simmer the leeks. {opening} add the kale.")
    assert first.minutes is not None and first.minutes.best == 30
    assert (second.action, second.minutes) == ("add", None)


def test_days_that_have_gone_by_are_no_time_of_heat():
    """Nobody simmers for two days."""
    assert deeds("Simmer the leeks. Two days later top with feta.")[0].minutes is None


@pytest.mark.parametrize(
    ("text", "action"),
    [
        ("Sift the dry ingredients together.", "mix"),
        ("Sift in the flour.", "add"),
        ("Sift over the cocoa.", "top"),
        ("Pot into hot jars.", "store"),
        ("Pot up while hot.", "store"),
    ],
)
def test_sifting_and_potting_are_deeds(text, action):
    """Sifting together mixes; to pot is to fill into jars."""
    assert only(text).action == action


def test_a_pot_is_a_vessel_where_it_is_none():
    """ "Pot and cover" tells two deeds; "add to pot" and "in a pot" none of potting."""
    assert [one.action for one in read("Then pot and cover while hot.").instructions] == ["store", "top"]
    for text in ("Add the kale to pot and stir.", "In a pot, simmer the kale.", "Put the kale in the pan or pot."):
        assert "store" not in [one.action for one in read(text).instructions]


@pytest.mark.parametrize(
    ("time", "minutes"),
    [("1/2 an hour", 30), ("½ an hour", 30), ("1h30", 90), ("1:30 hours", 90), ("an hour and three quarters", 105)],
)
def test_times_are_read_however_they_are_written(time, minutes):
    """Fractions of an hour and hours with minutes."""
    step = only(f"Simmer the kale for {time}.")
    assert step.minutes is not None and step.minutes.best == minutes
