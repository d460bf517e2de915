"""How a method says that food is taken out, thrown away, or drained early, other than by the plain verbs."""

from __future__ import annotations

import pytest
from method_help import deeds, method_of

from labeler.parsing.instructions.model import Mood


@pytest.mark.parametrize(
    "text",
    [
        "Put the skins straight in the bin.",
        "The rosemary goes into the bin.",
        "Out it comes and into the bin.",
        "The leek tops go on the compost.",
        "What's in the sieve goes to the hens.",
        "Throw the rosemary in the rubbish.",
        "Tip the stock down the sink.",
        "The parsnip ends can be binned.",
        "Give the skins to the dog.",
        "Lose the rosemary.",
        "The scraps go to the pigs.",
    ],
)
def test_what_goes_where_nobody_eats_it_is_thrown_away(text):
    (step,) = deeds(text)
    assert (step.action, step.mood) == ("discard", Mood.DO)


@pytest.mark.parametrize(
    "text",
    [
        "Fish out the rosemary and toss it.",
        "Lift the prawns out, pat them dry and toss the bag with whatever is in it.",
        "Take the lamb out of the bag. Toss the bag.",
    ],
)
def test_what_is_tossed_with_nothing_after_food_was_taken_out_is_thrown_away(text):
    assert deeds(text)[-1].action == "discard"


@pytest.mark.parametrize(
    "text",
    [
        "Lift out the prawns and toss them with the oil.",
        "Drain the fusilli and toss it.",
        "Seal the bag and toss the bag.",
        "Put the leeks in the pan and the rosemary in the bin.",
        "Rinse the prawns in the sink.",
    ],
)
def test_what_is_mixed_or_put_elsewhere_is_not_thrown_away(text):
    assert "discard" not in [one.action for one in method_of(text).instructions]


@pytest.mark.parametrize("text", ["Hoick out the rosemary.", "Winkle out the chilli.", "Yoink out the leeks."])
def test_a_word_that_nothing_knows_before_out_takes_out(text):
    assert [one.action for one in deeds(text)] == ["lift"]


@pytest.mark.parametrize(
    ("text", "action"),
    [
        ("Drain the fusilli a minute before the packet says.", "drain"),
        ("Drain the fusilli 2 minutes before it is done.", "drain"),
        ("Take out the lamb 20 minutes before you eat.", "lift"),
        ("Drain the kale a few minutes before the leeks.", "drain"),
    ],
)
def test_how_early_a_removal_is_done_is_no_time_that_it_takes(text, action):
    first = deeds(text)[0]
    assert (first.action, first.minutes) == (action, None)
    assert len(first.mentions) == 1


def test_how_long_food_cooks_before_something_is_its_time():
    first = deeds("Simmer 10 minutes before adding the kale.")[0]
    assert first.minutes is not None and first.minutes.best == 10.0


def test_food_that_goes_into_the_water_that_boiled_before_is_boiled():
    found = deeds("Boil the kale 5 minutes. Fish it out. The fusilli goes into the same water.")
    assert found[-1].action == "boil"
