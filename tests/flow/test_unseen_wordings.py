"""Kinds of wording found in posts that nobody had read before: what of a line is eaten, and what is kept apart.

Shares are what a cook would expect, wide enough for any yield table; common practice, no source.
"""

from __future__ import annotations

import pytest
from told_dishes import kept

from labeler.parsing.instructions.figures import find_quantities
from labeler.parsing.instructions.model import Role
from labeler.parsing.instructions.parser import read_sentences
from labeler.parsing.instructions.sentences import sentences
from labeler.parsing.yields import only_yields

DISHES = {
    "what is lowered in lies there": (
        "- 2 litres water\n- 150 g salt\n- 1 kg pork loin",
        "Stir the salt into the water. Lower in the pork, cover and chill for 12 hours. Take the pork "
        "out of the brine, "
        "throw the brine away and roast for 1 hour at 180C.",
        {"150 g salt": (0.02, 0.3), "1 kg pork loin": (0.75, 1.0)},
    ),
    "one time of hours and minutes, and wine followed by stock": (
        "- 1 kg chicken pieces\n- 100 ml white wine\n- 300 ml chicken stock",
        "Brown the chicken. Splash in the wine followed by the stock and simmer for 1 hr 20 mins, or until soft.",
        {"100 ml white wine": (0.9, 1.0), "300 ml chicken stock": (0.95, 1.0)},
    ),
    "a liquor that is passed through a sieve leaves its vegetables there": (
        "- 1.6 kg ox cheeks\n- 2 tbsp vegetable oil\n- 1 onion\n- 1 carrot\n- 750 ml red wine\n- 500 ml beef stock",
        "Brown the cheeks in the oil and set aside. Fry the vegetables in the same pan. Pour in the wine "
        "and the stock, "
        "return the cheeks, cover with a lid and cook in the oven at 150C for 3 hours. Lift the cheeks onto a plate. "
        "Pass the cooking liquor through a fine sieve into a clean pan, discarding the vegetables, and boil hard until "
        "300 ml is left. Pour over the cheeks.",
        {"1 onion": (0.0, 0.6), "1 carrot": (0.0, 0.6), "750 ml red wine": (0.8, 1.0), "1.6 kg ox cheeks": (0.7, 1.0)},
    ),
    "gravy that is sieved is kept, with the flour that thickens it": (
        "- 1.5 kg chicken pieces\n- 2 carrots\n- 2 tbsp flour\n- 500 ml chicken stock",
        "Scatter the carrots in a roasting tin, sit the chicken on top and roast for 50 minutes at 200C. "
        "Move the chicken "
        "to a board. Spoon off most of the fat from the tin. Stir in the flour, then the stock. Simmer "
        "for 10 minutes till "
        "it thickens, then sieve into a jug, squashing the veg. Serve with the carved chicken.",
        {"500 ml chicken stock": (0.85, 1.0), "2 tbsp flour": (0.85, 1.0), "2 carrots": (0.0, 0.7)},
    ),
    "so much is kept of what is drained off, and of no other liquid": (
        "- 500 g sea bass fillet\n- 1 tsp salt\n- 200 ml lime juice\n- 1 red onion",
        "Soak the onion in iced water for 10 minutes and drain. Cube the fish, toss with the salt, pour "
        "over the lime juice "
        "and leave for 15 minutes. Drain off the juice, keeping back 3 tablespoons. Toss the fish with "
        "the kept juice and "
        "the onion.",
        {"200 ml lime juice": (0.15, 0.55), "500 g sea bass fillet": (0.85, 1.0)},
    ),
    "yoghurt that is left in a cloth loses its whey": (
        "- 1 kg natural yoghurt\n- 1 tsp salt\n- 2 tbsp olive oil",
        "Line a sieve with muslin. Stir the salt through the yoghurt, tip it into the cloth and leave "
        "overnight. Turn out "
        "onto a plate and drizzle over the oil.",
        {"1 kg natural yoghurt": (0.55, 0.9), "2 tbsp olive oil": (0.98, 1.0)},
    ),
    "leaves that are picked from a sprig are eaten": (
        "- 500 g bread flour\n- 350 ml water\n- 1 sprig rosemary, leaves picked",
        "Knead the flour and water, press in the rosemary and bake for 30 minutes at 220C.",
        {"1 sprig rosemary, leaves picked": (0.9, 1.0)},
    ),
}


@pytest.mark.parametrize("told", DISHES, ids=str)
def test_wordings_keep_what_a_cook_would_expect(told):
    lines, method, expected = DISHES[told]
    shares = kept(lines, method)
    for text, (low, high) in expected.items():
        assert low <= shares[text] <= high, (text, shares[text])


def test_minutes_behind_an_hour_are_one_time_whatever_follows():
    for told in ("for 1 hr 20 mins, or", "for 1 hour and 20 minutes or    "):
        found = find_quantities(told).minutes
        assert found is not None
        assert (found.low, found.best, found.high) == (80.0, 80.0, 80.0)


def test_a_sentence_in_small_letters_may_follow_a_short_unit():
    assert len(sentences("leave at least 30 mins. put the eggs in a pan")) == 2
    assert len(sentences("add 2 tbsp. oil and fry 5 min. each side")) == 1


def test_what_stands_behind_in_is_what_goes_in_unless_it_holds_food():
    def objects(text):
        found = read_sentences(text, foods=frozenset({"fish"}), pairs=frozenset(), market="us").instructions
        return [one.name for one in found[0].mentions if one.role is Role.OBJECT]

    assert objects("Lower in the fish.") == ["fish"]
    assert objects("Lower the fish in the pan.") == ["fish"]


def test_a_yield_may_say_as_what_it_is_eaten():
    assert [one.says for one in only_yields("Serves 4 as a starter")] == ["4"]
    assert not only_yields("Serves 4 with the pickled radish")
