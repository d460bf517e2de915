"""Why a label says "at least" or "not known": the line that leaves a figure open, and what would close it."""

import pytest

from labeler.label.builder import gather, label_content
from labeler.markets import MARKETS
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe
from labeler.rules.missing_values import needed_for, settled


def found(*lines, market="us"):
    """The rows and the problems of a label of flour and butter with some lines more."""
    written = "\n".join(f"- {line}" for line in ("400 g flour {food 20081}", *lines))
    recipe = read_recipe(f"---\ntitle: Test\nmakes: 4 boxes\n---\n{written}\n")
    content, _, problems = label_content(recipe, market=market, facts=gather(recipe, market=market))
    rows = {row.name: row.per_serving for row in content.nutrition}
    return rows, [problem for problem in problems if problem.code == "value-open"]


def test_each_food_that_leaves_figures_open_is_named_with_what_would_close_them():
    """An unknown food by its name and line, with the figures; a food without one figure by its description."""
    rows, (problem,) = found("1 cup blorpium")
    assert rows["Protein"].startswith("at least")
    assert problem.line == 6 and "blorpium" in problem.message and "Protein" in problem.message
    _, (problem,) = found("1 kg fish {food 15007}", "500 g fish {food 15007}")
    assert "Fish, butterfish, raw" in problem.message and "Vitamin D" in problem.message
    assert "lines 6, 7" in problem.message and "larder" in problem.message


def test_a_pinch_of_something_unknown_leaves_no_figure_open_that_it_could_not_change():
    """Protein, carbohydrate and energy are printed as ever; what a pinch of salt would change is not."""
    plain, nothing = found()
    rows, (problem,) = found("a pinch of blorpium")
    for name in ("Calories", "Total Carbohydrate", "Protein"):
        assert rows[name] == plain[name] and name not in problem.message
    assert "Sodium" in problem.message and not nothing


def test_salt_to_taste_leaves_the_fat_known():
    """Of an amount that nobody gave only what the food has is open."""
    rows, problems = found("salt, to taste")
    assert "at least" not in rows["Total Fat"] and "at least" not in rows["Calories"]
    assert not problems or "Sodium" in problems[0].message


def test_a_difference_with_something_missing_is_still_a_lower_bound():
    """EU carbohydrate is without fibre (Regulation 1169/2011, Annex I): unknown fibre takes no more than it can be."""
    rows, _ = found("10 g blorpium", market="eu")
    assert rows["Carbohydrate"].startswith("at least")


@pytest.mark.parametrize("market", MARKETS)
def test_the_status_of_some_figures_needs_only_what_they_are_declared_with(market):
    """EU energy is a sum that alcohol stands in (Regulation 1169/2011, Annex XIV): it is asked for with energy's."""
    recipe = read_recipe("---\nserves: 4\n---\n- 400 g flour\n- 1 glass of wine\n- 10 g blorpium\n- salt to taste\n")
    shown = ("ENERC_KCAL", "FAT", "NA", "CHOCDF", "FIBTG", "VITD")
    some = analyse(recipe, market=market, draws=0, nutrients=needed_for(shown, market))
    whole = settled(analyse(recipe, market=market, draws=0).per_serving, market)
    found = settled(some.per_serving, market)
    assert {key: found[key].status for key in shown} == {key: whole[key].status for key in shown}
