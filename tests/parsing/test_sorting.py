"""What the rows of a recipe's text are where no mark says so, and pasted text that is sorted by it."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.allergens import assess
from labeler.foods.resolve import weigh
from labeler.parsing import read_recipe
from labeler.parsing.document import has_marks
from labeler.parsing.markup import rows_of
from labeler.parsing.row_classifier import row_kind, says_yield

PARTICIPLES = (
    "melted toasted crushed grated chopped roasted ground boiled drained rinsed softened beaten sifted salted smoked "
    "shredded blanched fried cooked sliced shelled squeezed strained soaked browned buttered flaked peeled warmed"
).split()
FOODS = {
    "butter": "milk", "almonds": "almond", "peanuts": "peanut", "cheese": "milk", "walnuts": "walnut",
    "eggs": "egg", "prawns": "crustaceans", "soybeans": "soybean", "sesame seeds": "sesame", "hazelnuts": "hazelnut",
}  # fmt: skip


def lines_of(text):
    """The names of a recipe's lines."""
    recipe = read_recipe(text)
    return [line.name for part in recipe.parts for line in part.lines], recipe


@settings(deadline=None, max_examples=120)
@given(
    st.sampled_from(PARTICIPLES),
    st.sampled_from(sorted(FOODS)),
    st.sampled_from(["", "- ", "lightly ", "freshly "]),
    st.sampled_from([
        "2 cups flour\n{}\n", "{}\n100 g sugar\n", "Slaw\n\nServes 4\n100 g sugar\n{}\n1. Mix the lot.\n",
        "## Slaw\n- 100 g sugar\n{}\n> mix\n", "Slaw\nIngredients\n{}\nMethod\nMix the lot.\n",
    ]),
)  # fmt: skip
def test_a_food_behind_a_participle_is_an_ingredient_in_every_kind_of_list(participle, food, before, text):
    """Any participle before any food as a line of its own keeps the food and its allergens."""
    _, recipe = lines_of(text.format(f"{before}{participle} {food}"))
    lines = [line for part in recipe.parts for line in part.lines]
    assert any(food.split()[0] in line.name for line in lines), [line.name for line in lines]
    assert FOODS[food] in {found.allergen for found in assess(weigh(recipe)).contains}


@pytest.mark.parametrize(
    "row",
    [
        "melted butter", "juice of half a lime", "zest 1 lemon", "finely grated zest of 1 lemon", "brown sugar",
        "brown rice 200 g", "chop suey greens", "cut green beans", "dry white wine", "cream cheese", "oil for frying",
        "salt and pepper to taste", "bread flour", "season salt", "stir fry vegetables", "roast chicken, shredded",
        "minute steak", "20 minute rice", "Butter, a stick or two", "spread, 20 g", "rolled oats", "cooking oil",
        "baking powder 1 tsp", "Peel of 1 orange", "chicken, cut into strips and marinated for 20 minutes",
    ],
)  # fmt: skip
def test_what_may_be_eaten_is_an_ingredient(row):
    """A first word that may also be an action makes no step of a food."""
    assert row_kind(row) == "ingredient"


@pytest.mark.parametrize(
    ("row", "kind"),
    [
        ("Toast the almonds", "step"), ("1. Boil the noodles for 8 minutes and drain.", "step"), ("Season", "step"),
        ("Toss everything together", "step"), ("Oil the tin", "step"), ("In a bowl, whisk the eggs.", "step"),
        ("Meanwhile, heat the oil", "step"), ("Preheat oven to 180C", "step"), ("Roast for 40 minutes", "step"),
        ("Simmer, covered, 20 minutes", "step"), ("Serve with lime wedges", "step"), ("Serves 4", "yield"),
        ("Makes about 2 dozen", "yield"), ("For 4 people", "yield"), ("Prep time 10 min", "time"), ("45 mins", "time"),
        ("Prep 10 min | Cook 20 min", "time"), ("Ingredients:", "heading"), ("Method", "heading"),
        ("Difficulty: easy", "about"), ("My aunt made this on Sundays.", "prose"),
    ],
)  # fmt: skip
def test_what_is_no_ingredient_shows_it(row, kind):
    """Steps open with an action that is done to something; yields, times, headings and talk have their own signs."""
    assert row_kind(row) == kind


