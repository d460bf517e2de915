"""Rounding: the published vectors, every boundary against an independent reading, and exact arithmetic."""

from __future__ import annotations

import csv
import os
import random
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.rules.declaration import declare
from labeler.rules.market import load_market
from labeler.rules.rounding import Band, Ladder, exact, plain, to_figures, to_step

# The 41 vectors: (ladder, amount, printed). FDA, A Food Labeling Guide, Appendix H (October 2009); 9 CFR 317.309
# (2015); 21 CFR 101.9(c) as quoted. "<5" stands for "less than 5".
VECTORS = [
    ("round-energy", "4.9", "0"),
    ("round-energy", "5", "5"),
    ("round-energy", "47.5", "50"),
    ("round-energy", "52.4", "50"),
    ("round-energy", "54.9", "50"),
    ("round-energy", "55", "60"),
    ("round-energy", "145", "150"),
    ("round-fat", "0.49", "0"),
    ("round-fat", "0.5", "0.5"),
    ("round-fat", "0.75", "1"),
    ("round-fat", "4.74", "4.5"),
    ("round-fat", "4.75", "5"),
    ("round-fat", "5.4", "5"),
    ("round-fat", "6.5", "7"),
    ("round-fat", "1.2", "1"),
    ("round-fat", "0.4", "0"),
    ("round-cholesterol", "1.9", "0"),
    ("round-cholesterol", "3", "<5"),
    ("round-cholesterol", "5", "<5"),
    ("round-cholesterol", "7.4", "5"),
    ("round-cholesterol", "7.5", "10"),
    ("round-sodium", "4.9", "0"),
    ("round-sodium", "137", "135"),
    ("round-sodium", "140", "140"),
    ("round-sodium", "144", "140"),
    ("round-sodium", "145", "150"),
    ("round-grams", "0.49", "0"),
    ("round-grams", "0.6", "<1"),
    ("round-grams", "1.5", "2"),
    ("round-grams", "2.5", "3"),
    ("round-grams", "0.9", "<1"),
    ("round-grams", "12.4", "12"),
    ("round-percent-vitamins", "1.9", "0"),
    ("round-percent-vitamins", "3", "4"),
    ("round-percent-vitamins", "9.1", "10"),
    ("round-percent-vitamins", "10.4", "10"),
    ("round-percent-vitamins", "12.5", "15"),
    ("round-percent-vitamins", "47.4", "45"),
    ("round-percent-vitamins", "52", "50"),
    ("round-percent-vitamins", "55", "60"),
    ("round-percent", "12.5", "13"),
]
LADDER_OF_VECTOR = {
    "calories": "round-energy",
    "total_fat": "round-fat",
    "saturated_fat": "round-fat",
    "trans_fat": "round-fat",
    "cholesterol": "round-cholesterol",
    "sodium": "round-sodium",
    "total_carbohydrate": "round-grams",
    "protein": "round-grams",
    "pdv_mineral": "round-percent-vitamins",
    "pdv_macro": "round-percent",
}


def printed(market: str, ladder: str, amount: str | Decimal) -> str:
    return load_market(market).ladder("nutrients", ladder).apply(Decimal(amount)).text.replace("less than ", "<")


def test_there_are_41_vectors() -> None:
    assert len(VECTORS) == 41


@pytest.mark.parametrize(("ladder", "amount", "expected"), VECTORS)
def test_each_published_vector_prints_as_published(ladder: str, amount: str, expected: str) -> None:
    assert printed("us", ladder, amount) == expected


@pytest.mark.skipif("LABELER_STANDARDS" not in os.environ, reason="needs the folder of standards, LABELER_STANDARDS")
def test_the_typed_vectors_are_those_of_the_published_file() -> None:
    file = Path(os.environ["LABELER_STANDARDS"]) / "us_rounding_vectors.csv"
    with file.open(encoding="utf-8") as stream:
        rows = [(LADDER_OF_VECTOR[r["nutrient"]], r["amount"], r["expected"]) for r in csv.DictReader(stream)]
    assert sorted(rows) == sorted(VECTORS)


