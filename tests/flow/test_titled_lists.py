"""Which lines the title of a list means, where what follows stands apart from it; dishes of our own."""

from __future__ import annotations

import pytest
from told_dishes import cooked, kept_of

from labeler.parsing.document import read_recipe

BRINE = "1.5 l water\n80 g salt\n1 tbsp honey"
MAIN = "900 g turkey thighs\n150 ml single cream\n40 g butter\n1 leek"
LATER = (
    "Put in the turkey and leave overnight. Drain and pat dry. Roast for 50 minutes with the butter. Soften the leek."
)


def written(between: str, heading: str = "Brine:") -> str:
    return f"Brined turkey\nServes 4\n\n{heading}\n{BRINE}\n{between}{MAIN}\n\n"


def groups(text: str) -> list[str]:
    """The heading of each line."""
    return [line.group for line in read_recipe(text).parts[0].lines]


def test_an_empty_row_ends_what_a_heading_of_plain_text_stands_above():
    """The lines below the paragraph of the brine are of no heading."""
    assert groups(written("\n") + f"Mix the brine ingredients. {LATER}") == ["Brine"] * 3 + [""] * 4


@pytest.mark.parametrize(
    ("heading", "rows"),
    [("### Brine", "1.5 l water\n80 g salt\n\n900 g turkey"), ("Brine:", "1.5 l water\n\n80 g salt\n\n900 g turkey")],
)
def test_an_empty_row_ends_nothing_where_all_rows_stand_apart_or_the_heading_is_marked(heading, rows):
    """A marked heading is of all below it, and empty rows between any two lines are only how the list is written."""
    assert set(groups(f"# Turkey\n\n## Ingredients\n\n{heading}\n{rows}\n\n## Method\n\nMix.")) == {"Brine"}


@pytest.mark.parametrize("between", ["\n", ""])
@pytest.mark.parametrize(
    "mix", ["Mix the brine ingredients.", "Stir all the brine ingredients together.", "Whisk the brine ingredients."]
)
def test_the_ingredients_of_the_brine_are_not_what_comes_later(between, mix):
    """Butter, leek and cream that later steps bring are not poured off with the brine."""
    text = f"{written(between)}{mix} {LATER} Stir in the cream."
    dish = kept_of(text)
    for line in ("150 ml single cream", "1 leek"):
        assert dish[line] > 0.95, dish
    assert dish["1.5 l water"] < 0.2 and dish["40 g butter"] > 0.2


def test_a_fat_that_only_a_title_above_everything_names_is_told_as_it_leaves():
    """Nobody poured the butter away by its name, and the brine it is said to be of has none."""
    _, dish = cooked(f"{written('')}Mix the brine ingredients. Put in the turkey overnight. Drain. Fry 20 minutes.")
    told = [problem for problem in dish.problems if problem.code == "food-leaves-unnamed"]
    assert any("butter" in problem.message for problem in told)
    assert not any("water" in problem.message or "honey" in problem.message for problem in told)


def test_everything_of_a_list_is_not_what_has_no_heading():
    """ "All the brine ingredients" are those of that list, and not the celery and cream below it that no step names."""
    text = written("\n").replace("1 leek", "1 celery stick")
    dish = kept_of(f"{text}Mix all the brine ingredients. Put in the turkey overnight. Drain. Fry 20 minutes.")
    assert dish["1 celery stick"] > 0.9 and dish["150 ml single cream"] > 0.9
