"""Milk that curdles: what runs off is whey, the curd stays.

Shares are what a cook would expect, wide enough for any yield table; common practice, no source.
"""

from __future__ import annotations

from told_dishes import kept

MILK = "- 2 l whole milk\n- 60 ml lemon juice\n- 8 g salt"


def test_milk_that_acid_came_to_has_curdled_where_words_name_the_curds():
    """No word says that it curdles: the curds that are ladled into the cloth say so."""
    method = (
        "Bring the milk slowly to 90 °C. Lemon juice in, two gentle stirs, leave for 15 minutes. Line a colander with "
        "a cloth, ladle in the curds and let drain 1 hour. Tip the cheese in a bowl and work in the salt."
    )
    found = kept(MILK, method)
    assert 0.5 < found["2 l whole milk"] < 0.85 and found["8 g salt"] > 0.95


def test_milk_with_lemon_in_a_sauce_stays_whole():
    """Where nothing speaks of curds or whey, nothing runs off."""
    found = kept(MILK, "Bring the milk to the simmer, stir in the lemon juice and salt and serve.")
    assert found["2 l whole milk"] > 0.95
