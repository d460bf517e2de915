"""Sentences: where a sentence and its words end."""

from labeler.parsing.instructions.parser import read_sentences


def test_a_hyphen_by_itself_parts_two_things_to_do() -> None:
    """ "Stir in the leeks - place back into the oven" is two deeds, while a range keeps its hyphen."""
    text = "Stir in the leeks - place back into the oven for 10 - 15 minutes."
    first, second = read_sentences(text, foods=frozenset(["leek"]), pairs=frozenset(), market="uk").instructions
    assert (first.action, second.action) == ("add", "bake")
    assert second.minutes is not None and (second.minutes.low, second.minutes.high) == (10.0, 15.0)


def test_a_word_that_may_be_a_food_is_no_deed_before_back() -> None:
    """ "bones and skin back in the pot" puts two things back, and skins nothing."""
    found = read_sentences(
        "bones and skin back in the pot", foods=frozenset(["bone"]), pairs=frozenset(), market="uk"
    ).instructions
    assert [one.action for one in found] == ["add"]
    assert [one.name for one in found[0].mentions] == ["bones", "skin"]
