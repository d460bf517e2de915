"""One recipe in every form is one recipe, what is imported reads as the original, and no word of a text is lost."""

from __future__ import annotations

import html
import random
import re
from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from recipe_forms import FORMS, bare, dishes, linked, page, pasted, recipe_file, seen, starred

from labeler.importers.reading import as_recipe_file, form_of, import_recipe
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_line
from labeler.parsing.document import read_recipes
from labeler.types import LabelerError


def lines_of(recipe):
    return [(line.text, line.group.casefold()) for part in recipe.parts for line in part.lines]


def steps_of(recipe):
    return " ".join(step.text for part in recipe.parts for step in part.handling)


@pytest.mark.parametrize("form", FORMS, ids=[form.__name__ for form in FORMS])
@settings(deadline=None, max_examples=40)
@given(dish=dishes)
def test_a_recipe_in_any_form_is_the_same_recipe(form, dish):
    """Law: title, servings, lines with their groups, and steps come back from whatever form they were written in."""
    name, text = form(dish)
    recipe = import_recipe(text.encode(), form_of(text.encode(), name), name)
    assert recipe.title == dish.title
    assert str(recipe.head.get("serves")).split()[0] == str(dish.serves)
    assert lines_of(recipe) == [(line, group) for group, lines in dish.lines for line in lines]
    assert steps_of(recipe) == " ".join(dish.steps)
    (part,) = recipe.parts
    assert all(step.after == len(part.lines) for step in part.handling)


def content_of(recipe):
    """Everything that a command can see of a recipe, without line numbers."""
    found = [recipe.title, recipe.digest, {key: str(value) for key, value in recipe.head.items() if key != "title"}]
    for part in recipe.parts:
        found += [part.title, [replace(line, number=1, problems=(), further=()) for line in part.lines]]
        found.append([(step.text, step.after, step.group) for step in part.handling])
    return [*found, sorted((note.kind.value, note.text) for note in recipe.notes)]


ODD = (
    "## Ingredients", "### Sauce", "**Brine**", "For the gravy:", "## Method", "Notes", "Tip: use butter", "", "***",
    "> bake 10 minutes", "- 2 cups flour", "1. mix", "| amount | food |\n|---|---|\n| 2 cups | flour |",
    "Flour\n: 2 cups",
    "- [ ] 1 egg", "\t- 2 figs", "    * 3 tbsp sugar", "<!-- hello there -->", "<!-- open", "```\n1 cup milk\n```",
    "Serves 4", "Makes 5 x 300 g jars", "# Title", "Step 3: Stir the pot", "• 2 eggs", "<div>1 cup rice</div>",
    "![pic](/a.png)", "[link](http://x.example/z) of the thing", "2 cups *fine* flour", "&frac12; cup &amp; more",
    "Keeps 3 days in the fridge.", "SAUCE", "1\u00a0cup\u00a0milk", "[ref]: http://example.org", "~~old~~ new",
    "1) boil",
    "Ingredients: 2 eggs, flour", "Method: Mix it all.", "<b>bold</b> cup", "5 cups water <!-- inline -->",
    "-", "a --> b",
)  # fmt: skip
texts = st.builds(
    lambda dish, form, more, seed: _mixed(form(dish)[1], more, seed),
    dishes,
    st.sampled_from([recipe_file, page, starred, pasted, bare]),
    st.lists(st.sampled_from(ODD), max_size=6),
    st.integers(0, 10**6),
)


def _mixed(text, more, seed):
    rows, chance = text.replace("\r", "\n").split("\n"), random.Random(seed)
    for row in more:
        at = chance.randrange(5, len(rows) + 1) if len(rows) > 5 else len(rows)
        rows.insert(at, row)
    return "\n".join(rows)


@settings(deadline=None, max_examples=150)
@given(texts)
@example("# Stew\n- 2 cups flour\n### sauce\n- 1 egg\n> Heat.\n**Brine**\nNotes")
def test_what_is_imported_reads_as_the_original(text):
    """Law: the recipe file that is written of a text is the same recipe, down to its stamp, and is its own import."""
    try:
        recipe = import_recipe(text.encode(), "text", "x.md")
    except LabelerError as refused:
        assert "\n" not in str(refused)
        return
    written = as_recipe_file(text.encode(), "text", recipe)
    again = import_recipe(written.encode(), "text", "x.md")
    assert content_of(again) == content_of(recipe)
    assert as_recipe_file(written.encode(), "text", again) == written


