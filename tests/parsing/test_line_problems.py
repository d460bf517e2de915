"""What a line says that cannot be, and the pins by which the cook settles it."""

import pytest

from labeler.parsing import Pin, read_line


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("For the sauce:", "heading"),
        ("250 g/12 oz butter", "amounts-disagree"),
        ("1 cup/720 milliliters vinegar", "amounts-disagree"),
        ("2 15-ounce cans (60 ounces) beans", "amounts-disagree"),
        ("0 g salt", "amount-zero"),
        ("-2 cups flour", "amount-negative"),
        ("9999999999 cups flour", "amount-absurd"),
        ("? cup olives", "amount-unreadable"),
        ("½ ½ cup milk", "amount-twice"),
        ("2 3 cups flour", "amount-twice"),
        ("2 cups", "no-food"),
        ("", "no-food"),
        ("2 eggs plus 1 egg yolk", "two-foods"),
        ("1 lb flatfish {food}", "pin-unreadable"),
        ("1 lb flatfish {fod 15028}", "pin-unreadable"),
        ("1 lb flatfish {food 15028", "pin-unreadable"),
        ("1 lb flatfish {retention x}", "pin-unreadable"),
        ("1 lb flatfish {}", "pin-unreadable"),
        ("1 lb flatfish {0 g}", "pin-unreadable"),
        ("1 lb flatfish {454 g} {food 15028}", "pin-unreadable"),
    ],
)
def test_what_cannot_be_is_reported(text, code):
    """Headings, contradictions, impossible amounts and broken pins are problems on their line, never exceptions."""
    line = read_line(text, number=7)
    assert [problem.code for problem in line.problems] == [code]
    assert line.problems[0].line == 7 and line.problems[0].message.endswith(".")
    assert line.text == text


def test_a_disagreement_names_both_amounts_and_a_slip_its_nearest_word():
    """A message says what it found and what may have been meant."""
    assert "250 grams and 12 ounces" in read_line("250 g/12 oz butter").problems[0].message
    assert "“food”" in read_line("1 lb sole {fod 15028}").problems[0].message


@pytest.mark.parametrize(
    ("braces", "pin"),
    [
        ("{food 15028, 454 g}", Pin("15028", 454.0)),
        ("{food 1001}", Pin("01001")),
        ("{454 g}", Pin(None, 454.0)),
        ("{0.5 kg}", Pin(None, 500.0)),
        ("{food 15028, retention 0801}", Pin("15028", None, ("0801",))),
        ("{food 15028, 454 g, retention 0801, retention 802}", Pin("15028", 454.0, ("0801", "0802"))),
        ("{retention 0801*0802, 0803}", Pin(None, None, ("0801", "0802", "0803"))),
        ("{ FOOD 15028 ; 16 oz }", Pin("15028", 16 * 28.349523125)),
    ],
)
def test_pins(braces, pin):
    """Braces settle the food, the weight and the retention codes, and leave the rest of the line alone."""
    line = read_line(f"1 lb flatfish, skinned {braces}")
    assert line.pin == pin
    assert (line.name, line.preparation, line.problems) == ("flatfish", "skinned", ())


def test_a_unit_that_nobody_knows_stays_in_the_name():
    """An unknown unit is a word of the food."""
    line = read_line("2 firkins butter")
    assert (line.amounts[0].unit, line.name) == (None, "firkins butter")


@pytest.mark.parametrize("text", ["Serves 4", "Makes 12", "Prep time 10 min", "Ingredients:", "Method"])
def test_a_row_that_is_no_food_names_none(text):
    """A yield, a time and a heading in a list of lines have no name, and a problem says what they read as."""
    line = read_line(text)
    assert line.name == "" and [one.code for one in line.problems] in (["no-food"], ["heading"])
