"""The ingredient list is ordered by what goes into the dish, however often and through which parts it is used."""

from pathlib import Path

import pytest

from labeler.cooking.pipeline import cook
from labeler.foods.resolve import weigh
from labeler.label.builder import label_content
from labeler.nutrition.ingredient_weights import ingoing
from labeler.parsing import read_recipe

DEMO = Path(__file__).parents[2] / "demo"


def places(text):
    weighed = weigh(read_recipe(text))
    return ingoing(weighed, cook(weighed))


def listed(text, market="us"):
    return label_content(read_recipe(text), market=market)[1]["ingredients"]


SALADS = """## Dressing
- 100 g olive oil {food 04053, 100 g}
- 5 g salt {food 02047, 5 g}
## Green salad
- half of the Dressing
- 100 g lettuce {food 11253, 100 g}
## Red salad
- the rest of the Dressing
- 100 g tomato {food 11529, 100 g}
"""


def test_a_part_that_two_parts_share_is_shared():
    """Half a dressing in each of two salads is 52.5 g in each, so the leaves and the tomato come first."""
    found = places(SALADS)
    assert found[(5,)] == pytest.approx(52.5) and found[(8,)] == pytest.approx(52.5)
    assert found[(5, 2, "olive oil")] == pytest.approx(50)
    text = listed("---\ntitle: Two salads\nmakes: 2 bowls\n---\n" + SALADS)
    assert text.index("lettuce") < text.index("olive oil") and text.index("tomato") < text.rindex("olive oil")


def test_parts_and_foods_are_weighed_on_one_scale():
    """In the demo's box the mash (150 g) comes before the pork (120 g), the beans (80 g) and the gravy."""
    text = listed((DEMO / "harbour-box.md").read_text(encoding="utf-8"), market="uk")
    order = [text.index(word) for word in ("Mashed swede", "Roast pork", "green beans", "Cider gravy")]
    assert order == sorted(order)


def test_weights_of_foods_sum_to_what_went_in_where_nothing_leaves():
    """With nothing poured off the weights of all foods are those of the batch: 105 g dressing, 100 g, 100 g."""
    found = places(SALADS)
    assert sum(grams for place, grams in found.items() if isinstance(place[-1], str)) == pytest.approx(305)


def test_what_is_poured_off_or_discarded_weighs_what_it_leaves():
    """A bay leaf that is taken out weighs what the brine drew from it; the salt weighs what the cucumber took up."""
    found = places(
        "- 2 bay leaves\n- 1 kg cucumber, sliced 3 mm\n- 1 litre water\n- 40 g salt\n"
        "> soak 8 hours, then drain\n> discard the bay leaves\n"
    )
    assert 0 < found[(1, "bay leaves")] < 0.1
    assert 0 < found[(4, "salt")] < 30


def test_water_that_boils_away_does_not_change_the_order_of_foods():
    """A sauce boiled down keeps its tomatoes at the weight that went in (order by weight as used)."""
    found = places(
        "- 1 kg tomatoes {food 11529, 1000 g}\n- 100 g onion {food 11282, 100 g}\n> simmer until reduced by half\n"
    )
    assert found[(1, "tomatoes")] == pytest.approx(1000, rel=0.01)


def test_what_was_boiled_and_strained_is_still_an_ingredient():
    """Ginger and bones that give a liquor its taste are in it "in an altered form" (1169/2011 Article 2(2)(f))."""
    cordial = places("- 1 litre water\n- 40 g ginger, sliced\n- 50 g sugar\n> simmer 20 minutes, strain\n")
    stock = places("- 2 kg beef bones\n- 3 litres water\n> simmer 4 hours, strain\n")
    assert 0 < cordial[(2, "ginger")] < 40
    assert stock[(1, "beef bones")] > 0


def test_what_nothing_has_touched_and_is_thrown_away_is_no_ingredient():
    """A stone that is taken out of fruit before anything is done leaves nothing behind."""
    assert places("- 1 kg apricots\n- 2 lemons\n> discard the lemons\n")[(2, "lemons")] == 0


@pytest.mark.parametrize("path", sorted(DEMO.glob("*.md")), ids=lambda path: path.stem)
def test_nothing_weighs_more_than_was_put_in(path):
    """Over all its uses no line of a demo weighs more than it put in, whatever was boiled, poured off or kept."""
    weighed = weigh(read_recipe(path.read_text(encoding="utf-8")))
    dish = cook(weighed)
    found = ingoing(weighed, dish)
    for part in weighed.parts:
        (ledger,) = [one for one in dish.ledgers if one.part == part.title]
        for line in (one for each in part.lines for one in (each, *each.also) if one.grams is not None):
            uses = [grams for place, grams in found.items() if place[-2:] == (line.line.number, line.line.name)]
            assert sum(uses) <= line.grams.best * ledger.times * max(1.0, ledger.used) * (1 + 1e-9)


def test_a_salted_liquid_that_is_used_again_counts_once():
    """Soy sauce of which the radishes hold the salt and a dressing the water is one bottle (conservation)."""
    found = places(
        "## Radishes\n- 400 g radishes, sliced 3 mm {food 11429, 400 g}\n- 100 g soy sauce {food 16123, 100 g}\n"
        "> Leave 2 hours, then drain and keep the liquid as dressing.\n"
        "## Salad\n- all of the Radishes\n- all of the dressing\n"
    )
    assert sum(grams for place, grams in found.items() if place[-1] == "soy sauce") == pytest.approx(100, abs=1)
