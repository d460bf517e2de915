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
    assert len({row["part"] for row in rows}) == len(rows) == 11
    for row in rows:
        assert len(set(row["words"].split("|"))) == len(row["words"].split("|")), row
