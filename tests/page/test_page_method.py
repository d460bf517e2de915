"""The drawing of the method in the page: what its arrows carry, and what a removal is said to be."""

import pytest
from page_browser import DEMO

from labeler.nutrition.analysis import analyse
from labeler.page.engine.method import Removal, method, settled
from labeler.page.engine.reading import Text, recipe_of
from labeler.types import LabelerError

BELLY = "- 1 kg pork belly\n> roast 2 hours at 180 °C\n"
STEW = (
    "## Ingredients\n- 1 kg beef chuck\n- 1 l red wine\n## Method\n1. Marinate the beef in the wine overnight. Drain.\n"
)


def weight(text):
    """What is in the dish [g]."""
    return float(analyse(recipe_of(Text(text, "a.md")), draws=0).dish.mix.total_mass[0])


def removals(text):
    """Every removal of a drawing with its grams."""
    return [
        (one["removal"], one["grams"]["best"])
        for one in method(Text(text, "a.md"))["arrows"].values()
        if one["removal"]
    ]


def test_every_arrow_says_what_it_carries():
    """Each arrow of the demo's box has words, grams, five nutrients and, where it has one, its line in the text."""
    path = DEMO / "harbour-box.md"
    text = path.read_text(encoding="utf-8")
    drawn = method(Text(text, str(path)))
    blocks = {mark[1] for mark in drawn["marks"]}
    assert drawn["arrows"] and set(drawn["arrows"]) <= blocks and set(drawn["boxes"]) <= blocks
    for one in drawn["arrows"].values():
        assert one["words"] and one["grams"]["low"] <= one["grams"]["best"] <= one["grams"]["high"]
        assert [value["tag"] for value in one["values"]] == ["ENERC_KCAL", "FAT", "CHOCDF", "PROCNT", "NA"]
    rows = text.split("\n")
    assert {rows[line - 1][0] for line in drawn["boxes"].values()} <= {">", "-"}
    assert [part["title"] for part in drawn["parts"]] == ["Roast pork", "Cider gravy", "Mashed swede", "One box"]


@pytest.mark.parametrize("text", [BELLY, STEW])
def test_what_is_said_of_a_removal_is_read_so(text):
    """Said to be kept, what left is in the dish; said to be thrown away, the dish stays and the text names it."""
    removal, grams = max(removals(text), key=lambda one: one[1])
    asked = Removal(removal["part"], removal["box"], removal["name"], True)
    kept = settled(Text(text, "a.md"), asked)
    assert weight(kept["text"]) >= weight(text) + 0.8 * grams and kept["row"] in kept["text"]
    away = settled(Text(text, "a.md"), Removal(asked.part, asked.box, asked.name, False))
    assert weight(away["text"]) == pytest.approx(weight(text), rel=0.02) and away["text"] != text


def test_what_cannot_be_said_is_refused():
    """A removal that is not there, and one of which no sentence is understood, are refused in words."""
    with pytest.raises(LabelerError, match="nothing leaves here"):
        settled(Text(BELLY, "a.md"), Removal(7, 0, "drippings", True))
    path = DEMO / "harbour-box.md"
    text = path.read_text(encoding="utf-8")
    with pytest.raises(LabelerError, match="say it in line 19"):
        settled(Text(text, str(path)), Removal(0, 1, "poured off", True))
