"""One ingredient line in every form that cooks use: its amounts, its food, what is done to it, and what is wrong."""

import csv
import os
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from labeler.recipe import Pin, read_line
from labeler.recipe.units import SPELLINGS, canonical_unit, kind

PUBLISHED = os.environ.get("LABELER_PUBLISHED", "")


def said(text):
    """The amounts of a line as plain tuples."""
    return [(amount.low, amount.high, amount.unit, amount.role) for amount in read_line(text).amounts]


@pytest.mark.parametrize(
    ("text", "low", "high", "unit", "name"),
    [
        ("1 1/2 cups flour", 1.5, 1.5, "cup", "flour"),
        ("1-1/2 cups flour", 1.5, 1.5, "cup", "flour"),
        ("1½ cups plain flour", 1.5, 1.5, "cup", "plain flour"),
        ("1,5 litres water", 1.5, 1.5, "liter", "water"),
        ("1.5kg potatoes", 1.5, 1.5, "kilogram", "potatoes"),
        ("250g butter", 250, 250, "gram", "butter"),
        ("3T honey", 3, 3, "tablespoon", "honey"),
        ("2 t. vanilla", 2, 2, "teaspoon", "vanilla"),
        ("12 fl. oz. ale", 12, 12, "fluid_ounce", "ale"),
        ("2-3 tbsp oil", 2, 3, "tablespoon", "oil"),
        ("1 cup to 1 1/2 cups stock", 1, 1.5, "cup", "stock"),
        ("250g-300g rye flour", 250, 300, "gram", "rye flour"),
        ("about 2 cups stock", 2, 2, "cup", "stock"),
        ("1 heaped tbsp cornflour", 1, 1, "tablespoon", "cornflour"),
        ("a scant cup sugar", 1, 1, "cup", "sugar"),
        ("half an onion", 0.5, 0.5, None, "onion"),
        ("half a dozen eggs", 6, 6, None, "eggs"),
        ("a couple of bay leaves", 2, 2, None, "bay leaves"),
        ("a few sprigs of thyme", 2, 4, "sprig", "thyme"),
        ("a dozen oysters", 12, 12, None, "oysters"),
        ("Six eggs.", 6, 6, None, "eggs"),
        ("A quarter of a pound of rice.", 0.25, 0.25, "pound", "rice"),
        ("Eight table-spoonfuls of flour", 8, 8, "tablespoon", "flour"),
        ("3/4 of a cup of milk", 0.75, 0.75, "cup", "milk"),
        ("a knob of butter", 1, 1, "knob", "butter"),
        ("Pinch of saffron", 1, 1, "pinch", "saffron"),
        ("big handful basil leaves", 1, 1, "handful", "basil leaves"),
        ("strip of orange peel", 1, 1, "strip", "orange peel"),
        ("6 garlic cloves", 6, 6, "clove", "garlic"),
        ("2 fat garlic cloves", 2, 2, "clove", "garlic"),
        ("2 thyme sprigs", 2, 2, "sprig", "thyme"),
        ("6 anchovy fillets", 6, 6, "fillet", "anchovy"),
        ("1 celery stalk", 1, 1, "stalk", "celery"),
        ("2 ribs celery", 2, 2, "stalk", "celery"),
        ("1 small fennel bulb", 1, 1, "bulb", "fennel"),
        ("2 ears of corn", 2, 2, "ear", "corn"),
        ("1 cinnamon stick", 1, 1, "stick", "cinnamon"),
        ("6 lemon wedges", 6, 6, "wedge", "lemon"),
        ("3 sheets phyllo", 3, 3, "sheet", "phyllo"),
        ("3 chicken breasts", 3, 3, None, "chicken breasts"),
        ("8 cloves", 8, 8, None, "cloves"),
        ("4 whole cloves", 4, 4, None, "cloves"),
        ("2 strip steaks", 2, 2, None, "strip steaks"),
        ("8 short ribs", 8, 8, None, "short ribs"),
        ("Butter 50 g", 50, 50, "gram", "Butter"),
        ("double cream: 300 ml", 300, 300, "milliliter", "double cream"),
        ("eggs, 3", 3, 3, None, "eggs"),
        ("1 metric cup oats", 1, 1, "metric_cup", "oats"),
        ("- 2 cups flour", 2, 2, "cup", "flour"),
        ("• 2 cups flour", 2, 2, "cup", "flour"),
        ("1 cup <b>flour</b>", 1, 1, "cup", "flour"),
        ("1 cup half&amp;half", 1, 1, "cup", "half&half"),
        ("1 cup 2% milk", 1, 1, "cup", "2% milk"),
        ("500 g 80/20 ground beef", 500, 500, "gram", "80/20 ground beef"),
        ("1/4 teaspoon ground cloves", 0.25, 0.25, "teaspoon", "ground cloves"),
        ("1 cup less 2 tablespoons milk", 0.875, 0.875, "cup", "milk"),
        ("1 or more cups water", 1, 1, "cup", "water"),
    ],
)
def test_amount_unit_and_name(text, low, high, unit, name):
    """The first amount, its unit and the food of each form."""
    line = read_line(text)
    main = line.amounts[0]
    assert (main.low, main.high, main.unit, main.role) == (pytest.approx(low), pytest.approx(high), unit, "main")
    assert line.name == name
    assert line.problems == ()


