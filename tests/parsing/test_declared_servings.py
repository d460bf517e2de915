"""What a head says of servings and packs, in the words that cooks use, and how the batch is divided by it."""

import pytest

from labeler.as_json import nutrition_object
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe
from labeler.parsing.declared_servings import counts_in, measured_yield, one_or_all, pack_size, per_unit, read_servings


@pytest.mark.parametrize(
    ("head", "count", "unit", "packs"),
    [
        ({"makes": "1 cake, 12 slices"}, 12, "slices", 1),
        ({"makes": "1 cake (12 slices)"}, 12, "slices", 1),
        ({"makes": "2 loaves of 10 slices each"}, 20, "slices", 2),
        ({"makes": "1 9-inch cake, 8-10 slices"}, 9, "slices", 1),
        ({"makes": "about 24"}, 24, "", None),
        ({"makes": "24 cookies, 12 servings"}, 12, "", None),
        ({"makes": "6 (4-ounce) jars"}, 6, "jars", 6),
        ({"makes": "a dozen rolls"}, 12, "rolls", 12),
        ({"makes": "one cake"}, 1, "cake", 1),
        ({"makes": "8 boxes for the stall"}, 8, "boxes", 8),
        ({"serves": "4 to 6"}, 5, "", None),
        ({"serves": "Serves 4"}, 4, "", None),
        ({"serves": 12, "makes": "1 cake"}, 12, "", 1),
        ({"yield": "36 biscuits"}, 36, "biscuits", 36),
        ({"makes": "5 x 300 g jars"}, 5, "jars", 5),
        ({"makes": "7 x 1lb jars"}, 7, "jars", 7),
        ({"makes": "four 5-oz bottles"}, 4, "bottles", 4),
        ({"makes": "about 4 (5-oz) bottles"}, 4, "bottles", 4),
        ({"makes": "Five-dozen"}, 60, "", None),
        ({"makes": "6+"}, 6, "", None),
        ({"makes": "12 small or 6 large"}, 12, "small", 12),
        ({"serves": "Around 3 People"}, 3, "", None),
        ({"serves": "about two hearty adult portions"}, 2, "", None),
        ({"makes": "one 9-inch pie"}, 1, "9-inch pie", 1),
    ],
)
def test_servings_and_packs_of_a_head(head, count, unit, packs):
    """Slices are servings and the cake is the pack; ranges give their middle; sizes in brackets are no counts."""
    found = read_servings(head)
    assert (found.count, found.unit, found.packs) == (count, unit, packs)


def test_a_part_for_one_of_either_noun():
    """ "One slice" is made twelve times and "One cake" once where the head says both."""
    head = {"makes": "1 cake, 12 slices"}
    assert [per_unit(title, read_servings(head), head) for title in ("One slice", "One cake")] == [12, 1]
    assert [tuple(count) for count in counts_in("1 cake, 12 slices")] == [(1, "cake"), (12, "slices")]


def test_the_batch_is_divided_into_slices_and_packed_as_a_cake():
    """A cake of 1200 g in 12 slices has servings of 100 g and one pack of 1200 g."""
    nutrition = analyse(read_recipe("---\nmakes: 1 cake, 12 slices\n---\n- 600 g butter\n- 600 g sugar\n"))
    assert nutrition.servings == 12
    assert nutrition.serving_g == pytest.approx(100)
    assert nutrition.portion.packs == 1
    assert nutrition.portion.pack_g == pytest.approx(1200)


@pytest.mark.parametrize(
    ("makes", "title", "asks"),
    [
        ("2 bowls", "Bowl", True),
        ("8 lunch boxes", "Lunch box", True),
        ("3 loaves", "Loaf", True),
        ("2 bowls", "One bowl", False),
        ("2 bowls", "Bowls", False),
        ("1 bowl", "Bowl", False),
        ("6 pies", "Quay pie", False),
    ],
)
def test_a_title_that_may_be_one_or_all_is_asked_about(makes, title, asks):
    """A last part called by one of several is a problem that says how to write either."""
    text = f"---\nmakes: {makes}\n---\n## Soup\n- 400 g water\n## {title}\n- 200 g Soup\n"
    found = [one for one in analyse(read_recipe(text), draws=0).problems if one.code == "one-or-all"]
    assert bool(found) == asks == (one_or_all(title, {"makes": makes}) is not None)
    for problem in found:
        assert f"## One {title.lower()}" in problem.message and problem.line == 6


