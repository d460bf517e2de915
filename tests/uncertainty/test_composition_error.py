"""What foods vary by: the built tables, the balance of mass, and what a dish makes of it."""

import csv

import numpy as np
import pytest

from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.mixture import KEYS, Item, column
from labeler.foods.composition.food_table import TABLE_FILE, FoodTable
from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe
from labeler.uncertainty.composition_error import MACROS, SPREAD_FILE, food_spread, spread_reason
from labeler.uncertainty.mixture_spread import composition_normals, mix_spread

TABLE = FoodTable(TABLE_FILE)
SD = np.load(SPREAD_FILE)


def mix(*foods, grams=100.0):
    items = [Item("", at, food, food) for at, food in enumerate(foods)]
    return mix_of_foods(items, np.full((1, len(foods)), grams))


def test_the_built_deviations_are_of_every_food_and_nutrient():
    """8,789 foods of SR28 by the nutrients of the kitchen; all finite; energy has none of its own; missing has none."""
    assert SD.shape == (len(TABLE), len(KEYS)) == (8789, 69)
    assert np.isfinite(SD).all() and (SD >= 0).all()
    assert not SD[:, column("ENERC_KCAL")].any()
    for key in ("NA", "FAT", "FATRN"):
        missing = np.isnan(TABLE.values[:, TABLE.column[key]])
        assert not SD[missing, column(key)].any() and (SD[~missing, column(key)] >= 0).all()


def test_the_pooled_coefficients_are_by_kind_nutrient_and_group():
    """Three kinds; each coefficient between 0.5 and 150 %; every food group has one of protein, fat and sodium."""
    with SPREAD_FILE.with_suffix(".csv").open(encoding="utf-8") as stream:
        rows = list(csv.DictReader(line for line in stream if not line.startswith("#")))
    groups = [name for name in rows[0] if name.isdigit()]
    assert set(map(int, groups)) == set(map(int, np.unique(TABLE.group_codes)))
    assert {row["kind"] for row in rows} == {"sample", "product", "similar"}
    found = {(row["key"], row["kind"]): row for row in rows}
    assert len(found) == len(rows)
    for row in rows:
        assert row["key"] in KEYS and 0.005 <= float(row["all"]) <= 1.5
        assert all(0.005 <= float(row[group]) <= 1.5 for group in groups if row[group])
        assert 0.5 <= float(row["power"]) <= 1.0
    for key in ("PROCNT", "FAT", "NA"):
        assert all(found[key, "sample"][group] for group in groups)


def test_a_food_with_many_samples_has_their_deviation():
    """Chicken with skin, raw (05006): fat 82 samples, SE 0.272 g (SR28), so SD 2.46 g; within 10 % of it."""
    sd = food_spread("05006").sd[column("FAT")] * 100
    assert sd == pytest.approx(0.272 * np.sqrt(82), rel=0.1)
    assert "82 samples" in spread_reason("05006", "FAT")


def test_a_made_up_food_of_a_maker_varies_more_than_its_samples():
    """Another maker's product may stand in its place: sodium of one maker's soup beside that of plain milk."""
    soup = next(
        food for food, text in zip(TABLE.ids, TABLE.descriptions, strict=True) if text.startswith("CAMPBELL'S, C")
    )
    assert food_spread(soup).cv[column("NA")] > 2 * food_spread("01077").cv[column("NA")]
    assert "products of one description" in spread_reason(soup, "NA")


def test_an_imputed_value_is_wider_than_a_sampled_one_of_its_group():
    """The median coefficient of imputed sodium in vegetables is larger than that of sampled sodium."""
    at, place = TABLE.column["NA"], column("NA")
    values = TABLE.values[:, at]
    group = (TABLE.group_codes == 1100) & (values > 20)
    sampled = group & (TABLE.samples[:, at] >= 6) & (TABLE.standard_errors[:, at] > 0)
    imputed = group & (TABLE.status[:, at] == 4)
    assert np.median(SD[imputed, place] / values[imputed]) > np.median(SD[sampled, place] / values[sampled])


