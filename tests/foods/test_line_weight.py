"""How many grams: SR28's own household weights come back, and the rules hold in their order.

Authority of the numbers, where nothing else is named: household weights of USDA SR28 (2015), by food id.
"Common practice" marks what careful cooks say without a source.
"""

from __future__ import annotations

import pytest
from measure_help import best, line

from labeler.foods.resolve import weigh_line
from labeler.foods.weights.line_weight import grams
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.model import Line, Pin


@pytest.mark.parametrize(
    ("written", "food", "expected"),
    [
        (line("onion", (1, "cup"), preparation="chopped"), "11282", 160),  # 1 cup, chopped
        (line("onion", (1, "cup"), preparation="thinly sliced"), "11282", 115),  # 1 cup, sliced
        (line("onions", (2, None), size="large"), "11282", 300),  # 1 large = 150
        (line("onion", (1, None)), "11282", 110),  # 1 medium
        (line("carrots", (1, "cup"), preparation="grated"), "11124", 110),  # 1 cup grated
        (line("carrot", (1, None)), "11124", 61),  # 1 medium
        (line("celery", (2, "rib")), "11143", 80),  # 1 stalk, medium = 40
        (line("butter", (2, "stick")), "01145", 226),  # 1 stick = 113
        (line("butter", (1, "tablespoon")), "01001", 14.2),
        (line("eggs", (3, None)), "01123", 150),  # 1 large = 50
        (line("eggs", (2, None), size="medium"), "01123", 88),  # 1 medium = 44
        (line("egg whites", (2, None)), "01124", 66),  # 1 large = 33
        (line("egg yolk", (1, None)), "01125", 17),
        (line("cheddar cheese", (3, "cup"), preparation="shredded"), "01009", 339),  # 1 cup, shredded = 113
        (line("cheddar cheese", (1, "cup"), preparation="diced"), "01009", 132),
        (line("milk", (1, "quart")), "01077", 976),
        (line("honey", (1, "tablespoon")), "19296", 21),
        (line("heavy cream", (1, "cup")), "01053", 238),  # fluid, not the 120 g of whipped cream
        (line("whipped cream", (1, "cup")), "01053", 65),  # SR28 01054 60 g, 01053 120 g: between, nearer the can
        (line("bananas", (1, "cup"), preparation="mashed"), "09040", 225),
        (line("brown sugar", (1, "cup"), preparation="packed"), "19334", 217),  # SR28 220, HERR 41 211
        (line("granulated sugar", (1, "cup")), "19335", 200),
        (line("almonds", (1, "cup"), preparation="slivered"), "12061", 108),
        (line("almonds", (1, "cup"), preparation="sliced"), "12061", 92),
        (line("pecans", (1, "cup"), text="1 cup chopped pecans", preparation="chopped"), "12142", 109),
        (line("pecans", (1, "cup"), preparation="chopped"), "12142", 99),  # 1 cup, halves: chopped when measured
        (line("dried basil", (1, "teaspoon")), "02003", 0.7),  # 1 tsp, leaves
        (line("ground cumin", (1, "teaspoon")), "02014", 2.1),
        (line("baking powder", (2, "teaspoon")), "18369", 9.2),
        (line("baking soda", (1, "teaspoon")), "18372", 4.6),
        (line("vanilla extract", (1, "teaspoon")), "02050", 4.2),
        (line("olive oil", (2, "tablespoon")), "04053", 27),
        (line("cooked white rice", (2, "cup")), "20045", 316),
        (line("spinach", (1, "cup")), "11457", 30),
        (line("corn", (2, "ear")), "11167", 204),  # 1 ear, medium yields 102
        (line("cherry tomatoes", (1, "cup")), "11529", 149),
        (line("plum tomatoes", (4, None)), "11529", 248),  # 1 plum tomato = 62
        (line("potatoes", (3, None), size="medium"), "11352", 639),  # 1 Potato medium = 213
        (line("apple", (1, None)), "09003", 182),  # 1 medium
        (line("bay leaves", (2, "leaf")), "02004", 0.4),  # 1 tsp crumbled = 0.6, about 3 leaves
        (line("gelatin", (1, "envelope")), "19177", 7),
        (line("active dry yeast", (1, "packet")), "18375", 7.2),
        (line("anchovy fillets", (3, "fillet")), "15002", 12),  # 1 anchovy = 4
        (line("table salt", (1, "teaspoon")), "02047", 6),
        (line("tomato paste", (1, "can")), "11546", 170),  # 1 can (6 oz)
        (line("phyllo dough", (4, "sheet")), "18338", 76),  # 1 sheet = 19
        (line("flour tortillas", (2, None), (10, "inch", "each")), "18364", 144),  # approx 10" dia = 72
        (line("flour tortillas", (2, None), (6, "inch", "each")), "18364", 60),  # approx 6" dia = 30
    ],
)
def test_household_weights_of_sr28_come_back(written: Line, food: str, expected: float) -> None:
    """A line in the words of an SR28 measure weighs what SR28 says, within 3 %."""
    assert best(written, food) == pytest.approx(expected, rel=0.03)


