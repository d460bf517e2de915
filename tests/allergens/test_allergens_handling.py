"""Sentences of a method under a recipe of roots against what they bring: told, asked, or nothing at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from labeler.allergens import EVERY_MARKET, assess
from labeler.allergens.phrase_verdicts import NUTS
from labeler.allergens.vocabulary import allergen_names
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe

ROWS = [
    tuple(cell.strip() for cell in line.split("|"))
    for line in (Path(__file__).parents[1] / "data" / "allergen_handling.txt").read_text(encoding="utf-8").splitlines()
    if line.strip() and not line.startswith("#")
]
RECIPE = "---\ntitle: Roast roots\nmakes: 4 portions\n---\n- 500 g carrots\n- 300 g parsnips\n- 1 tsp salt\n> {}\n"


def test_the_table_is_whole() -> None:
    """At least 100 rows of three cells whose allergens are known ids."""
    assert len(ROWS) >= 100
    for row in ROWS:
        assert len(row) == 3, row
        named = {one for cell in row[1:] for choice in cell.split() for one in choice.split("/")}
        assert named <= {*allergen_names(), "-"}, row


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row[0][:50])
def test_a_sentence_tells_or_asks_what_it_brings(row: tuple[str, str, str]) -> None:
    """What a sentence brings is told or asked, and it tells nothing that it does not bring."""
    text, wanted, tolerated = row
    found = assess(weigh(read_recipe(RECIPE.format(text))), market=EVERY_MARKET)
    either = [set(choice.split("/")) for choice in wanted.split() if choice != "-"]
    assert [one for one in either if one.isdisjoint(found.allergens | found.possible)] == []
    allowed = {*tolerated.split(), *(one for choice in either for one in choice)}
    assert found.allergens - allowed - ({"tree_nuts"} if allowed & NUTS else set()) == set()
