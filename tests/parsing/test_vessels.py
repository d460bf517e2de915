"""Vessels: what kind of vessel a phrase names."""

import pytest

from labeler.parsing.instructions.lexicon import class_words
from labeler.parsing.instructions.parser import read_sentences
from labeler.parsing.instructions.vessels import VesselKind, vessel_kinds

FOODS = frozenset(["butter", "shrimp", "beef"])


def test_every_class_of_vessels_is_a_kind():
    """The classes of the word list that begin with vessel are the kinds, and no kind lacks its words."""
    assert {name for name in class_words() if name.startswith("vessel-")} == {kind.value for kind in VesselKind}


@pytest.mark.parametrize(
    ("phrase", "kind"),
    [
        ("large skillet", VesselKind.PAN),
        ("deep roasting pan", VesselKind.OVEN),
        ("loaf pans", VesselKind.OVEN),
        ("heavy dutch oven", VesselKind.POT),
        ("cast iron durch oven", VesselKind.POT),
        ("preheated oven", VesselKind.OVEN),
        ("serving bowl", VesselKind.PLATE),
        ("mixing bowl", VesselKind.BOWL),
    ],
)
def test_a_vessel_is_what_its_longest_known_name_says(phrase, kind):
    """A roasting pan stands in the oven and is no pan of the stove; a Dutch oven is a pot, also misspelt."""
    assert kind in vessel_kinds(phrase)


@pytest.mark.parametrize("pot", ["Dutch oven", "cast iron Durch oven"])
def test_what_is_done_in_a_dutch_oven_is_not_in_the_oven(pot):
    """Butter melted in a pot that is called an oven, also misspelt, is on the stove, and one put into an oven in it."""
    here, there = (
        read_sentences(text, foods=FOODS, pairs=frozenset(), market="us").instructions[-1]
        for text in (f"Melt the butter in a {pot} over medium heat.", f"Put the {pot} in the oven for an hour.")
    )
    assert "IN_OVEN" not in {mark.name for mark in here.marks}
    assert "IN_OVEN" in {mark.name for mark in there.marks}
