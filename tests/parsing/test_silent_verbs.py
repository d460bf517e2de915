"""Sentences without a verb: what is placed by a particle or a place, and a time that goes on with the heat in force."""

from __future__ import annotations

import pytest
from method_help import deeds, method_of

from labeler.parsing.instructions.actions import Heat, action
from labeler.parsing.instructions.model import Instruction, Mark, Mood, Role


def _objects(one: Instruction) -> list[str]:
    return [mention.name for mention in one.mentions if mention.role is Role.OBJECT]


@pytest.mark.parametrize(
    ("text", "objects"),
    [
        ("Prawns in.", ["prawns"]),
        ("Leeks and parsnips in, with the cream.", ["leeks", "parsnips"]),
        ("In goes the kale with its water.", ["kale"]),
        ("In go the prawns.", ["prawns"]),
        ("In with the honey.", ["honey"]),
        ("Back in with the lamb.", ["lamb"]),
        ("Parsnips in the bottom.", ["parsnips"]),
        ("Feta off the heat.", ["feta"]),
        ("Leeks, honey and rosemary into the pot.", ["leeks", "honey", "rosemary"]),
        ("Lamb and leeks back in the pan with half of the stock.", ["lamb", "leeks"]),
        ("The rest of the stock, the salt, leeks and kale go in.", ["stock", "salt", "leeks", "kale"]),
        ("Feta, rosemary, plenty of salt.", ["feta", "rosemary", "salt"]),
        ("Rosemary on top.", ["rosemary"]),
        ("And now the prawns in.", ["prawns"]),
    ],
)
def test_food_and_a_place_without_a_verb_is_food_that_goes_there(text, objects):
    first = deeds(text)[0]
    assert (first.action, _objects(first)) == ("add", objects)


def test_each_stretch_without_a_verb_is_a_deed_of_its_own():
    found = deeds("Leeks in the bottom, lamb on top, then the stock.")
    assert [(one.action, _objects(one)) for one in found] == [
        ("add", ["leeks"]),
        ("add", ["lamb"]),
        ("add", ["stock"]),
    ]


def test_food_that_goes_in_within_a_list_of_deeds_is_one_of_them():
    assert [one.action for one in deeds("Simmer 10 minutes, prawns in, stir.")] == ["simmer", "add", "mix"]


@pytest.mark.parametrize(
    "text",
    [
        "In a bowl, mix the honey and oil.",
        "Put the leeks, kale in the pan.",
        "Fry the leeks, parsnips and kale in the oil.",
        "The lamb, boned and rolled, is roasted in the oven.",
        "Prep time: 20 minutes.",
        "After 20 minutes, turn the lamb.",
    ],
)
def test_nothing_is_put_into_a_sentence_that_has_its_verb(text):
    assert all(one.verb for one in method_of(text).instructions)
    assert len(method_of(text).instructions) <= 2


@pytest.mark.parametrize(
    ("text", "action", "minutes"),
    [
        ("Put the lamb in the oven. 1 hour 20, basting now and then, until the juices run clear.", "bake", 80.0),
        ("Heat the oil in a pan. Leeks in. 6 minutes, lid on.", "cook", 6.0),
        ("Shape into rolls. 190C for 15 to 25 minutes.", "bake", 20.0),
        ("Lamb in the slow cooker. LOW for 8 hours.", "cook", 480.0),
        ("Bring the stock to the boil. Four minutes from when it boils again.", "cook", 4.0),
        ("Fry the leeks 5 minutes. Honey butter, 1 minute.", "cook", 1.0),
        ("Bring the stock to a simmer. Keep it there, no lid, for 40 minutes.", "cook", 40.0),
        ("Bring the stock to a simmer. Hold it so for 20 minutes.", "cook", 20.0),
        ("Lamb in the oven for 50 minutes.", "bake", 50.0),
        ("Stock and salt in, lid on, and 3 hours in the oven at 150C.", "bake", 180.0),
        ("Boil the stock. Cover. Two weeks in the dark.", "stand", 20160.0),
        ("Simmer the stock. One hour on the counter.", "stand", 60.0),
        ("Fry the leeks 5 minutes. Overnight in the fridge.", "stand", 720.0),
        ("Knead 8 minutes. Shape into ropes. Another 45 minutes.", "stand", 45.0),
        ("Roast the lamb 1 hour. Rest. 20 minutes.", "stand", 20.0),
    ],
)
def test_a_time_without_a_verb_goes_on_with_the_heat_in_force_or_is_standing(text, action, minutes):
    timed = next(one for one in method_of(text).instructions if one.minutes and one.minutes.best == minutes)
    assert (timed.action, timed.mood) == (action, Mood.DO)


def test_a_time_behind_a_deed_that_has_none_is_that_of_the_deed():
    (step,) = deeds("Simmer the stock. 20 minutes, lid on.")
    assert step.minutes is not None and step.minutes.best == 20.0
    assert Mark.COVERED in step.marks


def test_food_until_it_is_done_is_cooked():
    (step,) = deeds("Kale till limp.")
    assert action(step.action).heat is Heat.BY_PLACE and _objects(step) == ["kale"]


def test_a_time_off_the_heat_is_standing():
    assert deeds("Simmer the stock 1 hour. Off the heat, give it 15 minutes.")[-1].action == "stand"


@pytest.mark.parametrize(
    ("said", "actions"),
    [
        ("Kale, gone.", ["add"]),
        ("Honey bit by bit.", ["add"]),
        ("Kale, stir a minute.", ["add", "mix"]),
        ("Half of the honey, kale, cook it a minute.", ["add", "cook"]),
        ("Glaze: honey, then the kale, till it softens.", ["cook", "cook"]),
        ("Off the heat: rest of the honey, and the vegetables last of all so it stays green.", ["add"]),
        ("While that simmers: kale in a pan, medium heat, stir.", ["add", "mix"]),
    ],
)
def test_foods_that_stand_alone_are_put_in(said, actions):
    """Foods without a deed of their own go in, are cooked where an end is told, and what is done to all follows."""
    assert [step.action for step in deeds(said)] == actions


def test_what_is_denied_in_a_list_is_left_out():
    """ "Honey, kale, and no peas" puts in two foods."""
    (step,) = deeds("Honey, kale, and no peas before you have tasted it.")
    assert [one.name for one in step.mentions if one.role is Role.EXCEPT] == ["peas"]


def test_what_goes_on_meanwhile_opens_a_deed_beside_it():
    """ "While that sits, boil the peas": another heap than the one that sits."""
    (step,) = deeds("While that sits, boil the peas.")
    assert step.action == "boil" and step.parallel


@pytest.mark.parametrize("said", ["Lamb out, throw out the bones.", "Lamb out onto a board, discard the bones."])
def test_food_that_is_out_is_taken_out(said):
    """ "Lamb out" lifts it out, so that the bones alone are thrown away."""
    out, thrown = deeds(said)
    assert out.action == "lift" and _objects(out) == ["lamb"]
    assert thrown.action == "discard" and _objects(thrown) == ["bones"]
