"""The short account of a step that people read."""

from __future__ import annotations

from pathlib import Path

import pytest

from labeler.cooking.step_summaries import in_short
from labeler.nutrition.analysis import analyse
from labeler.parsing.document import read_recipe

DEMO = Path(__file__).parents[2] / "demo"


@pytest.mark.parametrize("name", ["harbour-box", "quay-pie", "beetroot-relish"])
def test_the_account_that_people_read_is_short_and_plain(name):
    """No formula, table number or unit of diffusion stands in the short account; all of it stands in the long one."""
    for part in analyse(read_recipe((DEMO / f"{name}.md").read_text()), draws=0).parts:
        for row in part.ledger:
            assert 0 < len(row.in_short) <= 100
            assert not any(word in row.in_short for word in ("Crank", "1e-10", "SR28", "retention 0", "half-thickness"))


@pytest.mark.parametrize(
    ("action", "method", "short"),
    [
        ("brine", "diffusion, Crank's sheet in a limited bath: D 4 1e-10 m²/s",
         "brined, by the strength of the liquid, the time and the size of the pieces"),
        ("roast", "measured: 900 g when done; retention 0805", "roasted, as you measured it"),
        ("drain", "a film of 0.15 mm clings", "the liquid is poured off; what clings stays"),
        ("drain", "nothing to pour off", "there was nothing to take"),
        ("", "retention as stated in the lines", "as you measured it"),
    ],
)  # fmt: skip
def test_short_accounts(action, method, short):
    """What was done, and how that is known."""
    assert in_short(action, method) == short
