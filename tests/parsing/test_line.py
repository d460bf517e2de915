"""One ingredient line in every form that cooks use: its amounts, its food, what is done to it, and what is wrong."""

import pytest

from labeler.parsing import read_line


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


@pytest.mark.parametrize(
    ("text", "unit", "name"),
    [
        ("1 Prise Zucker", "pinch", "Zucker"), ("3 Zehen Knoblauch", "clove", "Knoblauch"),
        ("1 Päckchen Backpulver", "packet", "Backpulver"), ("2 EL Butter", "metric_tablespoon", "Butter"),
        ("1 krm peppar", "spice_measure", "peppar"), ("2 ss olje", "metric_tablespoon", "olje"),
        ("2 pav paneer", "pav", "paneer"), ("4 pav buns", None, "pav buns"), ("1 dose protein powder", None, None),
    ],
)  # fmt: skip
def test_unit_words_of_other_kitchens(text, unit, name):
    """German, Nordic and Indian measures; what is also a food stays one ("pav buns"), as does an English word."""
    line = read_line(text)
    assert line.amounts[0].unit == unit and (name is None or line.name == name)


def test_a_cube_in_water_is_a_cube_and_water():
    """ "1 beef stock cube in 500 ml water" names two foods; "in 1 inch pieces" says how it is cut."""
    line = read_line("1 beef stock cube in 500 ml water")
    assert line.name == "beef stock cube" and [one.name for one in line.further] == ["water"]
    assert read_line("2 carrots in 1 inch pieces").further == ()


@pytest.mark.parametrize("sign", ["✅ ", "🥚", "🔸 ", "👉🏽 ", "♥️ "])
def test_a_picture_before_the_amount_is_no_word(sign):
    """Law: a line is what it is without the picture in front of it."""
    line, plain = read_line(f"{sign}2 eggs"), read_line("2 eggs")
    assert (line.amounts, line.name) == (plain.amounts, plain.name)
