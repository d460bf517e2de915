"""Stock cubes, packages called by what is counted, and typos that must make up no allergen."""

from __future__ import annotations

import pytest

from labeler.allergens.assess import assess_line
from labeler.food_safety import cautions
from labeler.foods.resolve import weigh, weigh_line
from labeler.larder.file import Larder
from labeler.larder.model import LarderFood
from labeler.parsing.document import read_recipe
from labeler.parsing.ingredient.line import read_line

CUBES = LarderFood(
    "Wicket veg stock cubes",
    other_names=("vegetable stock cube",),
    ingredients="Salt, palm fat, WHEAT flour, CELERY seed, (BARLEY)",
    measures={"cube": "10 g"},
)
SLICES = LarderFood("Wicket cheese slices", ingredients="Cheese (MILK), salt", measures={"slice": "20 g"})


@pytest.mark.parametrize(
    ("text", "grams", "allergens"),
    [
        ("1 vegetable stock cube", 10, {"wheat", "celery", "barley"}),
        ("2 vegetable stock cubes", 20, {"wheat", "celery", "barley"}),
        ("1 Wicket veg stock cube", 10, {"wheat", "celery", "barley"}),
        ("10 g vegetable stock cube", 10, {"wheat", "celery", "barley"}),
        ("4 Wicket cheese slices", 80, {"milk"}),
        ("4 slices Wicket cheese", 80, {"milk"}),
    ],
)
def test_a_package_is_found_by_its_whole_name_the_unit_word_included(text, grams, allergens):
    """The package's weight and its allergens are taken where its name ends in what the line counts."""
    weighed = weigh_line(read_line(text), larder=Larder([CUBES, SLICES]))
    assert weighed.grams.best == pytest.approx(grams)
    assert allergens <= assess_line(weighed, market="eu").allergens


@pytest.mark.parametrize(
    ("text", "food"),
    [
        ("1 vegetable stock cube {10 g}, dissolved in 300ml boiling water", "06081"),
        ("1 chicken stock cube", "06081"),
        ("1 beef broth cube, crumbled", "06076"),
        ("1 cube of beef stock", "06076"),
        ("2 beef bouillon cubes", "06076"),
        ("10 g beef stock cubes", "06076"),
        ("1 chicken or vegetable stock cube", "06081"),
    ],
)
def test_a_stock_cube_is_the_dry_cube_however_it_is_written(text, food):
    """SR28 06076 and 06081 are the dry cubes, 24 g of sodium in 100 g; a ready broth has 0.2 to 0.4 g."""
    assert weigh_line(read_line(text)).match.food == food


@pytest.mark.parametrize("comma", [",", ""])
def test_water_that_a_cube_is_dissolved_in_counts_with_and_without_a_comma(comma):
    """It is a second food of the line, and the line says so."""
    weighed = weigh_line(read_line(f"1 vegetable stock cube {{10 g}}{comma} dissolved in 300ml boiling water"))
    assert [round(other.grams.best) for other in weighed.also] == [301]
    assert "two-foods" in [problem.code for problem in weighed.problems]


def test_a_stock_pot_is_no_cube():
    """A gel pot weighs some 28 g (common practice, no source), and that a dry cube stands in for it is reported."""
    weighed = weigh_line(read_line("1 chicken stock pot"))
    assert weighed.grams.best == 28
    assert "weak-match" in [problem.code for problem in weighed.problems]


@pytest.mark.parametrize(
    "text",
    ["300 g carrots, cut into batons", "a good grating of nutmeg", "2 tbsp brown suger", "1 tsp blk peper",
     "2 tbsps kosher sallt", "2 apples, pips removed"],
)  # fmt: skip
def test_kitchen_words_and_plain_slips_make_up_no_allergen(text):
    """Cuts, measures and words that the match mends are typos of no allergen, and the line counts as assessed."""
    found = assess_line(weigh_line(read_line(text)), market="eu")
    assert not (found.contains or found.read_the_package or found.unassessed)


@pytest.mark.parametrize("name", ["aple cider vinager", "cider vinagar"])
def test_a_misspelt_vinegar_is_no_alcohol(name):
    """The caution goes by the food that the name is matched as."""
    weighed = weigh(read_recipe(f"# Cabbage\n\n500 g cabbage\n2 Tb {name}\n\nToss the cabbage with the vinegar.\n"))
    assert not [one for one in cautions(weighed) if one.code.startswith("alcohol")]


@pytest.mark.parametrize(
    ("text", "best", "low", "high"),
    [
        ("a grating of nutmeg", 0.5, 0.2, 1.5),  # common practice, no source
        ("2 tbsps kosher sallt", 24, 16, 30),  # as kosher salt, 192 g a cup
        ("1 doz eggs", 600, 528, 672),
        ("1/2 doz. eggs", 300, 264, 336),
        ("1 dozen eggs", 600, 528, 672),
    ],
)
def test_gratings_dozens_and_mended_names_weigh(text, best, low, high):
    """A grating has a stated default, "doz" is twelve, and figures go by the mended name."""
    grams = weigh_line(read_line(text)).grams
    assert (grams.best, grams.low, grams.high) == pytest.approx((best, low, high), rel=0.03)
