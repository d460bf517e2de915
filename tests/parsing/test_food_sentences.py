"""What words tell of one food: how it is bought, and what of the method is about it."""

from __future__ import annotations

import pytest

from labeler.parsing import read_recipe
from labeler.parsing.food_sentences import told_of_food, told_of_line, told_of_no_other
from labeler.parsing.handling_words import Saying
from labeler.parsing.instructions.parser import read_method


@pytest.mark.parametrize(
    ("name", "beside", "cooked"),
    [
        ("smoked trout", "", True),
        ("chicken", "cooked and shredded", True),
        ("cold roast beef", "", True),
        ("jamón ibérico", "", True),
        ("tomato pastes", "", True),
        ("beef chuck roast", "", False),
        ("uncooked prawns", "", False),
        ("chicken thighs", "skin on", False),
    ],
)
def test_a_line_tells_whether_its_food_is_bought_cooked(name: str, beside: str, cooked: bool) -> None:
    """Canned, cured and cooked food is; a joint that is called a roast is not."""
    assert (Saying.COOKED_BEFORE in told_of_line(name, beside)) is cooked


def test_a_sauce_is_no_dish_of_raw_food() -> None:
    """Tartare is eaten raw, tartare sauce is not made of what is."""
    assert Saying.EATEN_RAW in told_of_line("beef tartare", "")
    assert Saying.EATEN_RAW not in told_of_line("tartare sauce", "")


def test_a_sentence_is_about_the_food_that_it_names_and_about_bones() -> None:
    """Of three sentences one names the chicken and one its bones; the third is about another food."""
    told = told_of_food("chicken legs", ["Chop the chicken.", "Discard the bones.", "Slice the leeks."])
    assert [Saying.CUT in one for one in told] == [True, False]
    assert Saying.BONES_OUT in told[1]


def test_an_instruction_that_names_no_other_food_may_be_about_any() -> None:
    """ "Stuff" without an object is about any food, "stuff the peppers" about none but the peppers."""
    part = read_recipe("## Dish\n- 4 peppers\n- 300 g beef\n> stuff the peppers\n> slice and fry 10 minutes\n").parts[0]
    done = read_method(part, market="us").instructions
    told = told_of_no_other(["peppers"], done)
    assert not any(Saying.STUFFED in one for one in told)
    assert any(Saying.CUT in one for one in told)


@pytest.mark.parametrize(
    ("name", "beside", "whole"),
    [
        ("whole sea bream", "", True),
        ("herrings", "left whole", True),
        ("sardines", "cleaned and whole", True),
        ("trout", "whole", True),
        ("cod", "poached in whole milk", False),
        ("smoked salmon", "1 whole pack", False),
        ("cod in whole milk", "", False),
    ],
)
def test_whole_is_told_of_the_food_only_where_it_stands_to_it(name: str, beside: str, whole: bool) -> None:
    """Whole milk around a fish and a whole pack of it do not make the fish whole."""
    assert (Saying.WHOLE in told_of_line(name, beside)) is whole
