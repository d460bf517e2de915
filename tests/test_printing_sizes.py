"""A refusal for size names sizes that hold the label when it is made again."""

from pathlib import Path

import pytest

from labeler.label.compose import DoesNotFit
from labeler.label.make import make_label
from labeler.parsing import read_recipe

PIE = read_recipe((Path(__file__).parents[1] / "demo/quay-pie.md").read_text(encoding="utf-8"))


@pytest.mark.parametrize("market", ["us", "uk"])
def test_the_sizes_of_a_refusal_hold_the_label(market: str) -> None:
    """The net quantity's type grows with the panel (21 CFR 101.7(i)): so does what a named size needs."""
    with pytest.raises(DoesNotFit) as refused:
        make_label(PIE, size="47x56", market=market, anyway=True)
    for size in (refused.value.needed_mm, refused.value.proportional_mm):
        assert size is not None
        assert make_label(PIE, size=f"{size[0]:g}x{size[1]:g}", market=market, anyway=True).pdf
