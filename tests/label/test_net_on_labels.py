"""The net quantity that a label prints: weight or fluid measure, and rounded as everything else on it."""

import pytest

from labeler.label.builder import gather, label_content
from labeler.label.serving_words import grams_words
from labeler.parsing import read_recipe

MARKETS = ("us", "eu", "uk", "ca", "anz", "codex", "jp")


def net(title, head="makes: 4 bottles", market="us", line="1 kg water {food 14411, 1000 g}"):
    recipe = read_recipe(f"---\ntitle: {title}\n{head}\n---\n- {line}\n")
    content, _, _ = label_content(recipe, market=market, facts=gather(recipe, market=market))
    return content.net


@pytest.mark.parametrize("market", MARKETS)
@pytest.mark.parametrize("title", ["Apple vinegar", "Apple juice", "Chicken stock", "Ginger cordial with lime"])
def test_liquids_stand_in_fluid_measure_in_every_market(title, market):
    """21 CFR 101.7(a); Regulation (EU) No 1169/2011, Article 23(1)(a): liquid food in units of volume."""
    printed = net(title, market=market).lower()
    assert "ml" in printed and " g" not in printed and "net wt" not in printed
    assert ("fl oz" in printed) or market != "us"


@pytest.mark.parametrize(("net_words", "printed"), [("250 g", "250 g"), ("250 ml", "250 ml")])
def test_a_sauce_goes_by_what_the_cook_measured(net_words, printed):
    """A name does not say whether a sauce flows: weight stays weight, and volume volume (Article 23(1))."""
    assert printed in net("Chilli sauce", head=f"makes: 4 bottles\nnet: {net_words}", market="uk")


@pytest.mark.parametrize(
    ("litres", "words"), [(2, "Net 67.6 fl oz (2 qt 3.6 fl oz) 2 L"), (4, "Net 1 gal 7 fl oz (4 L)")]
)
def test_two_and_four_litres_have_quarts_and_gallons(litres, words):
    """21 CFR 101.7(j)(2) and (m)(2): the largest whole unit with the rest in fluid ounces; a gallon and more by it."""
    assert (
        net("Apple juice", head=f"makes: 1 jug\nnet: {litres} litres", line="5 kg water {food 14411, 5000 g}") == words
    )


@pytest.mark.parametrize("title", ["Pasta sauce", "Cod cakes with tartare sauce", "Oatmeal stout cake", "Loaf"])
def test_what_is_no_liquid_stands_by_weight(title):
    """21 CFR 101.7(a): semisolid and mixed food by weight; a sauce beside the food does not make it a liquid."""
    assert net(title).startswith("Net Wt")


def test_a_net_that_the_cook_gives_as_a_volume_is_printed_as_that():
    """A soup sold by 250 ml stands so, without a detour over its weight."""
    assert "250 ml" in net("Leek soup", head="makes: 4 tubs\nnet: 250 ml", market="uk")


@pytest.mark.parametrize(
    ("head", "printed"), [("makes: 4 jars\nnet: 180 g", "180 g"), ("makes: 5 x 300 g jars", "300 g")]
)
def test_a_stated_weight_is_printed_and_no_volume_worked_out_from_it(head, printed):
    """A sauce of 180 g says 180 g; that it is to stand by volume is a problem and no figure."""
    recipe = read_recipe(f"---\ntitle: Chilli sauce\n{head}\n---\n- 1.6 kg ketchup\n")
    content, *_ = label_content(recipe, market="uk", facts=gather(recipe, market="uk"))
    assert content.net.startswith(printed) and "ml" not in content.net


@pytest.mark.parametrize(
    ("grams", "words"), [(126.5, "127 g"), (252.5, "253 g"), (0.25, "0.3 g"), (4.96, "5 g"), (4.4, "4.4 g")]
)
def test_grams_are_rounded_half_way_up(grams, words):
    """Exactly half-way goes up, as the rounding rules of every market that is held have it (21 CFR 101.9(c))."""
    assert grams_words(grams) == words


def test_serving_and_net_of_the_same_weight_are_the_same_figure():
    """506 g in four packs are 126.5 g: a serving of 127 g in a pack of 127 g."""
    recipe = read_recipe("---\ntitle: Mix\nmakes: 4 boxes\n---\n- 506 g sugar {food 19335, 506 g}\n")
    content, _, _ = label_content(recipe, market="uk")
    assert content.serving == "1 box (127 g)" and content.net.startswith("127 g")