# Independent readings of the rules, in whole thousandths of a unit and without the engine: each returns what is
# printed, as thousandths or as words.
def nearest(n: int, step: int) -> int:
    """The multiple of a step nearest to n, half-way up, by whole numbers alone."""
    return (2 * n + step) // (2 * step) * step


def us_energy(n: int) -> int:
    # 21 CFR 101.9(c)(1): "to the nearest 5-calorie increment up to and including 50 calories, and 10-calorie increment
    # above 50 calories, except that amounts less than 5 calories may be expressed as zero".
    if n < 5_000:
        return 0
    return nearest(n, 5_000 if n <= 50_000 else 10_000)


def us_fat(n: int) -> int:
    # (c)(2): nearest 0.5 g below 5 g, nearest gram above; less than 0.5 g "shall be expressed as zero".
    if n < 500:
        return 0
    return nearest(n, 500 if n < 5_000 else 1_000)


def us_cholesterol(n: int) -> int | str:
    # (c)(3): nearest 5 mg; 2 to 5 mg may be "less than 5 milligrams"; below 2 mg may be zero.
    if n < 2_000:
        return 0
    return "<5" if n <= 5_000 else nearest(n, 5_000)


def us_sodium(n: int) -> int:
    # (c)(4): below 5 mg zero; nearest 5 mg from 5 to 140 mg; nearest 10 mg above 140 mg.
    if n < 5_000:
        return 0
    return nearest(n, 5_000 if n <= 140_000 else 10_000)


def us_grams(n: int) -> int | str:
    # (c)(6), (7): nearest gram; less than 1 g may be "less than 1 gram"; less than 0.5 g may be zero.
    if n < 500:
        return 0
    return "<1" if n < 1_000 else nearest(n, 1_000)


def us_percent_vitamins(n: int) -> int:
    # (c)(8)(iii): nearest 2 % up to and including 10 %, nearest 5 % above 10 to 50 %, nearest 10 % above 50 %.
    if n < 2_000:
        return 0
    return nearest(n, 2_000 if n <= 10_000 else 5_000 if n <= 50_000 else 10_000)


def us_whole(n: int) -> int:
    return nearest(n, 1_000)


def eu_grams(n: int) -> int | str:
    # Commission guidance 2012: at 10 g and more nearest 1 g; above 0.5 g nearest 0.1 g; else "0 g" or "<0.5 g".
    if n == 0:
        return 0
    return "<0.5" if n <= 500 else nearest(n, 100) if n < 10_000 else nearest(n, 1_000)


def eu_fatty_acids(n: int) -> int | str:
    # The same with 0.1 g in place of 0.5 g.
    if n == 0:
        return 0
    return "<0.1" if n <= 100 else nearest(n, 100) if n < 10_000 else nearest(n, 1_000)


def ca_energy(n: int) -> int:
    # B.01.401, item 2: below 5 nearest 1; 5 to 50 nearest 5; above 50 nearest 10.
    return nearest(n, 1_000 if n < 5_000 else 5_000 if n <= 50_000 else 10_000)


def ca_fat(n: int) -> int:
    # Item 3: below 0.5 g nearest 0.1; 0.5 to 5 g nearest 0.5; above 5 g nearest 1.
    return nearest(n, 100 if n < 500 else 500 if n <= 5_000 else 1_000)


def ca_sodium(n: int) -> int:
    # Item 8: below 5 mg nearest 1; 5 to 140 nearest 5; above 140 nearest 10.
    return nearest(n, 1_000 if n < 5_000 else 5_000 if n <= 140_000 else 10_000)


def ca_carbohydrate(n: int) -> int:
    # Items 9 to 11: below 0.5 g 0; from there nearest 1 g.
    return 0 if n < 500 else nearest(n, 1_000)


def ca_protein(n: int) -> int:
    # Item 12: below 0.5 g nearest 0.1; from there nearest 1 g.
    return nearest(n, 100 if n < 500 else 1_000)


