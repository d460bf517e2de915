"""Names that mean nothing by themselves: typos that the food table mends, words that no part of a line carries."""

from __future__ import annotations

from labeler.allergens import EVERY_MARKET, assess_name, assess_written
from labeler.parsing import read_line


def test_a_mended_compound_asks_what_its_words_alone_would_tell() -> None:
    """The butter of "peanutt butter" is a question, as the name is read as peanut butter."""
    found = assess_written(read_line("2 tbsp peanutt butter"), market=EVERY_MARKET)
    assert "peanut" in found.allergens and "milk" not in found.allergens and "milk" in found.possible


def test_a_word_that_only_describes_tells_of_no_seed() -> None:
    """Before a word that is of something a typo of two letters is asked about, whatever describing word is as near."""
    found = assess_written(read_line("1 tbsp sesemi seeds"), market=EVERY_MARKET)
    assert "sesame" in found.possible


def test_no_word_of_a_line_is_passed_over() -> None:
    """What the parts of a line do not carry is asked about where it names an allergen."""
    found = assess_written(read_line("mascarpone or cream cheese with cod/haddock with potted shrimp"), market="eu")
    assert {"milk", "fish", "crustaceans"} <= found.allergens | found.possible


def test_nuts_that_a_list_goes_on_after_are_a_food_of_their_own() -> None:
    """In index order a describing word stands behind: "nuts, almonds" are almonds, "chopped nuts, almonds" are two."""
    assert "tree_nuts" not in assess_name("nuts, almonds", market=EVERY_MARKET).allergens
    assert "tree_nuts" in assess_written(read_line("spelt flour, chopped nuts, almonds"), market=EVERY_MARKET).allergens
