"""The figures of a clause: times, heats, weights, volumes and shares."""

from __future__ import annotations

import pytest
from method_help import only, read, steps

from labeler.parsing.instructions.figures import find_quantities


@pytest.mark.parametrize(
    ("text", "low", "best", "high"),
    [
        ("simmer 20 minutes", 20, 20, 20),
        ("simmer 20-25 minutes", 20, 22.5, 25),
        ("marinate 4 to 6 hours", 240, 300, 360),
        ("bake 1 hour 20 minutes", 80, 80, 80),
        ("bake 1½ h", 90, 90, 90),
        ("simmer half an hour", 30, 30, 30),
        ("fry 4 minutes a side", 8, 8, 8),
        ("fry 3 minutes on each side", 6, 6, 6),
        ("pickle 3 days", 4320, 4320, 4320),
        ("soak overnight", 480, 720, 960),
        ("soak in the fridge over night", 480, 720, 960),
        ("cure for 2 weeks", 20160, 20160, 20160),
        ("roast 20 minutes at 220 °C, then 1 hour at 180 °C", 80, 80, 80),
        ("marinate 2 hours or overnight", 120, 420, 960),
    ],
)
def test_times(text, low, best, high):
    """Times are minutes; ranges keep both ends; "overnight" is 12 hours, 8 to 16."""
    minutes = steps(text)[0].minutes
    assert (minutes.low, minutes.best, minutes.high) == pytest.approx((low, best, high))


def test_about_an_hour_is_an_interval():
    """A time that is "about" has room on both sides."""
    minutes = only("simmer for about 60 minutes").minutes
    assert minutes.low < 60 < minutes.high


@pytest.mark.parametrize(
    ("text", "celsius", "core"),
    [
        ("roast at 200 °C", 200, None),
        ("roast at 375 °F", 190.6, None),
        ("bake at 350F for 25 minutes", 176.7, None),
        ("bake at 180C fan", 200, None),
        ("bake at 375 degrees", 190.6, None),
        ("bake at gas mark 4", 180.6, None),
        ("bake at 180 °C/350 °F", 180, None),
        ("roast at 375 °F to 135 °F in the middle", 190.6, 57.2),
        ("roast until 74 °C inside", None, 74),
        ("roast at 200 °C to an internal temperature of 160 °F", 200, 71.1),
        ("grill until a thermometer reads 63 °C", None, 63),
    ],
)
def test_heat_of_the_oven_and_of_the_middle(text, celsius, core):
    """Fahrenheit and Celsius are told apart, and the oven's heat from that of the food."""
    step = steps(text)[0]
    assert (step.celsius.best if step.celsius else None) == (pytest.approx(celsius, abs=0.1) if celsius else None)
    assert (step.core.best if step.core else None) == (pytest.approx(core, abs=0.1) if core else None)


@pytest.mark.parametrize(
    ("text", "action", "grams", "millilitres", "share"),
    [
        ("weighs 1.4 kg", "weigh", 1400, None, None),
        ("it should weigh 1.36 kg", "weigh", 1360, None, None),
        ("cooked weight 1,2 kg", "weigh", 1200, None, None),
        ("final weight: 3 lb", "weigh", 1360.8, None, None),
        ("reduce to 700 ml", "reduce", None, 700, None),
        ("boil down to 2 cups", "reduce", None, 473.2, None),
        ("reduce by half", "reduce", None, None, 0.5),
        ("reduce to a third", "reduce", None, None, 1 / 3),
        ("reduced by a third", "reduce", None, None, 2 / 3),
        ("reduce by 40 %", "reduce", None, None, 0.6),
        ("boil down from 5 pints to 2", "reduce", None, None, 0.4),
        ("cook down until it weighs 900 g", "simmer", 900, None, None),
        ("loses 20 % of its weight", "lose", None, None, 0.8),
        ("120 g of oil is left", "left", 120, None, None),
        ("2 cups of brine left", "left", None, 473.2, None),
    ],
)
def test_what_a_step_ends_at(text, action, grams, millilitres, share):
    """Weights, volumes and shares; "by a third" and "to a third" are not the same."""
    step = only(text)
    assert step.action == action
    for value, expected in ((step.grams, grams), (step.millilitres, millilitres), (step.share, share)):
        assert (value.best if value else None) == (pytest.approx(expected, rel=1e-3) if expected else None)


