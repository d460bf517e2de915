"""What a line says of the state of its food, as typed facts."""

from __future__ import annotations

import csv

import pytest

from labeler.parsing import read_line
from labeler.parsing.ingredient.cut import CutForm, CutStyle
from labeler.parsing.ingredient.facts import WORDS_FILE, Animal, Coat, Facts, Trait, facts_of, read_facts

VALUES = {
    "cut": {style.value for style in CutStyle},
    "trait": {trait.value for trait in Trait},
    "coat": {coat.value for coat in Coat} - {""},
    "animal": {animal.value for animal in Animal} - {""},
    "state": {"shelled", "rinsed", "drained", "injected"},
    "skin": {"on"},
    "remains": {"bones"},
}


def test_the_words_have_their_shape():
    """Every fact and value of the table is one that is asked for, each has words, and none is missing or twice."""
    with WORDS_FILE.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(line for line in stream if not line.startswith("#")))
    found = [(row["fact"], row["value"]) for row in rows]
    assert len(found) == len(set(found))
    assert set(found) == {(fact, value) for fact, values in VALUES.items() for value in values}
    assert all(row["words"] and row["where"] in ("line", "name") for row in rows)


@pytest.mark.parametrize(
    ("line", "field", "value"),
    [
        ("1 chicken, cut up", "cut", {CutStyle.PIECES}),
        ("1 kg pork, cubed", "cut", {CutStyle.CHOPPED}),
        ("500 g cucumbers, thinly sliced", "cut", {CutStyle.THINLY_SLICED, CutStyle.SLICED}),
        ("1 onion", "cut", set()),
        ("400 g can chickpeas, drained and rinsed", "rinsed", True),
        ("400 g can chickpeas, drained and rinsed", "drained", True),
        ("6 eggs, hard-boiled and peeled", "shelled", True),
        ("6 eggs", "shelled", False),
        ("4 chicken thighs, skin-on", "skin_on", True),
        ("4 skinless chicken thighs", "skin_on", False),
        ("1 kg chicken bones", "bones", True),
        ("1 kg boneless chicken thighs", "bones", False),
        ("500 g fish heads", "animal", Animal.FISH),
        ("1 kg beef shin bones", "animal", Animal.MAMMAL),
        ("100 g panko", "coat", Coat.CRUMBS),
        ("4 beef patty, frozen", "traits", {Trait.PATTY}),
    ],
)
def test_facts_of_a_line(line, field, value):
    """Facts are those that the line states, and no others."""
    facts = facts_of(read_line(line))
    found = facts.cut.styles if field == "cut" else getattr(facts, field)
    # Slices count for frying chips beside their usual thickness.
    assert (found - {CutStyle.CHIPS} if field == "cut" else found) == value


def test_a_size_is_a_form_with_a_half_thickness():
    """ "1-inch cubes" are spheres of half an inch."""
    cut = read_facts("potatoes, in 1-inch cubes").cut
    assert cut.form is CutForm.SPHERE and cut.half is not None
    assert cut.half.best == pytest.approx(12.7)


def test_nothing_said_is_no_fact():
    """A line without such words has the facts that a food has by default."""
    assert read_facts("water") == Facts()
