"""Whether a food with alcohol in it is a drink."""

from __future__ import annotations

import pytest

from labeler.data_files import data_folder, data_rows
from labeler.rules.drinks import DrinkVerdict, drink_verdict
from labeler.rules.makeup import Makeup
from labeler.rules.market import load_market

STRONG = Makeup({"sugar": 20.0}, {"alcohol": 12.0})


@pytest.mark.parametrize("name", ["Brandy sauce", "Fish soup with wine", "White wine vinegar", "Red wine gravy"])
def test_a_dish_with_wine_or_brandy_is_no_drink(name: str) -> None:
    """What flows and has alcohol in it is no drink where its name says what else it is."""
    assert drink_verdict(name, STRONG, liquid=True) is DrinkVerdict.NO
    assert drink_verdict(name, STRONG, liquid=True, strength="12 % vol") is DrinkVerdict.NO


@pytest.mark.parametrize("name", ["Sloe gin", "Rum punch with lime", "Mulled wine", "Harbour cocktail", "Egg nog"])
def test_a_drink_is_known_by_its_name(name: str) -> None:
    """The last words of the name, or its reference amount, make a liquid a drink."""
    assert drink_verdict(name, STRONG, liquid=True) is DrinkVerdict.YES


def test_what_is_not_sure_is_a_question_and_the_cook_answers_it() -> None:
    """A liquid of another name, or a drink by name that is made like a dish, is asked about; the head settles it."""
    assert drink_verdict("Rumtopf", STRONG, liquid=True) is DrinkVerdict.UNSURE
    assert drink_verdict("Mussels and cider", Makeup({"fish": 60.0}, {}), liquid=True) is not DrinkVerdict.YES
    assert drink_verdict("Sloe gin", STRONG, liquid=False) is DrinkVerdict.UNSURE
    assert drink_verdict("Rumtopf", STRONG, liquid=True, strength="no") is DrinkVerdict.NO
    assert drink_verdict("Rumtopf", STRONG, liquid=True, strength="20 % vol") is DrinkVerdict.YES
    assert drink_verdict("Rumtopf", STRONG, liquid=True, kind="soft-drinks") is DrinkVerdict.YES
    assert drink_verdict("Plum tart", STRONG, liquid=False) is DrinkVerdict.NO


def test_the_table_of_drinks_names_what_there_is() -> None:
    """A row for each way of knowing, no word twice, and reference amounts that the table has."""
    rows = {row["by"]: row["is"].split("|") for row in data_rows(data_folder("labeler.rules") / "drinks.csv")}
    assert set(rows) == {"name", "reference", "makeup"}
    assert all(len(set(words)) == len(words) for words in rows.values())
    held = {rule.data.get("id") for rule in load_market("us").rules("serving").values()}
    assert set(rows["reference"]) <= held
