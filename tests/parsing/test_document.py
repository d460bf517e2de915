"""A recipe file: its head, parts, lines and handling, a bare list, and what is wrong with a file."""

import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.parsing import NoteKind, read_recipe
from labeler.parsing.document import read_recipes
from labeler.types import LabelerError

PIE = """---
title: Harbour pie
makes: 6 pies
made: 2026-04-12
---

## Filling
- 400 g smoked haddock
- 2 leeks, sliced
> simmer 10 minutes, then drain
- 60 g butter

## Harbour pie
- all of the Filling
> bake 35 minutes
> weighs 2.75 kg
"""


def test_parts_lines_and_handling_keep_their_order_and_numbers():
    """Headings open parts, dashes are lines, arrows are handling after the lines above it; each knows its row."""
    recipe = read_recipe(PIE, source="harbour-pie.md")
    assert recipe.title == "Harbour pie" and recipe.source == "harbour-pie.md" and recipe.problems == ()
    assert recipe.head["makes"] == "6 pies" and recipe.head["made"] == datetime.date(2026, 4, 12)
    filling, pie = recipe.parts
    assert (filling.title, filling.number, pie.title) == ("Filling", 7, "Harbour pie")
    assert [(line.text, line.number) for line in filling.lines] == [
        ("400 g smoked haddock", 8),
        ("2 leeks, sliced", 9),
        ("60 g butter", 11),
    ]
    assert [(step.text, step.number, step.after) for step in filling.handling] == [
        ("simmer 10 minutes, then drain", 10, 2)
    ]
    assert [(step.text, step.after) for step in pie.handling] == [("bake 35 minutes", 1), ("weighs 2.75 kg", 1)]


def test_a_bare_list_is_one_part():
    """A file with no marks at all is a list of ingredients, one a line, titled by its name."""
    recipe = read_recipe("2 cups flour\n\n1 egg, beaten\n", source="tart.txt")
    assert recipe.title == "tart" and dict(recipe.head) == {}
    assert [line.name for line in recipe.parts[0].lines] == ["flour", "egg"]
    assert recipe.parts[0].title == "" and [line.number for line in recipe.parts[0].lines] == [1, 3]


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("1. 2 cups flour\n2. 1 egg\n", ["flour", "egg"]),
        ("* 2 cups flour\n* 1 egg\n", ["flour", "egg"]),
        ("+ 2 cups flour\n• 1 egg\n", ["flour", "egg"]),
        ("- **2 cups** flour\n- 1 *egg*\n", ["flour", "egg"]),
        ("# Cake\n\n2 cups flour\n***\n1 egg", ["flour", "egg"]),
        ("Cake\n====\n2 cups flour\n1 egg", ["flour", "egg"]),
        ("\ufeff2 cups flour\n1 egg", ["flour", "egg"]),
        ("– 2 cups flour\n– 1 egg", ["flour", "egg"]),
        ("— 2 cups flour\n—1 egg", ["flour", "egg"]),
        ("•2 cups flour\n◦ 1 egg", ["flour", "egg"]),
        ("▢ 2 cups flour\n☐ 1 egg", ["flour", "egg"]),
        ("- 2 cups flour\n– 1 egg", ["flour", "egg"]),
        ("- [ ] 2 cups flour\n- [x] 1 egg", ["flour", "egg"]),
    ],
)
def test_the_ways_in_which_lists_are_written(text, names):
    """Numbers, stars, bold, rules, underlined titles, byte order marks and tick boxes are all put up with."""
    recipe = read_recipe(text)
    assert [line.name for part in recipe.parts for line in part.lines] == names
    assert recipe.problems == ()


def test_numbered_steps_beside_dashes_are_handling():
    """Where dashes mark the ingredients, a numbered row is a step."""
    recipe = read_recipe("## Tart\n- 2 cups flour\n1. Rub in the butter.\n")
    assert [step.text for step in recipe.parts[0].handling] == ["Rub in the butter."]


def test_other_text_beside_dashes_is_kept():
    """A row that is neither ingredient nor handling is a note with its number."""
    recipe = read_recipe("## Tart\nMy aunt's.\n- 2 cups flour\n")
    assert [(note.kind, note.text, note.number) for note in recipe.notes] == [(NoteKind.DESCRIPTION, "My aunt's.", 2)]
    assert len(recipe.parts[0].lines) == 1 and recipe.problems == ()


@pytest.mark.parametrize("row", ["1. 2 bay leaves", "2 bay leaves", "-2 bay leaves", "3) 2 bay leaves, torn"])
def test_an_ingredient_that_lost_its_mark_is_read_and_reported(row):
    """Beside dashes a row that opens with how much of what is an ingredient: nothing that is eaten may be lost."""
    recipe = read_recipe(f"## Stew\n- 2 cups stock\n{row}\n")
    assert [line.name for line in recipe.parts[0].lines] == ["stock", "bay leaves"]
    assert [(problem.code, problem.line) for problem in recipe.problems] == [("mark-missing", 3)]
    assert recipe.parts[0].handling == ()