@pytest.mark.parametrize(
    ("written", "food", "expected", "within"),
    [
        # common practice, no source, unless another authority stands beside the number
        (line("diced tomatoes", (1, "can"), (14.5, "ounce", "each")), "11531", 411, 0.02),
        (line("black beans", (1, "can"), (15, "ounce", "each"), preparation="drained and rinsed"), "16018", 255, 0.06),
        (line("cilantro", (1, "bunch")), "11165", 60, 0.25),
        (line("parsley", (1, "handful")), "11297", 12, 0.3),
        (line("thyme", (1, "sprig")), "02049", 0.7, 0.4),
        (line("garlic", (1, "head")), "11215", 45, 0.25),
        (line("garlic", (4, "clove")), "11215", 13, 0.2),  # SR28: 3 g each
        (line("bacon", (8, "slice")), "10123", 224, 0.1),  # SR28: 1 slice raw = 28 g
        (line("lime juice", (2, None), derived="juice"), "09160", 66, 0.35),  # SR28: 44 g each
        (line("lemon zest", (1, None), derived="zest"), "09156", 6, 0.2),
        (line("kosher salt", (1, "teaspoon")), "02047", 4, 0.3),  # 2.8 to 4.8 g, second-hand
        (line("scallions", (1, "bunch")), "11291", 100, 0.25),
        (line("dry white wine", (1, "bottle")), "14106", 740, 0.03),  # SR28: 29.4 g a fluid ounce
        (line("chocolate chips", (1, "cup")), "19080", 170, 0.05),  # SR28: 168 g
    ],
)
def test_kitchen_pieces_weigh_what_cooks_say(written: Line, food: str, expected: float, within: float) -> None:
    """Bunches, cans, handfuls and juices weigh what a careful cook would say."""
    assert best(written, food) == pytest.approx(expected, rel=within)


def test_a_pinned_weight_wins_over_everything() -> None:
    """{454 g} is the weight, whatever else the line says."""
    weight, problems = grams(line("flatfish", (3, "pound"), pin=Pin(grams=454.0)), "15028")
    assert weight is not None
    assert (weight.low, weight.best, weight.high) == (454, 454, 454)
    assert not problems


def test_of_two_equal_amounts_the_grams_are_taken() -> None:
    """ "9 ounces (250 g)" is 250 g, "1 cup (125 g)" is 125 g."""
    assert best(line("flour", (1, "cup"), (130, "gram", "same")), "20081") == pytest.approx(130)


def test_a_size_in_the_line_counts_for_each_package() -> None:
    """ "2 15-ounce cans" are 30 ounces."""
    assert best(line("tomatoes", (2, "can"), (15, "ounce", "each")), "11531") == pytest.approx(850.5, rel=0.01)


def test_plus_amounts_are_added() -> None:
    """ "1 tablespoon plus 1 teaspoon" of table salt is 24 g."""
    assert best(line("table salt", (1, "tablespoon"), (1, "teaspoon", "plus")), "02047") == pytest.approx(24)