@pytest.mark.parametrize(
    ("row", "says"), [("Serves: 4", "4 servings"), ("Makes 12 rolls.", "12 rolls"), ("4 servings", "4 servings")]
)
def test_a_yield_says_how_much(row, says):
    """The words around the number are left out, and people are servings."""
    assert says_yield(row) == says


SLAW = """Peanut noodle slaw

Serves 4
Prep time 10 min
{}200 g rice noodles
melted butter
crushed peanuts
finely grated zest 1 lemon
juice 1½ lemons
{}1. Boil the noodles for 8 minutes and drain.
2. Toast the peanuts
3. Toss everything together.
"""


@pytest.mark.parametrize(
    ("list_heading", "steps_heading"), [("", ""), ("Ingredients:\n", "Method\n"), ("Ingredients\n", "")]
)
def test_pasted_text_is_the_same_recipe_with_and_without_headings(list_heading, steps_heading):
    """Title, yield, times and steps never become ingredients, and no ingredient becomes a step."""
    names, recipe = lines_of(SLAW.format(list_heading, steps_heading))
    assert names == ["rice noodles", "butter", "peanuts", "lemon zest", "lemon juice"]
    assert recipe.title == "Peanut noodle slaw" and recipe.head["serves"] == "4"
    steps = [said.text for part in recipe.parts for said in part.handling]
    assert [step.split()[0] for step in steps] == ["Boil", "Toast", "Toss"]


def test_a_first_row_that_is_a_food_is_no_title():
    """“Butter” above flour is an ingredient; a dish above it is the title, and that is said."""
    assert [line.name for line in read_recipe("butter\n200 g flour\n").parts[0].lines] == ["butter", "flour"]
    found = read_recipe("Sunday dream bake\n\n200 g flour\n")
    assert found.title == "Sunday dream bake" and [one.code for one in found.problems] == ["taken-for-title"]


def test_a_bare_list_holds_no_yield_and_no_heading():
    """A yield goes into the head, a heading says what stands under it, and a step is handling."""
    recipe = read_recipe("Serves 4\n200 g noodles\nMethod\nBoil the noodles 8 minutes.\n")
    assert [line.name for line in recipe.parts[0].lines] == ["noodles"] and recipe.problems == ()
    assert recipe.head == {"serves": "4"}
    assert [said.text for said in recipe.parts[0].handling] == ["Boil the noodles 8 minutes."]


def test_a_recipe_without_a_title_says_so():
    """Standard input has no name of its own; a file's name is read as words, and an only part names its recipe."""
    untitled = read_recipe("- 2 eggs\n", source="-")
    assert untitled.title == "Untitled recipe" and [one.code for one in untitled.problems] == ["no-title"]
    assert read_recipe("- 2 eggs\n", source="x/plum-jam.md").title == "plum jam"
    assert read_recipe("---\ntitle: ''\n---\n## Curd\n- 2 eggs\n", source="-").title == "Curd"


def test_a_recipe_file_is_no_list_of_lines():
    """A head, or a heading above bullets, is a recipe file; bullets and arrows alone are not."""
    assert has_marks("---\ntitle: x\n---\n- 1 egg\n") and has_marks("## Curd\n- 1 egg\n> beat\n")
    assert not has_marks("- 1 egg\n> 2 eggs\n#10 can tomatoes\n---\n") and not has_marks("1 egg\n")


def test_tags_that_end_a_row_part_the_words_beside_them():
    """A page pasted on one row keeps its words apart: "<li>1 onion</li><li>2 eggs" are two rows, and no "onion2"."""
    rows = rows_of(["2 cups milk <ul><li>1 onion</li><li>2 eggs</li></ul>"])
    assert [row.text for row in rows] == ["2 cups milk", "1 onion", "2 eggs"]


