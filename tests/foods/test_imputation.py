"""Imputed values fill what labels declare and never worsen what the table knows."""

import numpy as np
import pytest

from labeler.foods.composition.bounds import missing_bound, unknown_bound, unknown_kind
from labeler.foods.composition.food_table import load_table
from labeler.foods.composition.imputation import (
    IMPUTED_FILE,
    ImputationMethod,
    base_table,
    imputed_values,
    todays_values,
    trans_law,
)
from labeler.foods.composition.values import food_values, imputed_value
from labeler.nutrition.analysis import analyse
from labeler.parsing.document import read_recipe
from labeler.rules.declaration import bounded, declare
from labeler.types import LabelerError, Status

TABLE = base_table()
MARKETS = ("us", "eu", "uk", "ca", "anz", "codex", "jp")
VALUES, COLUMN = TABLE.values, TABLE.column
EVERY = [(food, key, one) for food in TABLE.ids for key, one in imputed_values(food).items()]
# What SR28 itself leaves between parts and their whole by rounding [g/100 g].
TOLERANCE = 0.02


def test_only_what_the_table_lacks_is_imputed():
    """A value of the table is never written over by an imputed one."""
    assert EVERY
    for food, key, _ in EVERY:
        assert np.isnan(TABLE.value(food, key))
        assert imputed_value(food, key) is not None


def test_intervals_hold_their_best_and_nothing_is_negative():
    """0 <= low <= best <= high for every imputed value."""
    for _, _, one in EVERY:
        assert 0.0 <= one.low <= one.best <= one.high


def test_every_value_that_is_lent_names_its_donors():
    """A zero needs none; every other value has up to three, which have the value themselves and are not the food."""
    for food, key, one in EVERY:
        assert bool(one.donors) == (one.method is not ImputationMethod.LOGICAL_ZERO)
        assert food not in one.donors
        assert all(np.isfinite(TABLE.value(donor, key)) for donor in one.donors)


@pytest.mark.parametrize(("parts", "whole"), [(("FASAT", "FAMS", "FAPU"), ("FAT",)), (("SUGAR", "FIBTG"), ("CHOCDF",))])
def test_imputed_parts_are_no_more_than_their_whole(parts, whole):
    """Nor may they add to what the table's own parts have over it already (37 rows of SR28 have more sugars)."""
    for food in {food for food, key, _ in EVERY if key in parts}:
        known = sum(np.nan_to_num(TABLE.value(food, key)) for key in parts)
        imputed = sum(one.best for key, one in imputed_values(food).items() if key in parts)
        limit = sum(TABLE.value(food, key) for key in whole)
        assert imputed <= max(limit - known, 0.0) + TOLERANCE


def test_trans_fat_is_part_of_the_unsaturated_fat():
    """Totals of mono- and polyunsaturated fatty acids hold the trans ones."""
    for food, key, one in EVERY:
        if key == "FATRN":
            unsaturated = [food_values(food).best[COLUMN[part]] for part in ("FAMS", "FAPU")]
            assert one.best <= TABLE.value(food, "FAT") + TOLERANCE
            if np.isfinite(unsaturated).all():
                assert one.best <= sum(unsaturated) + TOLERANCE


def test_energy_and_what_it_is_made_of_are_never_imputed():
    """Energy, water and the proximates are the table's own or nobody's; of alcohol only its absence is told."""
    keys = {key for _, key, one in EVERY if (key, one.method) != ("ALC", ImputationMethod.LOGICAL_ZERO)}
    assert keys.isdisjoint({"ENERC_KCAL", "ENERC_KJ", "PROCNT", "FAT", "CHOCDF", "WATER", "ASH", "ALC"})


def test_vitamin_d_of_fish_eggs_and_mushrooms_is_never_taken_for_nothing():
    """Fish, eggs, milk and mushrooms have some; a zero there would be no logical one."""
    for food, key, one in EVERY:
        if key == "VITD" and one.method is ImputationMethod.LOGICAL_ZERO:
            described = TABLE.describe(food).lower()
            assert not any(word in described for word in ("mushroom", "salmon", "egg,", "milk, whole"))