@pytest.mark.parametrize(
    "row",
    ["1. Heat 2 tablespoons oil.", "2. 10 minutes before serving add the cream.", "3. One of the eggs is kept back."],
)
def test_a_step_with_numbers_in_it_stays_a_step(row):
    """A sentence that opens with a time or speaks of what is there already is handling."""
    recipe = read_recipe(f"## Stew\n- 2 cups stock\n{row}\n")
    assert len(recipe.parts[0].handling) == 1 and recipe.problems == ()


def test_two_parts_of_one_name_are_reported():
    """A line that names the part could mean either."""
    recipe = read_recipe("## Sauce\n- 1 egg\n## sauce\n- 2 eggs\n")
    assert [(problem.code, problem.line) for problem in recipe.problems] == [("part-twice", 3)]
    assert [part.title for part in recipe.parts] == ["Sauce", "sauce"]


@pytest.mark.parametrize(
    ("head", "code", "line"),
    [
        ("net: .inf", "head-value", 3),
        ("makes: {a: 1}", "head-value", 3),
        ("makes: [[1]]", "head-value", 3),
        ("makes:", "head-empty", 3),
        ("title: Two", "head-twice", 3),
        ("~: 3", "head-key", 2),
    ],
)
def test_strange_head_values_are_reported_and_left_out(head, code, line):
    """A value that no label can print is a problem on its own row, not an error."""
    recipe = read_recipe(f"---\ntitle: One\n{head}\n---\n- 1 egg\n")
    assert [(problem.code, problem.line) for problem in recipe.problems] == [(code, line)]
    assert set(recipe.head) == {"title"}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "stall.md: holds no ingredient line"),
        ("\n \n", "stall.md: holds no ingredient line"),
        ("---\ntitle: One\n---\n", "stall.md: holds no ingredient line"),
        ("## One\n> bake\n", "stall.md: holds no ingredient line"),
        ("---\ntitle: One\n- 1 egg\n", "stall.md:1: the head begins with --- and never ends"),
        ("---\nmakes: [a: b: c]\n---\n- 1 egg\n", "stall.md:2: the head cannot be read"),
        ("+++\ntitle = One\n+++\n- 1 egg\n", "stall.md:2: the head cannot be read"),
        ("+++\ntitle = 1\n- 1 egg\n", "stall.md:1: the head begins with +++ and never ends"),
        ("\n---\nmakes: 1\ntitle: [\n---\n- 1 egg\n", "stall.md:5: the head cannot be read"),
        ("---\n- 1 egg\n---\n- 1 egg\n", "stall.md:2: the head is no list"),
        ("---\njust words\n---\n- 1 egg\n", "stall.md:2: the head is no list"),
        ("---\n!!python/object:os.system x\n---\n- 1 egg\n", "stall.md:2: the head cannot be read"),
        ("---\ntitle: \x01\n---\n- 1 egg\n", "stall.md:2: the head cannot be read"),
    ],
)
def test_an_unusable_file_says_where_and_how_to_mend(text, words):
    """One sentence with file, row and remedy, and nothing in a head is ever run."""
    with pytest.raises(LabelerError) as caught:
        read_recipe(text, source="stall.md")
    assert words in str(caught.value) and "\n" not in str(caught.value)


def test_line_endings_do_not_matter():
    """The same file with any line ending is the same recipe, down to its digest."""
    plain = read_recipe(PIE)
    assert plain == read_recipe(PIE.replace("\n", "\r\n")) == read_recipe(PIE.replace("\n", "\r"))
    assert plain == read_recipe("\ufeff" + PIE)
    assert len(plain.digest) == 64 and plain.digest != read_recipe(PIE.replace("60 g", "61 g")).digest


def test_a_value_with_a_colon_in_it_is_text():
    """What YAML trips over only for want of quotes is read as meant, and said."""
    recipe = read_recipe("---\ntitle: Beans: a love story\nserves: 2\n---\n- 1 egg\n")
    assert recipe.title == "Beans: a love story" and recipe.head["serves"] == 2
    assert [(problem.code, problem.line) for problem in recipe.problems] == [("head-quotes", 2)]


def test_a_head_in_toml_says_the_same_as_one_in_yaml():
    """Some pages have their head between +++; lists, dates and tables in it are kept."""
    recipe = read_recipe(
        '+++\ntitle = "Rye crackers"\nyield = "40 crackers"\ntags = ["rye"]\n[extra]\na = 1\n+++\n- 1 egg\n'
    )
    assert (recipe.title, recipe.head["yield"], recipe.head["tags"]) == ("Rye crackers", "40 crackers", ["rye"])
    assert recipe.problems == () and "1" in recipe.head["extra"]


