"""Some 400 lines as cooks write them against what they hold: remarks, neighbours, marks, typos, dishes, languages."""

from __future__ import annotations

from pathlib import Path

import pytest

from labeler.allergens import EVERY_MARKET, assess_written
from labeler.allergens.phrase_verdicts import NUTS
from labeler.allergens.vocabulary import allergen_names
from labeler.parsing import read_line

ROWS = [
    tuple(cell.strip() for cell in line.split("|"))
    for line in (Path(__file__).parents[1] / "data" / "allergen_phrases.txt").read_text(encoding="utf-8").splitlines()
    if line.strip() and not line.startswith("#")
]
JAPANESE = frozenset("orange kiwifruit beef chicken banana pork peach yam apple gelatin buckwheat".split())
"""Listed in Japan only, so that no row tells them."""


def _is_among(choice: str, found: frozenset[str]) -> bool:
    """Whether one of "a/b" was found; a nut without a name stands for each, and each for it."""
    wanted = frozenset(choice.split("/"))
    either = (
        wanted | ({"tree_nuts"} if wanted & NUTS else frozenset()) | (NUTS if "tree_nuts" in wanted else frozenset())
    )
    return not either.isdisjoint(found)


def test_the_table_is_whole() -> None:
    """At least 400 rows of four cells whose allergens are known ids."""
    assert len(ROWS) >= 400
    for row in ROWS:
        assert len(row) == 4, row
        assert {one for cell in row[1:] for choice in cell.split() for one in choice.split("/")} <= {*allergen_names()}


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row[0][:50])
def test_a_line_tells_and_asks_what_it_holds(row: tuple[str, str, str, str]) -> None:
    """What it surely holds is told, what it may hold is asked, and nothing else is told."""
    text, surely, perhaps, _ = row
    found = assess_written(read_line(text), market=EVERY_MARKET)
    assert [one for one in surely.split() if not _is_among(one, found.allergens)] == []
    assert [one for one in perhaps.split() if not _is_among(one, found.allergens | found.possible)] == []
    allowed = {one for cell in row[1:] for choice in cell.split() for one in choice.split("/")}
    nuts = {"tree_nuts"} if allowed & NUTS else set()
    assert found.allergens - allowed - nuts - JAPANESE == set()