@pytest.mark.parametrize(("food", "key"), [("19335", "SUGAR"), ("04053", "FAT"), ("02047", "NA")])
def test_what_fills_a_food_hardly_varies(food, key):
    """Sugar is all sugar, oil all fat, salt all salt: under 1 %."""
    assert food_spread(food).cv[column(key)] < 0.01


@pytest.mark.parametrize("food", ["01077", "18069", "05006", "15015", "20081"])
def test_what_one_proximate_gains_the_others_lose(food):
    """Fat up means carbohydrate and water down, so energy varies less than if its macros were independent."""
    spread = food_spread(food)
    drivers, fat, carbohydrate = spread.drivers, MACROS.index("FAT"), MACROS.index("CHOCDF")
    assert (drivers[:4, carbohydrate] <= 0).all() and drivers[1, fat] > 0
    own = np.linalg.norm(drivers, axis=0)
    independent = np.linalg.norm(own * spread.factors)
    assert spread.sd[column("ENERC_KCAL")] <= independent * (1 + 1e-9)
    if TABLE.value(food, "CHOCDF") > 1:
        assert spread.sd[column("ENERC_KCAL")] < independent


def test_the_same_food_twice_varies_as_one_and_two_foods_as_two():
    """Deviations of one food add, those of two foods add in squares."""
    once, twice = mix_spread(mix("01009")).sd, mix_spread(mix("01009", "01009")).sd
    assert twice == pytest.approx(2 * once)
    other, both = mix_spread(mix("18069")).sd, mix_spread(mix("01009", "18069")).sd
    assert both == pytest.approx(np.hypot(once, other))


def test_a_food_on_three_lines_has_the_interval_of_one_line():
    """300 g of one pinned food, on one line or on three: the same interval of what composition does."""
    one = analyse(read_recipe("---\nserves: 1\n---\n- 300 g cheese {food 01009, 300 g}\n"))
    three = analyse(read_recipe("---\nserves: 1\n---\n" + "- 100 g cheese {food 01009, 100 g}\n" * 3))
    for key in ("FAT", "NA", "CA", "ENERC_KCAL"):
        a, b = one.batch[key], three.batch[key]
        assert b.high - b.low == pytest.approx(a.high - a.low, rel=0.03)


def test_drawn_deviations_have_the_variance_and_the_ties_that_they_should():
    """Standard deviations within 3 %; energy goes with fat as the balance of mass has it; nothing below nothing."""
    spread = mix_spread(mix("05006", "18069"))
    _, deviations = composition_normals(spread, np.arange(2000), of=2000, rows=range(len(KEYS)))
    some = [column(key) for key in ("PROCNT", "FAT", "CHOCDF", "ENERC_KCAL", "NA", "K")]
    assert deviations[some].std(axis=1) == pytest.approx(spread.sd[some], rel=0.05)
    drawn = np.corrcoef(deviations[column("FAT")], deviations[column("ENERC_KCAL")])[0, 1]
    assert drawn == pytest.approx((spread.tie @ spread.tie.T)[1, 4], abs=0.05)
    assert drawn > 0.3


def test_own_samples_of_nothing_do_not_move_the_best_estimate():
    """Intervals hold the best estimate, which is the table's value."""
    found = analyse(read_recipe("---\nserves: 1\n---\n- 100 g soup {food 06338, 100 g}\n"))
    for key, figure in found.batch.items():
        assert figure.low <= figure.best <= figure.high, key
    assert found.batch["NA"].best == pytest.approx(TABLE.value("06338", "NA"))


def test_no_part_of_flesh_varies_more_than_the_others_together():
    """Water, protein, fat and ash of meat make 100 g in every sample, so shank's protein is 22 g within 6, not 20."""
    row = TABLE.position["13227"]
    deviations = np.load(SPREAD_FILE)[row].astype(float)
    water, protein, fat, ash = (deviations[KEYS.index(key)] for key in ("WATER", "PROCNT", "FAT", "ASH"))
    assert protein <= (water + fat + ash) * 1.01 and protein < 3.5