def test_markets_have_their_own_cups() -> None:
    """A US cup is 236.6 mL, a metric one 250 mL, an Australian tablespoon 20 mL."""
    milk = line("milk", (1, "cup"))
    assert best(milk, "01077", market="anz") / best(milk, "01077") == pytest.approx(250 / 236.588, rel=1e-4)
    oil = line("olive oil", (1, "tablespoon"))
    assert best(oil, "04053", market="anz") / best(oil, "04053") == pytest.approx(20 / 14.787, rel=1e-3)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # millilitres by SR28's cup of 244 g of milk in 236.59 mL
        ("1 pint (568ml) milk", 568 / 236.588 * 244),
        ("1 cup (250 ml) milk", 250 / 236.588 * 244),
        ("1 cup (240 ml) milk", 244),
        ("1/2 pint/284 ml milk", 284 / 236.588 * 244),
        ("1 quart (1.1 litres) milk", 1100 / 236.588 * 244),
        ("1 cup milk, about 250 ml", 250 / 236.588 * 244),
    ],
)
def test_a_metric_volume_beside_an_ambiguous_unit_wins(text: str, expected: float) -> None:
    """ "1 pint (568 ml)" is an imperial pint; where both are the same cup the cup's own measure is kept."""
    line = weigh_line(read_line(text))
    assert line.grams is not None
    assert line.grams.best == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1 cup plus 2 tablespoons/290 grams sugar", 290),
        ("1 pound 2 ounces (510 g) flour", 510),
        ("1 stick plus 2 tablespoons (140 g) butter", 140),
        ("1 cup/200 g plus 2 tablespoons/25 g sugar", 225),
        ("12 oz/250 g butter", 340.2),  # the two differ: the first is taken, and the reader says so
    ],
)
def test_a_sum_that_is_told_again_is_counted_once(text: str, expected: float) -> None:
    """The grams behind "1 cup plus 2 tablespoons" are those of the sum; behind each term they are the term's."""
    line = weigh_line(read_line(text))
    assert line.grams is not None
    assert line.grams.best == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize(
    ("text", "low", "best", "high"),
    [
        # a 15-ounce can of beans: 425 g, some 254 g of it beans (common practice, no source)
        ("1 (15 oz) can black beans", 260, 260, 425),
        ("1 (15 oz) can black beans, drained", 260, 260, 260),
        ("1 (15 oz) can black beans, undrained", 425, 425, 425),
        ("1 (15 oz) can black beans, with their liquid", 425, 425, 425),
        ("1 can chickpeas", 260, 260, 425),
        ("1 (15 oz) can corn", 268, 268, 425),  # 298 g of 482 g: SR28 11172, 11170
        ("1 (5 oz) can tuna", 111, 111, 142),  # 113 g of 142 g: SR28 15121
        ("1 (14.5 oz) can diced tomatoes", 411, 411, 411),
        ("1 (14 oz) can coconut milk", 397, 397, 397),
        ("1 (15 oz) can pineapple chunks in juice", 255, 425, 425),
    ],
)
def test_a_can_that_is_silent_on_its_liquid_may_go_in_either_way(
    text: str, low: float, best: float, high: float
) -> None:
    """Best is what cooks do, the bounds hold both, and where it matters a problem asks which."""
    line = weigh_line(read_line(text))
    assert line.grams is not None
    assert line.grams.best == pytest.approx(best, rel=0.03)
    assert line.grams.low <= low * 1.03
    assert line.grams.high >= high * 0.97
    asked = "drained-or-not" in [problem.code for problem in line.problems]
    assert asked == (low != high)


def test_silent_salt_is_an_interval_and_a_problem() -> None:
    """A teaspoon of salt is 6 g of table salt, may be 2.8 g of flakes, and the cook is asked which."""
    weight, problems = grams(line("salt", (1, "teaspoon")), "02047")
    assert weight is not None
    assert weight.best == pytest.approx(6.0)
    assert weight.low <= 2.8
    assert [problem.code for problem in problems] == ["salt-type"]
    assert not grams(line("fine sea salt", (1, "teaspoon")), "02047")[1]


