"""Forms in which cooks keep recipes: lists in the head, tables without a head, quotes, tags, yields in sentences."""

from __future__ import annotations

import pytest

from labeler.parsing.document import read_recipe, read_recipes
from labeler.parsing.model import NoteKind, Recipe
from labeler.parsing.own_form import own_form

PLAIN = ["2 cups oats", "1/2 tsp salt", "3 pears, diced"]
STEPS = ["Stir it all together.", "Bake 20 minutes."]


def texts(recipe: Recipe) -> list[str]:
    return [line.text for part in recipe.parts for line in part.lines]


def steps(recipe: Recipe) -> list[str]:
    return [step.text for part in recipe.parts for step in part.handling]


def listed(rows: list[str], mark: str = "- ") -> str:
    return "\n".join(f"{mark}{row}" for row in rows)


FORMS = {
    "a list": f"# Pear bake\n\n## Ingredients\n{listed(PLAIN)}\n\n## Method\n{listed(STEPS, '1. ')}\n",
    "a head": f"---\ntitle: Pear bake\ningredients:\n{listed(PLAIN, '  - ')}\nsteps:\n{listed(STEPS, '  - ')}\n---\n",
    "a head with another order": (
        f"---\ndirections:\n{listed(STEPS, '  - ')}\nname: Pear bake\nIngredients:\n{listed(PLAIN, '  - ')}\n---\n"
    ),
    "a head with a block of text": (
        "---\ntitle: Pear bake\ningredients: |\n  2 cups oats\n  1/2 tsp salt\n  3 pears, diced\n"
        "method: |\n  1. Stir it all together.\n  2. Bake 20 minutes.\n---\n"
    ),
    "a head with columns": (
        "---\ntitle: Pear bake\ningredients:\n  - {quantity: 2 cups, ingredient: oats}\n"
        "  - {quantity: 1/2, unit: tsp, ingredient: salt}\n"
        f'  - {{quantity: "3", ingredient: "pears, diced"}}\nsteps:\n{listed(STEPS, "  - ")}\n---\n'
    ),
    "bars in a list": (
        "# Pear bake\n\n## Ingredients\n* | 2 cups  | oats\n* | 1/2 tsp | salt\n* | 3       | pears, diced\n\n"
        f"## Method\n{listed(STEPS, '1. ')}\n"
    ),
}


@pytest.mark.parametrize("form", FORMS)
def test_the_same_recipe_in_any_form_reads_the_same(form: str) -> None:
    recipe = read_recipe(FORMS[form])
    assert (recipe.title, texts(recipe), steps(recipe)) == ("Pear bake", PLAIN, STEPS)
    assert not [problem for problem in recipe.problems if problem.code == "unknown-key"]


@pytest.mark.parametrize("form", FORMS)
def test_what_is_written_in_our_own_form_reads_back_the_same(form: str) -> None:
    recipe = read_recipe(FORMS[form])
    again = read_recipe(own_form(recipe))
    assert (again.title, texts(again), steps(again)) == (recipe.title, texts(recipe), steps(recipe))


def test_a_list_in_the_head_counts_only_where_the_text_has_none() -> None:
    text = f"---\ntitle: Pear bake\ningredients: [oats, pears]\n---\n## Ingredients\n{listed(PLAIN)}\n"
    assert texts(read_recipe(text)) == PLAIN


def test_groups_in_the_head_are_groups_of_the_list() -> None:
    text = "---\ntitle: Tart\ningredients:\n  Crust:\n    - 200 g flour\n  Filling:\n    - 3 eggs\n---\n"
    assert [(line.text, line.group) for line in read_recipe(text).parts[0].lines] == [
        ("200 g flour", "Crust"),
        ("3 eggs", "Filling"),
    ]


def test_a_cell_that_is_no_figure_stands_behind_its_food() -> None:
    assert texts(read_recipe("## Ingredients\n- | to taste | salt\n- |  | cream (to serve)\n")) == [
        "salt, to taste",
        "cream (to serve)",
    ]


@pytest.mark.parametrize("said", ["> Serves 6", "- **Serves**: 6", "- Servings: 6", "**6 servings**", "Serves six."])
def test_servings_above_the_list_are_no_ingredient(said: str) -> None:
    recipe = read_recipe(f"# Pear bake\n\n{said}\n\n{listed(PLAIN)}\n\n{' '.join(STEPS)}\n")
    assert texts(recipe) == PLAIN
    assert str(recipe.head["serves"]).split()[0] in ("6", "six")


@pytest.mark.parametrize("said", ["Makes 8 to 10 servings.", "Serves 8-10."])
def test_servings_told_in_a_sentence_of_the_method_count(said: str) -> None:
    recipe = read_recipe(f"# Pear bake\n\n## Ingredients\n{listed(PLAIN)}\n\n## Method\nStir. {said} Eat warm.\n")
    assert "10" in str(recipe.head["serves"])


