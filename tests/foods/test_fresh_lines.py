"""Lines as cooks really write them: kinds in brackets, amounts behind the food, shares of cans, lists of spices."""

from __future__ import annotations

import pytest

from labeler.foods.model import WeighedLine
from labeler.foods.resolve import weigh, weigh_line
from labeler.parsing.document import read_recipe
from labeler.parsing.ingredient.line import read_line


def weighed(text: str, market: str = "us") -> WeighedLine:
    return weigh_line(read_line(text), market=market)


def food(text: str, market: str = "us") -> str | None:
    found = weighed(text, market).match
    return None if found is None else found.food


@pytest.mark.parametrize(
    ("bracket", "before"),
    [
        ("30 g butter (unsalted)", "30 g unsalted butter"),
        ("1 cup lettuce (romaine, torn)", "1 cup romaine lettuce"),
        ("1 bell pepper (red, seeded)", "1 red bell pepper"),
        ("1 cup bread crumbs (soft)", "1 cup soft bread crumbs"),
        ("200 ml stock (chicken)", "200 ml chicken stock"),
        ("1 cup milk (coconut)", "1 cup coconut milk"),
    ],
)
def test_a_bracket_that_tells_the_kind_is_read_as_if_it_stood_before(bracket: str, before: str) -> None:
    assert food(bracket) == food(before)


@pytest.mark.parametrize("line", ["1 cup flour (I use spelt)", "1 cup flour (or spelt)", "1 cup flour (not spelt)"])
def test_a_bracket_that_talks_of_another_food_changes_nothing(line: str) -> None:
    assert food(line) == food("1 cup flour")


@pytest.mark.parametrize(
    ("behind", "before"),
    [
        ("Butter big knob", "1 knob butter"),
        ("Thyme, a generous bunch", "1 bunch thyme"),
        ("Garlic whole bulb", "1 bulb garlic"),
        ("Olive oil glug", "1 glug olive oil"),
        ("Can/bottle of beer", "1 can of beer"),
    ],
)
def test_a_unit_behind_its_food_is_one_of_it(behind: str, before: str) -> None:
    one, other = weighed(behind), weighed(before)
    assert one.match is not None and other.match is not None and one.match.food == other.match.food
    assert one.grams is not None and other.grams is not None and one.grams.best == pytest.approx(other.grams.best)


def grams(text: str) -> float:
    found = weighed(text).grams
    assert found is not None
    return found.best


def test_a_weight_of_several_cans_is_shared_where_one_would_be_no_usual_can() -> None:
    """Cans of mandarins hold 11 or 15 ounces, cans of chickpeas 15 (common practice, no source)."""
    assert grams("22 oz (2 cans) mandarin oranges") == pytest.approx(22 * 28.35, rel=0.01)
    assert grams("14.5 oz diced tomatoes (2 cans)") == pytest.approx(2 * 14.5 * 28.35, rel=0.01)


def test_each_in_a_bracket_speaks_of_every_weight_in_it() -> None:
    assert grams("2 onions (about 12 ounces; 340 g each)") == pytest.approx(grams("680 g onions"), rel=0.01)


def test_a_range_in_a_bracket_is_a_range() -> None:
    found = weighed("2 1/2 to 3 1/2 cups (300 g to 420 g) powdered sugar").grams
    assert found is not None
    assert (found.low, found.best, found.high) == pytest.approx((294, 360, 428.4), rel=0.01)


def test_a_list_of_spices_is_every_one_of_them_slips_mended() -> None:
    found = weighed("Cardamom, cloves, cumin, cinamon, corriander seeds, turmeric")
    assert len({one.match.food for one in (found, *found.also) if one.match}) == 6


def test_what_is_counted_is_a_pepper_of_the_garden() -> None:
    assert food("1 pepper") == food("1 bell pepper")
    assert food("1 tsp pepper") == food("1 tsp black pepper")


def test_a_maker_before_a_usual_name_leaves_the_name() -> None:
    """The stand-in is reported, as it is no sure match."""
    found = weighed("1 tbsp Quibberdon's hot sauce")
    assert found.match is not None and found.match.food == food("1 tbsp hot sauce")
    assert "weak-match" in {problem.code for problem in found.problems}


def test_talk_behind_a_comma_names_no_part_of_the_recipe() -> None:
    assert food("1/4 cup of cheddar, you need little, most of the taste comes from the onion") == food("1 cup cheddar")


def test_no_or_little_of_a_food_is_no_other_food() -> None:
    assert food("no or little salt; the soy sauce brings it") == food("salt")


def test_yam_is_the_orange_root_where_shops_sell_it_so() -> None:
    """Sweet potatoes are sold as yams in the US and Canada (common practice, no source)."""
    assert food("2 yams") == food("2 sweet potatoes")
    assert food("2 yams", "uk") != food("2 sweet potatoes", "uk")


STEPWISE = """# Supper

Season on both sides:

- 600 g chicken thighs
- salt

Brown in a pan:

- Chicken
- 2 tbsp butter

Take it out and soften:

- 1 onion
- Butter

Put back and simmer 20 minutes:

- {again}
- 500 ml stock
"""


@pytest.mark.parametrize("again", ["Browned chicken", "Shredded chicken, skins discarded", "Chicken"])
def test_what_a_later_list_takes_again_is_counted_once(again: str) -> None:
    recipe = weigh(read_recipe(STEPWISE.format(again=again)))
    lines = {line.line.text: line for part in recipe.parts for line in part.lines}
    for text in ("Chicken", again):
        found = lines[text].grams
        assert found is not None and found.high == 0
        assert "counted-already" in {problem.code for problem in lines[text].problems}


@pytest.mark.parametrize("again", ["Chicken liver", "Dried thyme", "Carrots"])
def test_what_no_earlier_line_counts_is_new(again: str) -> None:
    recipe = weigh(read_recipe(STEPWISE.format(again=again)))
    found = next(line.grams for part in recipe.parts for line in part.lines if line.line.text == again)
    assert found is not None and found.best > 0


def test_more_of_a_fat_or_a_seasoning_is_more_of_it() -> None:
    recipe = weigh(read_recipe(STEPWISE.format(again="salt")))
    lines = [line for part in recipe.parts for line in part.lines if line.line.text in ("salt", "Butter")]
    assert len(lines) == 3 and all(line.grams is not None and line.grams.best > 0 for line in lines)
