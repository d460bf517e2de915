"""Declared values: what each market's panel prints, and what is not known stays unknown."""

from __future__ import annotations

import subprocess
import sys
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.rules.declaration import declare
from labeler.rules.market import market_ids
from labeler.rules.unrounded_amounts import read_amount
from labeler.types import Status

# An invented serving, all of it known.
SERVING = {
    "ENERC_KCAL": 145.0, "FAT": 6.5, "FASAT": 1.2, "FATRN": 0.4, "CHOLE": 3.0, "NA": 445.0, "CHOCDF": 12.5,
    "FIBTG": 2.5, "SUGAR": 0.6, "SUGAR_ADDED": 0.0, "PROCNT": 9.4, "VITD": 1.26, "CA": 44.0, "FE": 2.0, "K": 336.0,
}  # fmt: skip


def test_the_us_panel_in_its_order_with_its_percentages() -> None:
    # Each worked by 21 CFR 101.9(c), percentages from the unrounded amounts: fat 6.5/78 = 8.3 %, sodium 445/2300 =
    # 19.3 %, fibre 2.5/28 = 8.9 %; in steps of 2 and 5 potassium 336/4700 = 7.1 -> 8 %, iron 2/18 = 11.1 -> 10 %.
    declared = declare(SERVING, market="us")
    assert [(line.words, line.text, line.percent, line.indent) for line in declared] == [
        ("Calories", "150", None, 0),
        ("Total Fat", "7 g", "8%", 0),
        ("Saturated Fat", "1 g", "6%", 1),
        ("Trans Fat", "0 g", None, 1),
        ("Cholesterol", "less than 5 mg", "1%", 0),
        ("Sodium", "450 mg", "19%", 0),
        ("Total Carbohydrate", "13 g", "5%", 0),
        ("Dietary Fiber", "3 g", "9%", 1),
        ("Total Sugars", "<1 g", None, 1),
        ("Includes 0 g Added Sugars", "0 g", "0%", 2),
        ("Protein", "9 g", None, 0),
        ("Vitamin D", "1.3 mcg", "6%", 0),
        ("Calcium", "40 mg", "4%", 0),
        ("Iron", "2 mg", "10%", 0),
        ("Potassium", "340 mg", "8%", 0),
    ]
    assert declared["sodium"].rule == "round-sodium"
    assert declared["sodium"].paragraph == "21 CFR 101.9(c)(4)"
    assert declared["NA"] is declared["sodium"]
    assert declared.problems == ()


def test_the_percentage_follows_the_unrounded_amount_and_is_zero_beside_a_zero() -> None:
    # 8.4 g fat is declared as 8 g: 8.4/78 = 10.8 % -> 11 %, where the declared 8 g would give 10 %.
    assert declare({"FAT": 8.4}, market="us")["total_fat"].percent == "11%"
    # 0.45/20 = 2.25 %, but the line says 0 g.
    assert declare({"FASAT": 0.45}, market="us")["saturated_fat"].percent == "0%"


def test_canada_takes_the_percentage_of_minerals_from_the_rounded_amount() -> None:
    # B.01.401(1.2): iron 2.1 mg rounds to 2 mg (nearest 0.25), 2/18 = 11.1 % -> 11 %; from 2.1 it would be 12 %.
    line = declare({"FE": 2.1}, market="ca")["iron"]
    assert (line.text, line.percent) == ("2 mg", "11%")


def test_canada_prints_zero_fat_only_for_a_food_free_of_fat() -> None:
    # B.01.401, item 3: below 0.5 g "0 g" only if free of fat and of saturated and trans fat, else the nearest 0.1 g.
    free = declare({"FAT": 0.3, "FASAT": 0.1, "FATRN": 0.0}, market="ca")
    assert free["fat"].text == "0 g"
    fatty = declare({"FAT": 0.45, "FASAT": 0.3, "FATRN": 0.0}, market="ca")
    assert fatty["fat"].text == "0.5 g"
    unknown = declare({"FAT": 0.3, "FASAT": 0.1}, market="ca")
    assert unknown["fat"].text == "0.3 g", "trans fat is not known, so the food is not known to be free of it"


