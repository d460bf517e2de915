"""Recipes from elsewhere: every shape is read whole, what is malformed is refused in a line, and ours come out."""

from __future__ import annotations

import json
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from importer_shapes import DISHES, JAM, SALAD, SOUP, dumped, page, plain, shapes

from labeler.cli.main import main
from labeler.importers.read_any import read_lines
from labeler.importers.reading import form_of, import_recipe
from labeler.importers.schema_org import carried, recipes_in
from labeler.parsing import read_recipe
from labeler.parsing.declared_servings import read_servings
from labeler.parsing.own_form import own_form
from labeler.types import LabelerError

SHAPES = shapes()


def brought(data, name):
    """A file of any form as a recipe, and the same by way of the recipe file that is written of it."""
    found = import_recipe(data, form_of(data, name), name)
    return found, read_recipe(own_form(found), source=name)


def lines_of(recipe):
    """The texts of its lines."""
    return tuple(line.text for part in recipe.parts for line in part.lines)


def steps_of(recipe):
    """The texts of its steps."""
    return tuple(step.text for part in recipe.parts for step in part.handling)


def test_there_are_forty_shapes_and_more_and_no_two_are_alike():
    """The promise is of forty."""
    assert len(SHAPES) >= 40 and len({data for _, data, _, _ in SHAPES}) == len(SHAPES)
    assert {dish.title for *_, dish in SHAPES} == {dish.title for dish in DISHES}


@pytest.mark.parametrize(("data", "name", "dish"), [shape[1:] for shape in SHAPES], ids=[shape[0] for shape in SHAPES])
def test_a_recipe_in_a_shape_of_the_wild_is_read_whole(data, name, dish):
    """Title, yield, every ingredient and every step, in order, and the same again through our own recipe file."""
    found, recipe = brought(data, name)
    assert found.title == recipe.title == dish.title
    assert lines_of(found) == lines_of(recipe) == dish.ingredients
    assert steps_of(found) == steps_of(recipe) == dish.steps
    number = float(dish.makes.split()[0])
    assert read_servings(recipe.head).count == number and not recipe.problems


@pytest.mark.parametrize(
    ("data", "name", "says"),
    [
        (b"<html><body>hello</body></html>", "a.html", "no schema.org recipe"),
        (b"", "a.html", "no mark-up|no schema.org"),
        (page("{broken"), "a.html", "cannot be read"),
        (page("[" * 5000), "a.html", "cannot be read"),
        (page(dumped({"@type": "WebPage"})), "a.html", "no schema.org recipe"),
        (page(dumped(plain(SOUP, recipeIngredient=None))), "a.html", "without ingredients"),
        (page(dumped(plain(SOUP, recipeIngredient=[{}, [], 3.5e300, True]))), "a.html", "without ingredients"),
        (b"{", "a.json", "no JSON"),
        (b"", "a.json", "no JSON"),
        (b"\xff\xfe{", "a.json", "UTF-8|no JSON"),
        (b"[]", "a.json", "without a recipe"),
        (b'{"@type": "Person"}', "a.json", "without a recipe"),
        (b'{"@type": "Recipe", "name": "x"}', "a.json", "without ingredients"),
        (b"MIME-Version: 1.0", "a.mhtml", "web archive"),
        (b"", "a.csv", "is empty"),
        (b"amount,ingredient\n", "a.csv", "without ingredients"),
        (b"\xff\xff", "a.csv", "UTF-8"),
        (b"\0\0", "a.csv", "zero byte"),
        (b"a,b\n" * 6000, "a.csv", "6,000 rows"),
        (b"Method\nMix.\n", "a.txt", "no ingredient line"),
    ],
)
def test_what_is_malformed_is_refused_in_one_line(data, name, says):
    """No recipe, no JSON, no ingredients, another encoding, too much: what, where and how to mend it."""
    with pytest.raises(LabelerError) as refused:
        import_recipe(data, form_of(data, name), name)
    said = str(refused.value)
    assert re.search(says, said) and said.startswith(name) and "\n" not in said


def test_groups_of_ingredients_and_of_steps_keep_their_headings():
    """Headings among the ingredients and sections of steps are groups of the one part that a page is."""
    node = plain(
        SOUP,
        recipeIngredient=["For the pastry:", "200 g flour", "100 g butter", "For the filling", "3 eggs", "200 g cream"],
        recipeInstructions=[
            {"@type": "HowToSection", "name": "Make the pastry", "itemListElement": [{"text": "Rub together."}]},
            {"@type": "HowToSection", "name": "Assemble", "itemListElement": [{"text": "Bake 40 minutes."}]},
        ],
    )
    _, recipe = brought(dumped(node).encode(), "x.json")
    (part,) = recipe.parts
    assert part.title == SOUP.title
    assert [line.group for line in part.lines] == ["pastry", "pastry", "filling", "filling"]
    assert [(step.text, step.group, step.after) for step in part.handling] == [
        ("Rub together.", "pastry", 4),
        ("Bake 40 minutes.", "Assemble", 4),
    ]


