"""How many packs there are and what one holds, in the orders that cooks write it."""

import pytest

from labeler.nutrition.analysis import analyse
from labeler.parsing import read_recipe
from labeler.parsing.declared_servings import measured_yield, pack_size, read_servings
from labeler.parsing.row_phrases import phrases
from labeler.parsing.units import canonical_unit, kind
from labeler.parsing.yields import bare_yield, yields_in
from labeler.text.plurals import singular


@pytest.mark.parametrize(
    ("text", "packs", "noun", "size"),
    [
        ("4 jars of 300 g", 4, "jars", "300 g"),
        ("4 x 300 g jars", 4, "jars", "300 g"),
        ("four 5-oz bottles", 4, "bottles", "5 fl oz"),
        ("Four 5-oz tubs", 4, "tubs", "5 oz"),
        ("6 x 190g", 6, "", "190g"),
        ("300 g jars x 5", 5, "jars", "300 g"),
        ("3 jars (300 g each)", 3, "jars", "300 g"),
        ("5 jars, each 300 g", 5, "jars", "300 g"),
        ("5 jars at 300 g", 5, "jars", "300 g"),
        ("5 jars of about 300 g each", 5, "jars", "300 g"),
        ("about six 8-oz. jars", 6, "jars", "8 oz"),
        ("about 1.2 kg (four 300 g jars)", 4, "jars", "300 g"),
        ("600 ml (2 x 300 ml bottles)", 2, "bottles", "300 ml"),
        ("6 half-pint jars", 6, "jars", "half pint"),
        ("2 pint jars", 2, "jars", "1 pint"),
        ("a 500 ml bottle", 1, "bottle", "500 ml"),
        ("1 x 2 lb loaf", 1, "loaf", "2 lb"),
        ("4 tubs (5 oz / 140 g)", 4, "tubs", "5 oz / 140 g"),
        ("8 pasties of 180 g each", 8, "pasties", "180 g"),
        ("7-8 jars of 200 g", 7.5, "jars", "200 g"),
        ("about 1.2 kg, enough for 4 jars", 4, "jars", ""),
        ("12 pies + a few spare lids", 12, "pies", ""),
    ],
)
def test_packs_and_what_one_holds(text, packs, noun, size):
    """The number, the noun and the size are told apart wherever each stands; what leads up to them is no part."""
    found = read_servings({"makes": text})
    assert (found.count, found.unit, pack_size({"makes": text})) == (packs, noun, size)


@pytest.mark.parametrize(
    ("text", "size", "batch"),
    [
        ("2 litres, in 4 bottles", "", "2 litres"),
        ("1.2 kg (4 x 300 g jars)", "300 g", "1.2 kg"),
        ("3 cups", "", "3 cups"),
    ],
)
def test_the_measure_of_the_batch_is_no_size_of_a_pack(text, size, batch):
    """A measure without a number of things before it is what all of it comes to."""
    assert (pack_size({"makes": text}), measured_yield({"makes": text})) == (size, batch)


@pytest.mark.parametrize("text", ["6 x 190g", "300 g jars x 5", "One loaf, 12 slices", "2 litres, in 4 bottles"])
def test_a_row_that_only_says_what_is_made(text):
    """Packs and several things made in one row need no word for it."""
    assert bare_yield(text).says == text


@pytest.mark.parametrize("text", ["Two-day rye loaf", "2 x 400 g tins of chickpeas", "4 x 100 g cod fillets"])
def test_a_row_that_names_food_says_nothing_of_what_is_made(text):
    """A number in a name and packs of an ingredient are no yield."""
    assert bare_yield(text) is None


@pytest.mark.parametrize(
    "text", ["Net weight: 190 g", "**net wt. 190 g**", "Net 190 g.", "Whelk relish (net 190 g)", "By hand | Net 190 g"]
)
def test_a_net_weight_stands_in_the_text(text):
    """What a pack holds is read where a row, a bracket or a cell says nothing else."""
    assert [(one.key, one.says) for one in yields_in(text)] == [("net", "190 g")]


@pytest.mark.parametrize("text", ["Tuna tins vary: ours has net 112 g.", "Buy tins of net 112 g, drained."])
def test_a_net_weight_inside_a_sentence_is_not_the_packs(text):
    """A sentence speaks of what was bought as well as of what is sold, and the label prints the latter."""
    assert [one for one in yields_in(text) if one.key == "net"] == []


@pytest.mark.parametrize(
    ("market", "head", "grams"),
    [
        ("uk", "makes: 4 tubs (5 oz / 140 g)", 140),
        ("us", "makes: 4 tubs (5 oz / 140 g)", 141.7),
        ("uk", "makes: 4 jars of 300 g", 300),
        ("uk", "servings: 4 jars\nnet: 180 g", 180),
    ],
)
def test_a_stated_net_quantity_is_never_worked_out(market, head, grams):
    """What the cook states of a pack is printed, of two statements the one in the market's units."""
    portion = analyse(read_recipe(f"---\nmarket: {market}\n{head}\n---\n- 600 g cream cheese\n"), draws=0).portion
    assert (portion.packs, portion.pack_stated) == (4, True)
    assert portion.pack_g == pytest.approx(grams, abs=0.1)


def test_the_words_of_packs_have_their_shape():
    """Nouns of packs are singular, their units are weights or volumes, and what leads up to a number is words."""
    found = phrases()
    assert all(singular(word) == word for name in ("fluid_pack", "whole_piece") for word in found[name])
    assert {kind(canonical_unit(word)) for word in found["large_unit"]} == {"mass", "volume"}
    assert all(word.islower() for name in ("leads_up", "size_about", "size_joint", "served") for word in found[name])
