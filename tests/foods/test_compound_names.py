"""Two foods in one name. Expected answers are common kitchen sense, no source."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.foods.matching.compound_names import split_foods


@pytest.mark.parametrize(
    ("name", "foods"),
    [
        ("salt and pepper", ("salt", "pepper")),
        ("salt & pepper", ("salt", "pepper")),
        ("kosher salt and freshly ground black pepper", ("kosher salt", "freshly ground black pepper")),
        ("oil and butter", ("oil", "butter")),
        ("parsley, thyme and rosemary", ("parsley", "thyme", "rosemary")),
        ("lemon juice and zest", ("lemon juice", "lemon zest")),
        ("zest and juice of 1 lemon", ("zest of 1 lemon", "juice of 1 lemon")),
        ("egg and milk", ("egg", "milk")),
    ],
)
def test_two_foods_in_one_name_are_two(name: str, foods: tuple[str, ...]) -> None:
    """A name whose parts are all foods is split between them."""
    assert split_foods(name) == foods


@pytest.mark.parametrize(
    "name",
    [
        "half and half",
        "half-and-half",
        "macaroni and cheese",
        "mac 'n' cheese",
        "pork and beans",
        "sweet and sour sauce",
        "peas and carrots",
        "red and green bell peppers",
        "black and white sesame seeds",
        "diced tomatoes and green chilies",
        "oil and vinegar dressing",
        "salt",
        "granulated sugar",
        "Cheese, cottage, creamed",
        "nuts and bolts",
    ],
)
def test_one_food_stays_one(name: str) -> None:
    """A name that is one food, or whose parts are not all foods, stays whole."""
    assert split_foods(name) == (name,)


@given(st.text(max_size=60))
@settings(deadline=None, max_examples=200)
def test_any_text_splits_into_parts_that_are_not_empty(text: str) -> None:
    """No text is an error, and no part is lost or empty unless the text is."""
    parts = split_foods(text)
    assert parts
    assert parts == (text,) or all(part.strip() for part in parts)
