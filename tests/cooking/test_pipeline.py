"""Parts, pieces, assembly, streams and servings: a whole recipe through the kitchen."""

from __future__ import annotations

import numpy as np
import pytest
from kitchen_help import Put, amount, imbalance, pot_of, streams, weighed

from labeler.cooking.pipeline import cook
from labeler.foods.model import Kept
from labeler.nutrition.totals import figures
from labeler.parsing.declared_servings import number_in, per_unit, read_servings
from labeler.parsing.model import Amount

CUCUMBER = [
    Put("water", "14411", 1500.0),
    Put("coarse salt", "02047", 60.0),
    Put("cucumbers, sliced 3 mm", "11205", 900.0),
    "soak 8 hours, then drain",
]


def test_adding_up():
    """Without handling a dish is the sum of its ingredients."""
    dish = cook(weighed({"": [Put("flour", "20081", 200.0), Put("sugar", "19335", 100.0)]}))
    whole = pot_of(("flour", "20081", 200.0), ("sugar", "19335", 100.0))[0]
    np.testing.assert_allclose(dish.mix.total, whole.total)
    assert float(dish.mix.total_mass[0]) == pytest.approx(300.0)


def test_a_food_that_nobody_found_is_missing_and_not_zero():
    """Its mass counts, and every sum that it could change is a lower bound; so is what an unweighed line brings."""
    dish = cook(weighed({"": [Put("flour", "20081", 200.0), Put("pixie dust", None, 5.0)]}))
    assert float(dish.mix.total_mass[0]) == pytest.approx(205.0)
    for figure in figures(dish.mix, 1.0).values():
        assert figure.missing > 0.0
        assert figure.lower_bound == (figure.missing > 0.01 * figure.best)
    dish = cook(weighed({"": [Put("flour", "20081", 200.0), Put("salt", "02047", None)]}))
    found = figures(dish.mix, 1.0)
    assert found["NA"].lower_bound and found["NA"].missing == float("inf")
    assert not found["FAT"].lower_bound and found["FAT"].missing == 0.0  # SR28 02047: salt has none


def test_one_box_is_made_as_often_as_the_head_says():
    """ "One box" of a recipe that makes 8 boxes is made 8 times, and what it leaves of a part is reported."""
    recipe = {
        "Cod cakes": [Put("cod", "15015", 1200.0), Put("potatoes", "11352", 800.0), "makes 30 cakes"],
        "Brined cucumber": CUCUMBER,
        "One box": [
            Put("3 pieces Cod cakes", part="Cod cakes", amount=Amount(3, 3, "piece")),
            Put("60 g Brined cucumber", part="Brined cucumber", amount=Amount(60, 60, "gram")),
            Put("lemon", "09150", 20.0),
        ],
    }
    dish = cook(weighed(recipe, head={"makes": "8 boxes"}))
    cakes, cucumber, box = dish.ledgers
    assert dish.served == ("One box",) and dish.servings.count == 8 and dish.servings.unit == "boxes"
    assert float(box.kept.total_mass[0]) == pytest.approx(3 * 2000.0 / 30 + 60.0 + 20.0)
    assert float(dish.mix.total_mass[0]) == pytest.approx(8 * (200.0 + 80.0))
    assert cakes.used == pytest.approx(0.8) and cakes.left_over == pytest.approx(400.0)
    assert cucumber.used == pytest.approx(480.0 / float(cucumber.kept.total_mass[0]))
    assert all(imbalance(ledger) < 1e-9 for ledger in dish.ledgers)


@pytest.mark.parametrize(
    ("words", "taken", "share"),
    [
        ("500 g Sauce", Amount(500, 500, "gram"), 0.5),
        ("all of the Sauce", None, 1.0),
        ("half of the Sauce", None, 0.5),
        ("a third of the Sauce", None, 1 / 3),
        ("25 % of the Sauce", None, 0.25),
        ("Sauce", None, 1.0),
        ("the rest of the Sauce", None, 1.0),
        ("1/2 Sauce", Amount(0.5, 0.5, None), 0.5),
        ("2 pieces Sauce", Amount(2, 2, "piece"), 0.5),
    ],
)
def test_a_line_takes_of_a_part_by_weight_share_or_piece(words, taken, share):
    """Every way of taking from a part takes what it says."""
    recipe = {
        "Sauce": [Put("water", "14411", 1000.0), "makes 4 pieces" if "pieces" in words else "mix well"],
        "Plate": [Put(words, part="Sauce", amount=taken)],
    }
    assert float(cook(weighed(recipe)).mix.total_mass[0]) == pytest.approx(1000.0 * share)


def test_a_line_takes_of_a_part_by_volume():
    """A cup of a part is a cup of it by its own density."""
    recipe = {
        "Syrup": [Put("sugar", "19335", 500.0), Put("water", "14411", 500.0)],
        "Plate": [Put("1 cup Syrup", part="Syrup", amount=Amount(1, 1, "cup"))],
    }
    # 50 % sucrose, 1.2296 g/mL at 20 °C (CRC Handbook); within one per cent.
    assert float(cook(weighed(recipe)).mix.total_mass[0]) == pytest.approx(236.59 * 1.2296, rel=0.01)


