"""Do I need it at all? Requirements, exemptions, and what ends them."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from labeler.rules.loading.schema import SALES
from labeler.rules.market import market_ids
from labeler.rules.obligations import Obligations, obligations, questions
from labeler.types import LabelerError


def panel(market: str, **facts: Any) -> str:
    return obligations(facts, market=market)["nutrition panel"].state


def test_the_us_frees_the_small_seller_and_a_claim_takes_it_away() -> None:
    """Small sales direct to consumers need no panel, until a claim is made or figures are shown."""
    # 21 USC 343(q)(5)(D): 50,000 dollars of food, or 500,000 in all, a year.
    assert panel("us", sale="packed ahead", food_sales=50_000) == "not needed"
    assert panel("us", sale="packed ahead", all_sales=500_000) == "not needed"
    assert panel("us", sale="packed ahead", food_sales=50_000, claim=True) == "mandatory"
    assert panel("us", sale="packed ahead", food_sales=50_000, nutrition_shown=True) == "mandatory"
    # Sold to shops, it is no direct sale to consumers.
    sold = obligations({"sale": "to shops", "food_sales": 20_000}, market="us")["nutrition panel"]
    assert sold.state == "mandatory unless"


def test_the_us_frees_low_volumes_without_and_with_a_notice() -> None:
    """Few units by few people need no panel, above the lower limits with a yearly notice only."""
    # 21 USC 343(q)(5)(E): below 10 FTE and 10,000 units no notice; below 100 and 100,000 with a yearly notice.
    assert panel("us", sale="to shops", employees=9.5, units=9_999) == "not needed"
    big = {"sale": "to shops", "employees": 10, "units": 9_999, "surface_sq_in": 40}
    assert panel("us", **big, notice=True) == "not needed"
    assert panel("us", **big, notice=False) == "mandatory"
    assert panel("us", **{**big, "units": 100_000}, notice=True) == "mandatory"


def test_a_tiny_package_is_free_below_12_square_inches() -> None:
    """A package of less than 12 square inches needs no panel, one of 12 does."""
    # 21 CFR 101.9(j)(13)(i).
    facts = {"sale": "to shops", "employees": 500, "units": 1_000_000, "notice": False}
    assert panel("us", **facts, surface_sq_in=11.9) == "not needed"
    assert panel("us", **facts, surface_sq_in=12) == "mandatory"


def test_canada_frees_the_maker_who_sells_in_person_until_he_speaks_of_nutrients() -> None:
    """Who sells what he makes needs neither panel nor symbol, until a claim or an added nutrient."""
    # B.01.401(2)(b)(vi) and (3)(e).
    facts = {"sale": "packed ahead", "maker_sells": True}
    assert panel("ca", **facts) == "not needed"
    assert obligations(facts, market="ca")["front-of-package symbol"].state == "not needed"
    assert panel("ca", **facts, claim=True) == "mandatory"
    assert panel("ca", **facts, fortified=True) == "mandatory"
    assert panel("ca", sale="packed ahead", maker_sells=False) == "mandatory unless"


def test_the_uk_asks_direct_sale_for_a_full_ingredient_list() -> None:
    """Food prepacked for direct sale has its full list in the UK, not in the EU."""
    # Prepacked for direct sale, since 1 October 2021.
    found = obligations({"sale": "packed at the stall"}, market="uk")
    assert found["ingredient list"].state == "mandatory"
    assert found["allergens"].state == "mandatory"
    assert found["nutrition panel"].state == "optional"
    assert obligations({"sale": "packed at the stall"}, market="eu")["ingredient list"].state == "optional"


def test_small_quantities_are_free_in_the_eu_and_the_uk() -> None:
    """Small quantities and small packages need no panel, until a claim is made."""
    # Annex V, point 19.
    for market in ("eu", "uk"):
        assert panel(market, sale="by mail", small_quantities=True) == "not needed"
        assert panel(market, sale="by mail", small_quantities=False, surface_cm2=100) == "mandatory"
        assert panel(market, sale="by mail", small_quantities=False, surface_cm2=24.9) == "not needed"
        assert panel(market, sale="by mail", small_quantities=True, claim=True, surface_cm2=100) == "mandatory"


@pytest.mark.parametrize("market", ["us", "eu", "uk", "ca", "codex", "anz", "jp"])
@pytest.mark.parametrize("sale", SALES)
def test_allergens_are_never_optional(market: str, sale: str) -> None:
    """No sale and no exemption frees from telling the allergens."""
    every = {name: True for name, rule in questions(market).items() if rule.data["answer"] == "yes or no"}
    for facts in ({}, every):
        assert obligations({"sale": sale, **facts}, market=market)["allergens"].state in ("mandatory", "must be told")


@pytest.mark.parametrize("market", ["us", "eu", "uk", "ca", "codex", "anz", "jp"])
def test_every_answer_is_cited_and_ends_with_whom_to_ask(market: str) -> None:
    """Each requirement and exemption has its paragraph, and the authority to ask is named."""
    found = obligations({"sale": "packed ahead"}, market=market)
    assert "sk " in found.ask.summary
    for requirement in found.requirements:
        assert requirement.rule.paragraph in requirement.because
        for exemption in requirement.exemptions:
            assert exemption.rule.paragraph and exemption.because


def test_what_is_not_known_is_asked_for_and_left_open() -> None:
    """An open fact leaves the requirement open with its question; an answer settles it."""
    found = obligations({"sale": "packed ahead"}, market="us")
    assert found["nutrition panel"].state == "mandatory unless"
    assert any("US dollars" in question for question in found.questions)
    settled = obligations({"sale": "packed ahead", "food_sales": 100}, market="us")
    assert settled.questions == ()


def test_an_exemption_names_what_would_end_it() -> None:
    """An exemption that applies says that a claim or shown figures would end it."""
    requirement = obligations({"sale": "packed ahead", "food_sales": 100}, market="us")["nutrition panel"]
    applies = next(exemption for exemption in requirement.exemptions if exemption.state == "applies")
    assert any("claim" in words for words in applies.ended_by)
    assert any("figures" in words for words in applies.ended_by)


@given(
    st.fixed_dictionaries(
        {"sale": st.sampled_from(SALES)},
        optional={"food_sales": st.floats(0, 1e6), "employees": st.floats(0, 200), "units": st.integers(0, 200_000)},
    )
)
@settings(deadline=None, max_examples=100)
def test_a_claim_never_makes_a_requirement_lighter(facts: dict[str, Any]) -> None:
    """Whatever else is known, a claim never frees from the panel."""
    weight = {"optional": 0, "not needed": 0, "nothing": 0, "mandatory unless": 1, "mandatory": 2}

    def state(found: Obligations) -> int:
        return weight[found["nutrition panel"].state]

    assert state(obligations({**facts, "claim": True}, market="us")) >= state(obligations(facts, market="us"))


@pytest.mark.parametrize(
    ("facts", "says"),
    [
        ({}, "how it is sold"),
        ({"sale": "by post"}, "no such kind of sale"),
        ({"sale": "to shops", "emploees": 3}, "did you mean 'employees'"),
        ({"sale": "to shops", "employees": "three"}, "is a number"),
        ({"sale": "to shops", "employees": -1}, "is a number"),
        ({"sale": "to shops", "claim": 1}, "yes or no"),
    ],
)
def test_facts_that_mean_nothing_are_refused(facts: dict[str, Any], says: str) -> None:
    """A sale, a fact or a value that is not known is refused with what is wrong."""
    with pytest.raises(LabelerError, match=says):
        obligations(facts, market="us")


def test_every_market_has_its_questions() -> None:
    """Each market asks at least how the food is sold."""
    for market in market_ids():
        assert "sale" in questions(market)


def test_the_first_question_is_the_one_that_frees_from_most() -> None:
    """Of the open facts the first of the exemption that frees from most is asked; where nothing is open, none is."""
    held = obligations({"sale": "packed ahead"}, market="eu").deciding
    assert held is not None and held.fact == "direct_sale" and len(held.elements) > 5
    after = obligations({"sale": "packed ahead", "direct_sale": False}, market="eu").deciding
    assert after is not None and after.fact == "small_quantities"
    volume = obligations({"sale": "to shops"}, market="us").deciding
    assert volume is not None and volume.fact == "employees"  # 21 USC 343(q)(5)(E), before the tiny package
    assert obligations({"sale": "packed ahead", "food_sales": 20_000}, market="us").deciding is None


@pytest.mark.parametrize(("market", "fact"), [("ca", "maker_sells"), ("ca", "made_on_site"), ("anz", "made_on_site")])
def test_what_is_sold_where_it_is_made_is_not_sold_to_shops(market: str, fact: str) -> None:
    """What frees food that is sold where it is made is not granted to shops or by mail."""
    for sale in ("to shops", "by mail"):
        assert obligations({"sale": sale, fact: True}, market=market)["nutrition panel"].state.startswith("mandatory")
    assert (
        obligations({"sale": "packed at the stall", fact: True}, market=market)["nutrition panel"].state == "not needed"
    )


def test_a_small_package_needs_no_list_in_australia_and_new_zealand() -> None:
    """Standard 1.2.4, section 1.2.4-2(3)(c): below 100 cm2 neither list nor panel; the allergens stay."""
    small = obligations({"sale": "to shops", "surface_cm2": 99}, market="anz")
    assert small["ingredient list"].state == small["nutrition panel"].state == "not needed"
    assert small["allergens"].state == "mandatory" and small["date"].state == "mandatory"
    assert obligations({"sale": "to shops", "surface_cm2": 100}, market="anz")["ingredient list"].state == "mandatory"
