"""The front-of-package symbol of Canada: when it is due, what stands in it, and how it is drawn."""

from __future__ import annotations

import pytest

from labeler.label.drawing import MM, Patch, Shape, Text
from labeler.label.fonts import face
from labeler.label.front_symbol import FrontSymbol, symbol_block
from labeler.rules.front_of_pack import high_in, symbol_rule
from labeler.types import Interval

# Daily values of Canada from memory: 20 g of saturated and trans fat, 100 g of sugars, 2300 mg of sodium.
PER_100G = {"FASAT": 12.0, "FATRN": 0.0, "SUGAR": 20.0, "NA": 400.0, "CA": 10.0}


def values(**changed: float):
    """Amounts in 100 g, all known."""
    return {key: Interval(one, one, one, "") for key, one in {**PER_100G, **changed}.items()}


@pytest.mark.parametrize(
    ("grams", "high"),
    [
        # 10 % of the daily value for amounts to 30 g: 2 g of saturated fat are in 16.7 g of it.
        (20, ("saturated_plus_trans_fat",)),
        (16, ()),
        # 15 % above that: 3 g of saturated fat, 15 g of sugars, 345 mg of sodium.
        (75, ("saturated_plus_trans_fat", "sugars")),
        (90, ("saturated_plus_trans_fat", "sugars", "sodium")),
    ],
)
def test_a_food_is_high_from_its_threshold_on(grams: float, high: tuple[str, ...]) -> None:
    """B.01.350(1), (2) and table: the share of the daily value per serving."""
    assert high_in(values(), amount_g=grams) == high


def test_saturated_and_trans_fat_count_together() -> None:
    """Table to B.01.350, item 1: neither reaches 15 % of 20 g alone."""
    assert high_in(values(FASAT=2.0, FATRN=1.0, SUGAR=0.0, NA=0.0), amount_g=100) == ("saturated_plus_trans_fat",)
    assert high_in(values(FASAT=2.9, FATRN=0.0, SUGAR=0.0, NA=0.0), amount_g=100) == ()


@pytest.mark.parametrize(
    ("title", "high"),
    [
        # B.01.350(5)(g), (h), (i): sweetening agents, salt that is named so, fats and oils.
        ("Maple syrup", ()),
        ("Smoked rosemary salt", ()),
        ("Butter", ()),
        # A peanut butter and a butter cookie are neither.
        ("Peanut butter", ("saturated_plus_trans_fat", "sugars", "sodium")),
        ("Butter cookies", ("saturated_plus_trans_fat", "sugars", "sodium")),
    ],
)
def test_some_foods_are_exempt_by_what_they_are(title: str, high: tuple[str, ...]) -> None:
    """The name settles it, the whole of it where a word more makes another food."""
    assert high_in(values(), amount_g=100, title=title) == high


def test_cheese_that_gives_calcium_has_no_symbol_for_fat_and_salt() -> None:
    """B.01.350(9), (11), (12)(b): from 15 % of the daily value of calcium, 1300 mg (from memory)."""
    assert high_in(values(CA=200.0, SUGAR=0.0), amount_g=100, title="Goat cheese") == ()
    assert high_in(values(CA=100.0, SUGAR=0.0), amount_g=100, title="Goat cheese") != ()


def test_only_canada_has_one() -> None:
    """Elsewhere nothing is high in anything."""
    assert symbol_rule("us") is None
    assert high_in(values(), amount_g=100, market="us") == ()


@pytest.mark.parametrize("count", [1, 2, 3])
def test_the_symbol_has_a_black_bar_for_each_nutrient(count: int) -> None:
    """Schedule K.1: heading in bold, white words on black bars, the credit below, a clear zone round the box."""
    bars = ("Sat fat / Gras sat.", "Sugars / Sucres", "Sodium")[:count]
    block = symbol_block(FrontSymbol("High in / Élevé en", bars, "Health Canada / Santé Canada", 1.8))
    marks = block.at(0.0, 0.0)
    texts = [mark for mark in marks if isinstance(mark, Text)]
    assert [text.text for text in texts] == ["High in / Élevé en", *bars, "Health Canada / Santé Canada"]
    assert {text.colour for text in texts if text.text in bars} == {"#ffffff"}
    assert all(face(text.face).x_height * text.size >= 1.8 * MM - 1e-9 for text in texts[:-1])
    # Ring, hole and handle of the glass, and the bars.
    assert sum(isinstance(mark, Shape) for mark in marks) == 3 + count
    box = next(mark for mark in marks if isinstance(mark, Patch))
    for text in texts:
        assert box.x < text.x
        assert text.x + face(text.face).width(text.text) * text.size < box.x + box.width
        assert box.y < text.y < box.y + box.height
    corners = [corner for mark in marks if isinstance(mark, Shape) for corner in mark.points]
    assert all(box.x <= x <= box.x + box.width and box.y <= y <= box.y + box.height for x, y in corners)
