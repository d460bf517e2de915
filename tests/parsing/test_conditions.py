"""A condition bears on the words that it stands beside, and an amount is no share."""

from __future__ import annotations

import pytest
from method_help import deeds, method_of

from labeler.parsing.instructions.figures import find_quantities
from labeler.parsing.instructions.model import Extent, Mood
from labeler.parsing.instructions.quantities import quantity_of


@pytest.mark.parametrize(
    ("text", "action"),
    [
        ("Marinate the lamb for 3 hours, or overnight if you can wait.", "marinate"),
        ("Roast the lamb for 2 hours, until the juices run clear (75 C if you have a probe).", "roast"),
        ("Stir the honey and butter together, butter first if you believe in that.", "mix"),
        ("Simmer the stock 20 minutes, longer if it is thin.", "simmer"),
        ("Boil the fusilli for 9 minutes, or 11 if you like it soft.", "boil"),
        ("Fry the leeks in the butter, or in the oil if that is all you have.", "pan-fry"),
        ("Bake for 40 minutes (fan on if your oven is slow).", "bake"),
        ("Braise the lamb in the stock for 3 hours, half an hour less if it is young.", "braise"),
        ("Soak the prawns 1 hour, or two if nobody is hungry.", "soak"),
        ("Chill for 4 hours, or 1 hour in the freezer if you forgot.", "stand"),
    ],
)
def test_a_condition_beside_an_alternative_or_an_aside_leaves_the_deed_done(text, action):
    first = method_of(text).instructions[0]
    assert (first.action, first.mood) == (action, Mood.DO)


def test_a_condition_behind_one_of_several_things_bears_on_that_alone():
    (step,) = deeds("Add the stock, kale, and more chilli if it is bland.")
    assert [one.name for one in step.mentions] == ["stock", "kale"]


def test_a_condition_behind_its_deed_bears_on_nothing_that_follows():
    method = method_of("Skim the stock if it foams and simmer for 20 minutes.")
    assert [(one.action, one.mood) for one in method.instructions] == [("skim", Mood.IF), ("simmer", Mood.DO)]


@pytest.mark.parametrize(
    "text",
    [
        "If it is too thick, add the stock.",
        "Add the stock if it is too thick.",
        "Taste and, if it is flat, add the salt.",
    ],
)
def test_a_deed_of_which_a_condition_tells_is_not_simply_done(text):
    assert method_of(text).instructions[-1].mood is Mood.IF


@pytest.mark.parametrize(
    ("text", "millilitres"),
    [
        ("a third of a cup", 78.9),
        ("two thirds of a cup of the milk", 157.7),
        ("half of a cup of the stock", 118.3),
        ("a quarter of a cup", 59.1),
        ("three quarters of a litre of stock", 750.0),
        ("a quarter of a pint of cream", 118.3),
    ],
)
def test_a_part_of_a_measure_is_an_amount(text, millilitres):
    found = find_quantities(text)
    assert found.share is None
    assert found.millilitres is not None and found.millilitres.best == pytest.approx(millilitres, abs=0.1)
    assert quantity_of(text)[0].extent is Extent.AMOUNT


@pytest.mark.parametrize(
    ("text", "minutes"),
    [("1 hour 20", 80.0), ("roast 2 hours 15 or so", 135.0), ("1 hr 45 until soft", 105.0), ("1 hour 180 C", 60.0),
     ("1 hour 10 minutes", 70.0)],
)  # fmt: skip
def test_a_number_behind_an_hour_is_minutes(text, minutes):
    found = find_quantities(text).minutes
    assert found is not None and found.best == pytest.approx(minutes)


def test_a_bracket_behind_the_last_of_several_things_leaves_the_deed_done():
    """ "Add the leeks, the stock and salt (if desired)": the leeks go in whatever is desired."""
    assert method_of("Add the leeks, the stock and salt (if desired).").instructions[0].mood is Mood.DO
