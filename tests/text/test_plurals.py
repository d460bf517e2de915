"""Nouns in the singular. Expected words are judged from kitchen English, no source."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe
from labeler.text.plurals import counted, plural, singular, singular_phrase


@pytest.mark.parametrize(
    ("several", "one"),
    [
        ("berries", "berry"),
        ("tomatoes", "tomato"),
        ("potatos", "potato"),
        ("leaves", "leaf"),
        ("olives", "olive"),
        ("cloves", "clove"),
        ("radishes", "radish"),
        ("peaches", "peach"),
        ("cookies", "cookie"),
        ("kiwis", "kiwi"),
        ("asparagus", "asparagus"),
        ("couscous", "couscous"),
        ("hummus", "hummus"),
        ("molasses", "molasses"),
        ("swiss", "swiss"),
        ("geese", "goose"),
        ("eggs", "egg"),
        ("gas", "gas"),
        ("brownies", "brownie"),
        ("pies", "pie"),
        ("loaves", "loaf"),
        ("halves", "half"),
        ("boxes", "box"),
        ("dishes", "dish"),
        ("patties", "patty"),
        ("slices", "slice"),
        ("sandwiches", "sandwich"),
        ("quiches", "quiche"),
        ("ounces", "ounce"),
        ("glasses", "glass"),
    ],
)
def test_a_plural_loses_its_ending_and_other_words_do_not(several: str, one: str) -> None:
    """Plural endings come off by rule; words that only look like plurals stay."""
    assert singular(several) == one


@given(st.text(alphabet="abcdefghilmnoprstuvy", min_size=1, max_size=12))
@settings(deadline=None, max_examples=200)
def test_a_singular_is_hardly_longer_than_its_plural(word: str) -> None:
    """Taking the singular leaves something of every word, and makes none longer by more than "mice" and "radii"."""
    assert 0 < len(singular(word)) <= len(word) + 1


@pytest.mark.parametrize(
    ("several", "one"),
    [("Lunch boxes", "Lunch box"), ("Limes", "Lime"), ("Loaves", "Loaf"), ("red berries", "red berry"), ("", "")],
)
def test_of_a_phrase_the_last_word_is_made_singular(several: str, one: str) -> None:
    """Capital letters and the words before it stay."""
    assert singular_phrase(several) == one


@pytest.mark.parametrize(
    ("made", "one"), [("12 cookies", "1 cookie"), ("2 loaves", "1 loaf"), ("9 patties", "1 patty")]
)
def test_what_a_batch_makes_is_named_one_by_one(made: str, one: str) -> None:
    """The household measure of a serving is one of what the head makes."""
    assert analyse(read_recipe(f"---\nmakes: {made}\n---\n- 600 g flour\n"), draws=0).portion.household == one


def test_a_number_has_its_noun_in_the_right_form() -> None:
    """One and less than one take the singular; whole numbers have no decimals."""
    assert [counted(n, "serving") for n in (1, 1.0, 6.0, 7.142, 0)] == [
        "1 serving", "1 serving", "6 servings", "7.14 servings", "0 servings",
    ]  # fmt: skip
    assert counted(0.5, "hour") == "0.5 hour" and counted(12_345.6, "box") == "12,346 boxes"
    assert [plural(word) for word in ("cookie", "lunch box", "cherry", "loaf", "spray")] == [
        "cookies", "lunch boxes", "cherries", "loaves", "sprays",
    ]  # fmt: skip
