"""Panels as data, and the catalogue of rules as text."""

from __future__ import annotations

import pytest

from labeler.rules.catalogue import describe, list_rules, rule
from labeler.rules.declaration import declare
from labeler.rules.market import load_market
from labeler.rules.panel import panel, panel_formats
from labeler.types import LabelerError


def test_the_us_has_five_formats_the_vertical_one_first() -> None:
    assert panel_formats("us") == ("vertical", "dual column", "tabular", "tabular small", "linear")
    assert panel().format == "vertical"


def test_the_vertical_panel_has_the_sizes_of_the_rule() -> None:
    # 21 CFR 101.9(d)(1)(iii): Calories 16 and its number 22 points; (d)(3): serving lines 10; nutrients 8; footnote 6.
    points = panel("vertical").points
    assert points["calories word"] == 16
    assert points["calories number"] == 22
    assert points["servings"] == points["serving size"] == 10
    assert points["nutrients"] == points["vitamins"] == 8
    assert points["footnote"] == points["percent heading"] == 6
    # "Nutrition Facts" is not smaller than any other type but the number of Calories.
    for name in panel_formats("us"):
        sizes = panel(name).points
        others = [size for block, size in sizes.items() if block not in ("heading", "calories number", "calories word")]
        assert sizes["heading"] >= max(others)


def test_only_small_packages_drop_the_number_of_calories_to_14_points() -> None:
    numbers = {name: panel(name).points["calories number"] for name in panel_formats("us")}
    assert numbers == {"vertical": 22, "dual column": 22, "tabular": 22, "tabular small": 14, "linear": 14}
    # 40 square inches are 258 cm2.
    assert panel("linear").surface_up_to_cm2 == 258


def test_the_footnote_is_that_of_the_rule_word_for_word() -> None:
    # 21 CFR 101.9(d)(9).
    assert panel().footnote == (
        "*The % Daily Value (DV) tells you how much a nutrient in a serving of food contributes to a daily diet. "
        "2,000 calories a day is used for general nutrition advice."
    )
    assert panel("linear").footnote == "*% DV = % Daily Value"
    # Canada, B.01.401, item 16.
    assert rule("panel-footnote", "ca").quote == "*5% or less is a little, 15% or more is a lot"


def test_the_lines_of_the_us_panel_stand_in_its_order() -> None:
    # 21 CFR 101.9(c) and (d)(12).
    assert [line.words for line in declare({}, market="us")] == [
        "Calories", "Total Fat", "Saturated Fat", "Trans Fat", "Cholesterol", "Sodium", "Total Carbohydrate",
        "Dietary Fiber", "Total Sugars", "Includes Added Sugars", "Protein", "Vitamin D", "Calcium", "Iron",
        "Potassium",
    ]  # fmt: skip


def test_the_lines_of_annex_xv_stand_in_its_order() -> None:
    order = [line.label for line in declare({}, market="eu")]
    assert order == [
        "Energy", "Energy", "Fat", "of which saturates", "Carbohydrate", "of which sugars", "Protein", "Salt",
    ]  # fmt: skip
    every = [found.data["label"] for found in load_market("eu").rules("nutrients").values() if found.kind == "nutrient"]
    assert every[:13] == [
        "Energy", "Energy", "Fat", "of which saturates", "of which mono-unsaturates", "of which polyunsaturates",
        "Carbohydrate", "of which sugars", "of which polyols", "of which starch", "Fibre", "Protein", "Salt",
    ]  # fmt: skip


def test_bold_is_what_the_rule_makes_bold() -> None:
    # 21 CFR 101.9(d)(1)(iv).
    lines = {found.id for found in load_market("us").rules("nutrients").values()}
    bold = {block for block in panel("vertical").bold if block in lines}
    assert bold == {"calories", "total_fat", "cholesterol", "sodium", "total_carbohydrate", "protein"}


def test_every_block_of_a_sequence_has_a_size_or_a_weight() -> None:
    for market in ("us", "eu", "uk"):
        for name in panel_formats(market):
            found = panel(name, market=market)
            for block in found.sequence:
                sized = block in found.points or block in found.weights or block == "calories"
                assert sized, (market, name, block)


def test_a_market_without_a_panel_says_so() -> None:
    assert panel_formats("codex") == ()
    with pytest.raises(LabelerError, match="not held"):
        panel(market="codex")
    with pytest.raises(LabelerError, match="did you mean 'vertical'"):
        panel("verticle")


def test_any_rule_prints_with_paragraph_date_and_status() -> None:
    text = describe(rule("round-cholesterol"))
    assert "21 CFR 101.9(c)(3)" in text
    assert "in force since 2016-07-26" in text
    assert "read in two or more sources" in text
    assert "up to 5: “less than 5” (may)" in text
    for market in ("us", "eu", "ca", "codex", "anz", "jp"):
        for found in list_rules(market):
            assert all(len(row) <= 140 for row in describe(found).splitlines()), found.id
