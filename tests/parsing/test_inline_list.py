"""Ingredients told in sentences."""

import pytest

from labeler.parsing.headings import Opens, read_heading
from labeler.parsing.inline_list import ToldList, lines_in_a_row, told_lists


def test_a_sentence_lists_what_each_part_needs():
    """ "For the brine you'll need ..." and "For the pickle: ..." are lists with a heading each."""
    text = "For the brine you'll need 1 litre of water and 80 g of salt. For the pickle: 150 g sugar and 2 bay leaves."
    assert told_lists(text) == [
        ToldList("you'll need", "For the brine", ["1 litre of water", "80 g of salt"]),
        ToldList("", "For the pickle", ["150 g sugar", "2 bay leaves"]),
    ]


def test_a_later_sentence_may_name_one_food():
    """Where a list has begun, one food is enough, and what follows it stays a sentence."""
    assert told_lists("You also want 1 kg herring. Soak it.", begun=True) == [
        ToldList("You also want", "", ["1 kg herring"]),
        "Soak it.",
    ]


@pytest.mark.parametrize(
    "text", ["You need patience.", "You need 2 hours.", "For the sauce: stir it for 5 minutes.", "Soak 1 kg beans."]
)
def test_other_sentences_list_nothing(text):
    """Times, patience and steps are no ingredients."""
    assert told_lists(text) == []


def test_a_list_in_a_row():
    """A piece behind a comma that only describes stays with its food."""
    assert lines_in_a_row("2 eggs, beaten, flour; 1 l milk") == ["2 eggs, beaten", "flour", "1 l milk"]


@pytest.mark.parametrize("head", ["You need", "We’ll also want", "you will then need"])
def test_every_way_to_say_what_is_needed_opens_a_list_and_heads_one(head):
    """A sentence and a heading know the same words, however their apostrophe is written."""
    assert told_lists(f"{head} 1 kg herring and 80 g of salt.") == [
        ToldList(head, "", ["1 kg herring", "80 g of salt"]),
    ]
    assert read_heading(f"{head}:").opens is Opens.INGREDIENTS
