"""What stands around a recipe on its page, and what of it the recipe must not take for food, steps or a title."""

import pytest

from labeler.importers.reading import import_recipe, import_recipes
from labeler.parsing.headings import Opens, read_heading
from labeler.parsing.page_rows import is_page_row, opens_comment
from labeler.parsing.row_classifier import row_kind

LIST = "2 lb mussels\n1 onion, diced\n1 cup cider\n3 tbsp butter\n"
METHOD = "Sweat the onion in the butter. Add the mussels and the cider and steam for 5 minutes.\n"


def read(text):
    """A pasted text as every command reads it."""
    return import_recipe(text.encode(), "text", "post.txt")


def lines_of(recipe):
    """The texts of its lines."""
    return [line.text for part in recipe.parts for line in part.lines]


def steps_of(recipe):
    """The texts of its steps."""
    return [step.text for part in recipe.parts for step in part.handling]


@pytest.mark.parametrize("row", [
    "Friday, February 4, 2011", "09 May, 2012", "21 Apr", "10.10.07", "2019-03-02", "Posted on March 3rd, 2014",
    "by Ada Wren", "Post a comment", "Continue reading", "Filed under: fish", "© 2008 Tern & Tide", "Top of page",
])  # fmt: skip
def test_a_row_of_the_page_is_no_food(row):
    """Dates, bylines and what a reader may press say nothing of the dish."""
    assert is_page_row(row) and row_kind(row) in ("about", "heading")


@pytest.mark.parametrize("row", [
    "2 may turnips", "by weight 300 g", "1.5 oz gin", "March violets", "mint", "image of thyme", "Home fries",
])  # fmt: skip
def test_food_is_no_row_of_the_page(row):
    """A word that a page uses too makes no date or button of a food."""
    assert not is_page_row(row)


def test_who_speaks_opens_a_comment():
    """Below the name of somebody who says something stand comments, and "she said so." is none."""
    assert opens_comment("Old Tom said...") and opens_comment("Ada Wren says:")
    assert not opens_comment("She said so. Mix:") and read_heading("Tom said...").opens is Opens.ABOUT


@pytest.mark.parametrize(("row", "opens"), [
    ("Behind this recipe", Opens.NOTES), ("Hints, tips and pictures", None), ("Tips, hints and photos", Opens.TIPS),
    ("Ingredients Jump to method ↓", Opens.INGREDIENTS), ("Salt and tips", None), ("No comments:", Opens.ABOUT),
])  # fmt: skip
def test_headings_of_pages(row, opens):
    """Joined words for talk open talk, links beside a heading are none of it, and no list of food is lost to talk."""
    assert read_heading(row).opens is (Opens.TIPS if row.startswith("Hints") else opens)


def test_a_post_with_date_talk_and_comments_is_the_recipe_in_its_midst():
    """The title stands above the talk, lines and steps in the midst; what somebody says below is kept as notes."""
    found = read(
        f"Sunday, June 2, 2013\n\nHarbour mussels\n\nMy aunt made this on Sundays.\n\n{LIST}\n{METHOD}\n"
        "I had these twice last week and would again.\n\nOld Tom said...\n\nWe put 2 lb of leeks in ours.\n"
    )
    assert found.title == "Harbour mussels" and lines_of(found) == LIST.strip().split("\n")
    assert steps_of(found) == [METHOD.strip()]
    assert {"I had these twice last week and would again.", "We put 2 lb of leeks in ours."} <= {
        note.text for note in found.notes
    }


def test_the_title_above_the_list_beats_the_name_of_the_page():
    """Below talk a row in capitals right above the list is the dish; a row that the page's name repeats is, too."""
    talk = "I found these on the quay and could not leave them there.\n\n"
    assert read(f"A good week\n\n{talk}Harbour Mussels\n{LIST}\n{METHOD}").title == "Harbour Mussels"
    assert (
        read(f"Tern & Tide: Harbour mussels, our way\n\nHarbour mussels\n\n{LIST}\n{METHOD}").title == "Harbour mussels"
    )


def test_a_method_told_in_the_first_person_stays_the_method():
    """Who only tells what he did gave no order before, so his words are all the method there is."""
    found = read(
        f"Harbour mussels\n\n{LIST}\nI sweat the onion in the butter, then I steam the mussels in the cider.\n"
    )
    assert len(steps_of(found)) == 1


def test_the_first_list_under_a_heading_of_the_method_is_a_list():
    """What opens with amounts is food, whatever the heading above says."""
    found = read(f"Harbour mussels\n\nDirections:\n{LIST}\n{METHOD}")
    assert lines_of(found) == LIST.strip().split("\n") and steps_of(found) == [METHOD.strip()]


