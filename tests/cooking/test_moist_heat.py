"""Water that boiling needs and no line lists."""

from __future__ import annotations

import pytest
from kitchen_help import pot_of

from labeler.cooking.models.conditions import Conditions
from labeler.cooking.models.moist_heat import with_water
from labeler.parsing.instructions.model import Mark


def water(rows, **facts):
    mix, draws = pot_of(*rows)
    with_it, _ = with_water(mix, Conditions("simmer", marks=frozenset([Mark.WATER]), **facts), draws)
    return float(with_it.total_mass[0] - mix.total_mass[0])


CARROTS = ("carrots", "11124", 1000.0)
RICE = ("rice", "20044", 100.0)


def test_water_that_is_eaten_with_food_only_covers_it():
    """What is poured away is taken by the pot, three times the food; what stays only covers it (no source)."""
    assert water([CARROTS], drained=True) == pytest.approx(3000.0)
    assert water([CARROTS], watered=True) == pytest.approx(1500.0)


def test_what_swells_drinks_and_what_lies_beside_it_does_not():
    """Rice that is eaten with its water takes three times its own weight, however much lies in the pot (no source)."""
    assert water([RICE], watered=True) == pytest.approx(300.0)
    assert water([RICE, CARROTS], watered=True) == pytest.approx(300.0)