@pytest.mark.parametrize(
    ("text", "name", "food", "expected"),
    [
        ("1 cup cream, whipped", "cream", "01053", 238),  # 1 cup, fluid
        ("1 cup whipped cream", "cream", "01053", 120),  # 1 cup, whipped
        ("1 cup almonds, ground", "almonds", "12061", 143),  # 1 cup, whole
        ("1 cup ground almonds", "almonds", "12061", 95),  # 1 cup, ground
        ("1 cup onion, chopped", "onion", "11282", 160),  # 1 cup, chopped
        ("1 cup basil leaves, chopped", "basil leaves", "02044", 24),  # 1/4 cup leaves, whole = 6
        ("1 cup bananas, mashed", "bananas", "09040", 225),  # 1 cup, mashed
        ("1 cup walnuts, chopped", "walnuts", "12155", 100),  # 1 cup shelled, halves
        ("1 cup chopped walnuts", "walnuts", "12155", 117),  # 1 cup, chopped
        ("1 cup strawberries, sliced", "strawberries", "09316", 144),  # 1 cup, whole
        ("1 cup sliced strawberries", "strawberries", "09316", 166),  # 1 cup, sliced
        ("1 cup cranberries, chopped", "cranberries", "09078", 100),  # 1 cup, whole
        ("1 cup cheddar, grated", "cheddar", "01009", 113),  # 1 cup, shredded: no cup holds a block
        ("1 cup heavy cream, whipped to soft peaks", "heavy cream", "01053", 238),  # 1 cup, fluid
        ("1 cup spinach, wilted", "spinach", "11457", 30),  # 1 cup
    ],
)
def test_what_stands_before_the_food_is_done_before_measuring(text: str, name: str, food: str, expected: float) -> None:
    """A cup of cream, whipped, is a cup of cream; a cup of walnuts, chopped, is one of halves, as a cup holds those."""
    written = line(name, (1, "cup"), text=text, preparation=text.partition(name)[2].strip(" ,"))
    assert best(written, food) == pytest.approx(expected, rel=0.02)


@pytest.mark.parametrize(
    ("text", "food", "expected", "told"),
    [
        ("2 cups rice, cooked", "20044", 370, True),  # 1 cup = 185
        ("2 cups cooked rice", "20045", 316, False),  # 1 cup = 158
        ("8 oz pasta, cooked and drained", "20120", 226.8, True),
        ("1 cup almonds, finely ground", "12061", 143, False),  # 1 cup, whole
        ("3 cups chicken, cooked and cubed", "05013", 420, False),  # 1 cup, chopped = 140: nobody measures it raw
        ("8 slices bacon, cooked and crumbled", "10862", 72, False),
    ],
)
def test_cooked_behind_the_name_is_measured_raw(text: str, food: str, expected: float, told: bool) -> None:
    """ "Rice, cooked" is a measure of raw rice, which is said; meat in cups and bacon in slices are measured cooked."""
    line = weigh_line(read_line(text))
    assert line.match is not None
    assert line.grams is not None
    assert line.match.food == food
    assert line.grams.best == pytest.approx(expected, rel=0.03)
    assert ("measured-when" in [problem.code for problem in line.problems]) == told


def test_flour_spans_the_habits_of_cooks() -> None:
    """A cup of flour is 116 g sifted and 126 g spooned (HERR 41), 140 g and more scooped."""
    weight, _ = grams(line("all-purpose flour", (1, "cup")), "20081")
    assert weight is not None
    assert weight.low <= 116
    assert 120 <= weight.best <= 128
    assert weight.high >= 140


@pytest.mark.parametrize(
    ("name", "food", "note"),
    [("salt", "02047", "to taste"), ("oil", "04053", "for frying"), ("parsley", "11297", "for garnish"),
     ("butter", "01001", "for greasing the pan"), ("flour", "20081", "for dusting"), ("lemon", "09150", "")],
)  # fmt: skip
def test_a_line_without_amount_rests_on_a_stated_default(name: str, food: str, note: str) -> None:
    """What has no amount is counted, widely, and reported with what to type."""
    weight, problems = grams(Line(text=f"{name} {note}", name=name, note=note), food)
    assert weight is not None
    assert weight.high >= 2 * weight.best or weight.low <= weight.best / 2
    assert "default" in weight.basis
    assert [problem.code for problem in problems] == ["default-weight"]
    assert "{" in problems[0].message


