"""What a label lacks of the elements that its market asks for."""

from __future__ import annotations

from labeler.food_safety.food_kinds import rows
from labeler.label.make import make_label
from labeler.parsing import read_recipe

CHOWDER = (
    "---\ntitle: Cod chowder\nmakes: 4 portions\nnet: 300 g\nsale: to shops\n"
    "best before: 2027-03-01\nstorage: {}\n---\n"
    "- 400 g cod\n- 600 ml milk\n> simmer 10 minutes\n"
)


def test_a_cold_food_says_that_it_is_kept_cold_whatever_the_cook_wrote() -> None:
    """The caution that keeps a food cold stands for a storage text that is not printed, and a cold date is asked of."""
    check = make_label(read_recipe(CHOWDER.format("Keep cool.")), market="eu", size="200x280").check
    assert any("must be kept refrigerated" in note and "Keep cool" in note for note in check.notes)
    assert any("use-by date" in note for note in check.notes)
    assert "keep-cold" in {row["code"] for row in rows("cautions.csv")}