def test_cups_are_those_of_the_market():
    """A cup is 236.6 mL in the United States and 250 mL in Australia."""
    assert read("reduce to 2 cups", market="anz").instructions[0].millilitres.best == pytest.approx(500)
    assert read("reduce to 2 cups").instructions[0].millilitres.best == pytest.approx(473.2, abs=0.1)


def test_water_and_salt_of_the_sentence():
    """Water and salt that a sentence adds are not what the step ends at."""
    step = only("cook in 5 l of boiling water with 36 g salt 10 minutes")
    assert (step.water.best, step.salt.best, step.minutes.best) == pytest.approx((5000, 36, 10))
    assert step.millilitres is None and step.grams is None


def test_a_number_without_sense_is_reported():
    """A figure that nothing explains is not passed over."""
    reading = read("simmer 5 zonks")
    assert reading.instructions[0].action == "simmer" and reading.unread[0].text == "5 zonks"


@pytest.mark.parametrize(
    "text", ["boil 2 eggs", "layer with the next 6 ingredients", "bake in a 9x13 inch tin", "serves 4"]
)
def test_a_number_of_things_is_explained_by_them(text):
    """How many of a food, of a vessel's inches or of servings is no figure without sense."""
    assert read(text).unread == ()


def test_a_typo_of_a_unit_of_time_is_mended_and_reported():
    """ "20 mintes" are 20 minutes, and that they were read so is said."""
    reading = read("bake 20 mintes")
    (slip,) = reading.unread
    assert reading.instructions[0].minutes.best == 20.0 and reading.instructions[0].mentions == ()
    assert (slip.text, slip.nearest, slip.mended) == ("20 mintes", "20 minutes", True)


@pytest.mark.parametrize(
    ("said", "impossible"),
    [
        ("bake -20 minutes", "-20 minutes"), ("bake at 9000 C for 10 minutes", "9000 C"),
        ("reduce to -200 g", "-200 g"),
        ("boil 90000 hours", "90000 hours"), ("soak at -200 C", "-200 C"),
    ],
)  # fmt: skip
def test_what_no_kitchen_has_is_reported_and_not_used(said, impossible):
    """A time below nothing, a heat beyond any fire and years of boiling are problems; no figure of them is taken."""
    reading = read(said)
    assert [one.text for one in reading.unread] == [impossible]
    (step,) = reading.instructions
    assert step.celsius is None and step.grams is None and (step.minutes is None or step.minutes.best == 10.0)


@pytest.mark.parametrize(
    ("said", "minutes"),
    [("simmer 15 -20 minutes", 17.5), ("simmer - 20 minutes", 20.0), ("freeze at -18 C for 2 days", 2880.0)],
)
def test_a_dash_that_joins_is_no_sign(said, minutes):
    """A range, a dash between words and the cold of a freezer stand as they are."""
    reading = read(said)
    assert reading.unread == () and reading.instructions[0].minutes.best == minutes


@pytest.mark.parametrize(
    ("said", "minutes"),
    [("Roast 1 hour 20 at 200 °C", 80.0), ("Roast for 2 hours 15, basting", 135.0), ("Simmer 2 hours at 90 °C", 120.0)],
)
def test_minutes_past_the_hour_need_no_unit(said, minutes):
    """ "1 hour 20" is eighty minutes."""
    assert read(said).instructions[0].minutes.best == minutes


@pytest.mark.parametrize(
    ("said", "share"),
    [
        ("Soften the leeks in half the butter", None),
        ("Fry the onions in a third of the oil for 5 minutes", None),
        ("Reduce to half the volume", 0.5),
        ("Simmer until reduced by a third", 2 / 3),
    ],
)
def test_a_part_of_a_food_is_no_yield(said, share):
    """ "In half the butter" says how much goes in; "to half the volume" says what is left."""
    step = read(said).instructions[0]
    assert (step.share.best if step.share else None) == (pytest.approx(share) if share else None)


@pytest.mark.parametrize(
    ("words", "minutes"),
    [
        ("leave for a day", 1440.0),
        ("leave a week", 10080.0),
        ("fry a minute", 1.0),
        ("stir once a day for 3 days", 4320.0),
        ("eat within a week", None),
        ("make a day ahead", None),
    ],
)
def test_a_day_is_a_time_where_it_is_how_long(words, minutes):
    """An article stands for one of a unit of time, but not in how often, until when or how long before."""
    found = find_quantities(words).minutes
    assert (found and found.best) == minutes