_STRUCTURE = re.compile(r"(?im)^[\s>*#•-]*(?:\(?\d+[.)]|step \d+:?)|</?[a-z][^<>]*>")
_HEADINGS = frozenset("ingredients method directions notes for the amount food title".split())


@settings(deadline=None, max_examples=150)
@given(texts)
@example("## Stew\n- 2 cups flour\n<div>1 cup rice</div>\n- 1 egg\n5 cups water <!-- inline -->\n> Heat.")
@example('> 2 cups flour\n> 1 egg\n> 3 figs\n<ul><li class="x">600 g plums, stoned</li></ul>\n> Stir it.')
@example("# Fritters\n\n| Prep | Cook | Serves |\n|---|---|---|\n\n- 1 egg\n- 2 figs\n\nFry them.")
@example("# Fritters\n\n| Prep | Cook | Serves |\n|---|---|---|\n| 10 min |\n\n- 1 egg\n- 2 figs\n\nFry them.")
@example(
    "---\ntitle: Sunday notes\n---\n## A\n### Ingredients\n- 1 egg\n- 2 figs\n### Method\n1. Fry it.\n## B\n"
    "### Ingredients\n- 1 plum\n- 2 limes\n### Method\n1. Stew it.\n"
)
def test_no_word_of_a_text_is_lost(text):
    """Law: every word is in a line, a step, a note, the head, a title, a group or a problem."""
    try:
        found = read_recipes(text, source="x.md")
    except LabelerError:
        return
    kept = []
    for recipe in found:
        kept += [recipe.title, *map(str, recipe.head), *map(str, recipe.head.values())]
        for part in recipe.parts:
            kept += [part.title, *(f"{line.text} {line.group}" for line in part.lines)]
            kept += [f"{step.text} {step.group}" for step in part.handling]
        kept += [note.text for note in recipe.notes] + [problem.message for problem in recipe.problems]
    whole = " ".join(kept).casefold()
    words = re.findall(r"[^\W_]{2,}", html.unescape(_STRUCTURE.sub(" ", text)).casefold())
    assert [word for word in words if word not in whole and word not in _HEADINGS] == []


@settings(deadline=None, max_examples=60)
@given(dishes, st.integers(0, 10**6), st.sampled_from([seen, linked]))
def test_a_damaged_page_is_a_recipe_or_one_clear_sentence(dish, seed, form):
    """Law: cut, doubled and shuffled pages and data give a recipe or a refusal, never a fault."""
    name, text = form(dish)
    chance = random.Random(seed)
    for _ in range(chance.randint(1, 6)):
        at, to = sorted((chance.randrange(len(text)), chance.randrange(len(text))))
        text = chance.choice(
            [text[:at] + text[to:], text[:at] + text[at:to] * 2 + text[to:], text[:at] + "<" + text[at:]]
        )
        text = text or "x"
    try:
        recipe = import_recipe(text.encode(), form_of(text.encode(), name), name)
    except LabelerError as refused:
        assert "\n" not in str(refused)
        return
    assert any(part.lines for part in recipe.parts)
    assert all(read_line(line.text).text == line.text for part in recipe.parts for line in part.lines)


@pytest.mark.parametrize("text", [
    "# Eel\n\nServes 4\n\nA dish.\n\n\n\n## Ingredients\n\n- 1 kg eel\n- 2 l water\n- 100 g salt\n\n## Method\n\n"
    "1. Soak the eel in the water with the salt overnight, then drain.\n2. Fry in oil for 10 minutes.\n",
])  # fmt: skip
def test_what_is_imported_has_the_same_intervals(text):
    """Draws go by where a line stands among its lines, not by the row of the file, so both ends of a figure stay."""
    page = import_recipe(text.encode(), "text", "eel.md")
    written = import_recipe(as_recipe_file(text.encode(), "text", page).encode(), "text", "eel.md")
    assert [line.number for part in page.parts for line in part.lines] != [
        line.number for part in written.parts for line in part.lines
    ]
    assert analyse(page, draws=200).batch == analyse(written, draws=200).batch