def test_pieces_of_a_part_that_says_no_number():
    """Taking pieces of a part that does not say how many it makes is a problem with what to type."""
    recipe = {
        "Cakes": [Put("cod", "15015", 100.0)],
        "Box": [Put("3 pieces", part="Cakes", amount=Amount(3, 3, "piece"))],
    }
    problem = cook(weighed(recipe)).problems[0]
    assert problem.code == "pieces-unknown" and "makes 12 pieces" in problem.message


@pytest.mark.parametrize(
    ("made", "unit", "taken"),
    [
        ("makes 4 jars", "jar", 0.5),
        ("makes 4 jars", None, 0.5),
        ("makes 4 cakes", "piece", 0.5),
        ("makes 4", "piece", 0.5),
        ("makes 4 jars", "piece", None),
        ("makes 4 jars", "slice", None),
        ("makes 4 slices", "jar", None),
        ("makes 4 jars", "batch", 2.0),
    ],
)
def test_pieces_are_of_the_kind_that_is_made(made, unit, taken):
    """Two jars of four are half of them; two pieces of four jars are not known, which is said with both nouns."""
    recipe = {
        "Relish": [Put("sugar", "19335", 400.0), made],
        "Plate": [Put("2 Relish", part="Relish", amount=Amount(2, 2, unit))],
    }
    dish = cook(weighed(recipe))
    problems = [problem for problem in dish.problems if problem.code == "pieces-unknown"]
    assert float(dish.mix.total_mass[0]) == pytest.approx(400.0 * (1.0 if taken is None else taken))
    assert bool(problems) == (taken is None)
    for problem in problems:
        assert f"{unit}s" in problem.message and made in problem.message


def test_more_than_was_made():
    """Taking more of a part than it makes is said, and counted as taken."""
    recipe = {
        "Sauce": [Put("water", "14411", 100.0)],
        "Plate": [Put("150 g Sauce", part="Sauce", amount=Amount(150, 150, "gram"))],
    }
    dish = cook(weighed(recipe))
    assert float(dish.mix.total_mass[0]) == pytest.approx(150.0)
    assert [problem.code for problem in dish.problems] == ["part-too-small"]


def test_parts_that_nobody_takes_are_served_together():
    """Two parts that stand beside each other are both in the dish; a part may stand below the one that takes it."""
    dish = cook(weighed({"Fish": [Put("cod", "15015", 100.0)], "Chips": [Put("potatoes", "11352", 200.0)]}))
    assert dish.served == ("Fish", "Chips") and float(dish.mix.total_mass[0]) == pytest.approx(300.0)
    upside_down = {"Plate": [Put("all", part="Sauce")], "Sauce": [Put("water", "14411", 100.0)]}
    assert float(cook(weighed(upside_down)).mix.total_mass[0]) == pytest.approx(100.0)


def test_parts_in_a_circle_are_a_problem():
    """Two parts that take from each other are reported and do not hang."""
    circle = {
        "A": [Put("all of B", part="B"), Put("water", "14411", 10.0)],
        "B": [Put("all of A", part="A"), Put("water", "14411", 10.0)],
    }
    assert "part-in-circle" in [problem.code for problem in cook(weighed(circle)).problems]


def test_a_brine_that_is_kept_is_used_again():
    """The liquid kept as brine goes into the dressing in the amount that is asked for, and the rest is poured off."""
    recipe = {
        "Dressing": [
            Put("pickling brine", kept=Kept("pickling brine", "Cucumber"), amount=Amount(100, 100, "gram")),
            Put("oil", "04053", 50.0),
        ],
        "Cucumber": [*CUCUMBER, "keep the liquid as pickling brine"],
    }
    dish = cook(weighed(recipe))
    poured = streams(dish, 1)["poured off"]
    assert poured.name == "pickling brine"
    assert poured.reused == pytest.approx(100.0 / poured.grams.best)
    dressing = dish.ledgers[0].kept
    assert float(dressing.total_mass[0]) == pytest.approx(150.0)
    oil = amount(pot_of(("oil", "04053", 50.0))[0], "NA")
    assert amount(dressing, "NA") - oil == pytest.approx(poured.amount("NA").best * poured.reused)


def test_cooking_water_that_is_kept():
    """A cup of the cooking water is kept for the sauce, the rest is poured off."""
    recipe = {
        "Pasta": [Put("spaghetti", "20120", 500.0), Put("water", "14411", 4000.0), "boil 10 minutes",
                  "keep 1 cup of the cooking water for the sauce, drain"],
        "Sauce": [Put("butter", "01145", 50.0)],
    }  # fmt: skip
    dish = cook(weighed(recipe))
    sauce = dish.ledgers[1]
    arrived = next(entry for entry in sauce.added if entry.name == "cooking water")
    assert arrived.grams.best == pytest.approx(236.6, rel=0.02)
    assert all(imbalance(ledger) < 1e-9 for ledger in dish.ledgers)


