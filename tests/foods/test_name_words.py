"""The normal form of food names. Expected words are judged from kitchen English, no source."""

from __future__ import annotations

import csv

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.foods.matching.name_words import (
    SYNONYMS_FILE,
    WORD_KINDS_FILE,
    WORD_RELATIONS_FILE,
    read_name,
    word_kinds,
    word_relations,
    words,
)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Crème Fraîche", "creme fraiche"),
        ("jalapeño chiles", "jalapeno pepper"),
        ("confectioners’ sugar", "confectioner's sugar"),
        ("low-fat yoghurt", "lowfat yogurt"),
        ("non-fat milk", "skim milk"),
        ("aubergines", "eggplant"),
        ("courgette", "zucchini"),
        ("garbanzo beans", "chickpeas"),
        ("tinned tomatoes", "canned tomatoes"),
        ("salt-free butter", "butter without salt"),
        ("2 % milk", "2% milk"),
        ("wholemeal flour", "whole-wheat flour"),
        ("M&Ms", "m and ms"),
    ],
)
def test_two_ways_to_write_one_name_have_one_form(one: str, other: str) -> None:
    """Case, accents, apostrophes, hyphens and regional words are levelled."""
    assert sorted(words(one)) == sorted(words(other))


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("corn flour", "cornflour"),
        ("coconut cream", "cream of coconut"),
        ("chicken stock", "chicken broth"),
        ("cookies without raisins", "cookies with raisins"),
        ("unsalted butter", "salted butter"),
    ],
)
def test_names_of_different_foods_keep_different_forms(one: str, other: str) -> None:
    """What cooks keep apart stays apart."""
    assert sorted(words(one)) != sorted(words(other))


@pytest.mark.parametrize(
    ("name", "head"),
    [
        ("kosher salt", "salt"),
        ("butter lettuce", "lettuce"),
        ("garlic cloves, minced", "garlic"),
        ("Cheese, cottage, creamed", "cheese"),
        ("tuna in oil", "tuna"),
        ("juice of a lemon", "juice"),
        ("milk chocolate", "chocolate"),
        ("chocolate milk", "milk"),
        ("yogurt with fruit", "yogurt"),
        ("tomatoes (canned)", "tomato"),
    ],
)
def test_the_head_is_the_thing_itself(name: str, head: str) -> None:
    """The head is the last food word before the first comma, bracket or "with", or the word before "of"."""
    assert read_name(name).head == head


@given(st.text(max_size=80))
@settings(deadline=None, max_examples=300)
def test_any_text_has_a_form(text: str) -> None:
    """Any text is read without error, and every word of it is plain."""
    name = read_name(text)
    assert all(word and not word.isspace() for word in name.words)
    assert name.first <= len(name.words)
    assert (name.head == "") == (not name.words)


@given(st.sampled_from(["sweet potatoes", "baking soda", "crème fraîche", "red bell peppers", "half-and-half"]))
@settings(deadline=None)
def test_the_form_of_a_form_is_itself(text: str) -> None:
    """Reading the words of a name again gives the same words."""
    once = words(text)
    assert words(" ".join(once)) == once


def test_the_data_files_are_whole() -> None:
    """Every row of the three word lists has all its fields, and every kind and relation is one that is described."""
    for path, columns in (
        (SYNONYMS_FILE, {"words", "means"}),
        (WORD_KINDS_FILE, {"kind", "words"}),
        (WORD_RELATIONS_FILE, {"words", "relation", "others"}),
    ):
        with path.open(encoding="utf-8", newline="") as handle:
            rows = list(csv.DictReader(line for line in handle if not line.startswith("#")))
        assert rows
        assert all(set(row) == columns and all(row.values()) for row in rows), path.name
    assert set(word_kinds().values()) == {"plain", "part", "state"}
    assert word_relations()["roasted"][0] == ("cooked",)
    assert "raw" in word_relations()["roasted"][1]
