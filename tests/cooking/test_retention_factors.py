"""Retention factors, and the kitchen against USDA's own survey foods."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import numpy as np
import pytest
from kitchen_help import Put, amount, pot_of, streams, weighed

from labeler.cooking.models.retention_factors import choose_code, describe, factors, retain, retention_codes
from labeler.cooking.pipeline import cook
from labeler.cooking.state.mixture import KEYS, column

PUBLISHED = os.environ.get("LABELER_PUBLISHED", "")
REFERENCE = Path(__file__).parents[2] / "reference"


def test_the_table_has_the_release_whole():
    """USDA Release 6 has 270 codes; every factor is between 0 and 100 per cent."""
    assert len(retention_codes()) == 270
    every = np.array([factors([code]) for code in retention_codes()])
    assert every.min() >= 0.0 and every.max() == 1.0
    # Sum of the vitamin C column, as a check on the file: computed from the release when the table was made.
    assert every[:, column("VITC")].sum() == pytest.approx(214.6, abs=0.05)


@pytest.mark.parametrize(
    ("code", "key", "kept"),
    # USDA Release 6 (2007): chicken roasted; greens boiled in water to cover and drained; milk heated 10 minutes;
    # an alcoholic drink stirred in and simmered 2.5 hours.
    [
        ("0805", "THIA", 0.70),
        ("3005", "VITC", 0.55),
        ("2151", "VITC", 0.85),
        ("0805", "PROCNT", 1.0),
        ("5009", "ALC", 0.05),
    ],
)
def test_single_factors(code, key, kept):
    """Factors are those of the release; what it does not list is kept whole."""
    assert factors([code])[column(key)] == pytest.approx(kept)


def test_vitamin_a_and_folate_take_the_factors_of_their_sum():
    """Retinol and vitamin A (RAE) take the factor of vitamin A (RE), folate (DFE) that of total folate."""
    kept = factors(["0805"])
    assert kept[column("RETOL")] == kept[column("VITA_RAE")]
    assert kept[column("FOLDFE")] == kept[column("FOL")]


def test_chains_multiply():
    """Two codes one after the other keep the product of what each keeps."""
    np.testing.assert_allclose(factors(["0805", "864"]), factors(["0805"]) * factors(["0864"]))
    np.testing.assert_array_equal(factors([]), np.ones(len(KEYS)))


def test_an_unknown_code_is_refused_and_a_recipe_hears_of_it():
    """A code that the release does not have raises in the function, and is a problem in a recipe."""
    with pytest.raises(KeyError):
        factors(["9999"])
    dish = cook(weighed({"Phases": [Put("chicken", "05006", 100.0, retention=("9999",))]}))
    assert [problem.code for problem in dish.problems] == ["no-such-retention"]


def test_what_heat_destroys_is_a_stream():
    """Retention divides nutrients into kept and destroyed, and takes no weight."""
    mix, _ = pot_of(("spinach", "11457", 100.0))
    kept, destroyed = retain(mix, {0: ["3005"]})
    np.testing.assert_allclose(kept.total + destroyed.total, mix.total)
    assert float(destroyed.total_mass[0]) == 0.0 and float(kept.total_mass[0]) == pytest.approx(100.0)


def test_a_line_may_state_its_codes():
    """Codes in braces are applied once, when the line goes in."""
    dish = cook(weighed({"Phases": [Put("spinach", "11457", 100.0, retention=("3005",)), "steam 5 minutes"]}))
    raw = pot_of(("spinach", "11457", 100.0))[0]
    assert amount(dish.mix, "VITC") == pytest.approx(amount(raw, "VITC") * factors(["3005"])[column("VITC")])


def test_heat_destroys_vitamins_and_no_minerals():
    """By itself the kitchen lets heat destroy vitamins only; minerals leave with juice and water."""
    dish = cook(weighed({"Phases": [Put("spinach", "11457", 100.0), "steam 5 minutes"]}))
    destroyed = streams(dish)["destroyed by heat"].mix
    assert amount(destroyed, "VITC") > 0.0
    assert amount(destroyed, "K") == amount(destroyed, "NA") == 0.0


def test_codes_are_described():
    """A code says in the release's words what it is for; choices are codes that exist."""
    assert describe("805") == "CHICKEN,ROASTED"
    assert choose_code("poultry", "roast", minutes=60) == "0805"
    assert choose_code("liquid", "simmer", minutes=10) == "2151"
    assert choose_code("unknown", "roast", minutes=60) is None
    known = set(retention_codes())
    from labeler.cooking.models.retention_factors import _choices

    assert set(_choices().values()) <= known


@pytest.mark.skipif(not PUBLISHED or not Path(PUBLISHED, "fndds_foods.csv").exists(), reason="published data not here")
def test_survey_foods():
    """Every main value of every USDA survey food (FNDDS 2015-16) within one unit of the last printed digit."""
    sys.path.insert(0, str(REFERENCE))
    try:
        from check_fndds import check
    finally:
        sys.path.pop(0)
    count, _, right = check(Path(PUBLISHED, "fndds_foods.csv"), Path(PUBLISHED, "fndds_ingredients.csv"))
    assert count > 0 and right == count
