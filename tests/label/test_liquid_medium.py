"""Solid food that is sold in a liquid: the label asks for its drained weight."""

from __future__ import annotations

import pytest

import labeler
from labeler.label.liquid_medium import sold_in_liquid

HEAD = "---\ntitle: Pickled vegetables\nmakes: 4 jars\nnet: 350 g\nmarket: uk\nsale: to shops\n{}---\n"
BRINE = "- 500 ml white wine vinegar\n- 300 ml water\n- 20 g salt\n"
PICKLE = "- 1 kg cucumbers, sliced\n" + BRINE
POURED = "> Boil the vinegar, water and salt.\n> Pack the cucumbers into jars and pour the hot brine over. Seal.\n"


@pytest.mark.parametrize(
    ("text", "solids"),
    [
        (PICKLE + POURED, ("cucumbers",)),
        (
            "- 600 g olives\n- 500 ml water\n- 30 g salt\n"
            "> Dissolve the salt in the water. Put the olives into jars and top up with the brine.\n",
            ("olives",),
        ),
        (PICKLE + "> Simmer everything 1 hour until thick. Spoon into jars and seal.\n", ()),
        (
            "- 600 g cabbage, shredded\n- 60 ml vinegar\n- 80 ml oil\n"
            "> Whisk vinegar and oil. Pour the dressing over the cabbage and toss. Pack into jars.\n",
            (),
        ),
    ],
)
def test_what_lies_in_a_liquid_is_seen_in_the_flow(text: str, solids: tuple[str, ...]) -> None:
    """Pieces that a brine is poured over lie in it; what is cooked down, or only dressed, is one food."""
    assert sold_in_liquid(labeler.analyse(labeler.read_recipe(HEAD.format("") + text), draws=20)) == solids


def test_a_label_without_the_drained_weight_says_so() -> None:
    """The label of food sold in a brine lacks its drained net weight until the head states it."""
    lacking = labeler.make_label(labeler.read_recipe(HEAD.format("") + PICKLE + POURED), anyway=True)
    stated = labeler.make_label(labeler.read_recipe(HEAD.format("drained: 180 g\n") + PICKLE + POURED), anyway=True)
    assert any("Cucumbers: sold in a liquid." in lack.message for lack in lacking.check.lacks)
    assert not any("drained" in lack.message for lack in stated.check.lacks)