def test_a_weight_after_draining_settles_what_was_taken_up():
    """What brined food weighs more is brine, and comes off what was poured away."""
    rows = [*CUCUMBER[:-1], "soak 8 hours", "drain"]
    without = cook(weighed({"Cucumber": rows}))
    heavy = cook(weighed({"Cucumber": [*rows, "weighs 1000 g"]}))
    assert float(heavy.mix.total_mass[0]) == pytest.approx(1000.0)
    assert amount(heavy.mix, "NA") > amount(without.mix, "NA")
    assert imbalance(heavy.ledgers[0]) < 1e-9
    left = cook(weighed({"Cucumber": [*rows, "1400 g of brine is left"]}))
    assert streams(left)["poured off"].grams.best == pytest.approx(1400.0)


def test_an_unread_sentence_is_a_problem_and_changes_nothing():
    """Handling that is not understood is kept, reported with the nearest form, and has no effect."""
    dish = cook(weighed({"": [Put("flour", "20081", 200.0), "zonk the fleem"]}))
    (problem,) = dish.problems
    assert problem.code == "handling-not-read" and "zonk the fleem" in problem.message
    assert float(dish.mix.total_mass[0]) == pytest.approx(200.0)


def test_a_time_that_is_not_said_is_assumed_aloud():
    """Marinating without a time is a problem with the default and what to type."""
    dish = cook(weighed({"": [*CUCUMBER[:-1], "marinate, then drain"]}))
    assert [problem.code for problem in dish.problems] == ["time-assumed"]


def test_the_same_recipe_and_seed_give_the_same_figures():
    """Draws are settled by the seed; the best estimate does not depend on them."""
    recipe = weighed({"Cucumber": [*CUCUMBER[:2], Put("cucumbers, sliced 3 mm", "11205", 900.0, 0.1), CUCUMBER[3]]})
    one, two, other = cook(recipe, draws=50), cook(recipe, draws=50), cook(recipe, draws=50, seed=1)
    np.testing.assert_array_equal(one.spread.held, two.spread.held)
    assert not np.array_equal(one.spread.held, other.spread.held)
    np.testing.assert_allclose(one.mix.total, cook(recipe).mix.total)


def test_draws_follow_the_interval():
    """The bounds of a line's grams are percentiles of its draws, and lines on different foods err by themselves."""
    rows = [Put("flour", "20081", 200.0, 0.1), Put("flour", "20081", 300.0, 0.1), Put("sugar", "19335", 100.0, 0.1)]
    spread = cook(weighed({"": rows}), draws=2000).spread
    np.testing.assert_allclose(np.percentile(spread.mass[:, 2], [2.5, 50, 97.5]), [90, 100, 110], rtol=0.01)
    assert np.corrcoef(spread.mass.T)[0, 2] == pytest.approx(0.0, abs=0.1)


def test_the_water_of_a_boil_is_in_the_account():
    """Water that no line lists is added and poured off, and the ledger says so."""
    dish = cook(weighed({"Potatoes": [Put("potatoes", "11352", 1000.0), "boil in salted water 20 minutes, drain"]}))
    (ledger,) = dish.ledgers
    assert any(entry.name == "water in the pot, not listed" for entry in ledger.added)
    assert imbalance(ledger) < 1e-9
    assert amount(dish.mix, "NA") > 5.0 * amount(pot_of(("potatoes", "11352", 1000.0))[0], "NA")


@pytest.mark.parametrize(
    ("head", "count", "unit"),
    [
        ({"serves": 4}, 4, ""),
        ({"makes": "8 boxes"}, 8, "boxes"),
        ({"makes": "about 2 dozen biscuits"}, 24, "biscuits"),
        ({"serves": "4-6"}, 5, ""),
        ({"makes": "8 boxes", "serves": "8 people"}, 8, ""),
    ],
)
def test_servings_from_the_head(head, count, unit):
    """The head's numbers, ranges and dozens are read."""
    found = read_servings(head)
    assert (found.count, found.unit) == (pytest.approx(count), unit)


def test_heads_without_a_number():
    """No number, no servings; zero is none, and neither is what the batch measures."""
    assert (
        read_servings({}) is None
        and read_servings({"makes": "plenty"}) is None
        and read_servings({"serves": 0}) is None
    )
    assert number_in("half") is None


def test_parts_of_one():
    """ "One box" is for each box, and "One-pot stew" is not."""
    head = {"makes": "8 boxes"}
    assert per_unit("One box", read_servings(head), head) == 8
    assert per_unit("Each box", read_servings(head), head) == 8
    assert per_unit("One tray", read_servings(head), head) == 1
    assert per_unit("Sauce", read_servings(head), head) == 1
    assert per_unit("One portion", read_servings({"serves": 4}), {"serves": 4}) == 4


def test_an_empty_recipe():
    """A recipe without lines is an empty dish and no error."""
    dish = cook(weighed({"": []}), draws=3)
    assert float(dish.mix.total_mass[0]) == 0.0
    assert cook(weighed({})).mix.items == ()
