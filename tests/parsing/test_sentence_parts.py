"""A sentence of the method in parts: what goes in, stands beside, is only compared with, is offered."""

from __future__ import annotations

import pytest

from labeler.data_files import data_folder, data_rows
from labeler.parsing.sentence_parts import sentence_parts


@pytest.mark.parametrize(
    ("sentence", "gone"),
    [
        ("beat until it has the look of whipped cream", "cream"),
        ("press through a butter muslin", "butter"),
        ("cut into walnut-sized pieces", "walnut"),
        ("open with an oyster knife", "oyster"),
    ],
)
def test_what_is_only_compared_with_and_tools_go_in_nothing(sentence: str, gone: str) -> None:
    """Neither a likeness nor a tool brings the food that it is named after."""
    assert gone not in sentence_parts(sentence).in_it


@pytest.mark.parametrize(
    ("sentence", "food"),
    [
        ("Stir in a spread like tahini", "tahini"),
        ("Scatter nuts like walnuts and pecans over the top", "pecans"),
        ("Set it beside the anchovy tin", "anchovy"),
        ("Rinse the milk jug", "milk"),
    ],
)
def test_an_example_and_a_container_are_at_least_a_question(sentence: str, food: str) -> None:
    """ "Like" behind a noun gives an example, and a container may hold what it is named after: neither is dropped."""
    parts = sentence_parts(sentence)
    assert food in parts.perhaps and food not in parts.in_it


@pytest.mark.parametrize(
    ("sentence", "food"),
    [
        ("Empty the anchovy tin into the sauce", "anchovy"),
        ("Pour the cream carton over the leeks", "cream"),
        ("if you like add cream", "cream"),
    ],
)
def test_what_is_emptied_goes_in(sentence: str, food: str) -> None:
    """A container that is emptied brings its food, and "if you like" compares with nothing."""
    assert food in sentence_parts(sentence).in_it


@pytest.mark.parametrize("sentence", ["grease a cake tin", "bake until golden, like cake", "it looks like cake"])
def test_a_vessel_named_after_what_is_baked_in_it_holds_none_yet(sentence: str) -> None:
    """A cake tin is no tin of cake, and a likeness behind a verb or a colour brings nothing."""
    parts = sentence_parts(sentence)
    assert "cake" not in parts.in_it + parts.perhaps


def test_what_is_served_beside_stands_apart() -> None:
    """Toast beside the soup is not in it, cheese on top is."""
    assert "toast" in sentence_parts("serve with toast").beside
    on_top = sentence_parts("serve topped with grated cheese")
    assert not on_top.beside and "cheese" in on_top.in_it


@pytest.mark.parametrize(
    "sentence", ["To make it vegan, use oat milk", "If dairy-free, use oil", "Variation: add feta"]
)
def test_a_way_among_others_is_an_offer(sentence: str) -> None:
    """A sentence that opens with a diet, a condition of one or a variation offers a way."""
    assert sentence_parts(sentence).offers and not sentence_parts("stir in the milk").offers


def test_every_part_has_its_words() -> None:
    """A row for each part, and no word twice in one."""
    rows = data_rows(data_folder("labeler.parsing") / "sentence_parts.csv")
    assert len({row["part"] for row in rows}) == len(rows) == 24
    for row in rows:
        assert len(set(row["words"].split("|"))) == len(row["words"].split("|")), row


@pytest.mark.parametrize(
    ("sentence", "food"),
    [
        ("Great in sandwiches, with mustard, or on toast with eggs.", "eggs"),
        ("It's lovely with noodles.", "noodles"),
        ("Keep leftover meat for sandwiches.", "sandwiches"),
        ("Use any leftovers in pasta.", "pasta"),
        ("Leftover turkey makes great sandwiches.", "sandwiches"),
    ],
)
def test_what_a_dish_is_praised_in_or_kept_for_is_beside_it(sentence: str, food: str) -> None:
    """What is only offered with the food, or for another day, is beside it and not in it."""
    parts = sentence_parts(f"Roast it. {sentence}")
    assert food in parts.beside and food not in parts.in_it


@pytest.mark.parametrize(
    ("sentence", "food"),
    [
        ("Good with rice, then stir in the cream.", "cream"),
        ("Brush with leftover egg wash for shine.", "egg"),
        ("Use leftover rice in the mixture with egg and flour.", "flour"),
        ("Keep leftover butter to make the roux with flour.", "flour"),
        ("Toss the leftover chicken with mayonnaise and serve in buns.", "mayonnaise"),
        ("Perfect for brushing with butter.", "butter"),
    ],
)
def test_what_a_step_adds_stays_in_the_dish(sentence: str, food: str) -> None:
    """A word of praise or of leftovers takes no food out of a step that adds it."""
    assert food in sentence_parts(sentence).in_it