@pytest.mark.parametrize(
    ("text", "expected", "name"),
    [
        ("1 (14.5 oz) can tomatoes", [(1, 1, "can", "main"), (14.5, 14.5, "ounce", "each")], "tomatoes"),
        ("2 15-ounce cans beans", [(2, 2, "can", "main"), (15, 15, "ounce", "each")], "beans"),
        ("2-15 ounce cans beans", [(2, 2, "can", "main"), (15, 15, "ounce", "each")], "beans"),
        ("1 14 1/2-ounce can corn", [(1, 1, "can", "main"), (14.5, 14.5, "ounce", "each")], "corn"),
        ("2 cans (15 oz each) corn", [(2, 2, "can", "main"), (15, 15, "ounce", "each")], "corn"),
        ("1 envelope (1/4 oz) yeast", [(1, 1, "envelope", "main"), (0.25, 0.25, "ounce", "each")], "yeast"),
        ("2 x 400g tins chickpeas", [(2, 2, "can", "main"), (400, 400, "gram", "each")], "chickpeas"),
        ("a 400g tin chickpeas", [(1, 1, "can", "main"), (400, 400, "gram", "each")], "chickpeas"),
        ("400g tin chickpeas", [(1, 1, "can", "main"), (400, 400, "gram", "each")], "chickpeas"),
        (
            "1 small (14.5 ounce) can peas",
            [(1, 1, "can", "main"), (14.5, 14.5, "ounce", "each")],
            "peas",
        ),
        ("one 4- to 5-pound chicken", [(1, 1, None, "main"), (4, 5, "pound", "each")], "chicken"),
        ("2 chickens, 4 to 4 1/2 pounds each", [(2, 2, None, "main"), (4, 4.5, "pound", "each")], "chickens"),
        (
            "4 (6- to 8-ounce) salmon fillets",
            [(4, 4, "fillet", "main"), (6, 8, "ounce", "each")],
            "salmon",
        ),
        ("1-inch piece ginger", [(1, 1, "piece", "main"), (1, 1, "inch", "each")], "ginger"),
        ("2 inch stick cinnamon", [(1, 1, "stick", "main"), (2, 2, "inch", "each")], "cinnamon"),
        ("5cm/2in piece of ginger", [(1, 1, "piece", "main"), (5, 5, "centimeter", "each"), (2, 2, "inch", "same")],
         "ginger"),
        ("6 (1/2-inch-thick) slices bread", [(6, 6, "slice", "main"), (0.5, 0.5, "inch", "each")], "bread"),
        ("2 1/2-inch slices ham", [(2, 2, "slice", "main"), (0.5, 0.5, "inch", "each")], "ham"),
        ("250g/9oz sugar", [(250, 250, "gram", "main"), (9, 9, "ounce", "same")], "sugar"),
        ("25g/1oz butter", [(25, 25, "gram", "main"), (1, 1, "ounce", "same")], "butter"),
        ("1 cup (240 ml) milk", [(1, 1, "cup", "main"), (240, 240, "milliliter", "same")], "milk"),
        ("4.5 (650g) cups flour", [(4.5, 4.5, "cup", "main"), (650, 650, "gram", "same")], "flour"),
        ("15 oz chickpeas, 1 can", [(15, 15, "ounce", "main"), (1, 1, "can", "same")], "chickpeas"),
        ("2 onions (about 2 cups)", [(2, 2, None, "main"), (2, 2, "cup", "same")], "onions"),
        ("1.2kg/2lb 11oz beef", [(1.2, 1.2, "kilogram", "main"), (2.6875, 2.6875, "pound", "same")], "beef"),
        (
            "1 cup plus 2 tablespoons/290 grams sugar",
            [(1, 1, "cup", "main"), (2, 2, "tablespoon", "plus"), (290, 290, "gram", "same")],
            "sugar",
        ),
        ("1 lb 2 oz flour", [(1, 1, "pound", "main"), (2, 2, "ounce", "plus")], "flour"),
        ("1 cup flour, plus 2 tablespoons", [(1, 1, "cup", "main"), (2, 2, "tablespoon", "plus")], "flour"),
    ],
)  # fmt: skip
def test_packages_pieces_and_second_tellings(text, expected, name):
    """The size of one piece, the amount said again and what is added each have their role."""
    line = read_line(text)
    assert said(text) == expected
    assert line.name == name and line.problems == ()


