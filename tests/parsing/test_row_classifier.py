"""Pages, notes and pastes as cooks have them: what is an ingredient, what is a step, and where the rest is kept."""

import csv
from pathlib import Path

import pytest

import labeler.parsing
from labeler.importers.reading import import_recipe, import_recipes
from labeler.parsing import NoteKind, read_recipe
from labeler.parsing.columns import columns_of
from labeler.parsing.headings import Opens, read_heading
from labeler.parsing.own_form import own_form
from labeler.parsing.row_phrases import needs, phrases
from labeler.parsing.yields import bare_yield, yields_in
from labeler.types import LabelerError

DATA = Path(labeler.parsing.__file__).with_name("data")


def rows_of_file(name):
    """The rows of a data file."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def lines_of(recipe):
    """Texts and groups of its lines."""
    return [(line.text, line.group) for part in recipe.parts for line in part.lines]


def steps_of(recipe):
    """Texts and groups of its steps."""
    return [(step.text, step.group) for part in recipe.parts for step in part.handling]


def notes_of(recipe, kind):
    """The notes of one kind."""
    return [note.text for note in recipe.notes if note.kind is kind]


def test_the_word_lists_have_their_shape():
    """Headings open something known, phrases stand once in a class, aliases mean keys, columns are of a line."""
    assert {row["opens"] for row in rows_of_file("headings.csv")} <= {opens.value for opens in Opens}
    words = [row["words"] for row in rows_of_file("headings.csv")]
    assert len(words) == len(set(words)) and all(word == word.casefold() for word in words)
    for name, found in phrases().items():
        assert len(found) == len(set(found)) and all(phrase.strip() == phrase for phrase in found), name
    assert not set(words) & set(needs()) and len(needs()) == len(set(needs()))
    keys = {row["key"] for row in rows_of_file("head_keys.csv")}
    assert {row["key"] for row in rows_of_file("head_aliases.csv")} <= keys
    assert len(rows_of_file("table_columns.csv")) == 9


PAGE = """---
title: Barley pie
Portions: 4
tags: [pie]
---
![pie](pie.jpg)

My aunt made this on Sundays.

## What you need
- a deep dish
- a whisk

## Ingredients

- [ ] 2 cups barley
- Spices
    - 1 tsp salt
    - 1/2 tsp nutmeg
