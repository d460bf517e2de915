"""A liquid that one part keeps and another takes: found by its name, counted once, and listed by what is in it."""

import pytest

from labeler.allergens import assess
from labeler.label.make import make_label
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe

ROAST = """---
title: Goat shoulder with its gravy
makes: 6 plates
market: uk
---
## Goat
- 2 kg goat shoulder, boned
- 700 ml chicken stock
> Roast at 160 °C for 3 hours over the stock, {fall}.
> {keep}
## Gravy
- all of the gravy
- 100 ml red wine
> Simmer until reduced by half.
## Plate
- all of the Goat
- all of the Gravy
"""
PICKLE = """---
title: Radish salad
makes: 4 tubs
market: uk
---
## Radishes
- 400 g radishes, sliced 3 mm
- 300 ml cider vinegar
- 100 ml soy sauce
- 20 g salt
> Leave 2 hours, then drain and keep the liquid as dressing.
## Salad
- all of the Radishes
- 3 tbsp of the dressing
- 300 g cucumber, sliced
"""


def codes(nutrition):
    return [problem.code for problem in nutrition.problems]


@pytest.mark.parametrize("fall", ["letting the drippings fall into the stock", "let the juices run into the stock"])
@pytest.mark.parametrize("keep", ["Keep the stock and drippings as gravy.", "Reserve the liquid as gravy."])
def test_what_drips_into_the_stock_is_in_the_gravy_that_is_made_of_it(fall, keep):
    """The stock with the juice of the roast leaves the meat, and the part of its name takes it, whole."""
    found = analyse(read_recipe(ROAST.format(fall=fall, keep=keep), source="roast.md"), draws=0)
    goat, gravy, _ = found.parts
    left = sum(row.grams for row in goat.ledger if row.stream in ("poured off", "dripped", "discarded"))
    taken = [row.grams for row in gravy.ledger if row.step == "in" and row.stream == "gravy"]
    assert taken == pytest.approx([left], abs=0.5)
    assert left > 300.0
    assert not {"no-such-food", "no-such-part", "part-in-circle", "handling-not-read"} & set(codes(found))


def test_a_line_that_takes_a_kept_liquid_asks_for_no_food():
    """The dressing is no food of the table and no package to read: what is in it stands on other lines."""
    recipe = read_recipe(PICKLE, source="pickle.md")
    found = analyse(recipe, draws=0)
    assert "no-such-food" not in codes(found)
    assert assess(found.weighed).unassessed == ()


def test_the_ingredient_list_says_what_the_kept_liquid_is_made_of():
    """A compound stands with its ingredients and their allergens (Regulation (EU) No 1169/2011, Annex VII part E)."""
    listed = make_label(read_recipe(PICKLE, source="pickle.md"), market="uk", size="a6").declared["ingredients"]
    inside = listed.partition("dressing (")[2] or listed.partition("Dressing (")[2]
    assert "vinegar" in inside.partition(")")[0]
    assert "soy" in inside


def test_a_kept_liquid_is_shared_out_once():
    """What the salad takes and what is poured away add up to what left the radishes."""
    found = analyse(read_recipe(PICKLE, source="pickle.md"), draws=0)
    radishes, salad = found.parts
    poured = sum(row.grams for row in radishes.ledger if row.stream == "poured off")
    taken = sum(row.grams for row in salad.ledger if row.stream == "dressing")
    assert 0.0 < taken < poured