@pytest.mark.parametrize(
    ("text", "name", "preparation"),
    [
        ("2 onions, finely chopped", "onions", "finely chopped"),
        ("1/4 cup finely chopped fresh cilantro", "fresh cilantro", "finely chopped"),
        ("1 tsp freshly ground black pepper", "ground black pepper", "freshly ground"),
        ("1 cup packed light brown sugar", "light brown sugar", "packed"),
        ("1 firmly packed cup brown sugar", "brown sugar", "firmly packed"),
        ("2 cups peeled and diced tomatoes", "tomatoes", "peeled and diced"),
        ("4 boneless, skinless chicken breasts", "boneless, skinless chicken breasts", ""),
        ("8 tbsp butter cut in cubes", "butter", "cut in cubes"),
        ("1 cup warm water", "water", "warm"),
        ("2 tbsp hot sauce", "hot sauce", ""),
        ("500 g minced beef", "minced beef", ""),
        ("3 cloves minced garlic", "garlic", "minced"),
        ("200 g split peas", "split peas", ""),
        ("1 cup dried cranberries", "dried cranberries", ""),
        ("300 g frozen spinach, thawed", "frozen spinach", "thawed"),
        ("100 g unsalted butter, softened", "unsalted butter", "softened"),
        ("1 cup carrot chunks", "carrot", "chunks"),
        ("1 onion (large, diced)", "onion", "diced"),
        ("1 can salmon, pink, drained", "pink salmon", "drained"),
        ("2 cups rice, cooked", "rice", "cooked"),
        ("1 onion (about 1 cup chopped)", "onion", "chopped"),
        ("2 eggs, lightly beaten, at room temperature", "eggs", "lightly beaten, at room temperature"),
    ],
)
def test_preparation_leaves_the_name_and_state_stays(text, name, preparation):
    """What the cook does at home is preparation; the state in which a food is bought belongs to its name."""
    line = read_line(text)
    assert (line.name, line.preparation) == (name, preparation)


@pytest.mark.parametrize(
    ("text", "name", "alternatives"),
    [
        ("2 cups chicken or vegetable stock", "chicken stock", ("vegetable stock",)),
        ("1 cup milk or cream", "milk", ("cream",)),
        ("1 red or yellow onion", "red onion", ("yellow onion",)),
        ("1 tbsp toasted or black sesame seeds", "toasted sesame seeds", ("black sesame seeds",)),
        ("2/3 cup fresh, canned, or frozen corn", "fresh corn", ("canned corn", "frozen corn")),
        ("Chopped parsley, basil or cilantro", "parsley", ("basil", "cilantro")),
        ("1 tbsp fresh thyme, or 1 tsp dried thyme", "fresh thyme", ("dried thyme",)),
        ("2 tsp butter (or ghee)", "butter", ("ghee",)),
        ("3 shallots or 1 small onion, minced", "shallots", ("onion",)),
        ("2 cloves garlic, minced or crushed", "garlic", ()),
        ("1/2 tsp salt, or to taste", "salt", ()),
        ("2 fresh (or dried) bay leaves", "fresh bay leaves", ("dried bay leaves",)),
        ("2 shallots, sliced or 1 small onion", "shallots", ("onion",)),
    ],
)
def test_or_offers_another_food(text, name, alternatives):
    """ "Or" between foods gives alternatives, with the noun that they share; between preparations it gives none."""
    line = read_line(text)
    assert (line.name, line.alternatives) == (name, alternatives)


