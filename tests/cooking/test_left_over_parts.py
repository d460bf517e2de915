"""A part of which some is left over: said, accounted for, and in no figure."""

from __future__ import annotations

import pytest

from labeler.cooking.pipeline import cook
from labeler.foods.resolve import weigh
from labeler.nutrition.analysis import analyse
from labeler.parsing.document import read_recipe

CAKES = """# Test
## Cakes
- 300 g cod
- 300 g potatoes
> shape into 12 cakes and fry 4 minutes a side
## One plate
- 8 cakes
- 50 g lettuce
"""
RELISH = "# Test\n## Relish\n- 300 g tomatoes\n- 100 g sugar\n> simmer 20 minutes\n## Burger\n- 300 g minced beef\n"


def test_what_is_left_over_is_a_problem_and_a_row():
    """Of 12 cakes 8 are eaten: 4 are left, by the pieces; made = taken + left over."""
    found = analyse(read_recipe(CAKES), draws=0)
    assert "part-left-over" in {problem.code for problem in found.problems}
    made = found.parts[0].grams_kept
    (row,) = [row for row in found.parts[0].ledger if "left over" in row.stream]
    (taken,) = [row for row in found.parts[1].ledger if row.stream == "Cakes"]
    assert row.grams == pytest.approx(made / 3)
    assert row.grams + taken.grams == pytest.approx(made)


def test_a_part_that_is_used_up_leaves_no_word():
    """A part that is taken whole is left over nowhere."""
    found = analyse(read_recipe(CAKES.replace("8 cakes", "12 cakes")), draws=0)
    assert "part-left-over" not in {problem.code for problem in found.problems}
    assert all("left over" not in row.stream for part in found.parts for row in part.ledger)


def test_a_sentence_takes_of_a_part_as_a_line_does():
    """ "Use half of the relish" is the line "half of the relish", and boils nothing down."""
    line = cook(weigh(read_recipe(RELISH + "- half of the relish\n> mix\n")))
    sentence = cook(weigh(read_recipe(RELISH + "> Mix and use half of the relish.\n")))
    assert sentence.mix.total_mass[0] == pytest.approx(line.mix.total_mass[0])
    assert {problem.code for problem in sentence.problems} == {"part-left-over"}
