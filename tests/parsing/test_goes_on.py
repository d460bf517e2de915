"""Heat and deeds that words tell without their plain verb: a flame, how long it burns, what goes and what is left."""

from __future__ import annotations

import pytest
from method_help import deeds, method_of

from labeler.parsing.instructions.actions import Heat, action
from labeler.parsing.instructions.model import Extent, Mark, Mood, Role


@pytest.mark.parametrize(
    "text",
    [
        "Put the lid on and leave the lamb over the lowest flame for an hour.",
        "Let it sit over the smallest flame for an hour.",
        "Then an hour on the lowest flame.",
        "Set the lamb over the lowest flame. This takes an hour.",
        "Lay the lamb in a pan, turn the gas to its lowest, cover and wait an hour.",
        "Put the lamb in a pan and the gas on the lowest flame. Cover. This will take around an hour.",
    ],
)
def test_a_flame_and_a_time_are_heat_for_that_long(text):
    """The lowest flame cooks as the plain verb does, for the time that any of the sentences tells."""
    heated = [
        one for one in method_of(text).instructions if one.mood is Mood.DO and action(one.action).heat is not Heat.NONE
    ]
    assert [one.minutes.best for one in heated if one.minutes is not None] == [60.0]
    assert heated[-1].action == "cook"


def test_what_is_said_to_take_time_prolongs_nothing_that_is_not_on_the_heat():
    """Two hours that rubbing takes are no cooking."""
    assert "cook" not in {one.action for one in method_of("Rub the lamb. It will take 2 hours.").instructions}


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Back goes the lamb with the stock.", "add"),
        ("The bones go in.", "add"),
        ("Bones and skin go.", "discard"),
        ("Thread the lamb onto skewers with the leeks.", "thread"),
    ],
)
def test_what_goes_goes_into_the_pot_or_away(text, told):
    """A food that "goes" is added where words say whither, and discarded where none do."""
    assert method_of(text).instructions[0].action == told


def test_what_is_waited_for_to_be_taken_off_is_taken_off():
    """Fat that can be lifted off is lifted off; a leaf pulled out to try it is not."""
    assert [one.action for one in deeds("Chill the stock until the fat can be lifted off.")] == ["stand", "lift"]
    assert [one.action for one in deeds("Boil the kale until a leaf can be pulled out.")] == ["boil"]


def test_about_before_a_number_is_no_place():
    """ "Around half" is a share of the butter, not a place around it."""
    (mention,) = method_of("Take out around half of the butter.").instructions[0].mentions
    assert (mention.role, mention.quantity.extent) == (Role.OBJECT, Extent.SHARE)


def test_so_much_is_taken_as_the_words_behind_it_say():
    """A bracket behind the food tells the share that is used of it."""
    brushed = deeds("Brush with the butter (you will use about half) and bake for 20 minutes.")[0]
    assert brushed.mentions[0].quantity.share is not None
    assert brushed.mentions[0].quantity.share.best == 0.5


def test_not_all_of_it_is_not_none_of_it():
    """ "Not all" leaves some in use; "do not use" leaves nothing."""
    assert "discard" not in {one.action for one in method_of("Do not use all of the butter.").instructions}
    assert method_of("Do not use the butter.").instructions[0].action == "discard"


def test_the_plural_of_what_is_eaten_from_is_a_new_place():
    """Plates named for the first time are new; "the plates" are those of before."""
    assert Mark.NEW_VESSEL in deeds("Put the kale on plates.")[0].marks
    assert Mark.NEW_VESSEL not in deeds("Put the kale on the plates.")[0].marks
