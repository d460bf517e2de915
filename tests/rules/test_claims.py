"""Claims are offered only where the figures carry them surely, and always with what they cost."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.rules.claims import Claims, claims
from labeler.rules.market import load_market
from labeler.types import LabelerError, Status


def figure(best: float, low: float | None = None, high: float | None = None, status: str = "analysed") -> object:
    low, high = (best if bound is None else bound for bound in (low, high))
    return {"best": best, "low": low, "high": high, "status": status}


# An invented vegetable dish, per 100 g.
LEAN = {
    "ENERC_KCAL": figure(60),
    "FAT": figure(1),
    "FASAT": figure(0.2),
    "FATRN": figure(0),
    "CHOLE": figure(0),
    "NA": figure(90),
    "CHOCDF": figure(12),
    "FIBTG": figure(4.2),
    "SUGAR": figure(6),
    "PROCNT": figure(2),
    "VITC": figure(20),
}


def words(found: Claims) -> set[str]:
    return {claim.words for claim in found.offered}


def test_limits_are_tested_per_reference_amount() -> None:
    # 21 CFR 101.62(b)(2): low fat is 3 g or less; 140 g of it hold 1.4 g. 101.61(b)(4): low sodium is 140 mg or less;
    # 140 g hold 126 mg. 101.60(b)(2): low calorie is 40 or fewer; 140 g hold 84. 101.54(b), (c): fibre 5.88 g of 28 g
    # is 21 %: high; vitamin C 28 mg of 90 mg is 31 %: high.
    found = claims(LEAN, market="us", reference_g=140, serving_g=140)
    assert {"low fat", "low sodium", "low in saturated fat", "saturated fat free", "high in Dietary Fiber"} <= words(
        found
    )
    assert "low calorie" not in words(found)
    assert "good source of Dietary Fiber" not in words(found), "21 % is more than a good source (10 to 19 %)"


def test_small_reference_amounts_are_tested_per_50_g_as_well() -> None:
    # 21 CFR 101.61(b)(4): per 50 g where the reference amount is 30 g or less. 300 mg per 100 g: 90 in 30 g, 150 in 50.
    salty = {**LEAN, "NA": figure(300)}
    assert "low sodium" not in words(claims(salty, market="us", reference_g=30, serving_g=30))
    assert "low sodium" in words(claims(salty, market="us", reference_g=31, serving_g=31))
    # 2 tablespoons or less are small whatever they weigh.
    assert "low sodium" not in words(claims(salty, market="us", reference_g=34, serving_g=34, reference_ml=30))


def test_main_dishes_are_tested_per_100_g() -> None:
    # 21 CFR 101.62(b)(3): 3 g or less per 100 g and 30 % or less of calories: 1 g x 9 / 60 kcal = 15 %.
    dish = claims(LEAN, market="us", reference_g=250, serving_g=400, dish="main dish")
    assert "low fat" in words(dish)
    fatty = {**LEAN, "FAT": figure(2.5)}  # 37 % of calories
    assert "low fat" not in words(claims(fatty, market="us", reference_g=100, serving_g=400, dish="main dish"))


def test_a_claim_whose_interval_crosses_the_limit_is_withheld_and_says_so() -> None:
    wide = {**LEAN, "NA": figure(90, 60, 110)}  # 140 g: 126 mg, to 154
    found = claims(wide, market="us", reference_g=140, serving_g=140)
    assert "low sodium" not in words(found)
    withheld = next(claim for claim in found.withheld if claim.words == "low sodium")
    assert "154 mg" in withheld.because[0]


@pytest.mark.parametrize("status", ["imputed", "missing"])
def test_a_claim_is_never_offered_from_an_imputed_or_missing_value(status: str) -> None:
    guessed = {**LEAN, "NA": figure(1, status=status)}
    found = claims(guessed, market="us", reference_g=140, serving_g=140)
    assert not {"low sodium", "sodium free", "very low sodium"} & words(found)
    assert "low sodium" in {claim.words for claim in found.withheld}


@given(st.floats(0, 50), st.floats(0, 1), st.floats(0, 1), st.sampled_from(list(Status)), st.sampled_from(["us", "eu"]))
@settings(deadline=None, max_examples=150)
def test_no_offered_claim_rests_on_a_value_that_could_break_it(
    best: float, down: float, up: float, status: Status, market: str
) -> None:
    value = {"best": best, "low": best * (1 - down), "high": best * (1 + up), "status": status}
    found = claims({**LEAN, "FAT": value}, market=market, reference_g=100, serving_g=100)
    if {"low fat", "fat free", "fat-free"} & words(found):
        assert status < Status.IMPUTED
        assert value["high"] <= 3.0 + 1e-9


def test_lean_is_for_seafood_and_for_sandwiches_only() -> None:
    # 21 CFR 101.62(e).
    assert "lean" not in words(claims(LEAN, market="us", reference_g=85, serving_g=85))
    assert "lean" in words(claims(LEAN, market="us", reference_g=85, serving_g=85, reference="ra.fish-plain"))
    assert "lean" in words(claims(LEAN, market="us", reference_g=140, serving_g=140, reference="ra.mixed-dishes-piece"))


def test_above_the_levels_every_claim_needs_a_disclosure() -> None:
    # 21 CFR 101.13(h): 13 g fat, 4 g saturated fat, 60 mg cholesterol, 480 mg sodium.
    rich = {**LEAN, "FAT": figure(13.1), "NA": figure(481)}
    found = claims(rich, market="us", reference_g=100, serving_g=100)
    assert found.disclosure == "See nutrition information for total fat and sodium content"
    edge = {**LEAN, "FAT": figure(13.0), "NA": figure(480)}
    assert claims(edge, market="us", reference_g=100, serving_g=100).disclosure == ""
    # Main dishes: 19.5 g and 720 mg.
    assert claims(rich, market="us", reference_g=100, serving_g=100, dish="main dish").disclosure == ""


def test_the_disclosure_counts_the_high_end_of_the_interval() -> None:
    doubtful = {**LEAN, "NA": figure(470, 400, 490)}
    assert "sodium" in claims(doubtful, market="us", reference_g=100, serving_g=100).disclosure


def test_every_answer_says_what_a_claim_costs() -> None:
    for market in ("us", "eu", "uk"):
        said = " ".join(rule.summary for rule in claims(LEAN, market=market, reference_g=100).consequences)
        assert "panel" in said or "declaration" in said
    assert "ends the exemptions" in claims(LEAN, market="us").consequences[0].summary
    assert any("no 'low sugar' claim" in rule.summary for rule in claims(LEAN, market="us").other)


def test_the_eu_judges_solids_per_100_g_and_liquids_per_100_ml() -> None:
    # Regulation 1924/2006, Annex, from memory: low sugars 5 g per 100 g, 2.5 g per 100 mL.
    sweetish = {**LEAN, "SUGAR": figure(4)}
    assert "low sugars" in words(claims(sweetish, market="eu"))
    assert "low sugars" not in words(claims(sweetish, market="eu", liquid=True, density=1.0))
    assert "source of fibre" in words(claims(LEAN, market="eu"))


def test_without_a_weight_no_claim_that_needs_it_is_made() -> None:
    assert claims(LEAN, market="us").offered == ()


def test_a_market_whose_claims_are_not_held_says_so() -> None:
    with pytest.raises(LabelerError, match="claims are not held"):
        claims(LEAN, market="ca")


def test_no_claim_promises_what_cannot_be_known() -> None:
    for market in ("us", "eu"):
        for rule in load_market(market).rules("claims").values():
            assert "safe" not in rule.data.get("claim", "")
            assert "allerg" not in rule.data.get("claim", "")