def test_one_loaf_of_several_loaves_is_made_so_often():
    """The noun of "One loaf" is found in any English plural."""
    assert per_unit("One loaf", read_servings({"makes": "3 loaves"}), {"makes": "3 loaves"}) == 3


@pytest.mark.parametrize(
    ("makes", "size"),
    [
        ("5 x 300 g jars", "300 g"),
        ("7 x 1lb jars", "1lb"),
        ("four 5-oz bottles", "5 fl oz"),
        ("4 (5-oz) bottles", "5 fl oz"),
        ("6 (4-ounce) jars", "4 ounce"),
        ("6 jars, 190 g each", "190 g"),
        ("12 rolls", ""),
        ("one 9-inch pie", ""),
        ("about 600 ml", ""),
        ("1.2 kg", ""),
    ],
)
def test_what_a_pack_holds_is_read_with_the_number_of_packs(makes, size):
    """A bottle is filled by volume, so its ounces are fluid; a length and a batch are no pack."""
    assert pack_size({"makes": makes}) == size


def test_a_stated_size_of_the_packs_is_their_net_quantity():
    """Five jars of 300 g hold 300 g each, whatever the batch over five would be."""
    found = analyse(read_recipe("---\nmakes: 5 x 300 g jars\n---\n- 1.6 kg sugar\n")).portion
    assert (found.packs, found.pack_g, found.pack_stated) == (5, pytest.approx(300), True)


@pytest.mark.parametrize(
    ("head", "ends"),
    [
        ({"serves": "6-8"}, (7, 6, 8)), ({"makes": "1 cake, 10 to 12 slices"}, (11, 10, 12)),
        ({"serves": 4}, (4, 4, 4)), ({"makes": "2-3 loaves of 10 slices each"}, (25, 20, 30)),
        ({"serves": "Around 3 People"}, (3, 3, 3)),
    ],
)  # fmt: skip
def test_a_range_of_servings_keeps_both_ends_and_is_divided_by_its_middle(head, ends):
    """The number taken is the middle; what is stated is not lost."""
    servings = read_servings(head)
    assert (servings.count, servings.low, servings.high) == ends


@pytest.mark.parametrize("makes", ["6-8", "1 cake, 6 to 8 slices"])
def test_a_serving_of_a_range_spans_from_the_fewest_to_the_most(makes):
    """Law: its interval holds the batch over either end, whichever count of the text it is."""
    recipe = read_recipe(f"---\nmakes: {makes}\n---\n- 1000 g sugar\n")
    found = analyse(recipe, draws=500)
    energy, batch = found.per_serving["ENERC_KCAL"], found.batch["ENERC_KCAL"].best
    assert energy.low <= batch / 8 * 1.01 and batch / 6 * 0.99 <= energy.high
    assert nutrition_object(found)["servings_stated"] == {"low": 6, "high": 8, "text": makes}


def test_a_stated_volume_takes_no_more_water_than_was_heated():
    """A jar of raw vegetables with a little boiled porridge cannot have lost by heat what a stated volume lacks."""
    lines = "- 2 kg cabbage, chopped\n- 40 g salt\n- 300 ml water\n- 20 g rice flour"
    steps = "> Simmer the water and the rice flour 5 minutes. Mix with the cabbage and salt and leave 2 days."
    raw = analyse(read_recipe(f"---\nmakes: 1.2 litres\n---\n{lines}\n{steps}"), draws=0)
    assert "yield-smaller" in {problem.code for problem in raw.problems}
    assert raw.parts[0].grams_kept > 2000.0


def test_a_stated_volume_settles_a_sauce_that_boils_down():
    """All of a sauce is heated: the litre that it makes is believed."""
    lines = "- 2 kg tomatoes, chopped\n- 20 g salt"
    steps = "> Simmer the tomatoes and salt for 2 hours until thick."
    sauce = analyse(read_recipe(f"---\nmakes: 1 litre\n---\n{lines}\n{steps}"), draws=0)
    assert "yield-smaller" not in {problem.code for problem in sauce.problems}
    assert sauce.parts[0].grams_kept == pytest.approx(1040.0, abs=60.0)


