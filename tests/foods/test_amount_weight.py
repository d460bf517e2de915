"""What one amount weighs: pieces that are cut so thick, and a fruit of which a bracket measures the juice.

Authority of the numbers, where nothing else is named: household weights of USDA SR28 (2015), by food id.
"""

from __future__ import annotations

import pytest

from labeler.foods.resolve import weigh_line
from labeler.parsing.ingredient.line import read_line


@pytest.mark.parametrize(
    ("thin", "thick"),
    [
        ("4 (1/2-inch-thick) pork chops", "4 (1-inch-thick) pork chops"),
        ("2 beef steaks, cut 1/2 inch thick", "2 beef steaks, cut 1 inch thick"),
        ("3 salmon steaks (2 cm thick)", "3 salmon steaks (4 cm thick)"),
    ],
)
def test_a_steak_twice_as_thick_weighs_twice(thin: str, thick: str) -> None:
    """Law: of meat and fish that is cut across, the thickness in the line is that of its weight."""
    less, more = (weigh_line(read_line(text)).grams for text in (thin, thick))
    assert less is not None and more is not None
    assert more.best == pytest.approx(2 * less.best)


def test_a_slice_of_bread_is_weighed_as_a_usual_one() -> None:
    """How thick bread or an onion is sliced changes nothing of what one weighs in the figures."""
    for plain, thick in (
        ("4 slices bread", "4 slices bread, 1 inch thick"),
        ("1 onion", "1 onion, cut 1/2 inch thick"),
    ):
        one, other = weigh_line(read_line(plain)).grams, weigh_line(read_line(thick)).grams
        assert one is not None and other is not None
        assert one.best == other.best


@pytest.mark.parametrize(
    ("text", "food", "grams"),
    [
        ("1 lemon (2 tbsp juice)", "09152", 30.5),  # SR28 09152: 244 g a cup
        ("3 lemons (1 dl of juice and the zest)", "09152", 103),
        ("2 limes (about 1/4 cup juice)", "09160", 60.5),  # SR28 09160: 242 g a cup
        ("1 orange (yields 80 g juice)", "09206", 80),
    ],
)
def test_a_bracket_that_measures_the_juice_of_a_fruit_is_what_goes_in(text: str, food: str, grams: float) -> None:
    """The fruit is counted, its juice is measured: the measure is the amount, and no peel or flesh goes in."""
    line = weigh_line(read_line(text))
    assert line.match is not None and line.grams is not None
    assert line.match.food == food
    assert line.grams.best == pytest.approx(grams, rel=0.03)
    assert [one.match.food for one in line.also if one.match is not None] == (["09156"] if "zest" in text else [])