@pytest.mark.parametrize(
    ("text", "grams_best", "number"),
    [
        ("Lime wedges, for serving", 4 * 7, "4 wedges"),  # SR28 09150: 1 wedge of lemon = 7 g
        ("Lime wedge, for garnish", 7, "1 wedge"),
        ("Parsley sprigs", 4 * 1, "4 sprigs"),  # SR28 11297: 10 sprigs = 10 g
        ("Cucumber slices", 4 * 7, "4 slices"),  # SR28 11206: 1 slice = 7 g
    ],
)
def test_pieces_without_a_number_rest_on_a_stated_default(text: str, grams_best: float, number: str) -> None:
    """A plural is some pieces, a singular one; the problem says how many were counted."""
    line = weigh_line(read_line(text))
    assert line.grams is not None
    assert line.grams.best == pytest.approx(grams_best, rel=0.05)
    assert [problem.code for problem in line.problems] == ["default-weight"]
    assert number in line.problems[0].message


@pytest.mark.parametrize(
    ("text", "best_grams"),
    [
        ("2 (10-inch) tortillas", 144),  # SR28 18364: approx 10" dia = 72 g
        ("6 (6-inch) corn tortillas", 144),  # SR28 18363: 24 g
        ("8 (4-inch) corn tortillas", 8 * 24 * (4 / 6) ** 2),  # as flat, by the square of the diameter
        ("2 (12-inch) baguettes", 270),  # half of a 24-inch one of 270 g
        ("1 (9-inch) pie crust", 190),
        ("2 (3-inch) apples", 364),  # SR28 09003: 3" dia = 182 g
    ],
)
def test_a_size_in_inches_before_the_noun(text: str, best_grams: float) -> None:
    """A diameter or length in brackets chooses SR28's piece of that size or scales the one that is known."""
    line = weigh_line(read_line(text))
    assert line.grams is not None
    assert line.grams.best == pytest.approx(best_grams, rel=0.03)


@pytest.mark.parametrize("text", ["dried red chillies, to taste", "jalapeños, to taste", "chillies", "guajillo chiles"])
def test_chiles_without_an_amount_are_no_vegetable_of_middling_size(text: str) -> None:
    """A chile or two, and not the 110 g of a vegetable of middling size (common practice, no source)."""
    grams = weigh_line(read_line(text)).grams
    assert grams is not None
    assert 0.3 <= grams.low < grams.best <= 15 and grams.high <= 60


@pytest.mark.parametrize(
    ("text", "best_grams"),
    [
        ("2 dried ancho chiles", 34),  # SR28 11978: 1 pepper = 17 g
        ("3 dried pasilla chiles", 21),  # SR28 11982: 1 pepper = 7 g
        ("1 sweet onion", 331),  # SR28 11294: 1 onion = 331 g, and not the 110 g of SR28 11282
        ("4 slices deli turkey", 60),  # SR28 07081: 1 slice = 15 g, and not the 28 g of SR28 07029
        ("1 blue crab", 21),  # SR28 15139
        ("2 herring fillets", 368),  # SR28 15039: 1 fillet = 184 g
        ("1 sleeve saltine crackers", 113),  # a quarter of a pound (common practice, no source)
    ],
)
def test_a_foods_own_piece_beats_that_of_a_relative(text: str, best_grams: float) -> None:
    """Where SR28 weighed a piece of this very food, a like food's weight does not stand in for it."""
    line = weigh_line(read_line(text))
    assert line.grams is not None
    assert line.grams.best == pytest.approx(best_grams, rel=0.02)