def ca_potassium(n: int) -> int:
    # Items 13, 14: below 5 mg 0; to below 50 nearest 10; to below 250 nearest 25; from there nearest 50.
    return 0 if n < 5_000 else nearest(n, 10_000 if n < 50_000 else 25_000 if n < 250_000 else 50_000)


def ca_iron(n: int) -> int:
    # Item 15: below 0.05 mg 0; to below 0.5 nearest 0.1; to below 2.5 nearest 0.25; from there nearest 0.5.
    return 0 if n < 50 else nearest(n, 100 if n < 500 else 250 if n < 2_500 else 500)


READINGS: list[tuple[str, str, Callable[[int], int | str]]] = [
    ("us", "round-energy", us_energy),
    ("us", "round-fat", us_fat),
    ("us", "round-cholesterol", us_cholesterol),
    ("us", "round-sodium", us_sodium),
    ("us", "round-grams", us_grams),
    ("us", "round-percent-vitamins", us_percent_vitamins),
    ("us", "round-percent", us_whole),
    ("us", "round-middle-intakes", us_whole),
    ("eu", "round-energy", us_whole),
    ("eu", "round-grams", eu_grams),
    ("eu", "round-fatty-acids", eu_fatty_acids),
    ("ca", "round-energy", ca_energy),
    ("ca", "round-fat", ca_fat),
    ("ca", "round-sodium", ca_sodium),
    ("ca", "round-carbohydrate", ca_carbohydrate),
    ("ca", "round-protein", ca_protein),
    ("ca", "round-potassium", ca_potassium),
    ("ca", "round-iron", ca_iron),
]


def boundaries(ladder: Ladder) -> list[int]:
    """Thousandths just below, at and above every end of a band and every half step near it and in its middle."""
    marks: set[Decimal] = {Decimal(0)}
    low = Decimal(0)
    for band in ladder.bands:
        top = band.upper if band.upper is not None else low * 2 + 10 * (band.step or 1)
        marks |= {low, top}
        if band.step is not None:
            half = band.step / 2
            for start in (low, (low + top) / 2, top):
                first = to_step(start, band.step)
                marks |= {first + half * k for k in range(-5, 6)}
        low = top
    return sorted({int(mark * 1000) + d for mark in marks for d in (-1, 0, 1) if mark * 1000 + d >= 0})


@pytest.mark.parametrize(("market", "ladder", "reading"), READINGS)
def test_every_boundary_agrees_with_an_independent_reading(
    market: str, ladder: str, reading: Callable[[int], int | str]
) -> None:
    for n in boundaries(load_market(market).ladder("nutrients", ladder)):
        expected = reading(n)
        got = printed(market, ladder, Decimal(n) / 1000)
        if isinstance(expected, str):
            assert got == expected, n
        else:
            assert not got.startswith("<"), n
            assert Decimal(got) * 1000 == expected, n


@given(st.integers(0, 500_000), st.sampled_from(READINGS))
@settings(deadline=None, max_examples=300)
def test_any_amount_agrees_with_an_independent_reading(
    n: int, case: tuple[str, str, Callable[[int], int | str]]
) -> None:
    market, ladder, reading = case
    expected = reading(n)
    got = printed(market, ladder, Decimal(n) / 1000)
    assert got == expected if isinstance(expected, str) else Decimal(got) * 1000 == expected


@pytest.mark.parametrize("market", ["us", "eu", "ca", "codex", "anz", "jp", "uk"])
def test_a_larger_amount_never_prints_a_smaller_figure(market: str) -> None:
    for rule in load_market(market).rules("nutrients").values():
        if rule.kind == "rounding":
            ladder = rule.data["ladder"]
            values = [ladder.apply(Decimal(n) / 1000).value for n in boundaries(ladder)]
            known = [value for value in values if value is not None]
            assert known == sorted(known), rule.id