def test_a_method_without_a_heading_below_a_list_with_one():
    """Prose and orders below the last amount are steps although nothing says so."""
    found = read(
        f"You need:\n{LIST}Heat a pan to 180C/350F.\nSweat the onion\n\nMeat goes in now, with the lid on, to brown.\n"
    )
    assert lines_of(found) == LIST.strip().split("\n") and len(steps_of(found)) == 3


@pytest.mark.parametrize("name", ["Marinade", "Pickling Liquid"])
def test_the_name_of_a_part_between_amounts_heads_the_lines_below(name):
    """A word for a part without amount, above lines with amounts, is no food; one that names a food stays one."""
    found = read(f"Harbour mussels\n\nIngredients\n{LIST}{name}\n1 tsp salt\n2 tbsp honey\n")
    groups = [line.group for part in found.parts for line in part.lines]
    assert groups == [""] * 4 + [name] * 2
    assert "Tartar sauce" in lines_of(read(f"Quay tea\n\nIngredients\n{LIST}Tartar sauce\n2 buns\n1 lemon\n"))


def test_a_list_that_lost_its_breaks_is_a_line_each():
    """Amounts inside one row open the next ingredient, with commas between or none; an alternative is none."""
    assert lines_of(read("Quay buns\n\n125g butter, softened 125g sugar 250g flour 2 large eggs\n\nMix it all.\n")) == [
        "125g butter, softened", "125g sugar", "250g flour", "2 large eggs",
    ]  # fmt: skip
    whole = "Quay buns\n\n125 g butter or 100 ml oil\n250 g flour\n\nMix it all.\n"
    assert lines_of(read(whole)) == ["125 g butter or 100 ml oil", "250 g flour"]


def test_lists_told_behind_their_heading():
    """ "Ingredients for two servings:" says how many it serves, and its sentences and "and" part the foods."""
    found = read(
        "Quay soup\n\nIngredients for two servings: 100 g haddock. A few prawns, two potatoes, and 1 tsp salt.\n\n"
        "Preparation: Simmer it all for 20 minutes!\n"
    )
    assert lines_of(found) == ["100 g haddock", "A few prawns", "two potatoes", "and 1 tsp salt"]
    assert str(found.head["serves"]).startswith("two") and steps_of(found) == ["Simmer it all for 20 minutes!"]


@pytest.mark.parametrize(("tail", "lines", "steps"), [
    ("To serve: lemon wedges, chives", ["lemon wedges", "chives"], []),
    ("To serve:\n- 4 lemon wedges\n- chives", ["4 lemon wedges", "chives"], []),
    ("To serve: spoon into bowls and scatter with chives.", [], ["Spoon into bowls and scatter with chives."]),
    ("To serve:\nSpoon into bowls.", [], ["Spoon into bowls."]),
])  # fmt: skip
def test_what_is_for_serving_is_lines_or_steps_as_it_reads(tail, lines, steps):
    """Below the method, too, foods behind "To serve:" are lines of that group, and a sentence is a step."""
    found = read(f"# Quay soup\n\n## Ingredients\n\n- 500 g leeks\n\n## Method\n\n1. Boil the leeks.\n\n{tail}\n")
    assert lines_of(found) == ["500 g leeks", *lines] and steps_of(found) == ["Boil the leeks.", *steps]
    groups = [line.group for part in found.parts for line in part.lines][1:]
    assert groups == ["To serve"] * len(lines)


def test_a_method_below_the_last_of_several_lists_is_that_of_all():
    """Lists under headings of their own share a method that has none; a list that names another is a part."""
    lists = "# Quay soup\n\n### Soup\n- 500 g leeks\n- 1 l stock\n\n### Croutons\n- 2 slices bread\n- 2 tbsp oil\n{}\n"
    (part,) = read(lists.format("") + "1. Simmer the leeks in the stock.\n2. Fry the bread in the oil.\n").parts
    assert [line.group for line in part.lines] == ["Soup", "Soup", "Croutons", "Croutons"]
    assert [step.group for step in part.handling] == ["", ""]
    assert len(read(lists.format("- all of the soup") + "1. Fry the bread in the oil.\n").parts) == 2


def test_two_recipes_in_capitals_without_a_gap_are_two():
    """A title in capitals right below the steps of another recipe begins a new one."""
    one = "Ingredients\n• 1 cup oil\n• 2 tbsp vinegar\nDirections\n• Shake it in a jar.\n"
    text = f"Image\nHARBOUR DRESSING\n{one}COLD SAUCE\nIngredients\n• 1 cup cream\n• 1 lemon\nDirections\n• Whisk.\n"
    assert [recipe.title for recipe in import_recipes(text.encode(), "text", "x.txt")] == [
        "HARBOUR DRESSING", "COLD SAUCE",
    ]  # fmt: skip
