"""Lines and recipes with foods and grams: pins win, parts are found by name, and whatever is unsure is said."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.foods.model import WeighedLine
from labeler.foods.resolve import SURE, weigh, weigh_line
from labeler.parsing.document import read_recipe
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.model import Line, Part, Recipe


def recipe_of(*parts: tuple[str, tuple[str, ...]]) -> Recipe:
    """A recipe of parts written (title, lines)."""
    made = tuple(Part(title, tuple(read_line(text) for text in lines)) for title, lines in parts)
    return Recipe("Test", made)


def codes(line: object) -> list[str]:
    return [problem.code for problem in line.problems]  # type: ignore[attr-defined]


# --- one line ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "food", "low", "high"),
    [
        # Expected ranges: SR28 household weights where it has them, else what a careful cook would say.
        ("1 (14.5 oz) can diced tomatoes", "11531", 400, 425),
        ("2 sticks butter", None, 222, 230),
        ("3 cloves garlic, minced", "11215", 9, 15),
        ("one 4- to 5-pound chicken", None, 1200, 1600),
        ("juice of 2 limes", "09160", 50, 95),
        ("1 cup packed brown sugar", "19334", 205, 230),
        ("8 slices bacon", None, 180, 260),
        ("1 pound mussels in their shells, scrubbed", None, 100, 200),
        ("1 bunch cilantro, chopped", "11165", 40, 110),
        ("250g/9oz plain flour", None, 250, 250),
    ],
)
def test_lines_end_to_end(text: str, food: str | None, low: float, high: float) -> None:
    """A line read, matched and weighed lies where a careful cook would put it."""
    line = weigh_line(read_line(text))
    assert line.grams is not None
    assert low <= line.grams.best <= high
    if food:
        assert line.match is not None
        assert line.match.food == food


def test_pins_win() -> None:
    """{food 15015, 400 g} settles both, with full confidence and no problem."""
    line = weigh_line(read_line("1 lb flatfish {food 15015, 400 g}"))
    assert line.match is not None
    assert line.match.food == "15015"
    assert line.match.confidence == 1.0
    assert line.grams is not None
    assert (line.grams.low, line.grams.best, line.grams.high) == (400, 400, 400)
    assert not line.problems


def test_a_pin_that_names_no_food_is_a_problem() -> None:
    """An id outside the table is reported with the foods that the words of the line suggest, the first one as a pin."""
    line = weigh_line(read_line("2 cups milk {food 99999}"))
    assert line.match is not None
    assert line.match.food is None
    assert codes(line) == ["no-such-food"]
    assert "99999" in line.problems[0].message
    assert f"{{food {line.match.alternatives[0]}}}" in line.problems[0].message


def test_a_food_that_is_not_in_the_table_keeps_its_written_weight() -> None:
    """Nothing is known of gloop but its 200 grams."""
    line = weigh_line(read_line("200 g xyzzy gloop"))
    assert line.match is not None
    assert line.match.food is None
    assert line.grams is not None
    assert line.grams.best == 200
    assert "no-such-food" in codes(line)
    assert weigh_line(read_line("1 cup xyzzy gloop")).grams is None


def test_two_foods_in_one_line_are_two() -> None:
    """Salt and pepper to taste are a default of each; one teaspoon of both is shared."""
    line = weigh_line(read_line("salt and pepper to taste"))
    assert line.match is not None
    assert line.match.food == "02047"
    assert [other.match.food for other in line.also if other.match] == ["02030"]
    assert line.grams is not None
    shared = weigh_line(read_line("1 teaspoon salt and pepper"))
    assert "shared-amount" in codes(shared)
    assert shared.grams is not None
    assert shared.grams.best == pytest.approx(3.0)  # half a teaspoon of table salt, SR28 02047: 6 g a teaspoon


def weights(text: str) -> list[tuple[str, float]]:
    """Food and grams of everything that a line names."""
    line = weigh_line(read_line(text))
    return [(one.match.food or "", one.grams.best) for one in (line, *line.also) if one.match and one.grams]


def test_each_gives_the_amount_to_every_food() -> None:
    """ "1 teaspoon each" is a teaspoon of all of them (SR28: cumin 2.1 g, table salt 6 g a teaspoon)."""
    assert dict(weights("1 tsp each cumin seeds, paprika and table salt")) == pytest.approx(
        {"02014": 2.1, "02028": 2.3, "02047": 6.0}, rel=0.05
    )
    assert dict(weights("100 g each butter and sugar")) == {"01001": 100, "19335": 100}
    assert "shared-amount" not in codes(weigh_line(read_line("100 g each butter and sugar")))


def test_a_second_food_of_a_line_is_weighed() -> None:
    """ "1 egg plus 1 yolk" is 50 g and 17 g (SR28 01123, 01125)."""
    assert dict(weights("1 large egg plus 1 egg yolk")) == {"01123": 50, "01125": 17}
    assert [grams for _, grams in weights("1 orange, zested and juiced")] == pytest.approx([86, 9])  # SR28 09206, 09216
    assert len(weights("1 egg, beaten with 1 tablespoon milk")) == 2


@pytest.mark.parametrize(
    ("text", "food"),
    [
        ("4 sprigs thyme", "02049"),  # Thyme, fresh
        ("1 bunch coriander", "11165"),  # Coriander (cilantro) leaves, raw
        ("1 bunch dill", "02045"),  # Dill weed, fresh
        ("1 teaspoon thyme", "02042"),  # Spices, thyme, dried
        ("1 bunch dried thyme", "02042"),
        ("1 bunch carrots", "11124"),
    ],
)
def test_what_is_counted_in_sprigs_and_bunches_is_fresh(text: str, food: str) -> None:
    """A sprig of thyme is no spice, and a bunch of coriander no seed."""
    line = weigh_line(read_line(text))
    assert line.match is not None
    assert line.match.food == food


def test_an_optional_line_is_counted_and_says_so() -> None:
    """It is in the figures unless the cook takes it out, and is reported once."""
    line = weigh_line(read_line("50 g walnuts (optional)"))
    assert line.grams is not None
    assert line.grams.best == 50
    assert codes(line) == ["optional-counted"]


@pytest.mark.parametrize("text", ["", "   ", "2 cups", "For the sauce:"])
def test_what_names_no_food_is_one_problem(text: str) -> None:
    """A blank row, an amount alone and a heading are reported once."""
    assert len(codes(weigh_line(read_line(text)))) == 1


def test_a_stand_in_is_always_reported() -> None:
    """A match of 0.7 or less says what it was taken for and what to type."""
    line = weigh_line(read_line("1 vanilla bean"))
    assert line.match is not None
    assert line.match.confidence > 0.7 or "weak-match" in codes(line)


def test_a_line_without_a_food_is_a_problem() -> None:
    """What names nothing is said to name nothing."""
    line = weigh_line(Line(text="2 cups", name=""))
    assert line.match is None
    assert codes(line) == ["no-food"]


def test_the_readers_problems_are_kept() -> None:
    """Whatever the reader reported is still there."""
    written = read_line("1 cup milk {nonsense 12}")
    assert written.problems
    assert set(written.problems) <= set(weigh_line(written).problems)


# --- parts of a recipe ------------------------------------------------------------------------------------------

STALL = """---
title: Cod and crab cakes with brined cucumber
makes: 8 boxes
---
## Cod and crab cakes
- 500 g cod fillets
- 200 g crabmeat
- 1 egg
## Brined cucumber
- 1.5 litres water
- 60 g coarse salt
- 3 cucumbers, sliced 3 mm
## One box
- 3 pieces Cod and crab cakes
- 60 g Brined cucumber
- 2 x 30 g the brined cucumbers
- 1 lemon wedge
"""


def test_lines_that_name_a_part_are_parts() -> None:
    """Case, plural and article do not matter; a weight in the line is kept, pieces are left to the kitchen."""
    weighed = weigh(read_recipe(STALL))
    cakes, cucumber, again, lemon = weighed.parts[2].lines
    assert cakes.part == "Cod and crab cakes"
    assert cakes.match is None
    assert cakes.grams is None
    assert cucumber.part == "Brined cucumber"
    assert cucumber.grams is not None
    assert cucumber.grams.best == 60
    assert again.part == "Brined cucumber"
    assert lemon.part is None
    assert lemon.match is not None
    assert not weighed.problems


CAKE = """## For the sponge
- 200 g butter
- 1 cup sugar, divided
- 3 eggs
## Cream cheese frosting
- 200 g cream cheese
- the rest of the sugar
- all-purpose flour, for dusting
## Cake
- {line}
"""


def last_line(text: str) -> WeighedLine:
    """The line `text` in the last part of a recipe that has a sponge and a frosting."""
    return weigh(read_recipe(CAKE.replace("{line}", text))).parts[-1].lines[0]


@pytest.mark.parametrize(
    ("text", "title"),
    [
        ("all of the cream cheese frosting", "Cream cheese frosting"),
        ("all of the frosting", "Cream cheese frosting"),
        ("the rest of the frosting", "Cream cheese frosting"),
        ("remaining frosting", "Cream cheese frosting"),
        ("half of the frosting", "Cream cheese frosting"),
        ("half the frosting, for the top", "Cream cheese frosting"),
        ("1/3 of the frosting", "Cream cheese frosting"),
        ("60 g of the frosting", "Cream cheese frosting"),
        ("the sponge", "For the sponge"),
        ("sponge", "For the sponge"),
        ("1 recipe sponge", "For the sponge"),
        ("Cream cheese frosting (see above)", "Cream cheese frosting"),
        ("200 g Cream cheese frostng", "Cream cheese frosting"),
    ],
)
def test_a_part_is_found_by_what_cooks_call_it(text: str, title: str) -> None:
    """ "For the", shares and "see above" are no words of a title; a typo is put right and reported."""
    line = last_line(text)
    assert line.part == title
    assert line.match is None
    assert codes(line) in ([], ["part-spelled"])


@pytest.mark.parametrize("text", ["all of the A", "100 g A", "half the A", "the A", "A", "2 pieces of A"])
def test_a_title_that_is_an_article_is_still_a_title(text: str) -> None:
    """A part called "A" is meant by its letter, whatever else that letter can be."""
    recipe = f"## A\n- 100 g flour\n## Sauce\n- 100 g milk\n## Plate\n- {text}\n"
    assert weigh(read_recipe(recipe)).parts[-1].lines[0].part == "A"


def test_two_titles_that_differ_by_their_article_are_two_parts() -> None:
    """What is written exactly as a title is that part, and not the one that is the same without "the"."""
    recipe = "## The sauce\n- 100 g milk\n## Sauce\n- 100 g flour\n## Plate\n- 20 g The sauce\n- 20 g Sauce\n"
    assert [line.part for line in weigh(read_recipe(recipe)).parts[-1].lines] == ["The sauce", "Sauce"]


@pytest.mark.parametrize("text", ["all of the ganache", "the rest of the caramel", "the glaze", "2 tbsp of the jam"])
def test_a_part_that_is_not_there_is_no_food(text: str) -> None:
    """What was made before but has no heading is a problem that names the headings there are, not a table food."""
    line = last_line(text)
    assert line.match is None
    assert line.part is None
    assert codes(line) == ["no-such-part"]
    assert "Cream cheese frosting" in line.problems[0].message


@pytest.mark.parametrize("text", ["all of the brine", "the drippings"])
def test_what_the_handling_keeps_is_no_missing_part(text: str) -> None:
    """Liquor that was poured off and kept, and drippings, are found by the kitchen."""
    recipe = (
        f"## Pork\n- 1 kg pork loin\n> soak, then drain, keep the liquid as brine\n> roast 1 hour\n## Gravy\n- {text}\n"
    )
    line = weigh(read_recipe(recipe)).parts[-1].lines[0]
    assert "no-such-part" not in codes(line)


def test_a_second_food_behind_a_part_is_said_to_be_lost() -> None:
    """A line that takes a part takes nothing else, and says so."""
    line = last_line("100 g Cream cheese frosting plus 1 egg")
    assert line.part == "Cream cheese frosting"
    assert codes(line) == ["second-food-lost"]


@pytest.mark.parametrize("text", ["the rest of the sugar", "half of the eggs", "remaining butter"])
def test_a_share_of_another_line_is_counted_there(text: str) -> None:
    """An ingredient that stands in full on another line adds nothing where the rest of it goes in, and that is said."""
    line = last_line(text)
    assert line.grams is not None
    assert line.grams.best == 0
    assert codes(line) == ["counted-already"]


@pytest.mark.parametrize(
    "text", ["the zest of 1 lemon", "all-purpose flour, for dusting", "the best olive oil", "Prepared mustard"]
)
def test_words_that_parts_share_with_foods(text: str) -> None:
    """A food that opens with "the", "all" or "prepared" is a food."""
    line = last_line(text)
    assert line.match is not None
    assert line.match.food is not None
    assert "no-such-part" not in codes(line)


def test_a_part_is_no_part_of_itself() -> None:
    """A line of the part "Hummus" that says hummus means the food."""
    weighed = weigh(recipe_of(("Hummus", ("1 cup hummus",)), ("Plate", ("2 tablespoons olive oil",))))
    assert weighed.parts[0].lines[0].part is None
    assert weighed.parts[0].lines[0].match is not None


def test_a_pinned_food_is_no_part() -> None:
    """A pin wins over a part of the same name."""
    weighed = weigh(recipe_of(("Salsa", ("2 tomatoes",)), ("Plate", ("60 g salsa {food 06164}",))))
    assert weighed.parts[1].lines[0].part is None
    assert weighed.parts[1].lines[0].match is not None


@pytest.mark.parametrize("length", [2, 3])
def test_parts_that_contain_each_other_are_a_problem(length: int) -> None:
    """A circle of parts is reported and does not hang."""
    names = ["Dressing", "Relish", "Filling"][:length]
    circle = [(name, (f"50 g {names[(at + 1) % length]}",)) for at, name in enumerate(names)]
    weighed = weigh(recipe_of(*circle))
    assert {problem.code for problem in weighed.problems} == {"part-cycle"}


def test_every_line_of_the_recipe_comes_back_in_order() -> None:
    """As many parts and lines as the recipe has, each holding its own line."""
    recipe = read_recipe(STALL)
    weighed = weigh(recipe)
    assert [part.title for part in weighed.parts] == [part.title for part in recipe.parts]
    for part, read in zip(weighed.parts, recipe.parts, strict=True):
        assert tuple(line.line for line in part.lines) == read.lines


@settings(deadline=None, max_examples=150)
@given(text=st.text(max_size=60))
def test_any_text_is_weighed_without_a_crash(text: str) -> None:
    """Any line of text gives a weighed line that keeps the text."""
    line = weigh_line(read_line(text))
    assert line.line.text == text or text.strip() in line.line.text or line.line.text in text


@settings(deadline=None, max_examples=60)
@given(
    amount=st.sampled_from(["1", "2", "1/2", "3", "1 1/2"]),
    unit=st.sampled_from(["cup", "tablespoon", "teaspoon", "pound", "ounces", "bunch", "can", "cloves", ""]),
    food=st.sampled_from(["salt", "flour", "parsley", "black beans", "garlic", "chicken thighs", "milk", "lemons"]),
)
def test_usual_lines_always_have_a_weight(amount: str, unit: str, food: str) -> None:
    """A usual food in a usual unit is weighed, if only by a default that is reported."""
    line = weigh_line(read_line(f"{amount} {unit} {food}"))
    if line.grams is None:
        assert codes(line)
    else:
        assert 0 < line.grams.low <= line.grams.best <= line.grams.high


def test_a_part_whose_title_says_what_is_done_is_found():
    """“Mashed swede” names the part of that title, though “mashed” is a word of preparation elsewhere."""
    recipe = read_recipe(
        "## Mashed swede\n- 1 kg swede\n## One box\n- 150 g Mashed swede\n- 20 g grated carrot salad\n"
    )
    assert weigh(recipe).parts[1].lines[0].part == "Mashed swede"


@pytest.mark.parametrize("text", ["8 servings shortcrust pastry", "3/4 rolled oats", "1 bowl corn"])
def test_an_amount_that_nobody_can_weigh_is_a_stated_default(text):
    """It is no less known than a line without an amount, and the cook hears what it counts as."""
    weighed = weigh_line(read_line(text))
    assert weighed.grams is not None and weighed.grams.low < weighed.grams.best < weighed.grams.high
    assert "default-weight" in codes(weighed)


def test_a_hundred_of_what_has_lost_its_unit_stays_open():
    """ "250 flour" may be grams or millilitres; nobody can say."""
    assert weigh_line(read_line("250 flour")).grams is None


@pytest.mark.parametrize("text", ["Dough:", "Optional:", "1 cheesecloth", "5 l glass jar", "I made this on a Sunday"])
def test_what_is_no_food_leaves_no_figure_open(text):
    """Headings, tools and remarks among the lines are no food that nobody weighed."""
    assert weigh_line(read_line(text)).names_no_food


@pytest.mark.parametrize("text", ["2 cups", "1 cup xyzzy", "foil-wrapped potatoes", "pan drippings", "jar of pesto"])
def test_an_amount_of_an_unknown_food_is_still_some_food(text):
    """What has an amount and no name, or a name that nobody knows, is not passed over."""
    assert not weigh_line(read_line(text)).names_no_food


@pytest.mark.parametrize("text", ["fillets", "2 long pieces", "good", "buffalo wings", "flower"])
def test_words_of_form_and_unsaid_makers_are_asked_about(text):
    """No silent food for a name that names none, or for a maker's product that the name does not ask for."""
    match = weigh_line(read_line(text)).match
    assert match is None or match.food is None or match.confidence <= SURE


def test_of_words_as_near_to_a_slip_the_commoner_is_meant():
    """ "Pototoes" are potatoes and no porotos."""
    assert weigh_line(read_line("2 sweet pototoes")).match.food == "11507"


@pytest.mark.parametrize(
    ("text", "food"),
    [
        ("2 l whey", "01112"), ("250 ml dried whey", "01115"), ("1 can corn, undrained", "11771"),
        ("1 orange, peel on, sliced", "09205"), ("1 orange", "09200"),
    ],
)  # fmt: skip
def test_how_a_food_is_used_chooses_its_entry(text, food):
    """Litres are of no powder, and what is used with its liquid or its peel has these (descriptions of SR28)."""
    assert weigh_line(read_line(text)).match.food == food


def test_garlic_chives_have_no_skin():
    """A herb that is named after a bulb is no bulb (SR28 11156 has no refuse)."""
    assert weigh_line(read_line("20 g garlic chives")).grams.best == 20.0
