"""Sentences as somebody says them across the table: verbs by their place, what is left, what is not meant."""

from __future__ import annotations

import pytest
from method_help import deeds, read, steps

from labeler.parsing.instructions.model import Extent, Mark, Mood, Role


@pytest.mark.parametrize(
    ("text", "actions"),
    [
        ("Dump the brine and rinse the pork.", ["discard", "rinse"]),
        ("Dump the lentils in.", ["add"]),
        ("Squish the turkey with the salt.", ["mix"]),
        ("Pat each round flat in your palm.", ["cut"]),
        ("Meat out, then pour off the fat.", ["lift", "drain"]),
        ("Into that go the leeks.", ["add"]),
        ("Seasoned flour, egg, panko, press well.", ["coat"]),
    ],
)
def test_what_is_done_follows_from_the_words_around_the_verb(text, actions):
    """A brine that is dumped is poured away, what is patted flat is shaped, and "out" alone takes out."""
    assert [one.action for one in read(text).instructions] == actions


def test_a_list_behind_a_colon_comes_together():
    """ "Get in there with your hands: the mince, the rice and 1 tsp of the salt" mixes what it lists."""
    (one,) = read("Get in there with your hands: the mince, the rice and 1 tsp of the salt.").instructions
    objects = [mention.name for mention in one.mentions if mention.role is Role.OBJECT]
    assert one.action == "mix" and objects == ["mince", "rice", "salt"]


@pytest.mark.parametrize(
    "text",
    [
        "You will have flour left in the bowl - bin that, it's had raw fish in it.",
        "There is always flour left over; I throw it out.",
    ],
)
def test_what_is_said_to_be_left_is_what_is_thrown_away(text):
    """ "Bin that" is about the flour that is left, and what it has been near is no food."""
    told, thrown = read(text).instructions
    assert told.mood is Mood.SAYS and thrown.action == "discard" and Mark.LEFTOVER in thrown.marks
    assert [(one.name, one.quantity.extent) for one in thrown.mentions] == [("flour", Extent.REST)]


@pytest.mark.parametrize("text", ["Pour off the fat except for a tablespoon.", "Tip away the fat, all except 15 ml."])
def test_an_amount_that_is_excepted_stays(text):
    """ "Except for a tablespoon" is how much stays, and not how much goes."""
    (one,) = read(text).instructions
    assert one.mentions[0].quantity.extent is Extent.ALL_BUT


def test_what_is_not_going_in_is_left_out():
    """ "The rind is not going in this soup" leaves the rind out; a denial of a deed is no deed."""
    (one,) = read("The rind is not going in this soup.").instructions
    assert one.action == "discard" and [mention.name for mention in one.mentions] == ["rind"]
    assert all(step.mood is Mood.NOT for step in read("Do not add the rind.").instructions)


def test_what_the_cook_does_before_a_removal_is_followed_by_it():
    """ "Pressing the leeks before you bin them": they are pressed, and then they go."""
    assert [one.action for one in steps("Strain the juices, pressing the leeks before you bin them.")] == [
        "strain",
        "discard",
    ]


def test_the_amount_of_another_food_is_not_what_stays_of_a_fat():
    """ "Without touching the 200 ml cream" says how much cream there is, and nothing of the fat."""
    found = deeds("Pour off the fat, without touching the 200 ml cream.")
    fat = next(mention for one in found for mention in one.mentions if mention.name == "fat")
    assert fat.quantity.extent.value == "all"
