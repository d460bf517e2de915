"""Foods that only the method names."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from labeler.allergens import assess, method_sentences
from labeler.allergens.method_foods import foods_in_text
from labeler.allergens.model import SERVED
from labeler.allergens.vocabulary import DATA
from labeler.data_files import data_rows
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe
from labeler.parsing.model import Note, NoteKind

LINES = "---\ntitle: Roast roots\nmakes: 4 portions\n---\n- 500 g carrots, sliced\n- 1 tsp salt\n"

# Common practice, no source.
NAMED = [
    ("wrap in puff pastry", {"wheat"}), ("top with a puff pastry lid", {"wheat"}), ("pour into a pie crust", {"wheat"}),
    ("tuck into baguettes", {"wheat"}), ("sandwich between slices of bread", {"wheat"}), ("heap onto toast", {"wheat"}),
    ("spoon into vol-au-vent cases", {"wheat"}), ("roll out on a floured board", {"wheat"}),
    ("flour the pieces lightly", {"wheat"}), ("egg and breadcrumb the pieces", {"egg", "wheat"}),
    ("pour the béchamel over", {"milk", "wheat"}), ("baste with melted butter", {"milk"}),
    ("scatter feta over", {"milk"}), ("simmer in vegetable stock", {"celery"}), ("deglaze with beer", {"barley"}),
    ("garnish with crushed peanuts", {"peanut"}), ("toss through cooked noodles", {"wheat"}),
    ("serve alongside garlic mayonnaise", {"egg"}), ("fry the prawns in vegan butter", {"crustaceans"}),
    ("dust with flour (gluten-free if needed)", {"wheat"}),
]  # fmt: skip


@pytest.mark.parametrize(("sentence", "named"), NAMED)
def test_a_food_that_only_the_method_names_is_told_or_asked(sentence: str, named: set[str]) -> None:
    """No sentence brings a food with an allergen in silence."""
    found = assess(weigh(read_recipe(f"{LINES}> {sentence}\n")), market="eu")
    assert found.allergens | found.possible >= named


@pytest.mark.parametrize(
    "sentence",
    [
        "toast in a dry pan", "bake in a cake tin", "peel with an oyster knife", "hash the parsnips", "roll into balls",
        "cook until butter-soft", "knead into a dough", "cream the vegetables", "serve on rice",
        "stir with a butter knife",
    ],
)  # fmt: skip
def test_deeds_tools_and_comparisons_are_no_foods(sentence: str) -> None:
    """A dish's name as a verb, a tool named after a food and a comparison bring nothing."""
    assert not assess(weigh(read_recipe(f"{LINES}> {sentence}\n")), market="eu").allergens


def test_what_is_served_beside_is_asked_as_such() -> None:
    """A sauce that is served beside the food is in what is sold only where it goes into the pack."""
    (food,) = foods_in_text("serve with hollandaise")
    assert food.served and not food.added and food.name == "hollandaise"
    found = assess(weigh(read_recipe(f"{LINES}> serve with hollandaise\n")), market="eu")
    assert not found.allergens and {"egg", "milk"} <= found.possible
    assert {finding.rule for finding in found.read_the_package} == {SERVED}


def test_a_note_is_asked() -> None:
    """A tip that names a food is a question, for it may be a variation."""
    recipe = replace(read_recipe(LINES), notes=(Note(NoteKind.TIP, "Add a handful of walnuts."),))
    found = assess(weigh(recipe), market="eu")
    assert "walnut" in found.possible and not found.allergens


@pytest.mark.parametrize("sentence", ["toast {} bread", "fry in {} butter", "brush with {} milk", "serve {} pasta"])
def test_this_points_at_a_food_as_the_does(sentence: str) -> None:
    """ "This bread" is as much there already as "the bread"."""
    lines = f"{LINES}- 200 g almond milk\n- 30 g vegan butter\n"
    found = [assess(weigh(read_recipe(f"{lines}> {sentence.format(word)}\n")), market="eu") for word in ("this", "the")]
    assert found[0].allergens == found[1].allergens and found[0].possible == found[1].possible


def test_what_a_pan_is_deglazed_with_comes_to_the_food() -> None:
    """ "Deglaze milk" may mean milk beside the almond milk of the list: it is asked, like "fry in milk"."""
    found = assess(weigh(read_recipe(f"{LINES}- 200 g almond milk\n> deglaze milk\n")), market="eu")
    assert "milk" in found.possible


def test_the_sets_of_a_sentences_words_are_whole_and_used() -> None:
    """Every set has a name of its own and words that stand once, and the code asks for each."""
    rows = data_rows(DATA / "sentence_words.csv")
    assert len({row["set"] for row in rows}) == len(rows)
    assert all(row["what"] and len(row["words"].split()) == len(set(row["words"].split())) for row in rows)
    code = Path(method_sentences.__file__).read_text(encoding="utf-8")
    assert all(f'"{row["set"]}"' in code for row in rows)


FLOUR = ["Thicken with a little flour.", "Add 2 tbsp flour.", "Whisk flour and water and add.", "Stir in the flour."]


@pytest.mark.parametrize("sentence", FLOUR)
def test_flour_of_the_method_is_flour_of_a_line(sentence: str) -> None:
    """A verb, a measure or an article before a food names no other kind of it: flour holds wheat wherever it stands."""
    found = assess(weigh(read_recipe(f"{LINES}> {sentence}\n")), market="eu")
    assert "wheat" in found.allergens and not found.possible


@pytest.mark.parametrize(("lines", "sentence"), [("", "Add zogo flour."), ("- 500 g masa harina\n", "Add the flour.")])
def test_another_flour_of_the_method_is_asked(lines: str, sentence: str) -> None:
    """A word that is not read before flour, and "the flour" beside what is ground of another plant, leave it open."""
    found = assess(weigh(read_recipe(f"{LINES}{lines}> {sentence}\n")), market="eu")
    assert "wheat" in found.possible and "wheat" not in found.allergens


def test_the_methods_noodles_are_those_of_the_list() -> None:
    """A general name binds to the line of its kind, whatever that is made of; without such a line it is a food more."""
    step = "> Divide noodles between bowls.\n"
    assert "wheat" not in assess(weigh(read_recipe(f"{LINES}- 200 g rice vermicelli\n{step}")), market="eu").allergens
    assert "wheat" in assess(weigh(read_recipe(f"{LINES}{step}")), market="eu").allergens
