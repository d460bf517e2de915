"""What a deed is by its words beside the verb: a state that food is brought to, a place that it waits in."""

import pytest
from method_help import deeds, method_of


@pytest.mark.parametrize(
    ("sentence", "action", "thing"),
    [
        ("Get the oil hot in a wide pan.", "heat", "oil"),
        ("Have the lard hot.", "heat", "lard"),
        ("Get the leeks golden in the butter.", "cook", "leeks"),
        ("Cook the shallots brown in the oil.", "cook", "shallots"),
    ],
)
def test_a_state_behind_a_food_tells_what_is_done_to_it(sentence, action, thing):
    """ "Get the oil hot" heats oil, and no food called "oil hot"."""
    (one,) = deeds(sentence)
    assert (one.action, one.mentions[0].name) == (action, thing)


@pytest.mark.parametrize("sentence", ["Two days in the fridge.", "A day and a half in the fridge, turned twice."])
def test_time_in_the_fridge_cooks_nothing(sentence):
    """A place without a verb is heat only where it is hot."""
    assert deeds(sentence)[0].action == "stand"


@pytest.mark.parametrize(
    ("sentence", "wanted"),
    [
        ("The salt is then rinsed off and the leeks pressed dry in a cloth.", ["rinse", "squeeze"]),
        ("The brine is tipped away and the cure washed off.", ["drain", "rinse"]),
        ("The shallots are fried and the stock added.", ["pan-fry", "add"]),
    ],
)
def test_a_second_passive_needs_no_auxiliary(sentence, wanted):
    """ "X is done and Y done" are two deeds, an adverb before the participle or not."""
    assert [one.action for one in deeds(sentence)] == wanted


def test_what_stands_behind_a_passive_with_a_preposition_is_its_place():
    """ "The cod is drawn through the batter": the batter is what it goes through."""
    (one,) = deeds("The cod is drawn through the batter.")
    assert [mention.role.value for mention in one.mentions] == ["object", "into"]


def test_what_goes_in_later_is_not_left_out():
    """ "Not going in until the end" waits; "not going in this soup" is left out."""
    assert "discard" not in {one.action for one in method_of("The feta is not going in until the end.").instructions}
    assert method_of("The rosemary is not going in this soup.").instructions[0].action == "discard"


def test_what_is_poured_out_over_food_is_not_thrown_away():
    """ "Pour out the stock" loses it; over the kale it goes on."""
    assert deeds("Pour out the water.")[0].action == "drain"
    assert deeds("Pour out the stock over the kale.")[0].action != "drain"