def test_the_file_has_its_shape():
    """Made by reference/build_imputation.py; the counts hold until it is made again."""
    with np.load(IMPUTED_FILE, allow_pickle=False) as archive:
        assert len(archive["food"]) == len(archive["key"]) == len(archive["amounts"]) == len(EVERY)
        assert archive["amounts"].shape[1] == archive["donors"].shape[1] == 3
        assert set(archive["method"].tolist()) <= {1, 2, 3, 4}
        assert len(archive["hydrogenated"]) == len(archive["hydrogenated_whole"]) > 100


def test_shortening_of_today_is_not_that_of_2015():
    """04615, household shortening: 13.2 g trans in SR28, under 2 % of the fat by law now."""
    assert TABLE.value("04615", "FATRN") > 10
    today = todays_values("04615", "us")["FATRN"]
    assert today.best <= today.high <= 2.0 + 1e-9 and today.method is ImputationMethod.LAW
    assert food_values("04615", "eu").best[COLUMN["FATRN"]] <= 2.0
    assert food_values("04615").best[COLUMN["FATRN"]] == TABLE.value("04615", "FATRN")


def test_butter_and_beef_keep_their_own_trans_fat():
    """Ruminant fat is lawful everywhere; butter holds 3.3 g in SR28."""
    for food in ("01001", "23572", "01009"):
        assert not todays_values(food, "us")


def test_every_market_has_its_law_and_another_is_refused():
    """Seven markets, each with a share of the fat; an unknown one says what to write."""
    for market in MARKETS:
        law = trans_law(market)
        assert 0 <= law.low <= law.best <= law.high <= 0.06 and law.basis
    with pytest.raises(LabelerError, match="atlantis"):
        trans_law("atlantis")


def test_a_pie_of_shortening_does_not_print_the_trans_fat_of_2015():
    """Flour, shortening and apples: 3.3 g trans a slice by the table of 2015, 0 or half a gram today."""
    lines = "- 320 g {food 20081} flour\n- 200 g {food 04615} shortening\n- 800 g apples\n"
    text = f"---\ntitle: Pie\nserves: 8\n---\n{lines}"
    declared = declare(analyse(read_recipe(text), draws=0).per_serving, market="us")
    assert declared["trans_fat"].text in ("0 g", "0.5 g")


def test_trans_fat_that_is_missing_is_bounded_by_a_share_of_the_fat():
    """6 % of ruminant fat, 2 % of other, 35 % of what may be hydrogenated; nothing where there is no fat."""
    for row, food in enumerate(TABLE.ids[:3000]):
        assert missing_bound(food, "FATRN") <= 0.35 * TABLE.values[row, COLUMN["FAT"]] + 1e-9


@pytest.mark.parametrize(
    ("name", "kind"),
    [("blorpo spice", "spice"), ("zanzi colouring", "colour"), ("grumel salt", "salt"), ("plonk", "")],
)
def test_an_unknown_ingredient_is_bounded_by_its_kind(name, kind):
    """A spice has no more salt than spices, a name that says nothing may be the richest food that there is."""
    assert unknown_kind(name) == kind
    bound = unknown_bound(kind)
    assert (bound >= 0).all() and (bound <= unknown_bound("") + 1e-12).all()


def test_a_teaspoon_of_an_unknown_spice_spoils_no_figure():
    """It is counted as a usual spice, and the cook is asked what it is; every figure of the panel is printed."""
    text = "---\ntitle: Stew\nserves: 4\n---\n- 800 g {food 11529} tomatoes\n- 1 teaspoon qzxvium spice\n"
    found = analyse(read_recipe(text), draws=0)
    assert all(line.known for line in declare(found.per_serving, market="us").mandatory)
    assert any(problem.code == "weak-match" for problem in found.problems)


def test_what_is_missing_and_changes_no_print_is_bounded():
    """A tenth of a gram of something unknown in 4 servings: energy prints the same whatever it is."""
    text = "---\ntitle: Stew\nserves: 4\n---\n- 800 g {food 11529} tomatoes\n- 0.1 g qzxvium\n"
    figures = analyse(read_recipe(text), draws=0).per_serving
    assert declare(figures, market="us")["calories"].status is Status.BOUNDED
    assert "ENERC_KCAL" in bounded(figures, "us") or figures["ENERC_KCAL"].status is Status.BOUNDED


def test_the_table_with_its_extra_foods_keeps_every_row_of_the_release():
    """What is added comes behind."""
    whole = load_table()
    assert whole.ids[: len(TABLE)] == TABLE.ids and len(whole) > len(TABLE)
    np.testing.assert_array_equal(whole.values[: len(TABLE)], TABLE.values)
