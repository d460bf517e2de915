"""Numbers of steps without a full stop, in words, or inside a row are numbers, and no amounts. No source."""

from __future__ import annotations

import pytest

from labeler.parsing import read_recipe


@pytest.mark.parametrize("lines", ["- 200 g flour\n- 1 dl milk", "200 g flour\n1 dl milk"])
@pytest.mark.parametrize("heading", ["", "## Method\n"])
@pytest.mark.parametrize(
    "steps",
    [
        "1 Mix the flour and milk.\n2 Bake for 20 minutes.",
        "1 Mix the flour and milk.\n\n2 Bake for 20 minutes.",
        "1) Mix the flour and milk. 2) Bake for 20 minutes.",
        "#1 Mix the flour and milk.\n#2 Bake for 20 minutes.",
        "1/ Mix the flour and milk.\n2/ Bake for 20 minutes.",
        "Step one: Mix the flour and milk.\nStep two: Bake for 20 minutes.",
        "Step 1\nMix the flour and milk.\nStep 2\nBake for 20 minutes.",
    ],
)
def test_a_number_before_a_step_is_no_part_of_it(steps, heading, lines):
    """Whatever sign stands behind the number, and whether a heading says that steps follow or not."""
    (part,) = read_recipe(f"# Cake\n\n{lines}\n\n{heading}{steps}\n").parts
    assert [line.text for line in part.lines] == ["200 g flour", "1 dl milk"]
    assert [step.text for step in part.handling] == ["Mix the flour and milk.", "Bake for 20 minutes."]


def test_numbers_that_count_up_before_foods_are_amounts():
    """One onion, two carrots, three leeks."""
    (part,) = read_recipe("# Soup\n\n1 Onion\n2 Carrots\n3 Leeks\n\nChop it all.\n").parts
    assert [line.text for line in part.lines] == ["1 Onion", "2 Carrots", "3 Leeks"]
