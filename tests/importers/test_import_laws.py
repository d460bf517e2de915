"""What `import` writes of a recipe reads as the recipe itself, whatever form it was in: words, figures, allergens."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from recipe_forms import FORMS, dishes, recipe_file

from labeler.allergens import assess
from labeler.foods.resolve import weigh
from labeler.importers.reading import as_recipe_file, form_of, import_recipe
from labeler.nutrition.analysis import analyse


def read(name, text):
    """As every command reads it."""
    data = text.encode()
    return import_recipe(data, form_of(data, name), name)


def words_of(recipe):
    """Title, servings, lines with what is read of them, method."""
    lines = [
        replace(line, number=1, problems=(), further=(), group=line.group.casefold())
        for part in recipe.parts
        for line in part.lines
    ]
    serves = str(recipe.head.get("serves")).split()[0]
    return [recipe.title, serves, lines, [step.text for part in recipe.parts for step in part.handling]]


def figures_of(recipe):
    """What a label is made of: every figure with both ends, and each allergen with its reason."""
    found = analyse(recipe, draws=40)
    told = assess(weigh(recipe), market="eu")
    allergens = [
        [(one.allergen, one.reason) for one in findings] for findings in (told.contains, told.read_the_package)
    ]
    return [found.per_serving, found.batch, allergens]


@pytest.mark.parametrize("form", FORMS, ids=[form.__name__ for form in FORMS])
@settings(deadline=None, max_examples=15)
@given(dish=dishes)
def test_what_is_imported_reads_as_what_it_was_imported_from(form, dish):
    """Law: the recipe file that is written of a file of any form reads as that file."""
    name, text = form(dish)
    recipe = read(name, text)
    again = read("again.md", as_recipe_file(text.encode(), form_of(text.encode(), name), recipe))
    assert words_of(again) == words_of(recipe)
    assert sorted((note.kind, note.text) for note in again.notes) == sorted(
        (note.kind, note.text) for note in recipe.notes
    )
    assert again.digest == recipe.digest


@settings(deadline=None, max_examples=3)
@given(dish=dishes)
def test_a_recipe_in_any_form_has_the_same_figures_and_allergens(dish):
    """Law: no figure, no end of an interval and no allergen depends on the form that a recipe is written in."""
    own = read(*recipe_file(dish))
    for form in FORMS:
        recipe = read(*form(dish))
        assert words_of(recipe)[2] == words_of(own)[2]
        assert figures_of(recipe) == figures_of(own), form.__name__
