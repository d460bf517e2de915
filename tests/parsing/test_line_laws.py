"""Laws of reading a line: any text is kept, what is written comes back, and published labels are met."""

import csv
import os
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from labeler.parsing import read_line
from labeler.parsing.units import SPELLINGS, canonical_unit, kind

PUBLISHED = os.environ.get("LABELER_PUBLISHED", "")


@given(st.text(max_size=120))
@settings(deadline=None, max_examples=400)
@example("(" * 200)
@example("1/0 cup flour")
@example("1" * 5000 + " cups flour")
@example("{" * 50 + "}" * 50)
@example("a" * 20_000)
@example("1 (" * 500)
@example("½" * 300)
@example(" or " * 300)
def test_any_text_is_a_line_and_is_kept(text):
    """No text stops the reader, and the answer holds it unchanged."""
    line = read_line(text)
    assert line.text == text
    assert all(amount.low <= amount.high for amount in line.amounts)
    assert line.name or line.problems


kitchen = st.sampled_from(
    [
        "flour",
        "olive oil",
        "red onion",
        "dried thyme",
        "ground beef",
        "whole milk",
        "cod",
        "smoked paprika",
        "egg yolks",
    ]
)
measured = sorted({word for word, unit in SPELLINGS.items() if kind(unit) in ("mass", "volume") and len(word) > 1})
tails = st.sampled_from(
    ["", ", chopped", " (optional)", ", divided", ", plus more for serving", ", at room temperature"]
)


@given(st.integers(1, 40), st.sampled_from(["", "1/2", "1/4", "3/4", "1/3", "2/3", "1/8"]),
       st.sampled_from([" ", "-"]), st.sampled_from(measured), kitchen, tails)  # fmt: skip
@settings(deadline=None, max_examples=300)
def test_written_amounts_read_back(whole, fraction, joint, unit, food, tail):
    """Any number in any spelling of a unit before any food gives back the number, the unit and the food."""
    number = f"{whole}{joint}{fraction}" if fraction else str(whole)
    line = read_line(f"{number} {unit} {food}{tail}")
    if unit in ("in", '"'):
        return
    top, _, bottom = fraction.partition("/")
    value = whole + (int(top) / int(bottom) if fraction else 0)
    assert line.amounts[0].low == line.amounts[0].high == pytest.approx(value)
    assert line.amounts[0].unit == canonical_unit(unit)
    assert line.name == food


@given(st.floats(0.01, 999, allow_nan=False).map(lambda value: round(value, 2)), st.integers(2, 9), kitchen)
@settings(deadline=None, max_examples=100)
def test_amounts_scale_with_the_number_written(value, times, food):
    """A number written so many times as large is an amount so many times as large, and nothing else changes."""
    one, many = read_line(f"{value:.2f} cups {food}"), read_line(f"{value * times:.4f} cups {food}")
    assert many.amounts[0].low == pytest.approx(times * one.amounts[0].low, rel=1e-6)
    assert (one.name, one.preparation) == (many.name, many.preparation)


@given(st.integers(1, 9), st.integers(1, 9), st.sampled_from(["-", "–", " to ", " or ", " - "]), kitchen)
@settings(deadline=None, max_examples=100)
def test_ranges_keep_both_ends(low, more, joint, food):
    """However a range is written, both of its ends are there."""
    line = read_line(f"{low}{joint}{low + more} cups {food}")
    assert (line.amounts[0].low, line.amounts[0].high, line.amounts[0].unit) == (low, low + more, "cup")


@pytest.mark.skipif(not Path(PUBLISHED, "lines_nyt.csv").is_file(), reason="LABELER_PUBLISHED holds no lines_nyt.csv")
def test_published_labels():
    """Of labelled lines with a number 99.5 % agree in it, of those with a unit 99 % (the rest is noise)."""
    with Path(PUBLISHED, "lines_nyt.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if float(row["qty"] or 0)]
    numbers = units = named = 0
    for row in rows:
        amounts = read_line(row["input"]).amounts
        label = float(row["qty"])
        main = amounts[0] if amounts else None
        numbers += main is not None and any(
            abs(end - label) <= max(0.011, 0.005 * end) for end in (main.low, main.high)
        )
        if row["unit"]:
            named += 1
            units += main is not None and main.unit == (canonical_unit(row["unit"]) or row["unit"])
    assert numbers >= 0.995 * len(rows) and units >= 0.99 * named