@pytest.mark.parametrize(
    ("text", "amount", "name", "derived"),
    [
        ("juice of 2 limes", (2, None), "lime juice", "juice"),
        ("Juice of half a lemon", (0.5, None), "lemon juice", "juice"),
        ("finely grated zest of 1 orange", (1, None), "orange zest", "zest"),
        ("grated zest and juice of 1 lemon", (1, None), "lemon juice and lemon zest", "juice and zest"),
        ("1 lemon, juice of", (1, None), "lemon juice", "juice"),
        ("2 limes, zested and juiced", (2, None), "lime juice and lime zest", "juice and zest"),
        ("1/2 lemon (juice only)", (0.5, None), "lemon juice", "juice"),
        ("kernels from 3 ears corn", (3, "ear"), "corn kernels", "kernels"),
        ("2 tbsp lemon juice", (2, "tablespoon"), "lemon juice", None),
    ],
)
def test_what_is_taken_from_a_counted_food(text, amount, name, derived):
    """The amount counts what is bought, the name is what goes in, and the note says which is counted."""
    line = read_line(text)
    assert (line.amounts[0].low, line.amounts[0].unit) == amount
    assert (line.name, line.derived) == (name, derived)
    assert ("counted" in line.note) == (derived is not None)


@pytest.mark.parametrize(
    ("text", "name", "derived"),
    [
        ("3 eggs, whites only", "egg whites", "whites"),
        ("2 eggs (yolks only)", "egg yolks", "yolks"),
        ("4 sprigs thyme, leaves only", "thyme leaves", "leaves"),
        ("1 bunch mint, leaves picked", "mint leaves", "leaves"),
        ("3 sprigs parsley, leaves removed and chopped", "parsley leaves", "leaves"),
        ("1 bunch celery, leaves removed", "celery", None),
        ("3 leeks, white part only", "leeks", None),
        ("4 scallions (whites only)", "scallions", None),
        ("white and light green parts of 3 leeks", "leeks", None),
        ("1 grapefruit, peel removed", "grapefruit", None),
    ],
)
def test_a_part_that_is_said_behind_the_food(text, name, derived):
    """ "Whites only" and "leaves picked" say what goes in; what is removed, or the white of a leek, is no new food."""
    line = read_line(text)
    assert (line.name, line.derived) == (name, derived)
    assert line.amounts[0].low > 0 and line.problems == ()


@pytest.mark.parametrize(
    ("text", "name", "further"),
    [
        ("1 large egg plus 1 egg yolk", "egg", [("egg yolk", 1, None)]),
        ("3 large eggs, plus 2 yolks, beaten", "eggs", [("egg yolks", 2, None)]),
        ("2 eggs + 1 white", "eggs", [("egg white", 1, None)]),
        ("1 tablespoon butter plus 1 tablespoon olive oil", "butter", [("olive oil", 1, "tablespoon")]),
        ("1/2 tsp salt, 1/4 tsp white pepper", "salt", [("white pepper", 0.25, "teaspoon")]),
        ("1 egg, beaten with 1 tablespoon milk", "egg", [("milk", 1, "tablespoon")]),
        ("2 egg yolks mixed with 2 tablespoons/30 ml cream", "egg yolks", [("cream", 2, "tablespoon")]),
        ("1 tbsp cornflour dissolved in 2 tbsp water", "cornflour", [("water", 2, "tablespoon")]),
        ("1 red and 1 green bell pepper", "red bell pepper", [("green bell pepper", 1, None)]),
        ("juice of 1 lemon and 1 lime", "lemon juice", [("lime juice", 1, None)]),
        ("1 cup flour, 1 tsp salt and 2 eggs", "flour", [("salt", 1, "teaspoon"), ("eggs", 2, None)]),
    ],
)
def test_a_second_food_is_a_line_of_its_own(text, name, further):
    """A food that follows with an amount is kept with its amount, and reported so that the cook can look at it."""
    line = read_line(text, number=4)

    def foods(lines):
        return [found for one in lines for found in ((one.name, one.amounts[0].low, one.amounts[0].unit),
                                                     *foods(one.further))]  # fmt: skip

    assert line.name == name and foods(line.further) == further
    assert {problem.code for problem in line.problems} == {"two-foods"}
    assert line.further[0].number == 4