def test_of_several_recipes_one_is_chosen_and_the_others_are_named():
    """The fullest is taken and the file's others are told by number; --which takes another."""
    data = page(dumped([plain(JAM), plain(SOUP)]))
    found = import_recipe(data, "page", "x.html")
    assert found.title == SOUP.title and found.problems[0].code == "several-recipes"
    assert JAM.title in found.problems[0].message
    assert import_recipe(data, "page", "x.html", which=1).title == JAM.title
    with pytest.raises(LabelerError, match="--which 3"):
        import_recipe(data, "page", "x.html", which=3)


def test_nothing_that_a_page_says_can_settle_what_only_the_cook_settles():
    """Braces, marks and head lines of a page are text: they pin no food, open no part and end no head."""
    node = plain(
        SOUP, name="--- {x}\n# Soup: 'a' \"b\"",
        recipeIngredient=["{food 15028} 1 cup cream", "## 2 eggs", "> 3 figs", "---"],
        recipeInstructions=["## Boil", "---", "> stir", "<script>alert(1)</script>"],
    )  # fmt: skip
    found, recipe = brought(dumped(node).encode(), "x.json")
    lines = [line for part in recipe.parts for line in part.lines]
    assert [line.pin for line in lines] == [None] * len(lines) and len(recipe.parts) == 1
    assert "cream" in lines[0].name and [line.name for line in lines][1:3] == ["eggs", "figs"]
    assert "<script" not in own_form(found) and "source" not in recipe.head


@pytest.mark.parametrize(
    "text",
    [
        "Leek soup\n\nServes 4\nPrep time: 10 min\n\nIngredients\n2 leeks\n1 litre stock\n\nMethod\n"
        "1. Slice the leeks.\n2. Simmer 20 minutes.\n\nNotes\nKeeps 3 days.\n",
        "# Leek soup\n**Yield:** 4 servings\n## Ingredients\n- 2 leeks\n* 1 litre stock\n## Directions\n"
        "Step 1: Slice the leeks.\nStep 2: Simmer 20 minutes.\n## Nutrition\n90 kcal\n",
        "LEEK SOUP\nMakes: 4 servings\nINGREDIENTS:\n• 2 leeks\n• 1 litre stock\nINSTRUCTIONS:\nSlice the leeks.\n"
        "Simmer 20 minutes.\n",
        "Leek soup\n4\nIngredients:\n▢ 2 leeks\n▢ 1 litre stock\nMethod:\n1) Slice the leeks.\n2) Simmer 20 minutes.",
        "Leek soup\n\n2 leeks\n1 litre stock\n\nMethod\n\nSlice the leeks.\n\nSimmer 20 minutes.\n",
    ],
    ids=["headings", "markdown", "capitals", "boxes", "no-heading-of-ingredients"],
)  # fmt: skip
def test_pasted_text_is_read_by_its_headings(text):
    """Title, yield, ingredients and steps; times, notes and nutrition are neither, and are kept."""
    assert form_of(text.encode(), "-") == "text"
    found, recipe = brought(text.encode(), "-")
    assert found.title.lower() == recipe.title.lower() == "leek soup"
    assert lines_of(found) == lines_of(recipe) == ("2 leeks", "1 litre stock")
    assert steps_of(found) == steps_of(recipe) == ("Slice the leeks.", "Simmer 20 minutes.")
    assert [(note.kind, note.text) for note in found.notes] == [(note.kind, note.text) for note in recipe.notes]


def test_a_recipe_file_is_written_as_it_stands():
    """What is a recipe file already is the same text again, its stamp too."""
    for text in (
        "---\ntitle: x\n---\n- 2 cups flour\n> mix\n",
        "---\ntitle: Lid\n---\n## Dough\n- 1 egg\n> beat\n## Box\n- Dough\n",
        "---\ntitle: z\n---\n<!-- a note -->\n- 1 egg\n",
    ):  # fmt: skip
        found, again = brought(text.encode(), "x.md")
        assert own_form(found) == text and found == again


@pytest.mark.parametrize(
    "text",
    [
        "amount,unit,ingredient,preparation\n2,large,leeks,sliced\n1,litre,stock,\n",
        "Ingredient;Quantity;Unit;Notes\nleeks;2;large;sliced\nstock;1;litre;\n",
        "qty\tunits\titem\tprep\n2\tlarge\tleeks\tsliced\n\n1\tlitre\tstock\t\n",
        '"2 large leeks, sliced"\n"1 litre stock"\n',
        "ingredients\n\"2 large leeks, sliced\"\n1 litre stock\n",
    ],
    ids=["commas", "semicolons", "tabs", "no-heading", "one-column"],
)  # fmt: skip
def test_a_table_is_read_by_its_columns(text):
    """Columns in any order and under any of their names, or rows that are lines."""
    found, _ = brought(text.encode(), "x.csv")
    assert lines_of(found) == ("2 large leeks, sliced", "1 litre stock")