def test_a_measure_told_in_the_method_is_no_yield_of_the_recipe() -> None:
    recipe = read_recipe(f"# Bake\n\n## Ingredients\n{listed(PLAIN)}\n\n## Method\nBlend. Makes 2 cups. Bake.\n")
    assert "makes" not in recipe.head


def test_a_yield_among_the_notes_counts() -> None:
    recipe = read_recipe(f"# Bake\n\n## Ingredients\n{listed(PLAIN)}\n\n## Notes\nBest warm.\nYield: 40 biscuits\n")
    assert "40" in str(recipe.head["makes"])


@pytest.mark.parametrize("aside", ["(From a neighbour, https://example.org/pears)", "https://example.org/pears"])
def test_a_source_above_the_list_is_no_title(aside: str) -> None:
    recipe = read_recipe(f"{aside}\n\nIngredients:\n{listed(PLAIN)}\n", source="pear-bake.md")
    assert (recipe.title, texts(recipe)) == ("pear bake", PLAIN)


def test_tags_in_italics_are_no_ingredient() -> None:
    recipe = read_recipe(f"# Pear bake\n\n*breakfast, vegan, quick*\n\n{listed(PLAIN)}\n\nStir it all together.\n")
    assert texts(recipe) == PLAIN
    assert any(note.kind is NoteKind.DESCRIPTION and "vegan" in note.text for note in recipe.notes)


def test_a_nested_item_that_says_a_use_belongs_to_its_ingredient() -> None:
    recipe = read_recipe("## Ingredients\n- 1 lemon\n  - zest\n  - juiced\n- 2 cups oats\n")
    lines = recipe.parts[0].lines
    assert [line.text for line in lines] == ["1 lemon, zest, juiced", "2 cups oats"]
    assert lines[0].derived == "juice and zest"


def test_a_nested_ingredient_stays_one() -> None:
    assert texts(read_recipe("## Ingredients\n- 1 lemon\n  - 2 limes\n  - butter\n")) == [
        "1 lemon",
        "2 limes",
        "butter",
    ]


def test_a_sentence_that_takes_food_from_somewhere_is_a_step() -> None:
    recipe = read_recipe("2 cups oats\n3 pears\n\nStir it all.\n\nRemove from the oven, and turn it up to 450F.\n")
    assert texts(recipe) == ["2 cups oats", "3 pears"]


def test_sections_with_items_in_the_head_are_groups_of_the_list() -> None:
    text = (
        "---\ntitle: Tart\ningredients:\n- section: Crust\n  items:\n  - {item: flour, qty: 200, unit: g}\n"
        "- section: Filling\n  items:\n  - {item: eggs, qty: 3, prep: beaten}\n  - item: salt\n---\n"
    )
    assert [(line.text, line.group) for line in read_recipe(text).parts[0].lines] == [
        ("200 g flour", "Crust"),
        ("3 eggs, beaten", "Filling"),
        ("salt", "Filling"),
    ]


@pytest.mark.parametrize("opening", ["Stir in until smooth:", "To a large pot, add", "Whisk well together:"])
def test_what_stands_above_a_list_and_says_what_to_do_is_a_step_with_its_foods(opening: str) -> None:
    recipe = read_recipe(f"# Pear bake\n\n{opening}\n\n- 2 cups oats\n- 3 pears\n\nBake it until it is set.\n")
    assert texts(recipe) == ["2 cups oats", "3 pears"]
    assert steps(recipe) == [f"{opening.rstrip(':')}: oats, pears.", "Bake it until it is set."]
    again = read_recipe(own_form(recipe))
    assert (texts(again), steps(again)) == (texts(recipe), steps(recipe))


@pytest.mark.parametrize("heading", ["For the sauce:", "Dressing:", "Make the gravy:", "Rub:"])
def test_what_stands_above_a_list_and_names_it_is_a_heading(heading: str) -> None:
    recipe = read_recipe(f"# Pear bake\n\n{heading}\n\n- 2 cups oats\n- 3 pears\n\nBake it until it is set.\n")
    assert len({line.group for line in recipe.parts[0].lines}) == 1
    assert steps(recipe) == ["Bake it until it is set."]


@pytest.mark.parametrize("aside", ["[//]: # (try it with plums)", "<by hand only 3>", "Credit: Jo (a neighbour)"])
def test_asides_of_the_writer_are_no_ingredient(aside: str) -> None:
    assert texts(read_recipe(f"# Pear bake\n\n{aside}\n\n{listed(PLAIN)}\n\nStir it all together.\n")) == PLAIN


def test_what_is_struck_out_is_no_food_but_is_kept() -> None:
    recipe = read_recipe("## Ingredients\n- 2 cups oats ~~and prawns~~\n")
    assert recipe.parts[0].lines[0].text == "2 cups oats"
    assert any("prawns" in note.text for note in recipe.notes)


def test_another_choice_nested_below_an_ingredient_is_one_of_its_line() -> None:
    recipe = read_recipe("## Ingredients\n- 1 tbsp garlic\n  - or 1 tsp garlic powder\n- 2 cups oats\n")
    assert texts(recipe) == ["1 tbsp garlic, or 1 tsp garlic powder", "2 cups oats"]


