"""Stocks: what bones and meat give to a liquor before they are thrown away."""

from __future__ import annotations

import pytest
from kitchen_help import imbalance

from labeler.cooking.pipeline import cook
from labeler.cooking.state.ledger import interval_of
from labeler.cooking.state.mixture import column
from labeler.foods.composition.food_table import load_table
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe
from labeler.types import Status

BONES = "- 2 kg chicken bones\n- 4 litres water\n- 1 onion\n- 2 carrots\n"


def stock(handling: str, lines: str = BONES, draws: int = 400):
    dish = cook(weigh(read_recipe(f"# Test\n{lines}> {handling}\n")), draws=draws)
    assert max(imbalance(ledger) for ledger in dish.ledgers) < 1e-9
    return dish


@pytest.mark.parametrize("key", ["PROCNT", "NA", "K"])
def test_a_bone_stock_is_like_the_stock_of_the_table(key):
    """2 kg of bones boiled down to 2.4 litres: SR28 06172, home-prepared chicken stock, is inside the interval."""
    kept = stock("simmer the bones for 4 hours, strain, discard the bones. Weighs 2.4 kg.").ledgers[0].kept
    per_100g = interval_of(100.0 * kept.total[:, column(key)] / kept.total_mass)
    assert per_100g.low < load_table().value("06172", key) < per_100g.high
    assert per_100g.high > 2.0 * per_100g.low


def test_a_stock_says_that_it_is_a_guess():
    """What bones give is imputed, and a problem says so."""
    dish = stock("simmer the bones for 4 hours, strain, discard the bones", draws=0)
    assert "stock-uncertain" in {problem.code for problem in dish.problems}
    (extract,) = [at for at, item in enumerate(dish.mix.items) if item.name.startswith("extract")]
    assert dish.mix.status[extract, column("PROCNT")] == Status.IMPUTED


def test_wordings_of_throwing_bones_away_are_one_figure():
    """Straining, discarding the solids and lifting the bones out leave the same stock of bones and water."""
    lines = "- 2 kg chicken bones\n- 4 litres water\n"
    protein = [
        float(stock(f"simmer 4 hours, {words}", lines, 0).mix.total[0, column("PROCNT")])
        for words in ("strain", "strain, discarding the solids", "strain and discard the bones", "discard the bones")
    ]
    assert protein == pytest.approx([protein[0]] * len(protein))


def test_meat_that_is_eaten_gives_nothing_extra():
    """Chicken that is boiled and drained is no stock: nothing is added for it."""
    dish = stock("simmer 1 hour, drain", "- 1 kg chicken thighs\n- 2 litres water\n", 0)
    assert len(dish.ledgers[0].added) == 1