rows = st.lists(
    st.one_of(
        st.text(st.characters(exclude_characters="\r\n\x00"), max_size=30),
        st.sampled_from(
            ["## Part", "- 2 cups flour", "> bake 10 minutes", "---", "title: x", "1. mix", "", "***", "#"]
        ),
    ),
    max_size=12,
)


@given(rows)
@settings(deadline=None, max_examples=200)
def test_any_text_is_a_recipe_or_one_clear_sentence(lines):
    """No text stops the reader but with a message, and no row is lost: each is a line, handling, heading or problem."""
    text = "\n".join(lines)
    try:
        recipe = read_recipe(text, source="x")
    except LabelerError as error:
        assert str(error).startswith("x:") and "\n" not in str(error)
        return
    assert recipe == read_recipe(text.replace("\n", "\r\n"), source="x")
    for part in recipe.parts:
        numbers = [line.number for line in part.lines] + [step.number for step in part.handling]
        assert all(1 <= number <= len(lines) for number in numbers)
        assert all(step.after <= len(part.lines) for step in part.handling)


@pytest.mark.parametrize("words", ["Mix the dry ingredients.", "Combine all the ingredients.", "Mix the ingredients"])
def test_a_step_that_ends_in_ingredients_is_no_heading(words):
    """A sentence that orders is a step, and the method is not given up for it."""
    text = f"# Cake\n## Ingredients\n- 250 g flour\n- 3 eggs\n\n## Method\n{words}\n\nBake at 180 °C for 50 minutes.\n"
    (part,) = read_recipe(text).parts
    assert [step.text for step in part.handling] == [words, "Bake at 180 °C for 50 minutes."]


def test_a_figure_that_counts_no_steps_stays_in_its_line():
    """ "815. g flour" is an amount: no list of a recipe has so many items."""
    recipe = read_recipe("# Loaf\n\n815. g flour\n\n10 g salt\n")
    assert [line.text for line in recipe.parts[0].lines] == ["815. g flour", "10 g salt"]


def test_a_box_of_any_kind_is_a_note():
    """ "[!warning] Hot oil" opens one, whatever its word; what it says is kept without the sign."""
    recipe = read_recipe("# Slaw\n\n- 1 cabbage\n\n1. Shred it.\n\n> [!caution] Mind the blade\n> It is sharp.\n")
    assert [(note.kind, note.text) for note in recipe.notes] == [
        ("note", "Note: Caution: Mind the blade"),
        ("note", "Note: It is sharp."),
    ]


def test_several_recipes_whose_lists_stand_under_bold_words():
    """ "**Ingredients**" under headings of one level begins a recipe each."""
    one = "## {0}\n\nMakes 4 jars of 300 g\n\n**Ingredients**\n- 1 kg {1}\n\n**Method**\n1. Cook it down.\n\n"
    found = read_recipes("# Sauces\n\n" + one.format("Ketchup", "tomatoes") + one.format("Plum sauce", "plums"))
    assert [(recipe.title, recipe.head["makes"]) for recipe in found] == [
        ("Ketchup", "4 jars of 300 g"),
        ("Plum sauce", "4 jars of 300 g"),
    ]


@pytest.mark.parametrize(
    ("title", "name", "serves"),
    [
        ("# Mussel chowder for 4\n", "Mussel chowder", "4"),
        ("Mussel chowder for 4\nprep 15 min\n", "Mussel chowder", "4"),
        ("# Supper for two\n", "Supper", "two"),
    ],
)
def test_a_title_that_says_for_how_many_keeps_its_name(title, name, serves):
    """What stands before "for 4" is the title."""
    recipe = read_recipe(f"{title}\n- 1 kg mussels\n- 50 g butter\n")
    assert (recipe.title, str(recipe.head["serves"])) == (name, serves)


@pytest.mark.parametrize(
    ("title", "name", "makes"),
    [
        ("Crab rolls (6)", "Crab rolls", "6"),
        ("Crab rolls of the quay (6)", "Crab rolls of the quay", "6"),
        ("Rye loaf (makes 2)", "Rye loaf", "2"),
        ("Rye loaf (2)", "Rye loaf (2)", None),
        ("Quay chowder (3)", "Quay chowder (3)", None),
    ],
)
def test_a_bare_number_behind_a_title_needs_its_pieces(title, name, makes):
    """ "(2)" may be the second of its name: without a word for what is made it stays in the title."""
    recipe = read_recipe(f"# {title}\n\n- 500 g rye flour\n- 50 g butter\n")
    assert (recipe.title, recipe.head.get("makes")) == (name, makes)