@pytest.mark.parametrize(
    ("text", "best_grams"),
    [
        ("12 ounces beer", 12 * 29.7),  # SR28 14003: 1 fl oz = 29.7 g
        ("4 oz lemon juice", 4 * 30.5),  # SR28 09152: 1 fl oz = 30.5 g
        ("12 ounces ice", 340.2),
        ("8 oz plain yogurt", 226.8),
        ("12 ounces (340 g) milk", 340),
    ],
)
def test_ounces_of_what_is_poured_are_fluid_ounces(text: str, best_grams: float) -> None:
    """A drink's ounce is a volume, with bounds that hold an ounce of weight; ice and yogurt are weighed."""
    line = weigh_line(read_line(text))
    assert line.grams is not None
    assert line.grams.best == pytest.approx(best_grams, rel=0.01)
    assert line.grams.low <= line.line.amounts[0].low * 28.35 <= line.grams.high


@pytest.mark.parametrize(
    ("text", "low", "best_grams", "high"),
    [
        ("1 lb chicken, cubed", 444, 453.6, 463),  # nobody dices a bone
        ("1 lb chicken", 290, 386, 453),  # boned or not: SR28 05006 refuse 32 %
        ("3 lb whole chicken", 840, 925, 990),
        ("6 drumsticks (1 1/2 lb)", 400, 456, 520),  # SR28 05066: bone is 33 %, which it says twice
        ("2 hard-boiled eggs", 88, 100, 112),  # SR28 01129: 1 large = 50 g
        ("12 quail eggs", 96, 108, 144),  # SR28 01140: 9 g
    ],
)
def test_birds_and_eggs(text: str, low: float, best_grams: float, high: float) -> None:
    """Bone comes off a bird that is bought whole, and of unsaid meat the bounds hold both."""
    line = weigh_line(read_line(text))
    assert line.grams is not None
    assert line.grams.best == pytest.approx(best_grams, rel=0.02)
    assert line.grams.low <= low * 1.02
    assert line.grams.high >= high * 0.98


def test_chopped_leaves_fill_a_spoon_as_the_chopped_herb_does() -> None:
    """SR28 02044: 2 tablespoons of basil, chopped, are 5.3 g; whole leaves are lighter."""
    assert weigh_line(read_line("2 tablespoons chopped basil leaves")).grams.best == pytest.approx(5, rel=0.1)  # type: ignore[union-attr]


def test_a_weight_that_cannot_be_that_of_the_volume_is_reported() -> None:
    """ "1 cup (500 g) flour" contradicts itself (SR28 20081: 125 g), "1 cup (130 g)" does not."""
    assert "amounts-disagree" in [p.code for p in weigh_line(read_line("1 cup (500 g) flour")).problems]
    assert "amounts-disagree" not in [p.code for p in weigh_line(read_line("1 cup (130 g) flour")).problems]


def test_a_count_of_what_nobody_counts_is_a_problem() -> None:
    """Two "racks" of milk have no weight, and the cook hears what to write."""
    weight, problems = grams(line("milk", (2, "rack"), number=7), "01077")
    assert weight is None
    assert problems[0].code == "no-weight"
    assert problems[0].line == 7
    assert "{454 g}" in problems[0].message


def test_an_unknown_food_is_an_error() -> None:
    """An id that is not in the table raises KeyError."""
    with pytest.raises(KeyError):
        grams(line("milk", (1, "cup")), "99999")


def test_a_food_without_volume_borrows_from_its_like() -> None:
    """Sweet onions have no cup in SR28, and plain onions' 160 g serve; the basis says so."""
    weight, problems = grams(line("sweet onion", (1, "cup"), preparation="chopped"), "11294")
    assert weight is not None
    assert weight.best == pytest.approx(160)
    assert "like food 11282" in weight.basis
    assert not problems


def test_a_food_without_like_rests_on_its_group() -> None:
    """Angel food cake has no cup and no like: the usual cup of baked products serves, and that is reported."""
    weight, problems = grams(line("angel food cake", (1, "cup")), "18088")
    assert weight is not None
    assert "usual cup of Baked Products" in weight.basis
    assert weight.high > 1.5 * weight.best
    assert [problem.code for problem in problems] == ["default-weight"]
