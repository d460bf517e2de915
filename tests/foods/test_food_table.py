"""The bundled table is the whole of SR28, exact, with missing values kept missing."""

import hashlib

import numpy as np
import pytest

from labeler.foods.composition.food_table import TABLE_FILE, FoodTable
from labeler.types import Status

TABLE = FoodTable(TABLE_FILE)

# Counts of SR28's own files: "USDA National Nutrient Database for Standard Reference, Release 28, Documentation and
# User Guide" (September 2015, slightly revised May 2016), tables of the relational files: FOOD_DES 8,789 records,
# NUT_DATA 679,045, NUTR_DEF 150, FD_GROUP 25, LANGUAL 38,301, LANGDESC 774, DERIV_CD 55, SRC_CD 10. WEIGHT has
# 15,438 records in the ASCII release.
GROUP_COUNTS = {
    100: 283, 200: 64, 300: 367, 400: 220, 500: 389, 600: 465, 700: 170, 800: 356,
    900: 360, 1000: 341, 1100: 836, 1200: 137, 1300: 961, 1400: 371, 1500: 265, 1600: 381,
    1700: 464, 1800: 879, 1900: 360, 2000: 181, 2100: 363, 2200: 125, 2500: 177, 3500: 165,
    3600: 109,
}  # fmt: skip
# Sums over NUT_DATA.txt itself, added as decimals without this package.
COLUMN_SUMS = [
    ("PROCNT", 99716.62),
    ("FAT", 92730.93),
    ("CHOCDF", 194429.51),
    ("ENERC_KCAL", 1988809),
    ("ALC", 1032.9),
    ("WATER", 475591.02),
    ("SUGAR", 59381.06),
    ("FIBTG", 17930.2),
    ("CA", 646714),
    ("FE", 23332.17),
    ("K", 2336898),
    ("NA", 2721150),
    ("VITD", 3195.1),
    ("CHOLE", 340337),
    ("FATRN", 1430.138),
    ("FASAT", 30182.713),
]
FILE_SHA256 = "69552493a2f460cf683cc9114485bbdf87d6a887af9b886ae895e92ff838c194"


def test_the_file_is_the_one_that_was_checked():
    """The bundled file has the digest of the build whose sums stand below."""
    assert hashlib.sha256(TABLE_FILE.read_bytes()).hexdigest() == FILE_SHA256


def test_every_food_and_every_group_is_there():
    """8,789 foods in 25 groups, each group with its published number of foods."""
    assert len(TABLE) == 8789
    codes, counts = np.unique(TABLE.group_codes, return_counts=True)
    assert dict(zip(codes.tolist(), counts.tolist(), strict=True)) == GROUP_COUNTS
    assert set(TABLE.group_names) == set(GROUP_COUNTS)


def test_every_value_is_there_and_the_rest_is_missing():
    """679,045 printed values; all other cells are NaN and `MISSING`, none is zero by default."""
    assert int(np.isfinite(TABLE.values).sum()) == 679_045
    assert np.array_equal(np.isnan(TABLE.values), TABLE.status == Status.MISSING)


@pytest.mark.parametrize(("key", "total"), COLUMN_SUMS)
def test_column_sums(key, total):
    """The sum of a column over all foods is that of NUT_DATA.txt, to the last printed digit."""
    assert np.nansum(TABLE.values[:, TABLE.column[key]]) == pytest.approx(total, abs=5e-4)


def test_nutrients_carry_their_tagnames_once():
    """150 nutrients, each with a key of its own, the label's among them."""
    keys = [nutrient.key for nutrient in TABLE.nutrients]
    assert len(keys) == len(set(keys)) == 150
    label = {"ENERC_KCAL", "PROCNT", "FAT", "FASAT", "FATRN", "CHOLE", "NA", "CHOCDF", "FIBTG", "SUGAR", "VITD", "CA"}
    assert label | {"FE", "K", "WATER", "ALC", "ASH"} <= set(keys)
    assert TABLE.nutrients[TABLE.column["VITD"]].unit == "µg"


def test_a_known_food_reads_as_printed():
    """Butter, salted (01001) as SR28 prints it: fat 81.11 g (n 580, SE 0.065), sodium 643 mg, a stick of 113 g."""
    row, fat = TABLE.position["01001"], TABLE.column["FAT"]
    assert TABLE.describe("01001") == "Butter, salted"
    assert TABLE.value("01001", "FAT") == 81.11
    assert TABLE.samples[row, fat] == 580
    assert TABLE.standard_errors[row, fat] == 0.065
    assert TABLE.status[row, fat] == Status.ANALYSED
    assert TABLE.value("01001", "NA") == 643
    assert ("stick", 113.0) in [(measure.text, measure.grams) for measure in TABLE.measures("01001")]


def test_household_weights_refuse_and_langual_are_whole():
    """15,438 household weights and 38,301 LanguaL terms are spread over the foods, none lost."""
    assert sum(len(TABLE.measures(food)) for food in TABLE.ids) == 15_438
    assert sum(len(TABLE.langual(food)) for food in TABLE.ids) == 38_301
    assert TABLE.refuse_percent[TABLE.position["09037"]] == 26  # avocados: seed and skin


def test_text_columns_have_one_entry_a_food():
    """Every text column is as long as the table, so that no description slips to the next food."""
    for column in (
        TABLE.descriptions, TABLE.common_names, TABLE.scientific_names, TABLE.manufacturers, TABLE.refuse_descriptions,
    ):  # fmt: skip
        assert len(column) == len(TABLE)


def test_the_frame_is_the_same_table():
    """The pandas view has the ids down, the keys across and the same values."""
    frame = TABLE.frame()
    assert frame.shape == (8789, 150)
    assert frame.at["15028", "PROCNT"] == TABLE.value("15028", "PROCNT")
