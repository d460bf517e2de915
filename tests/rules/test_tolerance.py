"""Tolerances: the risk that an analysis differs too much, and the value that keeps it small."""

from __future__ import annotations

from math import inf
from statistics import NormalDist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.rules.declaration import declare
from labeler.rules.tolerance import ACCEPTED_RISK, Tolerance, tolerance
from labeler.types import LabelerError


def one(tag: str, best: float, low: float, high: float, market: str = "us", **more: object) -> Tolerance:
    value = {"best": best, "low": low, "high": high, "status": "calculated"}
    (found,) = (t for t in tolerance({tag: value}, market=market, **more))  # type: ignore[arg-type]
    return found


def test_limited_nutrients_may_be_up_to_120_percent_of_what_is_declared() -> None:
    # 21 CFR 101.9(g)(5). Sodium 430 mg, 95 % interval 258 to 688: sd above = (688 - 430)/1.96 = 131.6 mg.
    # Declared 430: limit 516; P(above) = 1 - Phi((516 - 430)/131.6) = 1 - Phi(0.653) = 0.257.
    # Safer: 1.2 x D >= 430 + 1.645 x 131.6 = 646.5, D >= 538.7 -> 540 mg.
    found = one("NA", 430, 258, 688)
    assert (found.declared, found.most, found.least) == ("430 mg", 516.0, 0.0)
    assert found.risk == pytest.approx(0.257, abs=0.001)
    assert found.safer == "540 mg"


def test_natural_nutrients_are_at_least_80_percent_of_what_is_declared() -> None:
    # 101.9(g)(4)(ii). Vitamin C 22 mg, 13.2 to 35.2: sd below = 8.8/1.96 = 4.49. Limit 17.6: Phi(-4.4/4.49) = 0.164.
    # Safer: 0.8 x D <= 22 - 1.645 x 4.49 = 14.61, D <= 18.3 -> 18 mg.
    found = one("VITC", 22, 13.2, 35.2)
    assert (found.least, found.most) == (17.6, inf)
    assert found.risk == pytest.approx(0.164, abs=0.001)
    assert found.safer == "18 mg"


def test_added_nutrients_are_all_there() -> None:
    # 101.9(g)(4)(i): 100 %. A best estimate as declared is as likely below as above.
    natural, added = one("FE", 2.2, 1.8, 2.6), one("FE", 2.2, 1.8, 2.6, added=("iron",))
    assert natural.rule.id == "tolerance-natural"
    assert added.rule.id == "tolerance-added"
    assert added.risk == pytest.approx(0.5)
    assert added.risk > natural.risk


def test_the_two_classes_point_opposite_ways() -> None:
    # A calculator must not bias everything downwards.
    bad, good = one("NA", 430, 258, 688), one("VITC", 22, 13.2, 35.2)
    assert float(bad.safer.split()[0]) > 430
    assert float(good.safer.split()[0]) < 22


def test_what_prints_as_zero_is_inside_as_long_as_it_prints_so() -> None:
    # 0.4 g fat is declared 0 g (101.9(c)(2)); 120 % of nothing is nothing, but 0.49 g prints the same.
    found = one("FAT", 0.4, 0.31, 0.49)
    assert (found.declared, found.most) == ("0 g", 0.5)
    assert found.risk < 0.05


def test_tolerances_of_the_eu_go_both_ways() -> None:
    # Commission guidance 2012 (from memory): fat below 10 g 1.5 g either way, 10 to 40 g 20 %; salt below 1.25 g 0.375.
    small, large, salt = one("FAT", 5, 4, 6, "eu"), one("FAT", 20, 16, 24, "eu"), one("NA", 400, 300, 500, "eu")
    assert (small.least, small.most) == (3.5, 6.5)
    assert (large.least, large.most) == (16.0, 24.0)
    assert large.risk == pytest.approx(0.05, abs=0.001)
    assert (salt.least, salt.most) == (0.625, 1.375)


def test_a_value_that_is_certain_carries_no_risk_but_that_of_rounding() -> None:
    assert one("NA", 430, 430, 430).risk == 0.0
    # 4.74 g fat prints 4.5 g; 120 % is 5.4 g.
    assert one("FAT", 4.74, 4.74, 4.74).risk == 0.0


def test_values_that_are_not_known_are_not_judged() -> None:
    assert tolerance({"NA": None}, market="us") == ()
    assert tolerance({"NA": {"best": 3, "status": "missing"}}, market="us") == ()


def test_a_market_without_tolerances_says_so() -> None:
    with pytest.raises(LabelerError, match="not held"):
        tolerance({"NA": 1}, market="anz")


@given(st.floats(6, 900), st.floats(0.01, 0.9), st.floats(0.01, 2))
@settings(deadline=None, max_examples=100)
def test_the_safer_value_keeps_its_promise(best: float, down: float, up: float) -> None:
    found = one("NA", best, best * (1 - down), best * (1 + up))
    assert 0 <= found.risk <= 1
    if found.risk > ACCEPTED_RISK:
        declared = float(found.safer.split()[0])
        sd = best * up / NormalDist().inv_cdf(0.975)
        assert 1 - NormalDist(best, sd).cdf(declared * 1.2) <= ACCEPTED_RISK + 1e-9
        assert declare({"NA": declared}, market="us")["sodium"].text == found.safer
    else:
        assert found.safer == ""
