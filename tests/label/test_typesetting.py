"""Text before it becomes type: what is printable, where lines break, how figures are taken apart, the fixed words."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.label import words as words_module
from labeler.label.compose import can_print
from labeler.label.printable_text import REPLACEMENT, plain_text
from labeler.label.printed_figures import split_figure
from labeler.label.typesetting import break_lines, text_width
from labeler.label.words import words
from labeler.types import LabelerError

ANY = st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=80)


@settings(deadline=None)
@given(ANY)
def test_printable_text_holds_only_what_the_family_prints_and_stays_so(text: str) -> None:
    """Every character of the result has a glyph, and doing it twice changes nothing and reports nothing."""
    result, _ = plain_text(text, can_print)
    assert all(can_print(char) for char in result)
    assert plain_text(result, can_print) == (result, frozenset())


@pytest.mark.parametrize(
    ("text", "result", "changed"),
    [
        ("½ cup, 180 °C, é µ ≥ 5", "½ cup, 180 °C, é µ ≥ 5", ""),
        ("two\nlines\tand    more ", "two lines and more", ""),
        ("e\u0301te\u0301", "été", ""),
        ("soft\u00adhyphen\ufeff", "softhyphen", ""),
        ("bell\x07 nul\x00", f"bell{REPLACEMENT} nul{REPLACEMENT}", "\x07\x00"),
        ("left\u200eright\u202e\u2066over", "leftrightover", "\u200e\u202e\u2066"),
        ("５ ｇ ㎎ ﬁg", "5 g mg fig", "５ｇ㎎"),
        ("豆腐", REPLACEMENT * 2, "豆腐"),
        ("\U0001f353 jam", f"{REPLACEMENT} jam", "\U0001f353"),
    ],
)
def test_what_cannot_be_printed_is_written_otherwise_or_marked(text: str, result: str, changed: str) -> None:
    """Compatibility forms are written out, direction marks go, all else is a visible mark; every change is reported."""
    found, reported = plain_text(text, can_print)
    if "ﬁ" in text and can_print("ﬁ"):
        result = result.replace("fig", "ﬁg")
    else:
        changed += "ﬁ" if "ﬁ" in text else ""
    assert found == result
    assert reported == frozenset(changed)


@settings(deadline=None)
@given(st.text(st.sampled_from("abcdefg -/éW½,."), max_size=120), st.floats(3, 40), st.booleans())
def test_lines_lose_no_letter_and_are_no_wider_than_the_column(text: str, width: float, even: bool) -> None:
    """Whatever the width, the lines together are the text but for hyphens, and only a letter may be wider than one."""
    lines = break_lines(((text, "text"),), width, even)
    set_text = [" ".join("".join(part for _, part, _ in line.stretches).split()) for line in lines]
    assert re.sub("[ -]", "", "".join(set_text)) == re.sub("[ -]", "", text)
    for line, written in zip(lines, set_text, strict=True):
        assert line.width <= width + 1e-6 or len(written) == 1


def test_a_paragraph_breaks_as_evenly_as_it_can_in_the_fewest_lines() -> None:
    """Of two ways to set four words in two lines the even one is taken, where a greedy setter takes the other."""
    text = "aaaa bb cc ddddd"
    width = text_width("aaaa bb cc", "text") + 0.05
    lines = ["".join(part for _, part, _ in line.stretches) for line in break_lines(((text, "text"),), width, True)]
    assert lines == ["aaaa bb", "cc ddddd"]


def test_a_figure_keeps_its_unit_on_its_line() -> None:
    """No line breaks between a number and its unit, and the space between them is printed as a space."""
    lines = break_lines((("warm to 80 °C or 35 % or 20 g", "text"),), text_width("warm to 80", "text") + 0.3)
    texts = ["".join(part for _, part, _ in line.stretches) for line in lines]
    assert any("80 °C" in t for t in texts) and any("35 %" in t for t in texts) and any("20 g" in t for t in texts)


def test_no_line_begins_with_the_space_that_binds_a_phrase() -> None:
    """A bound phrase of two languages, “Lot / Los A17”, is not cut behind its slash."""
    phrase = "Lot / Los A17".replace(" ", "\u00a0")
    lines = break_lines(((f"jar {phrase}", "text"),), text_width("Lot / Los A17", "text") + 0.2)
    assert ["".join(part for _, part, _ in line.stretches) for line in lines] == ["jar", "Lot / Los A17"]


def test_a_separating_dot_vanishes_where_the_line_ends() -> None:
    """The end of a line takes the dot's place, on either side of it."""
    text = "first\u00a0phrase · second\u00a0phrase"
    lines = break_lines(((text, "text"),), text_width("second phrase", "text") + 0.5)
    assert ["".join(part for _, part, _ in line.stretches) for line in lines] == ["first phrase", "second phrase"]


@pytest.mark.parametrize(
    ("text", "decimal", "parts"),
    [
        ("1.25 g", ".", ("1", ".25", "g", "")),
        ("1,25 g", ",", ("1", ",25", "g", "")),
        ("1,120 mg", ".", ("1,120", "", "mg", "")),
        ("<0.5 g", ".", ("<0", ".5", "g", "")),
        ("12 %", ".", ("12", "", "%", "")),
        ("0g", ".", ("0", "", "g", "")),
        ("less than 1 g", ".", ("", "", "", "less than 1 g")),
        ("88 kJ / 21 kcal", ".", ("", "", "", "88 kJ / 21 kcal")),
        ("", ".", ("", "", "", "")),
    ],
)
def test_a_figure_is_taken_apart_at_its_decimal_mark(text: str, decimal: str, parts: tuple[str, ...]) -> None:
    """Whole number, fraction and unit; what is no figure stays one phrase."""
    found = split_figure(text, decimal)
    assert (found.whole, found.fraction, found.unit, found.phrase) == parts


def test_every_language_has_every_word_and_can_print_it() -> None:
    """The file of fixed words has no gap, and an unknown language is refused with those there are."""
    with (Path(words_module.__file__).parent / "data" / "words.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len({row["key"] for row in rows}) == len(rows)
    for row in rows:
        assert set(row) == {"key", "en", "fr", "es", "de", "it"}
        assert all(value and all(map(can_print, value)) for value in row.values())
    assert words("de")["ingredients"] == "Zutaten"
    with pytest.raises(LabelerError, match="en, fr, es, de, it"):
        words("tlh")


@pytest.mark.parametrize("width", [4.0, 6.0, 9.0])
def test_a_word_that_no_line_holds_is_cut_with_a_hyphen(width):
    """Every cut between letters is marked, no line is wider than asked, and without the hyphens it is the word."""
    word = "Worcestershiresoßenkonzentrat"
    lines = break_lines(((word, "text"),), width)
    told = ["".join(text for _, text, _ in line.stretches) for line in lines]
    assert len(told) > 1 and all(line.width <= width for line in lines)
    assert all(one.endswith("-") and len(one) > 2 for one in told[:-1])
    assert "".join(one.removesuffix("-") for one in told) == word and len(told[-1]) > 1
