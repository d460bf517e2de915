"""What a sentence leaves out: no source but the words themselves."""

import pytest

from labeler.flow.build import build_flow
from labeler.flow.model import FromNode
from labeler.foods.resolve import weigh
from labeler.nutrition.analysis import analyse
from labeler.parsing.document import read_recipe


def weighed(text):
    return weigh(read_recipe(text))


@pytest.mark.parametrize("words", ["and add to the pan", "and add them to the pan"])
def test_what_was_just_cut_is_what_is_added(words):
    """ "Chop the onion and add (it) to the pan": the onion goes there."""
    part = weighed(
        f"# P\n- 300 g ground beef\n- 1 onion\n- 1 tbsp oil\n> Brown the beef in the oil in a pan. Chop the onion "
        f"{words}. Cook 10 minutes.\n"
    )
    flow = build_flow(part, market="us").parts[0]
    assert len(flow.dish) == 1


def test_an_amount_for_each_piece_counts_for_all():
    """Three fillets with a teaspoon of salt each hold three teaspoons."""
    flow = build_flow(
        weighed(
            "# F\n- 3 mackerel fillets\n- 1 tbsp oil\n> Season each fillet with 1 tsp of salt. Fry in the oil 8 "
            "minutes.\n"
        ),
        market="us",
    ).parts[0]
    salt = next(one for one in flow.unlisted if "salt" in one.name)
    assert salt.grams is not None and salt.grams.best == pytest.approx(3 * 6.0, rel=0.1)


def test_a_quarter_cup_of_listed_water_is_a_part_of_it():
    """An amount that is less than the line is no new water."""
    flow = build_flow(
        weighed(
            "# B\n- 1 1/2 cups warm water\n- 500 g flour\n- 7 g yeast\n> Stir the yeast into 1/4 cup water. Add the "
            "rest of the water and the flour and knead.\n"
        ),
        market="us",
    ).parts[0]
    assert not any("water" in one.name for one in flow.unlisted)


@pytest.mark.parametrize(
    "method",
    [
        "Place the broccoli in a steamer basket over a pot of boiling water. Cover and cook 6 minutes.",
        "Set the broccoli in a sieve above a saucepan half filled with water, cover and cook for 6 minutes.",
        "Cook the broccoli in a bowl over simmering water for 6 minutes.",
    ],
)
def test_food_over_water_is_not_in_it(method):
    """What stands over a pan of water cooks in steam, and none of the water is in the dish."""
    flow = build_flow(weighed(f"# B\n- 300 g broccoli\n> {method}\n"), market="us").parts[0]
    assert [node.action for node in flow.nodes] == ["steam"]
    assert not flow.unlisted and not flow.leaves


def test_a_kind_of_what_was_named_is_no_further_food():
    """ "Preferably groundnut" says which oil; sesame oil, which has its own amount, is another one."""
    flow = build_flow(
        weighed(
            "# F\n- 500 g turkey mince\n- sesame oil\n> In a wok heat 3 tbsp of cooking oil, preferably groundnut, and "
            "1 tsp of sesame oil. Add the turkey and fry 10 minutes.\n"
        ),
        market="us",
    ).parts[0]
    assert [one.name for one in flow.unlisted] == ["cooking oil"]


def test_food_that_goes_into_a_vessel_of_its_own_joins_nothing():
    """Chicken that goes into a hot pan is not in the steamer that was spoken of before."""
    flow = build_flow(
        weighed(
            "# F\n- 300 g chicken breast, diced\n- 200 g broccoli\n- 1 tbsp oil\n> Season the chicken with the oil. "
            "Put the broccoli in a steamer over a pot of boiling water. Put the chicken into a hot pan and cook for 5 "
            "minutes. Steam the broccoli 6 minutes.\n"
        ),
        market="us",
    ).parts[0]
    assert len(flow.dish) == 2


def test_what_is_left_when_each_piece_has_its_amount_is_not_served():
    """Of a pot of which 100 g go on each of four rolls the rest is left over, and is told."""
    found = analyse(
        read_recipe(
            "# R\nserves: 4\n- 1 kg pork shoulder, diced\n- 4 burger buns\n- 100 g coleslaw\n"
            "> Roast the pork at 160 °C for 2 hours. Pile 100 g pork on each bun with the slaw.\n"
        ),
        draws=0,
    )
    assert "portion-left-over" in {one.code for one in found.problems}
    assert found.parts[0].grams_kept < 800.0


@pytest.mark.parametrize(
    "words",
    [
        "Fry the onions in the oil for 8 minutes and add to the lentils.",
        "Fry the onions in the oil for 8 minutes. Tip into the lentils.",
        "Meanwhile fry the onions in the oil for 8 minutes. Add to the lentils.",
        "Mix the onions with the oil. Stir into the lentils.",
    ],
)
def test_what_was_made_just_before_is_what_goes_in(words):
    """Without an object, what goes into the lentils is what the step before has made, and it is cooked with them."""
    flow = build_flow(
        weighed(
            "# L\n- 500 g lentils\n- 1 l stock\n- 2 onions\n- 30 g oil\n> Simmer the lentils in the stock for 30 "
            f"minutes. {words} Simmer for 10 minutes.\n"
        ),
        market="us",
    ).parts[0]
    assert flow.dish == (FromNode(len(flow.nodes) - 1),)


def test_what_was_cut_of_a_line_goes_in_and_the_rest_stays():
    """ "Chop 2 leeks and add": two of six go in, and "the remaining leeks" are the other four."""
    flow = build_flow(
        weighed(
            "# Quay broth\n- 6 leeks\n- 4 stalks celery\n- 2 litres stock\n> Put the stock in a pot. Chop 2 leeks and "
            "1 celery rib and add to the stock. Simmer 1 hour. Strain the stock. Slice the remaining leeks and celery. "
            "Add the leeks and celery to the stock and simmer 10 minutes.\n"
        ),
        market="us",
    ).parts[0]
    first = {one.source.index: one.share for one in flow.nodes[0].inputs}
    assert first[0].best == pytest.approx(1 / 3) and first[1].best == pytest.approx(1 / 4)
    later = [one.source.index for one in flow.nodes[-1].inputs if not isinstance(one.source, FromNode)]
    assert sorted(later) == [0, 1]