@pytest.mark.parametrize("text", ["6+", "6+ portions", "6 or more people"])
def test_an_open_end_is_no_exact_number(text):
    """ "6+" is six for the figures and more in the interval of a serving."""
    servings = read_servings({"serves": text})
    assert servings is not None
    assert (servings.count, servings.low) == (6.0, 6.0)
    assert 6.0 < servings.high <= 12.0, servings


@pytest.mark.parametrize(("row", "count", "low", "high"), [
    ("Serves 6-8", 7, 6, 8), ("Enough for 6 people", 6, 6, 6), ("For 4 people (8 pancakes)", 4, 4, 4),
    ("Serves a crowd of 10", 10, 10, 10), ("Sufficient to serve eight", 8, 8, 8), ("Should feed 4-5 people", 4.5, 4, 5),
    ("Serves: 4 (or 2 greedy ones)", 4, 4, 4), ("Good for 3-4 persons", 3.5, 3, 4), ("serves 4/6", 5, 4, 6),
    ("4 servings, about 1 cup each", 4, 4, 4), ("8 servings (1 cup per serving)", 8, 8, 8),
    ("Yield: 2 dozen", 24, 24, 24), ("Makes 2.5 dozen 2 in. buns", 30, 30, 30), ("makes 24 (12 per tray)", 24, 24, 24),
    ("Serves: 6 adults or 10 children", 6, 6, 6), ("Enough for a dozen", 12, 12, 12),
])  # fmt: skip
def test_however_a_row_tells_servings_it_is_no_ingredient(row, count, low, high):
    """A row of the page that tells how many eat of it, or how many things there are, gives that number and no line."""
    found = read_recipe(f"# Quay mash\n\n{row}\n\n- 500 g potatoes\n- 2 tbsp butter\n\n1. Boil and mash them.\n")
    served = read_servings(found.head)
    assert served is not None and (served.count, served.low, served.high) == (count, low, high)
    assert [line.text for part in found.parts for line in part.lines] == ["500 g potatoes", "2 tbsp butter"]


@pytest.mark.parametrize("row", ["Makes about 3 cups", "Yields approximately 1 quart", "This recipe yields 2 quarts."])
def test_a_volume_of_the_batch_divides_nothing(row):
    """Cups that a recipe makes are what the batch comes to and no servings."""
    found = read_recipe(f"# Quay relish\n\n{row}\n\n- 500 g onions\n- 1 l vinegar\n\n1. Boil them.\n")
    assert read_servings(found.head) is None and measured_yield(found.head)


@pytest.mark.parametrize("title", ["Quay mash. 4 bowls", "Quay mash, 4 bowls", "Quay mash (4 bowls)"])
def test_a_number_of_things_behind_a_title_is_what_it_makes(title):
    """The title goes by its words, whatever sign parts the number from them."""
    found = read_recipe(f"{title}\n\n500 g potatoes\n2 tbsp butter\n\n1. Boil and mash them.\n")
    assert found.title == "Quay mash" and read_servings(found.head).count == 4


def test_servings_with_pieces_beside_them_are_servings():
    """A bare number under a key of servings counts people; what stands in brackets counts pieces."""
    assert read_servings({"servings": "4 (8 pancakes)"}).count == 4


@pytest.mark.parametrize(
    ("head", "told", "taken"),
    [
        ("serves: 4\nmakes: 12 jars", "Serves 8", "serves: 4"),
        ("makes: 12 jars", "Makes 8 jars", "makes: 12 jars"),
        ("serves: 4\nservings: 8", "", "serves: 4"),
        ("title: Quay mash", "Serves 4 as a main course. Serves 10 as a starter.", "serves: 4"),
        ("serves: 4", "Serves 4 to 6", ""),
        ("serves: 4", "Makes 12 rolls", ""),
        ("makes: 12 jars", "Serves 8", ""),
    ],
)
def test_servings_that_contradict_each_other_are_both_told(head, told, taken):
    """Two counts of the same that cannot both be true are a problem that names both and says which is taken."""
    found = read_recipe(f"---\n{head}\n---\n{told}\n\n- 500 g potatoes\n- 2 tbsp butter\n\n1. Boil and mash them.\n")
    twice = [problem.message for problem in found.problems if problem.code == "servings-twice"]
    assert len(twice) == bool(taken)
    assert all(f"“{taken}” is taken" in message for message in twice)