- [x] 2 eggs
- 300 g [lamb](http://example.org/lamb), diced,
  without fat

**For the gravy**

* Stock (300 ml)
* Flour *1 tbsp*

| Ingredient | Amount | Notes |
|---|---|---|
| Milk | 250 ml | warm |

Sugar
: 20 g

## Directions

1. Boil the barley in plenty of
water for 20 minutes.
   ![pot](pot.jpg)
1. Gravy:
    1. Whisk the flour with the stock.
    1. Simmer 5 minutes.
1. Bake 40 minutes.
   - You can skip this.
   - Tip: use a rack.

Keeps 3 days in the fridge.

## Notes
Barley swells.

## Nutrition
Calories: 300
"""


def test_a_page_is_one_part_with_everything_in_its_place():
    """Lines with the groups that end where their nesting ends, steps in order, the rest as notes of their kind."""
    recipe = read_recipe(PAGE, source="pie.md")
    (part,) = recipe.parts
    assert (recipe.title, part.title, recipe.head["serves"], recipe.problems) == ("Barley pie", "Barley pie", 4, ())
    assert lines_of(recipe) == [
        ("2 cups barley", ""),
        ("1 tsp salt", "Spices"),
        ("1/2 tsp nutmeg", "Spices"),
        ("2 eggs", ""),
        ("300 g [lamb](http://example.org/lamb), diced, without fat", ""),
        ("Stock (300 ml)", "gravy"),
        ("Flour 1 tbsp", "gravy"),
        ("250 ml Milk, warm", "gravy"),
        ("20 g Sugar", "gravy"),
    ]
    assert part.lines[4].name == "lamb" and all(step.after == 9 for step in part.handling)
    assert steps_of(recipe) == [
        ("Boil the barley in plenty of water for 20 minutes.", ""),
        ("Whisk the flour with the stock.", "Gravy"),
        ("Simmer 5 minutes.", "Gravy"),
        ("Bake 40 minutes.", ""),
    ]
    assert notes_of(recipe, NoteKind.EQUIPMENT) == ["a deep dish", "a whisk"]
    assert notes_of(recipe, NoteKind.TIP) == ["You can skip this.", "Tip: use a rack."]
    assert notes_of(recipe, NoteKind.STORAGE) == ["Keeps 3 days in the fridge."]
    assert notes_of(recipe, NoteKind.NOTE) == ["Barley swells."]
    assert notes_of(recipe, NoteKind.NUTRITION) == ["Calories: 300"]
    assert notes_of(recipe, NoteKind.DESCRIPTION) == ["My aunt made this on Sundays."]
    assert notes_of(recipe, NoteKind.IMAGE) == ["pie pie.jpg", "pot pot.jpg"]


@pytest.mark.parametrize(
    ("text", "title", "serves"),
    [
        ("Falafel (makes 24, serves 6)\n\n250 g chickpeas\n1 onion\n\nBlitz everything. Fry.", "Falafel", "6"),
        ("PHO (soup)\nserves 8\n\nBROTH\n5 lbs bones\n\nBOWLS\n1 lb noodles\n\nBoil the bones.", "PHO (soup)", "8"),
        ("Curd\n\nINGREDIENTS (6 bowls)\n2 eggs\n1 cup milk\n\nMETHOD\n1) Whisk.", "Curd", None),
        ("# Eel\nServes 4\n**Brine**\n- 1 cup salt\n**Fish**\n- 3 lb eel\n\n**Directions**\nSoak it.", "Eel", "4"),
    ],
)  # fmt: skip
def test_pasted_text_without_any_marks_or_with_few(text, title, serves):
    """A bare title is never an ingredient, a heading in capitals or bold is none, and steps are steps."""
    recipe = read_recipe(text, source="x.txt")
    assert recipe.title == title and recipe.head.get("serves") == serves
    assert all(line.amounts for part in recipe.parts for line in part.lines) and steps_of(recipe)


def test_a_section_with_its_own_list_and_steps_is_a_part():
    """ "Dough" and "Filling", each with bullets and steps, stay two parts; with a shared method they are one."""
    apart = read_recipe("# Pie\n## Dough\n- 200 g flour\n\n1. Knead.\n\n## Filling\n- 2 eggs\n\n1. Whisk well.\n")
    assert [(part.title, len(part.lines), len(part.handling)) for part in apart.parts] == [
        ("Dough", 1, 1),
        ("Filling", 1, 1),
    ]
    joined = read_recipe("# Pie\n## Dough\n- 200 g flour\n## Filling\n- 2 eggs\n## Method\n1. Knead.\n2. Fill it.\n")
    assert [part.title for part in joined.parts] == ["Pie"] and lines_of(joined)[1] == ("2 eggs", "Filling")


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("🍽️ Servings: 4-6", [("serves", "4-6")]),
        ("Makes 12 small or 6 large", [("makes", "12 small or 6 large")]),
        ("Serves Around 3 People", [("serves", "Around 3 People")]),
        ("Serves 20 (makes about 2 litres)", [("serves", "20"), ("makes", "about 2 litres")]),
        ("Crunchy, ready tomorrow. Yield: 2 quarts", [("makes", "2 quarts")]),
        ("Makes about 4 (5-oz) bottles", [("makes", "about 4 (5-oz) bottles")]),
        ("🧇 Amount: 19-20 waffles", [("makes", "19-20 waffles")]),
        ("Enough for about two hearty adult portions:", [("serves", "about two hearty adult portions")]),
        ("Serving size: 1 tablespoon", [("serving", "1 tablespoon")]),
        ("Makes a great lunch", []),
        ("for 20 minutes", []),
    ],
)  # fmt: skip
def test_yields_are_found_wherever_they_stand(text, found):
    """Servings of people, things made, what one serving is; a time and praise are none."""
    assert [(one.key, one.says) for one in yields_in(text)] == found


@pytest.mark.parametrize("text", ["6 bowls", "5 x 300 g jars", "7 x 1lb jars", "four 5-oz bottles", "about 600 ml"])
def test_a_number_of_things_made_needs_no_verb(text):
    """Under a title or in its brackets such words say what the recipe makes."""
    assert bare_yield(text).says == text and bare_yield("2 eggs") is None


@pytest.mark.parametrize(
    ("text", "opens", "subject"),
    [
        ("Ingredients", Opens.INGREDIENTS, ""),
        ("🥘 INGREDIENTS:", Opens.INGREDIENTS, ""),
        ("Ingredients for the sauce", Opens.INGREDIENTS, "sauce"),
        ("Sauce ingredients", Opens.INGREDIENTS, "Sauce"),
        ("Zubereitung", Opens.STEPS, ""),
        ("For the gravy:", None, "gravy"),
        ("To serve", None, "To serve"),
    ],
)
def test_headings_are_taken_apart(text, opens, subject):
    """What they open, and of what."""
    heading = read_heading(text)
    assert (heading.opens, heading.subject) == (opens, subject)


def test_columns_are_known_by_any_of_their_names():
    """A table without an ingredient column has no known columns."""
    assert columns_of(["Qty", "Unit", "Item"]) == ["amount", "unit", "name"] and columns_of(["a", "b"]) == ["", ""]


TWO = (
    "# Soups\n## Leek\n### Ingredients\n- 2 leeks\n### Method\n1. Boil.\n"
    "## Pea\n### Ingredients\n- 1 kg peas\n- 1 egg\n"
)


def test_several_recipes_of_a_text_are_told_apart():
    """The fullest is taken and the others are named."""
    assert [one.title for one in import_recipes(TWO.encode(), "text", "x.md")] == ["Leek", "Pea"]
    assert import_recipe(TWO.encode(), "text", "x.md").problems[0].code == "several-recipes"
    assert import_recipe(TWO.encode(), "text", "x.md", which=1).title == "Leek"


def test_a_wrong_encoding_is_mended_and_told_and_unseen_signs_go():
    """Mojibake, soft hyphens, non-breaking spaces and smart quotes change no food."""
    recipe = read_recipe("- 500 ml crÃ¨me fraÃ®che\n- 2\u00a0cups\u00a0but\u00adter\n- 1 cup “00” flour\n")
    assert [line.name for line in recipe.parts[0].lines][:2] == ["crème fraîche", "butter"]
    assert [problem.code for problem in recipe.problems] == ["encoding-mended"]


def test_one_word_a_row_is_refused_with_what_to_do():
    """A copy of a PDF cannot be put together again; a list of plain names is none."""
    words = "2 cups flour 1 tsp salt 3 large eggs 250 ml milk 100 g butter 1 pinch nutmeg 2 tbsp sugar 1 lemon"
    with pytest.raises(LabelerError, match="x:1: every word stands on a row"):
        read_recipe("\n".join(words.split()), source="x")
    names = ["flour", "salt", "sugar", "butter", "eggs", "milk"] * 6
    assert len(read_recipe("\n".join(names)).parts[0].lines) == 36


def test_a_heading_without_rows_swallows_no_list():
    """A stray row that looks like a heading ends where the next one of its rank begins."""
    recipe = read_recipe("Stew\n\nSERVES 4\n\nLINK OF IT\n\nFor the pot\n2 carrots\n1 onion\n\nMethod\n1. Boil well.\n")
    assert [line.text for part in recipe.parts for line in part.lines] == ["2 carrots", "1 onion"]


def test_a_measured_food_above_the_list_is_an_ingredient():
    """A bullet that weighs something is one wherever it stands, and that is said; a tool or a time is none."""
    recipe = read_recipe("# Stew\n- 800 g carrots\n- 2 pans\n- Prep time: 10 min\n\n## Ingredients\n- 1 onion\n")
    assert [line.text for part in recipe.parts for line in part.lines] == ["800 g carrots", "1 onion"]
    assert [problem.code for problem in recipe.problems] == ["mark-missing"]


def test_a_known_heading_with_nothing_below_is_kept():
    """ "Preparation" above no step is a note, so that the word is not lost."""
    recipe = read_recipe("# Stew\n## Ingredients\n- 1 onion\n## Method\n1. Boil well.\n## Preparation\n")
    assert "Preparation" in [note.text for note in recipe.notes]


def test_a_list_in_one_row_is_as_many_lines():
    """What stands behind a comma is a food of its own unless it says something of the one before."""
    recipe = read_recipe(
        "Relish. Ingredients: 2 onions, peeled and chopped, salt, 100 ml vinegar. Method: Boil it all.\n"
    )
    assert [line.text for part in recipe.parts for line in part.lines] == [
        "2 onions, peeled and chopped",
        "salt",
        "100 ml vinegar",
    ]
    assert recipe.title == "Relish" and [step.text for part in recipe.parts for step in part.handling] == [
        "Boil it all."
    ]


@pytest.mark.parametrize("name", ["notes.md", "tools.txt", "storage.md", "method.md"])
def test_a_file_named_like_a_heading_has_no_title_of_it(name):
    """What is imported of it would otherwise be read back as notes or tools."""
    recipe = read_recipe("- 2 eggs\n- 1 cup flour\n", source=name)
    assert recipe.title == "Untitled recipe"
    assert len(read_recipe(own_form(recipe), source=name).parts[0].lines) == 2


def test_a_cell_beyond_the_columns_of_its_table_is_kept():
    """Markdown drops it; here it stays with its line."""
    table = "# Naan\n\n| Ingredient | Quantity |\n|---|---|\n| Flour | 500 g | sifted |\n| Yoghurt || 150 ml |\n"
    assert lines_of(read_recipe(table)) == [("500 g Flour sifted", ""), ("Yoghurt 150 ml", "")]
