"""Typos in one word of a compound name."""

from __future__ import annotations

import pytest

from labeler.allergens import EVERY_MARKET, assess_written
from labeler.allergens.compound_typos import completed
from labeler.parsing import read_line


@pytest.mark.parametrize(
    ("line", "allergen"),
    [("1 cup cooke butter", "wheat"), ("cookei butter", "wheat"), ("200 g cooke dough", "wheat")],
)  # fmt: skip
def test_a_word_is_read_beside_the_others_of_its_compound(line: str, allergen: str) -> None:
    """What is near several plain words alone is asked where it completes a name that tells an allergen."""
    found = assess_written(read_line(line), market=EVERY_MARKET)
    assert allergen in found.allergens | found.possible


def test_a_word_beside_no_compound_completes_none() -> None:
    """Without the rest of a compound nothing is asked; nor is a short word."""
    assert list(completed(["cooke", "rice"], 0)) == []
    assert list(completed(["xo", "sauce"], 0)) == []


def test_a_word_that_says_how_a_food_is_may_begin_a_compound() -> None:
    """ "Hot" stands apart from a name that nobody knows; with a typo mended beside it, it names a sauce."""
    found = assess_written(read_line("hot ppper paste korean"))
    assert "soybean" in {one.allergen for one in (*found.contains, *found.read_the_package)}
