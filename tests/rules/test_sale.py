"""How a food is sold settles what its label and its post show, and the label says itself what it lacks."""

from __future__ import annotations

from typing import Any

import pypdfium2
import pytest
from sweep_labels import PLACES as ADDRESSES

from labeler.label.make import make_label
from labeler.parsing import read_recipe
from labeler.post.builder import post_content
from labeler.rules.label_elements import Element
from labeler.rules.loading.schema import SALES
from labeler.rules.market import load_market, market_ids
from labeler.rules.obligations import OBLIGATIONS
from labeler.rules.sale import FiguresShown, sale_of
from labeler.types import LabelerError, Problem, Severity, refuse, refused


def relish(**head: Any):
    """A relish of three foods without allergens, with a head."""
    keys = {"makes": "6 jars", "net": "180 ml", "maker": "Tern & Tide Kitchen", **head}
    lines = "\n".join(f"{key.replace('_', ' ')}: {value}" for key, value in keys.items() if value is not None)
    foods = "- 1 kg pears, peeled and chopped\n- 300 g sugar\n- 250 ml cider vinegar\n> weighs 1.2 kg\n"
    return read_recipe(f"---\ntitle: Pear relish\n{lines}\n---\n{foods}")


def words_of(made) -> str:
    """The words of a label's PDF in one line."""
    return " ".join(pypdfium2.PdfDocument(made.pdf)[0].get_textpage().get_text_range().split())


def lacking(made) -> set[Element]:
    return {lack.element for lack in made.check.lacks}


@pytest.mark.parametrize("market", market_ids())
def test_every_market_says_of_every_sale_what_each_element_is(market: str) -> None:
    """The table of a market has a state for every kind of sale, and allergens are never left open."""
    rows = [rule for rule in load_market(market).rules(OBLIGATIONS).values() if rule.kind == "label elements"]
    assert {"name of the food", "ingredient list", "allergens", "nutrition panel"} <= {r.data["element"] for r in rows}
    for rule in rows:
        assert all(sale in rule.data for sale in SALES)
        if rule.data["element"] == "allergens":
            assert all(rule.data[sale] in ("mandatory", "must be told") for sale in SALES)


def test_a_us_label_to_shops_has_the_official_panel_and_lacks_nothing() -> None:
    """21 CFR 101.3 to 101.9: name, list, allergens, net quantity, place of business and panel."""
    made = make_label(relish(sale="to shops", place=ADDRESSES["us"], kind="relishes"), market="us", final=True)
    assert made.declared["panel"] == "panel-vertical" and not made.declared["draft"] and not made.check.lacks
    text = words_of(made)
    assert "Nutrition Facts" in text and "DRAFT" not in text and "% Daily Value" in text


def test_a_us_seller_who_is_exempt_shows_no_figures_on_label_or_post_unless_asked() -> None:
    """21 CFR 101.9(j)(1): figures on label, labelling or advertising end the exemption."""
    head = {"sale": "packed ahead", "food_sales": 20000, "place": ADDRESSES["us"]}
    made = make_label(relish(**head), market="us")
    assert made.declared["figures"] == "none" and not made.declared["nutrition"] and not made.check.lacks
    assert any("exemption" in note for note in made.check.notes)
    post = post_content(relish(**head), market="us")
    assert not post.rows and not post.facts and not post.sure
    asked = make_label(relish(**head, figures="yes"), market="us")
    assert asked.declared["panel"] == "panel-vertical"
    assert any("end the exemption" in note for note in asked.check.notes)
    assert post_content(relish(**head), market="us", figures=True).rows


def test_a_us_seller_of_whom_nothing_is_known_gets_what_is_compulsory_and_the_question() -> None:
    """Without facts the own stall's label has no panel, which may not be owed, and asks."""
    made = make_label(relish(sale="packed ahead", place=ADDRESSES["us"]), market="us")
    assert made.declared["figures"] == "none" and not made.declared["draft"]
    assert any("US dollars" in question for question in made.check.questions)


def test_a_uk_stall_asks_for_name_and_list_only_and_shops_for_all_of_article_9() -> None:
    """Prepacked for direct sale: name and list with emphasis (regulation 5A); to shops: Article 9."""
    assert lacking(make_label(relish(sale="packed ahead", net=None, maker=None), market="uk")) == set()
    shops = lacking(make_label(relish(sale="to shops", net=None, makes=None, maker=None, serves=4), market="uk"))
    assert {Element.NET, Element.ADDRESS, Element.DATE, Element.LOT} <= shops


def test_an_address_of_another_market_is_none() -> None:
    """A US address on a British label is said to be one, with what to write."""
    made = make_label(relish(sale="to shops", place=ADDRESSES["us"]), market="uk")
    (lack,) = [lack for lack in made.check.lacks if lack.element is Element.ADDRESS]
    assert "another market" in lack.message and "United Kingdom" in lack.message


