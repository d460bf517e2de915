"""What a phrase of the method means: a bag that is taken out, pieces, what was just made."""

from __future__ import annotations

from labeler.cooking.kept import kept_shares
from labeler.cooking.pipeline import cook
from labeler.foods.resolve import weigh
from labeler.importers.reading import import_recipe

RELISH = """Lane end relish

1.2 kg tomatoes, chopped
2 onions, chopped
200 g sugar

tied in a cloth
6 cloves
1 tsp allspice berries

Method
Simmer the tomatoes, onions and sugar with the bag for 1 hour. Take out the spice bag. Bottle.
"""


def test_the_bag_that_is_taken_out_holds_the_spices_of_its_list():
    """Spices whose list says that they are tied in a cloth leave with the bag, but for what they gave."""
    weighed = weigh(import_recipe(RELISH.encode(), "text", "relish.txt"))
    dish = cook(weighed)
    assert dish.flow is not None
    shares = kept_shares(weighed, dish, dish.flow, dish.carried)
    found = {
        weighed.parts[place.part].lines[place.index].line.text: share.best
        for place, share in shares.items()
        if place.listed and share is not None
    }
    assert found["6 cloves"] < 0.3 and found["1 tsp allspice berries"] < 0.3
    assert found["1.2 kg tomatoes, chopped"] > 0.95