@pytest.mark.parametrize(
    "text",
    [
        "4 cloves garlic, 2 minced, 2 sliced",
        "1 onion, 1/2 sliced and 1/2 chopped",
        "1 ounce basil, about 2 cups loose leaves",
        "12 drumsticks, about 3 pounds chicken",
        "1 1/2 cups flour/190 g plain flour",
        "1 vanilla bean, or 1 teaspoon/5 ml vanilla extract",
        "1 lb bacon, 2 tablespoons fat reserved",
        "3 tbsp oil, plus more for the pan",
        "1 celeriac, about 3/4 pound without stalks",
    ],
)
def test_more_said_of_one_food_is_no_second_food(text):
    """Pieces of the same food, a second telling, a choice and a remark are not put down as another food."""
    line = read_line(text)
    assert line.further == () and "two-foods" not in {problem.code for problem in line.problems}


def test_more_of_the_same_food_is_added():
    """ "Plus 2 tablespoons for dusting" is flour too; what may never go in ("if needed") is not added."""
    assert said("1 cup flour, plus 2 tablespoons for dusting")[1] == (2, 2, "tablespoon", "plus")
    assert said("6 tablespoons butter, plus 2 tablespoons, melted")[1] == (2, 2, "tablespoon", "plus")
    assert len(said("1 cup flour, plus 2 tablespoons more if needed")) == 1


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("1 tsp salt and pepper each", "salt and pepper"),
        ("cumin and coriander, 1 teaspoon each", "cumin and coriander"),
        ("1 each red and green bell pepper", "red bell pepper and green bell pepper"),
        ("1/2 each Green, Red, and Yellow Pepper", "Green Pepper and Red Pepper and Yellow Pepper"),
        ("1/4 cup each red and white wine", "red wine and white wine"),
    ],
)
def test_each_of_several_foods(text, name):
    """ "Each" before or behind the foods gives the amount to every one, and a noun that they share to all."""
    line = read_line(text)
    assert line.each and line.name == name
    assert not read_line("2 cans corn, 15 oz each").each


def test_what_brackets_leave_open_is_written_out():
    """ "1 (or 2) clove(s)" is one or two cloves."""
    assert said("1 (or 2) clove(s) of garlic") == [(1, 2, "clove", "main")]
    assert read_line("2 egg(s)").name == "eggs" and read_line("1 cup(s) flour").note == ""
    assert said("1 sleeve saltine crackers") == [(1, 1, "sleeve", "main")]


def test_a_measured_juice_takes_the_name_of_its_fruit():
    """ "1/4 cup juice from 2 limes" is lime juice."""
    line = read_line("1/4 cup juice from 2 limes")
    assert (line.name, line.note) == ("lime juice", "from 2 limes")