def test_canada_shows_saturated_and_trans_fat_together_as_a_percentage_only() -> None:
    line = declare({"FASAT": 4.0, "FATRN": 0.5}, market="ca")["saturated_plus_trans_fat"]
    assert (line.percent, line.display) == ("23%", "percent")  # 4.5/20 = 22.5 %, half-way up


def test_energy_in_the_eu_comes_from_the_factors_of_annex_xiv() -> None:
    # A worked composition per 100 g: fat 10, carbohydrate by difference 30 of which fibre 5, protein 8, alcohol 2.
    # Available carbohydrate 30 - 5 = 25 (Annex I).
    # kJ:   10x37 + 25x17 + 8x17 + 5x8 + 2x29 = 370 + 425 + 136 + 40 + 58 = 1029
    # kcal: 10x9  + 25x4  + 8x4  + 5x2 + 2x7  =  90 + 100 +  32 + 10 + 14 =  246   (246 x 4.184 would be 1029.3)
    values = {"FAT": 10, "CHOCDF": 30, "FIBTG": 5, "PROCNT": 8, "ALC": 2}
    declared = declare(values, market="eu")
    assert declared["energy_kj"].text == "1029 kJ"
    assert declared["energy_kcal"].text == "246 kcal"
    assert declared["energy_kcal"].same_line_as == "energy_kj"
    assert declared["carbohydrate"].text == "25 g"
    # Polyols count 10 kJ and 2.4 kcal in place of 17 and 4: 3 g of them take off 21 kJ and 4.8 kcal.
    sweet = declare({**values, "POLYL": 3}, market="eu")
    assert (sweet["energy_kj"].text, sweet["energy_kcal"].text) == ("1008 kJ", "241 kcal")


def test_salt_in_the_eu_is_all_sodium_times_two_and_a_half() -> None:
    # Annex I, point 11: 400 mg x 2.5 = 1.0 g; 445 mg -> 1.1125 -> 1.1 g; 4 mg -> 0.01 g; 5 mg -> 0.0125 -> "<0.01 g".
    for sodium, text in ((400, "1.0 g"), (445, "1.1 g"), (6, "0.02 g"), (5, "<0.01 g"), (0, "0 g")):
        assert declare({"NA": sodium}, market="eu")["salt"].text == text


def test_salt_equivalent_in_japan_is_sodium_times_2_54() -> None:
    assert declare({"NA": 1000}, market="jp")["salt_equivalent"].text == "2.5 g"  # from memory


def test_vitamins_in_the_eu_are_declared_from_a_significant_amount_on() -> None:
    # 15 % of 80 mg vitamin C is 12 mg (Annex XIII, part A).
    assert "vitamin_c" not in declare({"VITC": 11.9}, market="eu")
    assert declare({"VITC": 12}, market="eu")["vitamin_c"].percent == "15%"


def test_a_missing_value_prints_as_unknown_and_never_as_zero() -> None:
    for market in market_ids():
        declared = declare({}, market=market)
        assert declared.mandatory
        for line in declared:
            assert line.text == "not known"
            assert line.percent is None and line.value is None and not line.known
        assert {problem.code for problem in declared.problems} == {"value-not-known"}


@given(
    st.dictionaries(st.sampled_from(sorted(SERVING)), st.none() | st.just(float("nan")), min_size=1),
    st.sampled_from(["us", "eu", "uk", "ca", "codex", "anz", "jp"]),
)
@settings(deadline=None, max_examples=100)
def test_taking_a_value_away_never_makes_a_line_zero(gone: dict[str, float | None], market: str) -> None:
    full = dict.fromkeys(SERVING, 5.0)
    before = declare(full, market=market)
    after = declare({**full, **gone}, market=market)
    for line in after:
        if line.text != before[line.id].text:
            assert not line.known and (line.text == "not known" or line.text.startswith("at least"))


