"""What a cup weighs: held to lists that sources print, and by the form that the line gives."""

import csv
from pathlib import Path

import pytest

from labeler.foods.resolve import weigh_line
from labeler.parsing import read_line

CITED = Path(__file__).parents[1] / "data" / "cup_weights_cited.csv"


def grams(text):
    return weigh_line(read_line(text)).grams


def test_every_cited_line_is_weighed_and_three_quarters_are_within_15_per_cent():
    """The sources differ between them as well: a cup of slivered almonds weighs 108 g in one and 130 g in another."""
    with CITED.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(line for line in stream if not line.startswith("#")))
    found = [grams(row["line"]) for row in rows]
    assert len(rows) >= 30 and None not in found
    near = [abs(one.best / float(row["grams"]) - 1) <= 0.15 for one, row in zip(found, rows, strict=True)]
    assert sum(near) >= 0.75 * len(rows)


@pytest.mark.parametrize("food", ["sweet potato", "carrots", "banana", "avocado"])
def test_a_cup_of_what_is_mashed_has_no_air_between_its_pieces(food):
    """A cup of mash weighs what its water does, within a quarter, whatever a cup of cubes weighs."""
    assert grams(f"1 cup mashed {food}").best == pytest.approx(237.0, rel=0.25)


def test_wide_flakes_of_coconut_are_lighter_than_shreds():
    """Unsweetened flakes weigh 54 g a cup as Milk Street measured them, shreds 90 g."""
    assert grams("1 cup unsweetened coconut flakes").best < 0.75 * grams("1 cup shredded coconut").best
