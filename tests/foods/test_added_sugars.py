"""Added sugars follow from what a food is, and a guess never passes for a figure."""

import pytest

from labeler.foods.composition.added_sugars import RULES_FILE, added_sugar_share
from labeler.foods.composition.food_table import load_table


@pytest.mark.parametrize("food", ["19335", "19334", "19296", "19304", "19353", "19350", "19336"])
def test_a_sugar_or_syrup_is_all_added(food):
    """Sugars, honey, molasses, maple and corn syrup are added sugars whole (21 CFR 101.9(c)(6)(iii))."""
    share = added_sugar_share(food)
    assert (share.low, share.best, share.high) == (1, 1, 1), load_table().describe(food)


@pytest.mark.parametrize(
    "food", ["09003", "11080", "01077", "09206", "09298", "20081", "15028", "02009", "06170", "06172"]
)
def test_a_plain_food_has_none(food):
    """Fruit, juice, vegetables, milk, raisins, fish and home-made stock carry only sugars of their own."""
    assert added_sugar_share(food).high == 0, load_table().describe(food)


@pytest.mark.parametrize("food", ["01095", "11935", "18064", "19297", "16098", "19120"])
def test_a_made_up_food_is_a_bound_and_not_a_figure(food):
    """Where the sugar is hidden the share runs from nothing to all, around a best estimate."""
    share = added_sugar_share(food)
    assert (share.low, share.high) == (0, 1) and 0 < share.best < 1, load_table().describe(food)


def test_every_food_has_an_answer_with_a_reason():
    """All 8,789 foods get a share within [0, 1] and a reason in words."""
    for food in load_table().ids:
        share = added_sugar_share(food)
        assert 0 <= share.low <= share.best <= share.high <= 1
        assert share.basis


def test_the_rule_file_states_its_source():
    """The file names the definition that it applies and what is no more than common practice."""
    text = RULES_FILE.read_text(encoding="utf-8")
    assert "101.9(c)(6)(iii)" in text and "common practice, no source" in text