def test_eu_salt_is_rounded_by_the_guidance() -> None:
    # Commission guidance 2012: 1 g and more nearest 0.1 g; above 0.0125 g nearest 0.01 g; else "0 g" or "<0.01 g".
    cases = [("0", "0"), ("0.0125", "<0.01"), ("0.0126", "0.01"), ("0.994", "0.99"), ("0.996", "1.0"), ("1.25", "1.3")]
    assert [printed("eu", "round-salt", amount) for amount, _ in cases] == [text for _, text in cases]


def test_a_figure_that_rounds_into_the_next_band_is_written_as_that_band_writes() -> None:
    assert printed("eu", "round-grams", "9.96") == "10"
    assert printed("eu", "round-grams", "3") == "3.0"


def test_eu_vitamins_keep_two_or_three_significant_figures() -> None:
    assert printed("eu", "round-two-figures", "0.1249") == "0.12"
    assert printed("eu", "round-two-figures", "0.125") == "0.13"
    assert printed("eu", "round-three-figures", "1234.5") == "1230"
    # A figure that rounds up into the next place keeps as many figures: 0.999 is 1.0 in two, and 0.999 in three.
    assert [printed("eu", "round-two-figures", amount) for amount in ("0.999", "9.96", "0.0999")] == [
        "1.0",
        "10",
        "0.10",
    ]
    assert [printed("eu", "round-three-figures", amount) for amount in ("0.999", "99.96")] == ["0.999", "100"]


@given(st.lists(st.tuples(st.integers(1, 50_000), st.integers(1, 4_000)), min_size=2, max_size=12), st.randoms())
@settings(deadline=None, max_examples=150)
def test_declared_values_do_not_depend_on_the_order_of_ingredients(
    foods: list[tuple[int, int]], shuffle: random.Random
) -> None:
    # Per 100 g in hundredths, and grams in tenths, as tables and scales give them.
    def total(order: list[tuple[int, int]]) -> float:
        amount = 0.0
        for per_100g, grams in order:
            amount += per_100g / 100 * (grams / 10) / 100
        return amount

    shuffled = foods[:]
    shuffle.shuffle(shuffled)
    for market in ("us", "eu"):
        one, other = (
            declare({"FAT": total(order), "NA": total(order), "CHOCDF": total(order), "FIBTG": 0.0}, market=market)
            for order in (foods, shuffled)
        )
        assert [line.text for line in one] == [line.text for line in other]


def test_the_noise_of_binary_sums_moves_nothing_over_a_half_way_point() -> None:
    assert 0.1 + 0.2 != 0.3
    assert exact(0.1 + 0.2) == Decimal("0.3")
    assert exact(2.4999999999999996) == Decimal("2.5")
    assert exact(2.499999) == Decimal("2.499999")


@pytest.mark.parametrize("value", [float("nan"), float("inf"), "a lot"])
def test_what_is_no_amount_is_refused(value: float | str) -> None:
    with pytest.raises(ValueError, match=r"amount|number"):
        exact(value)


def test_plain_numbers_carry_no_exponent_and_no_idle_zeros() -> None:
    assert [plain(Decimal(text)) for text in ("1.30E+3", "4.50", "0.0", "7")] == ["1300", "4.5", "0", "7"]


def test_significant_figures_count_from_the_first_digit_that_is_not_zero() -> None:
    assert to_figures(Decimal("0.01234"), 2) == Decimal("0.012")
    assert to_figures(Decimal(0), 3) == 0


@given(st.decimals(0, 1000, places=3))
@settings(deadline=None, max_examples=200)
def test_a_lower_bound_is_never_printed_above_itself(amount: Decimal) -> None:
    for ladder in ("round-fat", "round-sodium", "round-grams", "round-energy"):
        floor = load_market("us").ladder("nutrients", ladder).floor(amount)
        assert floor is None or (floor.value is not None and 0 < floor.value <= amount)


def test_a_band_without_upper_end_holds_everything() -> None:
    assert Band(step=Decimal(1)).holds(Decimal("1e9"))
