"""Shares of what is in hand: in words, numerals and per cent."""

from __future__ import annotations

import pytest
from method_help import deeds

from labeler.parsing.instructions.figures import find_quantities
from labeler.parsing.instructions.shares import share_left


@pytest.mark.parametrize(
    ("words", "left"),
    [
        ("reduced by half", 0.5),
        ("reduced to a third", 1 / 3),
        ("until reduced by 2/3", 1 / 3),
        ("reduce to 1/3 of their volume", 1 / 3),
        ("until two thirds of the liquid has evaporated", 1 / 3),
        ("until 3/4 of the water is gone", 0.25),
        ("until 40% of it is left", 0.4),
        ("loses 30 % of its weight", 0.7),
    ],
)
def test_what_is_left_is_told_by_shares_and_by_losses(words: str, left: float) -> None:
    """ "By" and what has evaporated are losses, "to" and what is left are not; numerals say what words say."""
    share, _ = share_left(words)
    assert share is not None and share.best == pytest.approx(left)


@pytest.mark.parametrize(
    "words",
    ["microwave at 50% power", "simmer in the 2% milk", "boil the 5% vinegar", "cut to 1/2 inch", "by 1/2 cup"],
)
def test_a_figure_of_power_strength_or_size_is_no_share(words: str) -> None:
    """A per cent or a fraction that is not of something in hand leaves all of it."""
    assert share_left(words) == (None, words)


@pytest.mark.parametrize(
    ("words", "celsius"),
    [("bake at gas mark 4", 180.6), ("bake at gas 1/2", 120.0), ("gas 1/4", 110.0), ("cook at 180 c", 180.0)],
)
def test_gas_marks_and_bare_letters_are_heat(words: str, celsius: float) -> None:
    """Half a gas mark is no gas mark 1 (British domestic ovens, common practice, no source)."""
    found = find_quantities(words).celsius
    assert found is not None and found.best == pytest.approx(celsius)


def test_three_c_of_water_are_cups() -> None:
    """So little is no heat of a kitchen, unless a place for a temperature stands before it."""
    assert find_quantities("add 3 c water").celsius is None
    chilled = find_quantities("chill at 4 c").celsius
    assert chilled is not None and chilled.best == 4.0


@pytest.mark.parametrize(
    ("phrase", "share"), [("a quarter of the butter", 0.25), ("a half of it", 0.5), ("a quarter of your butter", 0.25)]
)
def test_a_quarter_of_a_food_is_a_share(phrase, share):
    """An article before a fraction makes it no amount, unless a unit follows: "a quarter of a cup"."""
    (mention,) = deeds(f"Add {phrase}.")[0].mentions
    assert mention.quantity.share.best == share
    (cup,) = deeds("Add a quarter of a cup of cream.")[0].mentions
    assert cup.quantity.share is None and cup.quantity.millilitres is not None


@pytest.mark.parametrize("phrase", ["the honey left over", "the honey that is left over", "the honey left"])
def test_what_is_left_over_is_a_rest(phrase):
    """The words behind a food that say it is left make it a rest, in the middle of a sentence too."""
    assert deeds(f"Brush with honey, discard {phrase}.")[-1].mentions[0].quantity.extent.value == "rest"