def test_a_table_with_parts_steps_and_a_title():
    """Parts group the rows, a column of steps is the method, title and yield come from theirs."""
    text = "title,serves,part,ingredient,amount,step\nTart,6,Pastry,flour,200 g,Rub.\n,,Filling,eggs,3,Bake.\n"
    found, recipe = brought(text.encode(), "x.csv")
    assert found.title == "Tart" and read_servings(recipe.head).count == 6
    (part,) = recipe.parts
    assert [(line.text, line.group) for line in part.lines] == [("200 g flour", "Pastry"), ("3 eggs", "Filling")]
    assert [said.text for said in part.handling] == ["Rub.", "Bake."]


JUNK = st.recursive(
    st.none() | st.booleans() | st.floats() | st.text(max_size=12),
    lambda inner: st.lists(inner, max_size=3)
    | st.dictionaries(
        st.sampled_from("@type @id name text recipeIngredient recipeInstructions itemListElement value".split()),
        inner, max_size=4,
    ),
    max_leaves=12,
)  # fmt: skip


@settings(deadline=None, max_examples=150)
@given(JUNK, JUNK, JUNK)
def test_any_data_at_all_gives_a_recipe_or_none(ingredients, steps, makes):
    """Whatever stands where texts should: no fault, and what comes out is a recipe file that is read again."""
    node = {"@type": "Recipe", "name": "x", "recipeIngredient": ["2 eggs", ingredients], "recipeInstructions": steps,
            "recipeYield": makes}  # fmt: skip
    (found_node,) = [one for one in recipes_in(node) if one is node]
    carried(found_node, node)
    recipe = read_recipe(own_form(import_recipe(dumped(node).encode(), "json", "x")))
    assert any("2 eggs" in line.text for part in recipe.parts for line in part.lines)


@settings(deadline=None, max_examples=80)
@given(st.binary(max_size=300))
def test_any_bytes_at_all_give_a_recipe_or_one_line(data):
    """As a page, as JSON, as text, as a table: a recipe or a refusal, never a fault."""
    for form in ("page", "json", "text", "table"):
        try:
            import_recipe(data, form, "x")
        except LabelerError as refused:
            assert "\n" not in str(refused)


def test_the_commands_take_what_comes_from_elsewhere(tmp_path, capsys):
    """A page is brought in as a file, and read by other commands as it stands."""
    saved, made = tmp_path / "saved.html", tmp_path / "salad.md"
    saved.write_bytes(page(dumped(plain(SALAD))))

    def run(*arguments):
        with pytest.raises(SystemExit) as left:
            main([str(one) for one in arguments])
        said = capsys.readouterr()
        return left.value.code, said.out, said.err

    status, out, _ = run("import", saved)
    assert status == 0 and out.startswith("---\ntitle: Smoked mackerel salad\n")
    status, out, _ = run("import", saved, "-o", made)
    assert status == 0 and "4 ingredients" in out
    status, out, _ = run("allergens", saved, "--json")
    by_page = json.loads(out)
    status, out, _ = run("allergens", made, "--json")
    assert json.loads(out)["contains"] == by_page["contains"] and "fish" in {
        one["allergen"] for one in by_page["contains"]
    }
    status, _, err = run("import", saved, "--form", "pdf")
    assert status == 2 and "--form" in err


def test_every_command_reads_a_pasted_recipe_the_same_and_a_list_stays_a_list(tmp_path):
    """The lines of a paste are those of its recipe; a list of lines is answered row for row."""
    pasted, listed = tmp_path / "pie.txt", tmp_path / "list.txt"
    pasted.write_text("Fish pie\nserves 4\n\n1 lb cod\n2 eggs\n\nBoil the eggs. Bake the cod for 20 minutes.\n")
    listed.write_text("1 lb cod\n\nToast the almonds\nServes 4\n2 eggs\n")
    assert [text for _, text in read_lines(str(pasted))] == ["1 lb cod", "2 eggs"]
    assert [text for _, text in read_lines(str(listed))] == ["1 lb cod", "", "Toast the almonds", "Serves 4", "2 eggs"]


def test_a_term_that_is_never_closed_loses_no_food():
    """What is said of it stands inside it then."""
    page = b"<body><h1>Cream</h1><h2>Ingredients</h2><dl><dt>Horseradish<q><dd>100 g<dt>Cream<dd>300 ml</dl></body>"
    found = import_recipe(page, "page", "cream.html")
    assert [line.text for part in found.parts for line in part.lines] == ["100 g Horseradish", "300 ml Cream"]