def test_a_lower_bound_prints_as_at_least_the_figure_under_it() -> None:
    value = {"best": 7.6, "low": 7.6, "high": 20.0, "status": "missing"}
    line = declare({"FAT": value}, market="us")["total_fat"]
    assert line.text == "at least 7 g"
    assert not line.known and line.percent is None
    assert declare({"FAT": {"best": 0.3, "status": "missing"}}, market="us")["total_fat"].text == "not known"


def test_what_is_taken_off_must_be_known() -> None:
    # Without fibre the available carbohydrate of the eu is not known, and its energy at the least that of fat and
    # protein: 37 + 17 = 54 kJ.
    declared = declare({"CHOCDF": 30, "FAT": 1, "PROCNT": 1}, market="eu")
    assert declared["carbohydrate"].text == "not known"
    assert declared["energy_kj"].text == "at least 54 kJ"
    assert "FIBTG" in declared.problems[0].message


def test_carbohydrate_less_fibre_is_never_below_zero() -> None:
    assert declare({"CHOCDF": 2.0, "FIBTG": 2.1}, market="eu")["carbohydrate"].text == "0 g"


def test_the_status_of_a_line_is_the_worst_of_what_it_is_made_of() -> None:
    values = {
        "CHOCDF": {"best": 30, "low": 28, "high": 32, "status": "analysed"},
        "FIBTG": {"best": 5, "low": 4, "high": 7, "status": Status.IMPUTED},
    }
    line = declare(values, market="eu")["carbohydrate"]
    assert line.status is Status.IMPUTED
    assert (line.amount, line.low, line.high) == (25.0, 21.0, 28.0)


def test_zero_assumed_and_zero_measured_print_as_zero() -> None:
    for status in (Status.ANALYSED, Status.ASSUMED_ZERO):
        assert declare({"CHOLE": {"best": 0, "status": status}}, market="us")["cholesterol"].text == "0 mg"


@pytest.mark.parametrize(
    ("value", "says"),
    [
        (-1, "not negative"),
        ("much", "not an amount"),
        (float("inf"), "not an amount"),
        ({"best": 1, "status": "guessed"}, "no status"),
    ],
)
def test_what_is_no_amount_is_refused_with_its_tagname(value: object, says: str) -> None:
    with pytest.raises(ValueError, match=rf"FAT: .*{says}"):
        declare({"FAT": value}, market="us")


def test_a_basis_that_the_market_does_not_have_is_refused() -> None:
    assert declare({}, market="eu", basis="per portion").basis == "per portion"
    with pytest.raises(ValueError, match="no basis 'per cup'"):
        declare({}, market="eu", basis="per cup")


def test_insignificant_amounts_are_marked() -> None:
    # 21 CFR 101.9(c): sodium below 5 mg, fibre below 1 g.
    declared = declare({**SERVING, "NA": 4.9, "FIBTG": 0.9}, market="us")
    assert {"sodium", "dietary_fiber", "trans_fat", "added_sugars"} <= {line.id for line in declared.insignificant}


def test_amounts_are_read_in_every_form() -> None:
    class Figure:
        best, low, high, status = 2.0, 1.0, 4.0, Status.CALCULATED

    for form in (2, 2.0, Decimal(2), Figure(), {"best": 2.0, "low": 1.0, "high": 4.0, "status": "calculated"}):
        assert read_amount(form).best == 2


def test_numbers_of_numpy_are_numbers_and_dust_below_zero_is_nothing() -> None:
    import numpy as np

    for number in (np.float64(2.5), np.float32(2.5), np.int64(2)):
        assert declare({"FAT": number}, market="us")["total_fat"].known
    assert declare({"FAT": -1e-16}, market="us")["total_fat"].text == "0 g"


def test_declaring_for_one_market_costs_little_at_the_start() -> None:
    """Declaring imports none of the heavy libraries."""
    code = (
        "import sys; from labeler.rules.declaration import declare; declare({'FAT': 1.0});"
        "print([m for m in ('numpy', 'pandas', 'pint', 'reportlab', 'rich') if m in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "[]"
