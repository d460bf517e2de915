"""Text repair: letters of a wrong encoding, letters written as their numbers."""

from labeler.parsing import read_recipe
from labeler.parsing.text_repair import mend


def test_a_letter_written_as_its_number_is_that_letter_and_is_told():
    """A degree sign that a page wrote as an escape is a degree sign, and the row is reported."""
    text, problems = mend("Fry at 180\\u00b0C\nServe with cr\\u00e8me", "")
    assert text == "Fry at 180°C\nServe with crème"
    assert [(one.code, one.line) for one in problems] == [("encoding-mended", 1), ("encoding-mended", 2)]


def test_a_number_that_is_no_letter_stays():
    """An escape of a sign that cannot be printed is left as it stands."""
    assert mend("Fry\\u0000", "")[0] == "Fry\\u0000"


def test_heat_behind_an_escaped_sign_is_read():
    """The heat of an oven is read where its sign was an escape."""
    told = [
        read_recipe(f"- 1 kg beef\n> roast at 180{sign}C for 1 hour").parts[0].handling[0].text
        for sign in ("°", "\\u00b0")
    ]
    assert told[0] == told[1]
