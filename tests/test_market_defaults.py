"""What a plain name means by market: each row is whole, and only plain names change."""

from __future__ import annotations

import csv

import pytest

from labeler.foods.composition.food_table import load_table
from labeler.foods.market_defaults import DEFAULTS_FILE
from labeler.foods.resolve import weigh_line
from labeler.markets import MARKETS
from labeler.parsing.ingredient.line import read_line


def test_each_row_names_foods_and_markets_that_there_are():
    """Both entries are in the table, the markets are known, and every row says why."""
    with DEFAULTS_FILE.open(encoding="utf-8", newline="") as handle:
        for row in csv.DictReader(line for line in handle if not line.startswith("#")):
            assert row["food"] in load_table() and row["takes"] in load_table()
            assert set(row["markets"].split()) <= set(MARKETS) and row["note"]
            assert 0.5 < float(row["confidence"]) <= 1.0


@pytest.mark.parametrize(
    ("text", "market", "food"),
    [
        ("250 ml milk", "us", "01077"),
        ("250 ml milk", "uk", "01174"),
        ("250 ml whole milk", "uk", "01211"),
        ("250 ml skim milk", "uk", "01085"),
        ("100 g butter", "eu", "01145"),
        ("100 g salted butter", "eu", "01001"),
        ("100 g butter", "uk", "01001"),
        ("200 ml cream", "anz", "70314"),
        ("200 ml heavy cream", "anz", "01053"),
        ("300 g rice", "eu", "20444"),
    ],
)
def test_a_plain_name_is_what_its_market_sells(text, market, food):
    """Common practice, no source; a name that says which is taken at its word in every market."""
    assert weigh_line(read_line(text), market=market).match.food == food


def test_a_pinned_food_is_the_same_in_every_market():
    """What the cook pins no market changes."""
    assert weigh_line(read_line("250 ml milk {food 01077}"), market="uk").match.food == "01077"