@pytest.mark.parametrize("mark", ["- ", ""])
@pytest.mark.parametrize("heading", ["**Wrapping & cooking**", "### Folding and cooking", "**Dressing, Baking**"])
def test_a_heading_that_joins_cooking_to_another_word_says_not_which_rows_stand_below(heading: str, mark: str) -> None:
    recipe = read_recipe(
        f"# Rolls\n\n**Filling**\n\n{mark}500 g pork\n\n{heading}\n\n{mark}12 wrappers\n{mark}2 tbsp oil\n"
    )
    assert texts(recipe) == ["500 g pork", "12 wrappers", "2 tbsp oil"]


@pytest.mark.parametrize("step", ["Bake 20 minutes.", "Chill 2 hours.", "Cool in the tin."])
@pytest.mark.parametrize("head", ["", "## Ingredients\n\n"])
def test_a_short_sentence_of_the_method_below_a_list_is_a_step(step: str, head: str) -> None:
    assert steps(read_recipe(f"# Pear bake\n\n{head}{listed(PLAIN)}\n\nStir it all together.\n{step}\n")) == [
        STEPS[0],
        step,
    ]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("## Stovetop Method", "## Slow Cooker Method"),
        ("## Method", "## Pressure cooker instructions"),
        ("## Directions\n\n### In the oven", "### In a slow cooker"),
        ("## Directions\n\n### Stove top", "### Microwave"),
    ],
)
def test_another_appliance_is_another_way_and_no_further_steps(first: str, second: str) -> None:
    recipe = read_recipe(
        f"# Stew\n\n## Ingredients\n{listed(PLAIN)}\n\n{first}\n1. Simmer it.\n\n{second}\n1. Stew it all.\n"
    )
    assert steps(recipe) == ["Simmer it."]
    assert "Stew it all." in [note.text for note in recipe.notes]
    assert [problem.code for problem in recipe.problems] == ["another-way"]


def test_parts_with_lists_of_their_own_whose_method_speaks_of_each_other_are_one_dish() -> None:
    part = "## {}\n\n### Ingredients\n- {}\n\n### Method\n1. {}\n\n"
    crust, filling = (
        part.format("Crust", "2 cups flour", "Rub it."),
        part.format("Filling", "3 pears", "Fill the crust."),
    )
    text = f"# Pie\n\n{crust}{filling}"
    (recipe,) = read_recipes(text)
    assert [(line.text, line.group) for line in recipe.parts[0].lines] == [
        ("2 cups flour", "Crust"),
        ("3 pears", "Filling"),
    ]
    assert [(step.text, step.group) for step in recipe.parts[0].handling] == [
        ("Rub it.", "Crust"),
        ("Fill the crust.", "Filling"),
    ]
    assert len(read_recipes(text.replace("Fill the crust.", "Cook them."))) == 2


@pytest.mark.parametrize(
    "yields",
    [
        "10 slices",
        "for 4",
        "(for two)",
        "Enough for 4",
        "Supper for two",
        "feeds six",
        "enough for a dozen",
        "a 9x13 pan's worth",
    ],
)
def test_a_row_below_the_title_that_tells_how_much_is_made_is_no_ingredient(yields: str) -> None:
    rows = "\n".join(PLAIN)
    for title in (f"Pear tart\n{yields}", f"Pear tart, {yields}" if yields[0].isalpha() and yields[:2] != "a " else ""):
        if title:
            recipe = read_recipe(f"{title}\n\n{rows}\n\nStir it all together.\n")
            assert (recipe.title.split(",")[0], texts(recipe)) == ("Pear tart", PLAIN)
            assert {"serves", "makes"} & set(recipe.head) or "," in recipe.title


@pytest.mark.parametrize("row", ["Salt.", "Salt and pepper.", "Flour and water."])
def test_a_food_with_a_full_stop_is_an_ingredient(row: str) -> None:
    assert texts(read_recipe(f"# Pear bake\n\n2 cups oats\n3 pears, diced\n{row}\n")) == [
        "2 cups oats",
        "3 pears, diced",
        row,
    ]


@pytest.mark.parametrize("title", ["Leek risotto, serves 4.", "Peach tea, a jug for 4", "Leek risotto (serves 4)"])
def test_a_title_tells_how_many_it_serves(title: str) -> None:
    """What stands behind a comma or in brackets says how much is made, and is no name."""
    recipe = read_recipe(f"{title}\n\n" + "\n".join(PLAIN) + "\n\nStir it all together.\n", source="x.txt")
    assert (recipe.head.get("serves"), texts(recipe)) == ("4", PLAIN)
    assert recipe.title in ("Leek risotto", "Peach tea")


def test_the_first_row_of_a_list_is_an_ingredient_though_it_counts_bags() -> None:
    """ "8 tea bags" above other ingredients of its block is no yield."""
    recipe = read_recipe("Peach tea\n\n8 tea bags\n2 litres water\n\nSteep the bags for 5 minutes.\n", source="x.txt")
    assert texts(recipe) == ["8 tea bags", "2 litres water"]