@pytest.mark.parametrize(
    ("text", "expected", "name"),
    [
        ("4 fillets sole, 6 ounces each", [(4, 4, "fillet", "main"), (6, 6, "ounce", "each")], "sole"),
        ("4 salmon steaks (each weighing approx. 8 oz)", [(4, 4, None, "main"), (8, 8, "ounce", "each")],
         "salmon steaks"),
        ("2 chickens, each about 3 pounds", [(2, 2, None, "main"), (3, 3, "pound", "each")], "chickens"),
        ("1 roast, 4 inches thick and weighing about 5 lb", [(1, 1, None, "main"), (5, 5, "pound", "same")], "roast"),
        ("6 potatoes, chopped in 3/4-inch (2 cm) pieces", [(6, 6, None, "main")], "potatoes"),
        ("8 slices roast beef", [(8, 8, "slice", "main")], "roast beef"),
        ("1/4 teapsoon nutmeg", [(0.25, 0.25, "teaspoon", "main")], "nutmeg"),
        ("2 #303 cans corn", [(2, 2, "can", "main"), (16, 16, "ounce", "each")], "corn"),
        ("1 No. 2 1/2 can peaches", [(1, 1, "can", "main"), (29, 29, "ounce", "each")], "peaches"),
        ("1 dry pint raspberries", [(1, 1, "pint", "main")], "raspberries"),
        ("1 US pint milk", [(1, 1, "pint", "main")], "milk"),
        ("1 UK pint milk", [(1, 1, "imperial_pint", "main")], "milk"),
    ],
)  # fmt: skip
def test_sizes_said_behind_the_food(text, expected, name):
    """What each one weighs is its size wherever it stands; how finely it is cut is not; fingers slip on long units."""
    assert said(text) == expected
    assert read_line(text).name == name


def test_optional_takes_nothing_else_with_it():
    """ "(optional, but good)" leaves the remark, "Optional: Butter" the butter."""
    assert read_line("Optional: Butter").name == "Butter"
    line = read_line("2 cloves garlic (optional, but traditional)")
    assert (line.name, line.note, line.optional) == ("garlic", "traditional", True)
    assert read_line("8 extra large eggs").size == "extra large"


def test_flags_and_notes():
    """Optional, to taste, for frying, more for dusting, sizes and "each" are all kept where they can be asked for."""
    assert read_line("1 jalapeño, minced (optional)").optional
    assert read_line("Optional: 1 tbsp capers").name == "capers"
    assert read_line("Salt, to taste").to_taste and read_line("flour, as needed").to_taste
    assert not read_line("1 tsp salt, or to taste").to_taste
    assert read_line("a little grated nutmeg").to_taste and read_line("a little grated nutmeg").name == "nutmeg"
    assert read_line("oil for frying").note == "for frying" and read_line("oil for frying").name == "oil"
    assert read_line("3 tbsp oil, plus more for the pan").note == "plus more for the pan"
    assert read_line("1 cup sugar, divided").note == "divided"
    assert [read_line(f"2 {size} eggs").size for size in ("small", "medium", "large", "extra-large", "brown")] == [
        "small", "medium", "large", "extra large", None,
    ]  # fmt: skip
    assert read_line("2 onions (large)").size == "large"
    each = read_line("1 teaspoon each cumin, coriander and salt")
    assert each.each and each.name == "cumin and coriander and salt"
    assert read_line("Kosher salt and freshly ground pepper").name == "Kosher salt and ground pepper"
    several = read_line("paprika, salt and pepper to taste")
    assert several.name == "paprika and salt and pepper" and several.to_taste
    about = read_line("about 2 cups stock").amounts[0], read_line("2 cups stock").amounts[0]
    assert about[0].about and not about[1].about


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("For the sauce:", "heading"),
        ("250 g/12 oz butter", "amounts-disagree"),
        ("1 cup/720 milliliters vinegar", "amounts-disagree"),
        ("2 15-ounce cans (60 ounces) beans", "amounts-disagree"),
        ("0 g salt", "amount-zero"),
        ("-2 cups flour", "amount-negative"),
        ("9999999999 cups flour", "amount-absurd"),
        ("? cup olives", "amount-unreadable"),
        ("2 cups", "no-food"),
        ("", "no-food"),
        ("2 eggs plus 1 egg yolk", "two-foods"),
        ("1 lb flatfish {food}", "pin-unreadable"),
        ("1 lb flatfish {fod 15028}", "pin-unreadable"),
        ("1 lb flatfish {food 15028", "pin-unreadable"),
        ("1 lb flatfish {retention x}", "pin-unreadable"),
        ("1 lb flatfish {}", "pin-unreadable"),
        ("1 lb flatfish {0 g}", "pin-unreadable"),
        ("1 lb flatfish {454 g} {food 15028}", "pin-unreadable"),
    ],
)
def test_what_cannot_be_is_reported(text, code):
    """Headings, contradictions, impossible amounts and broken pins are problems on their line, never exceptions."""
    line = read_line(text, number=7)
    assert [problem.code for problem in line.problems] == [code]
    assert line.problems[0].line == 7 and line.problems[0].message.endswith(".")
    assert line.text == text


