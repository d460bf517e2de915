"""Serving statements, worked from the paragraphs beside each."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.rules.household_measures import mixed, nearest_measure
from labeler.rules.market import load_market
from labeler.rules.reference_amounts import named_reference, propose_reference
from labeler.rules.serving import SURE, serving_size
from labeler.types import LabelerError

HOUSEHOLD = load_market("us").rule("serving", "household")


def test_all_142_reference_amounts_load() -> None:
    rows = [rule for rule in load_market("us").rules("serving").values() if rule.kind == "reference amounts"]
    assert len(rows) == 142
    assert sum(rule.status == "memory" for rule in rows) == 27
    without = {rule.data["id"] for rule in rows if rule.data["amount"] is None}
    # 21 CFR 101.12(b): these are set in words ("amount to make ...").
    assert len(without) == 7
    assert all(rule.data["note"] for rule in rows if rule.data["amount"] is None)
    assert all(rule.data["words"] and rule.data["measures"] for rule in rows)


def test_a_relish_in_a_jar() -> None:
    # 101.12(b): pickle relishes 15 g, by the tablespoon. At 1.02 g/mL 15 g is 14.7 mL: nearest measure 1 tbsp (15 mL,
    # 101.9(b)(5)), which is 15.3 g -> 15 g (101.9(b)(7)). 340 g / 15 g = 22.7 -> "about 23" (101.9(b)(8)). The jar is
    # 2267 % of the reference amount: one column.
    serving = serving_size(category="relishes", density=1.02, package_g=340)
    assert serving.statement == "1 tbsp (15 g)"
    assert serving.servings == "about 23"
    assert serving.columns == ("per serving",)
    assert serving.grams == 15


def test_a_sandwich_sold_by_itself() -> None:
    # 101.12(b): all types of sandwiches 140 g. 185 g is 132 % of it; below 200 % the package is one serving
    # (101.9(b)(6)), and the number of servings need not be said.
    serving = serving_size(title="Crab sandwich", unit_g=185, unit="sandwich", package_g=185)
    assert serving.statement == "1 sandwich (185 g)"
    assert serving.servings == ""
    assert serving.reference is not None and serving.reference.id == "ra.mixed-dishes-piece"


def test_a_large_sandwich_needs_a_second_column() -> None:
    # 300 g is 214 % of 140 g: two columns (101.9(b)(12)(i)); the serving is the half nearest to 140 g.
    serving = serving_size(category="sandwich", unit_g=300, unit="sandwich", package_g=300)
    assert serving.statement == "1/2 sandwich (150 g)"
    assert serving.servings == "2"
    assert serving.columns == ("per serving", "per container")


def test_a_sandwich_with_sauce_topping_has_55_g_more() -> None:
    # 140 + 55 = 195 g; 390 g is exactly 200 %: no longer one serving.
    assert serving_size(category="sandwich", unit_g=389, package_g=389, topping=True).columns == ("per serving",)
    assert "per container" in serving_size(category="sandwich", unit_g=390, package_g=390, topping=True).columns


def test_a_soup() -> None:
    # 101.12(b): soups 245 g, by the cup. At 1.02 g/mL that is 240.2 mL: 1 cup of 240 mL = 244.8 g -> 245 g.
    # A tub of 490 g is 200 %: two columns; 490/245 = 2 servings, exact.
    serving = serving_size(title="Leek and potato soup", density=1.02, package_g=490)
    assert serving.statement == "1 cup (245 g)"
    assert serving.servings == "2"
    assert serving.columns == ("per serving", "per container")
    # As a fluid it is stated in mL.
    assert serving_size(title="Clear soup", density=1.02, liquid=True).statement == "1 cup (240 mL)"


@pytest.mark.parametrize(
    ("grams", "statement"),
    [
        # 101.12(b): cookies 30 g. 14 g is 47 % (to 50 %: the whole units nearest, 2 = 28 g beats 3 = 42 g).
        (14, "2 cookies (28 g)"),
        # 10 g is 33 %: exactly 3.
        (10, "3 cookies (30 g)"),
        # 12 g is 40 %: 2 = 24 g and 3 = 36 g are equally near; half-way goes up.
        (12, "3 cookies (36 g)"),
        # 18 g is 60 % (above 50, below 67 %): one or two; two is nearer to 30 g.
        (18, "2 cookies (36 g)"),
        # 20.1 g is 67 %, 59 g 197 %: one.
        (20.1, "1 cookie (20 g)"),
        (59, "1 cookie (59 g)"),
        # 75 g is 250 %: the fraction nearest to 30 g: 1/2 = 37.5 and 1/3 = 25: 1/3 is nearer by 5 to 7.5.
        (75, "1/3 cookie (25 g)"),
    ],
)
def test_cookies_by_the_weight_of_one(grams: float, statement: str) -> None:
    assert serving_size(category="cookies", unit_g=grams, unit="cookie").statement == statement


def test_one_or_two_units_are_left_to_the_seller() -> None:
    serving = serving_size(category="cookies", unit_g=18, unit="cookie")
    assert "serving-of-one-or-two" in {problem.code for problem in serving.problems}


def test_a_mussel_salad() -> None:
    # 101.12(b): all other salads 100 g, by the cup. At 0.62 g/mL 100 g is 161.3 mL. Cups go by quarters and thirds
    # (101.9(b)(5)): 2/3 cup = 160 mL = 99.2 g is nearest -> 99 g. 350/99 = 3.54 -> between 2 and 5 the nearest half.
    serving = serving_size(title="Mussel salad with lemon", loose_density=0.62, package_g=350)
    assert serving.statement == "2/3 cup (99 g)"
    assert serving.servings == "about 3.5"


def test_a_pie_is_cut_into_the_fraction_nearest() -> None:
    # 101.12(b): pies 125 g; 101.9(b)(2)(ii): of 1000 g an eighth is 125 g.
    assert serving_size(category="pies", unit_g=1000, unit="pie", shared=True).statement == "1/8 pie (125 g)"


def test_pickles_go_by_the_ounce_of_28_g_and_ask_for_a_picture() -> None:
    # 101.12(b): pickles 30 g, drained solids, "1 oz (28 g/visual unit of measure)"; 30/28 -> nearest half ounce 1.
    serving = serving_size(title="Dill pickles", package_g=280)
    assert serving.statement == "1 oz (28 g)"
    assert serving.servings == "10"
    assert "ounces-need-a-picture" in {problem.code for problem in serving.problems}


def test_a_sauce_whose_amount_is_in_tablespoons() -> None:
    # 101.12(b): dips 2 tbsp = 30 mL; at 1.05 g/mL 31.5 g -> half-way up 32 g.
    assert serving_size(title="Tomato salsa", density=1.05).statement == "2 tbsp (32 g)"
    # Without a density the measure stands, and the weight is asked for.
    serving = serving_size(title="Tomato salsa")
    assert serving.statement == "2 tbsp"
    assert serving.grams is None
    assert "no-weight-of-measure" in {problem.code for problem in serving.problems}


def test_a_single_serving_package_of_many_pieces_is_one_container() -> None:
    # 50 g of cookies are 167 % of 30 g: one serving.
    assert serving_size(category="cookies", unit_g=10, unit="cookie", package_g=50).statement == "1 container (50 g)"


def test_the_metric_amount_is_rounded_by_its_bands() -> None:
    # 101.9(b)(7): below 2 g nearest 0.1, below 5 g nearest 0.5, else nearest 1.
    assert serving_size(category="salt", loose_density=1.2).statement == "1/4 tsp (1.5 g)"
    assert serving_size(category="seasoning paste", density=0.93).statement == "1 tsp (4.5 g)"


def test_a_mix_is_served_by_what_it_makes() -> None:
    # 101.12(b), "amount to make 240 mL drink": of 480 mL that make 2400 mL, 48 mL; nearest measure 3 tbsp (45 mL).
    serving = serving_size(category="drink-concentrates", density=1.2, package_g=576, liquid=True, ready_ml=2400)
    assert serving.statement == "3 tbsp (45 mL)"
    assert serving.servings == "about 11"


def test_a_loaf_is_served_in_ounces_with_what_they_look_like() -> None:
    # 101.12(b), table 2, bread: "2 oz (56 g/ inch slice) for bulk products (e.g., unsliced bread)".
    serving = serving_size(category="breads", unit="loaf", unit_g=800, package_g=800, visual="1 inch slice")
    assert serving.statement == "2 oz (56 g/1 inch slice)"
    assert serving.servings == "about 14"
    assert serving.problems == ()


def test_a_food_in_grains_is_measured_with_the_air_between_them() -> None:
    # 101.12(b): cereal of 43 g or more a cup, 60 g; at 0.5 g/mL 120 mL is 1/2 cup. Without that weight it is asked for.
    assert serving_size(category="cereal-heavy", density=1.3, loose_density=0.5).statement == "1/2 cup (60 g)"
    assert "no-household-measure" in {one.code for one in serving_size(category="cereal-heavy", density=1.3).problems}


def test_a_piece_of_twice_the_amount_has_a_column_of_its_own() -> None:
    # 101.9(b)(2)(i)(D): from 200 % to 300 % of the reference amount a second column per unit.
    serving = serving_size(category="cookies", unit="cookie", unit_g=75, package_g=300)
    assert serving.columns == ("per serving", "per unit")
    assert (serving.unit_noun, serving.unit_g) == ("cookie", 75)


def test_a_pack_never_holds_no_serving() -> None:
    # A portion that is more than the pack is the pack.
    serving = serving_size(market="ca", portion_g=500, package_g=200, pack="jar")
    assert (serving.statement, serving.servings) == ("1 jar (200 g)", "")


def test_amounts_in_words_are_left_to_hand() -> None:
    serving = serving_size(category="soup-mixes", portion_g=20)
    assert "reference-amount-in-words" in {problem.code for problem in serving.problems}
    assert serving.statement == "20 g"


def test_markets_without_reference_amounts_take_the_cooks_portion() -> None:
    eu = serving_size(market="eu", portion_g=60, package_g=340)
    assert (eu.statement, eu.servings) == ("60 g", "about 6")
    # Canada, B.01.401, item 1: below 10 g the nearest 0.1 g.
    assert serving_size(market="ca", portion_g=7.26).statement == "7.3 g"
    assert serving_size(market="ca", unit_g=60, unit="bar", package_g=60).statement == "1 bar (60 g)"
    nothing = serving_size(market="jp")
    assert nothing.statement == "not known"
    assert nothing.problems[0].code == "no-serving"


@pytest.mark.parametrize(
    ("title", "reference"),
    [
        ("Beetroot and apple relish", "relishes"),
        ("Cod and crab cakes with brined cucumber", "fish-plain"),
        ("Lobster rolls", "mixed-dishes-piece"),
        ("Ham and cheese sandwiches", "mixed-dishes-piece"),
        ("Chicken noodle soup", "soups"),
        ("Oatmeal cookies", "cookies"),
        ("Mussel salad", "salads"),
        ("Potato salad with dill", "salad-pasta"),
        ("Smoky hot sauce", "condiments-minor"),
        ("Strawberry jam", "jams"),
        ("Sourdough bread", "breads"),
        ("Banana bread", "coffee-cakes"),
        ("Bread and butter pickles", "pickles"),
        ("Smoked mackerel pâté", "fish-smoked"),
        ("Blueberry muffins", "bagels-muffins"),
        ("Fish soup with croutons", "soups"),
    ],
)
def test_a_title_proposes_its_reference_amount(title: str, reference: str) -> None:
    best = propose_reference(title)[0]
    assert best.rule.data["id"] == reference
    assert 0.5 < best.confidence < 1
    assert best.reason


def test_foods_propose_where_the_title_says_nothing_and_with_less_confidence() -> None:
    best = propose_reference("Sunday special", ["sliced bread", "crab meat", "mayonnaise"])[0]
    assert best.rule.data["id"] == "mixed-dishes-piece"
    assert best.confidence <= 0.5
    assert propose_reference("Sunday special", ["xyzzy"]) == ()


def test_a_proposal_is_a_problem_that_names_how_to_settle_it() -> None:
    serving = serving_size(title="Green sauce", density=0.95)
    assert serving.confidence < SURE
    assert "kind: sauces-minor" in serving.problems[0].message
    assert serving_size(category="sauces-minor", density=0.95).confidence == 1


def test_a_surely_named_food_is_not_asked_about() -> None:
    serving = serving_size(title="Mussel salad", loose_density=0.62)
    assert SURE <= serving.confidence < 1
    assert serving.problems == ()


def test_a_reference_amount_that_there_is_not_is_refused_with_the_nearest() -> None:
    with pytest.raises(LabelerError, match="did you mean 'relishes'"):
        named_reference("relihses")
    with pytest.raises(LabelerError, match="no reference amount"):
        named_reference("relishes", "eu")
    # A market without reference amounts takes the cook's portion, whatever kind the head names for another market.
    assert serving_size(market="eu", category="relishes", portion_g=20).amount == 20


@pytest.mark.parametrize("name", ["package_g", "unit_g", "portion_g", "density"])
def test_weights_are_above_zero(name: str) -> None:
    with pytest.raises(ValueError, match=name):
        serving_size(**{name: 0.0})  # type: ignore[arg-type]


def test_half_way_between_two_measures_goes_up() -> None:
    # 101.9(b)(5): 2.5 tbsp (37.5 mL) is 3 tbsp.
    assert nearest_measure(HOUSEHOLD, Fraction(75, 2)).words == "3 tbsp"
    assert nearest_measure(HOUSEHOLD, Fraction(25, 4)).words == "1 tsp"


@given(st.fractions(Fraction(1, 2), 900))
@settings(deadline=None, max_examples=200)
def test_a_household_measure_is_one_that_the_paragraph_allows(millilitres: Fraction) -> None:
    measure = nearest_measure(HOUSEHOLD, millilitres)
    if measure.unit == "cup":
        assert measure.amount >= Fraction(1, 4)
        assert (measure.amount * 4).denominator == 1 or (measure.amount * 3).denominator == 1
    elif measure.unit == "tbsp":
        allowed = {Fraction(1), Fraction(4, 3), Fraction(3, 2), Fraction(5, 3), Fraction(2), Fraction(3)}
        assert measure.amount in allowed
    else:
        assert measure.amount in {Fraction(1), Fraction(2)} or (
            measure.amount < 1 and (measure.amount * 4).denominator == 1
        )


@given(st.floats(5, 2000), st.floats(0.2, 1.5))
@settings(deadline=None, max_examples=100)
def test_the_serving_is_never_far_from_the_reference_amount(package: float, density: float) -> None:
    serving = serving_size(category="salads", loose_density=density, package_g=package)
    assert serving.grams is not None
    if package >= 200:
        assert 100 / 1.5 < serving.grams < 150
    else:
        assert serving.grams == pytest.approx(package, abs=0.51)


def test_numbers_and_nouns_are_written_as_labels_write_them() -> None:
    assert [mixed(Fraction(n, 6)) for n in (3, 6, 10, 12)] == ["1/2", "1", "1 2/3", "2"]