@pytest.mark.parametrize("market", market_ids())
def test_an_address_of_the_market_is_one(market: str) -> None:
    """An address with the market's postal code or country passes."""
    made = make_label(relish(sale="to shops", place=ADDRESSES[market]), market=market, size="200x200")
    assert Element.ADDRESS not in lacking(made)


def test_a_date_before_the_day_it_was_made_is_none() -> None:
    """The date mark lies behind the day of making."""
    head = {"sale": "to shops", "place": ADDRESSES["uk"], "made": "2026-11-03", "lot": "A1"}
    assert Element.DATE in lacking(make_label(relish(**head, best_before="2026-11-01"), market="uk"))
    assert not lacking(make_label(relish(**head, best_before="2027-11-01"), market="uk"))


def test_a_date_with_a_day_stands_for_the_lot() -> None:
    """Directive 2011/91/EU: a date with day and month takes the place of the lot."""
    head = {"sale": "to shops", "place": ADDRESSES["eu"]}
    assert Element.LOT in lacking(make_label(relish(**head), market="eu"))
    assert Element.LOT not in lacking(make_label(relish(**head, best_before="2027-11-01"), market="eu"))


def test_a_draft_is_marked_and_final_refuses_it() -> None:
    """The mark stands on the paper, and --final says what lacks in place of printing."""
    recipe = relish(sale="to shops")
    assert "DRAFT" in words_of(make_label(recipe, market="us"))
    with pytest.raises(LabelerError, match="lacks: name and address"):
        make_label(recipe, market="us", final=True)


def test_served_food_has_the_plain_card_and_no_net_quantity_is_forced() -> None:
    """Made to order: allergens are told; nothing of a pack is asked for."""
    made = make_label(relish(sale="made to order", net=None, makes=None, serves=4, maker=None), market="us", final=True)
    assert made.declared["figures"] == FiguresShown.TABLE.value and made.declared["nutrition"] and not made.check.lacks


def test_a_sign_for_the_shelf_is_no_label() -> None:
    """A strip need not say what a label must, and is no draft without it."""
    made = make_label(relish(sale="to shops"), market="us", layout="strip", size="300x60", figures=False)
    assert not made.declared["draft"]


def test_california_dates_are_written_in_its_words() -> None:
    """Food and Agricultural Code 82001 (AB 660): “BEST if Used by” for quality, “USE by” for safety."""
    quality = make_label(relish(sale="to shops", place=ADDRESSES["us"], best_before="2027-11-01"), market="us")
    safety = make_label(relish(sale="to shops", place=ADDRESSES["us"], use_by="2026-12-01"), market="us")
    said = [
        " ".join(pypdfium2.PdfDocument(one.pdf)[0].get_textpage().get_text_range().split()) for one in (quality, safety)
    ]
    assert "BEST if Used by 1 November 2027" in said[0] and "USE by 1 December 2026" in said[1]


def test_the_kind_of_sale_that_is_not_said_is_taken_to_be_the_own_stall_and_asked() -> None:
    """No silent default: the label says what it took."""
    made = make_label(relish(), market="us")
    assert made.declared["sale"] == "packed ahead" and made.declared["sale_assumed"]
    assert any("It is taken to be packed ahead" in question for question in made.check.questions)


def test_facts_of_the_head_may_be_typed_as_people_type_them() -> None:
    """Thousands with a comma, yes and no in words."""
    sale = sale_of(relish(sale="packed ahead", food_sales='"20,000"', claim="no"), "us")
    assert sale.facts["food_sales"] == 20000 and sale.facts["claim"] is False
    with pytest.raises(LabelerError, match="kind of sale"):
        sale_of(relish(sale="to shop"), "us")


def test_a_problem_that_refuses_keeps_a_label_from_being_made() -> None:
    """A refusal is one of severity REFUSE; anything less passes."""
    note, no = Problem("a", "b"), Problem("c", "The main food leaves the dish.", 3, Severity.REFUSE)
    assert refused((note, no)) == (no,)
    refuse((note,), anyway=False, what="label")
    refuse((note, no), anyway=True, what="label")
    with pytest.raises(LabelerError, match="line 3: The main food leaves the dish"):
        refuse((note, no), anyway=False, what="label")


@pytest.mark.parametrize("market", ["us", "ca"])
def test_a_source_stands_once_and_spelt_is_wheat(market: str) -> None:
    """21 USC 343(w)(1): the source by its name, each once; the list says of spelt flour that it is wheat."""
    text = "---\ntitle: Loaf\nmakes: 2 loaves\n---\n- 300 g spelt flour\n- 200 g plain flour\n- 300 ml water\n"
    declared = make_label(read_recipe(text), market=market).declared
    assert declared["allergens"].lower().count("wheat") == 1 and "spelt)" not in declared["allergens"]
    assert "spelt flour (wheat)" in declared["ingredients"].lower()