def test_a_disagreement_names_both_amounts_and_a_slip_its_nearest_word():
    """A message says what it found and what may have been meant."""
    assert "250 grams and 12 ounces" in read_line("250 g/12 oz butter").problems[0].message
    assert "“food”" in read_line("1 lb sole {fod 15028}").problems[0].message


@pytest.mark.parametrize(
    ("braces", "pin"),
    [
        ("{food 15028, 454 g}", Pin("15028", 454.0)),
        ("{food 1001}", Pin("01001")),
        ("{454 g}", Pin(None, 454.0)),
        ("{0.5 kg}", Pin(None, 500.0)),
        ("{food 15028, retention 0801}", Pin("15028", None, ("0801",))),
        ("{food 15028, 454 g, retention 0801, retention 802}", Pin("15028", 454.0, ("0801", "0802"))),
        ("{retention 0801*0802, 0803}", Pin(None, None, ("0801", "0802", "0803"))),
        ("{ FOOD 15028 ; 16 oz }", Pin("15028", 16 * 28.349523125)),
    ],
)
def test_pins(braces, pin):
    """Braces settle the food, the weight and the retention codes, and leave the rest of the line alone."""
    line = read_line(f"1 lb flatfish, skinned {braces}")
    assert line.pin == pin
    assert (line.name, line.preparation, line.problems) == ("flatfish", "skinned", ())


def test_a_unit_that_nobody_knows_stays_in_the_name():
    """An unknown unit is a word of the food."""
    line = read_line("2 firkins butter")
    assert (line.amounts[0].unit, line.name) == (None, "firkins butter")


@given(st.text(max_size=120))
@settings(deadline=None, max_examples=400)
@example("(" * 200)
@example("1/0 cup flour")
@example("1" * 5000 + " cups flour")
@example("{" * 50 + "}" * 50)
@example("a" * 20_000)
@example("1 (" * 500)
@example("½" * 300)
@example(" or " * 300)
def test_any_text_is_a_line_and_is_kept(text):
    """No text stops the reader, and the answer holds it unchanged."""
    line = read_line(text)
    assert line.text == text
    assert all(amount.low <= amount.high for amount in line.amounts)
    assert line.name or line.problems


kitchen = st.sampled_from(
    [
        "flour",
        "olive oil",
        "red onion",
        "dried thyme",
        "ground beef",
        "whole milk",
        "cod",
        "smoked paprika",
        "egg yolks",
    ]
)
measured = sorted({word for word, unit in SPELLINGS.items() if kind(unit) in ("mass", "volume") and len(word) > 1})
tails = st.sampled_from(
    ["", ", chopped", " (optional)", ", divided", ", plus more for serving", ", at room temperature"]
)


@given(st.integers(1, 40), st.sampled_from(["", "1/2", "1/4", "3/4", "1/3", "2/3", "1/8"]),
       st.sampled_from([" ", "-"]), st.sampled_from(measured), kitchen, tails)  # fmt: skip
@settings(deadline=None, max_examples=300)
def test_written_amounts_read_back(whole, fraction, joint, unit, food, tail):
    """Any number in any spelling of a unit before any food gives back the number, the unit and the food."""
    number = f"{whole}{joint}{fraction}" if fraction else str(whole)
    line = read_line(f"{number} {unit} {food}{tail}")
    if unit in ("in", '"'):
        return
    top, _, bottom = fraction.partition("/")
    value = whole + (int(top) / int(bottom) if fraction else 0)
    assert line.amounts[0].low == line.amounts[0].high == pytest.approx(value)
    assert line.amounts[0].unit == canonical_unit(unit)
    assert line.name == food


@given(st.floats(0.01, 999, allow_nan=False).map(lambda value: round(value, 2)), st.integers(2, 9), kitchen)
@settings(deadline=None, max_examples=100)
def test_amounts_scale_with_the_number_written(value, times, food):
    """A number written so many times as large is an amount so many times as large, and nothing else changes."""
    one, many = read_line(f"{value:.2f} cups {food}"), read_line(f"{value * times:.4f} cups {food}")
    assert many.amounts[0].low == pytest.approx(times * one.amounts[0].low, rel=1e-6)
    assert (one.name, one.preparation) == (many.name, many.preparation)