@pytest.mark.parametrize(
    ("text", "title"),
    [
        ("Nan's shortbread\n\n* 250 g butter\n* 360 g flour\n", "Nan's shortbread"),
        ("MUM'S MEATLOAF\n2 lb ground beef\n2 eggs\n1 cup breadcrumbs\n", "MUM'S MEATLOAF"),
        ("Overnight oats\n\nOats, 50 g\nMilk, 150 ml\nHoney, 1 tsp\n", "Overnight oats"),
    ],
)
def test_a_first_row_that_is_set_apart_is_the_title_though_it_names_a_food(text, title):
    """A row without the bullets of the list, in capitals, or apart from it is the title and no ingredient."""
    recipe = read_recipe(text, names_food=lambda words: True)
    assert recipe.title == title
    assert title not in [line.text for part in recipe.parts for line in part.lines]


@pytest.mark.parametrize("text", ["Salt\n2 cups flour\n1 egg\n", "SALT\nFLOUR\nBUTTER\n"])
def test_a_first_row_that_is_written_as_the_others_stays_an_ingredient(text):
    """The safe mistake: a food in the first row of a bare list is one of its lines."""
    recipe = read_recipe(text, names_food=lambda words: True)
    assert len([line for part in recipe.parts for line in part.lines]) == 3


@pytest.mark.parametrize(
    "step",
    ["Follow the packet instructions to boil it.", "Save this water for the sauce.", "Share it between 4 dishes."],
)
def test_a_numbered_sentence_under_a_heading_of_steps_is_a_step(step: str) -> None:
    """A step that begins like a button of a page is a step where steps stand."""
    lines = "## Ingredients\n\n- 200 g pasta\n- 1 litre water\n"
    text = f"# Pasta\n\n{lines}\n## Method\n\n1. {step}\n2. Simmer it for 10 minutes.\n"
    recipe = read_recipe(text)
    assert any(step.rstrip(".") in row.text for part in recipe.parts for row in part.handling)


def test_a_list_of_steps_below_a_list_in_one_row_is_the_method():
    """Ingredients behind their heading, and bullets below that are all steps."""
    recipe = read_recipe("# Dip\n\nIngredients: 200 g cream, 1 tsp salt\n\n- Stir it all.\n- Chill for an hour.\n")
    assert [line.text for line in recipe.parts[0].lines] == ["200 g cream", "1 tsp salt"]
    assert [step.text for step in recipe.parts[0].handling] == ["Stir it all.", "Chill for an hour."]


@pytest.mark.parametrize(
    ("heading", "key", "says", "group"),
    [
        ("To make 2 toasts you need:", "makes", "2 toasts", ""),
        ("For 4 people you will need:", "serves", "4 people", ""),
        ("For the topping you'll need:", "", "", "topping"),
    ],
)
def test_what_leads_up_to_a_list_says_how_many_or_of_what(heading, key, says, group):
    """ "To make 2 toasts you need" opens the ingredients and tells the yield."""
    recipe = read_recipe(f"# Toasts\n\n{heading}\n- 2 slices bread\n- 1 tin sardines\n\nToast the bread.\n")
    assert str(recipe.head.get(key, "")) == says
    assert [line.group for line in recipe.parts[0].lines] == [group, group]


@pytest.mark.parametrize(
    ("first", "title"),
    [
        ("Smoked haddock and leek tart", "Smoked haddock and leek tart"),
        ("haddock tart", "haddock tart"),
        ("Peanut butter", ""),
        ("Olive oil", ""),
    ],
)
def test_a_first_row_that_names_what_the_list_holds_is_the_title(first, title):
    """An ingredient does not come again below; every food of the title does."""
    recipe = read_recipe(f"{first}\n300 g smoked haddock\n2 leeks\n50 g butter\n", names_food=lambda words: True)
    assert recipe.title == title


def test_a_remark_in_brackets_hides_neither_a_yield_nor_a_heading():
    """ "4 servings (or 2 big ones)" says how many, "Marinade (keep it)" and "The rest" head their lines."""
    names, recipe = lines_of(
        "Lamb with couscous\n4 servings (or 2 big ones)\n\nMarinade (keep it for later)\n2 Tbsp soy sauce\n"
        "1 tsp honey\n\nThe rest\n400 g lamb\n200 g couscous\n\nMix the marinade and put the lamb in.\n\n"
        "Soak the couscous in water.\n"
    )
    assert names == ["soy sauce", "honey", "lamb", "couscous"]
    assert recipe.head["serves"] == "4 servings"
    assert [line.group for part in recipe.parts for line in part.lines][::3] == ["Marinade", "The rest"]
