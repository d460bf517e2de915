"""How much of another part a line takes by its words, and what of them are the part's own name."""

from __future__ import annotations

import pytest

from labeler.cooking.pipeline import cook
from labeler.foods.resolve import weigh
from labeler.parsing import read_recipe
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.ingredient.part_share import share_of_part
from labeler.parsing.instructions.model import Extent


@pytest.mark.parametrize(
    ("text", "title", "share"),
    [
        ("all of the sauce", "Sauce", 1.0),
        ("the whole sauce", "Sauce", 1.0),
        ("half the sauce", "Sauce", 0.5),
        ("two thirds of the sauce", "Sauce", 2 / 3),
        ("one quarter of the sauce", "Sauce", 0.25),
        ("a fifth of the sauce", "Sauce", 0.2),
        ("12,5 % of the sauce", "Sauce", 0.125),
        ("half of the Quarter-pound mix", "Quarter-pound mix", 0.5),
    ],
)
def test_words_tell_a_share(text: str, title: str, share: float) -> None:
    """All, fractions in words and per cent are that share of the part."""
    told = share_of_part(read_line(text), title)
    assert told is not None and told.share is not None
    assert told.share.best == pytest.approx(share)


@pytest.mark.parametrize("text", ["the rest of the sauce", "remaining sauce", "left-over sauce", "leftover sauce"])
def test_words_tell_the_rest(text: str) -> None:
    """What the other lines leave is a rest, and no share that anybody knows yet."""
    told = share_of_part(read_line(text), "Sauce")
    assert told is not None and told.extent is Extent.REST and told.share is None


@pytest.mark.parametrize(
    ("text", "title"),
    [
        ("the sauce", "Sauce"),
        ("1 batch Whole lemon curd", "Whole lemon curd"),
        ("2 slices whole orange cake", "Whole orange cake"),
        ("3 Half moons", "Half moons"),
        ("3 whole cakes", "Cakes"),
        ("2 half cakes", "Cakes"),
    ],
)
def test_neither_the_title_nor_whole_pieces_tell_a_share(text: str, title: str) -> None:
    """Words of the title, and "whole" of counted pieces, say nothing of how much of the part is taken."""
    assert share_of_part(read_line(text), title) is None


@pytest.mark.parametrize("text", ["2 Whole orange cakes", "2 pieces of the Whole orange cakes"])
def test_pieces_of_a_part_with_whole_in_its_title_are_so_many_pieces(text: str) -> None:
    """Of ten cakes two are a fifth, whatever their name says."""
    dish = cook(
        weigh(
            read_recipe(
                f"# Tea\n## Whole orange cakes\n- 300 g sugar\n- 200 g flour\n> mix, makes 10 cakes\n"
                f"## Plate\n- {text}\n> serve\n"
            )
        )
    )
    assert float(dish.mix.total_mass[0]) == pytest.approx(100.0)