@given(st.integers(1, 9), st.integers(1, 9), st.sampled_from(["-", "–", " to ", " or ", " - "]), kitchen)
@settings(deadline=None, max_examples=100)
def test_ranges_keep_both_ends(low, more, joint, food):
    """However a range is written, both of its ends are there."""
    line = read_line(f"{low}{joint}{low + more} cups {food}")
    assert (line.amounts[0].low, line.amounts[0].high, line.amounts[0].unit) == (low, low + more, "cup")


@pytest.mark.skipif(not Path(PUBLISHED, "lines_nyt.csv").is_file(), reason="LABELER_PUBLISHED holds no lines_nyt.csv")
def test_published_labels():
    """Of labelled lines with a number 99.5 % agree in it, of those with a unit 99 % (the rest is noise)."""
    with Path(PUBLISHED, "lines_nyt.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if float(row["qty"] or 0)]
    numbers = units = named = 0
    for row in rows:
        amounts = read_line(row["input"]).amounts
        label = float(row["qty"])
        main = amounts[0] if amounts else None
        numbers += main is not None and any(
            abs(end - label) <= max(0.011, 0.005 * end) for end in (main.low, main.high)
        )
        if row["unit"]:
            named += 1
            units += main is not None and main.unit == (canonical_unit(row["unit"]) or row["unit"])
    assert numbers >= 0.995 * len(rows) and units >= 0.99 * named


def test_a_hyphen_inside_a_word_is_no_mark_of_an_amount():
    """Half-and-half is milk and cream, and not half of a thing called half-and."""
    line = read_line("half-and-half")
    assert (line.name, line.amounts) == ("half-and-half", ())


@pytest.mark.parametrize(
    ("text", "filling"),
    [
        ("1 heaped tbsp flour", "heaped"), ("heaping tablespoon flour", "heaped"), ("1 tbsp flour, heaped", "heaped"),
        ("1 tbsp (heaped) flour", "heaped"), ("scant 1/2 cup sugar", "scant"), ("a scant cup of sugar", "scant"),
        ("1 rounded tsp cumin", "rounded"), ("a good handful of spinach", "generous"), ("1 level tsp salt", ""),
    ],
)  # fmt: skip
def test_how_full_a_measure_is_is_kept_with_its_amount(text, filling):
    """Heaped, rounded, generous and scant measures are told apart wherever the word stands."""
    assert read_line(text).amounts[0].filling == filling


@pytest.mark.parametrize(
    ("text", "low", "unit", "name"),
    [
        ("butter, 2 tbsp", 2.0, "tablespoon", "butter"), ("flour 250 g", 250.0, "gram", "flour"),
        ("salt - a pinch", 1.0, "pinch", "salt"), ("butter: a knob", 1.0, "knob", "butter"),
        ("eggs - two", 2.0, None, "eggs"), ("rice (one cup)", 1.0, "cup", "rice"), ("eggs x 3", 3.0, None, "eggs"),
        ("400 g tin tomatoes x 2", 2.0, "can", "tomatoes"), ("zest 1 lemon", 1.0, None, "lemon zest"),
        ("juice 1½ lemons", 1.5, None, "lemon juice"), ("juice of half a lime", 0.5, None, "lime juice"),
    ],
)  # fmt: skip
def test_an_amount_that_stands_behind_is_read(text, low, unit, name):
    """Behind a comma, a dash, a colon, in a parenthesis, after “x” and before the fruit that is taken from."""
    line = read_line(text)
    assert (line.amounts[0].low, line.amounts[0].unit, line.name) == (low, unit, name)


@pytest.mark.parametrize("text", ["Serves 4", "Makes 12", "Prep time 10 min", "Ingredients:", "Method"])
def test_a_row_that_is_no_food_names_none(text):
    """A yield, a time and a heading in a list of lines have no name, and a problem says what they read as."""
    line = read_line(text)
    assert line.name == "" and [one.code for one in line.problems] in (["no-food"], ["heading"])
