"""What a market asks of a recipe follows from its own figures and the facts of the sale."""

import pytest

from labeler.parsing import read_recipe
from labeler.rules.requirements import read_facts, requirements
from labeler.types import LabelerError

RELISH = """---
title: Pear and ginger relish
makes: 6 jars
net: 200 g
kind: relishes
---
- 1 kg pears, peeled and chopped
- 300 g sugar
- 250 ml cider vinegar
> weighs 1.2 kg
"""


def test_the_serving_rests_on_the_reference_amount_that_the_recipe_names():
    """Pickle relishes: reference amount 15 g, label statement in tablespoons (21 CFR 101.12(b), table 2)."""
    found = requirements(read_recipe(RELISH), market="us")
    assert found.serving.reference.id == "ra.relishes" and found.serving.confidence == 1
    assert found.serving.statement.startswith("1 tbsp (")


def test_facts_settle_the_exemption_and_printing_the_panel_ends_it():
    """Food sales of $20,000 a year need no panel (21 CFR 101.9(j)(1)); a claim ends that; allergens always stay."""
    recipe = read_recipe(RELISH)
    facts = {
        "sale": "packed at the stall",
        "food_sales": 20000,
        "all_sales": 20000,
        "claim": False,
        "nutrition_shown": False,
    }
    free = requirements(recipe, market="us", facts=facts).obligations
    assert free["nutrition panel"].state == "not needed"
    assert free["allergens"].state == "mandatory"
    claiming = requirements(recipe, market="us", facts=facts | {"claim": True}).obligations
    assert claiming["nutrition panel"].state.startswith("mandatory")


def test_what_is_not_said_is_asked():
    """Without the kind of sale no requirement is judged, and the answer says how to say it."""
    found = requirements(read_recipe(RELISH), market="us")
    assert found.obligations is None and any("--fact" in sentence for sentence in found.open)


def test_what_depends_on_the_kind_of_sale_is_shown_where_it_is_not_said():
    """Each kind has its own answer, the same that saying it gives; said, there is nothing to choose from."""
    recipe = read_recipe(RELISH.replace("kind: relishes\n", ""))
    found = requirements(recipe, market="uk")
    said = requirements(recipe, market="uk", facts={"sale": "packed ahead"})
    assert len(found.by_sale) == 6 and not said.by_sale
    assert found.by_sale["packed ahead"] == said.obligations
    assert found.by_sale["post only"]["net quantity"].state != said.obligations["net quantity"].state


def test_the_head_may_hold_the_facts():
    """`sale:` and the other facts in the head count as given."""
    found = requirements(
        read_recipe(RELISH.replace("makes:", "sale: packed at the stall\nfood sales: 20000\nmakes:")), market="us"
    )
    assert found.obligations is not None


@pytest.mark.parametrize("market", ["us", "eu", "uk", "ca", "anz", "codex", "jp"])
def test_every_market_answers_or_says_what_is_not_held(market):
    """All seven markets give an answer; what they lack is said in a sentence."""
    found = requirements(
        read_recipe(RELISH.replace("kind: relishes\n", "")), market=market, facts={"sale": "packed at the stall"}
    )
    assert found.market == market
    assert found.obligations is not None and found.obligations["allergens"].state != "optional"


def test_facts_are_read_as_typed():
    """Numbers, yes and no and words are told apart; anything else is refused with how to write it."""
    assert read_facts(["employees=2", "notice=yes", "sale=to shops", "units = 1,500"]) == {
        "employees": 2, "notice": True, "sale": "to shops", "units": 1500,
    }  # fmt: skip
    with pytest.raises(LabelerError, match="name=value"):
        read_facts(["employees"])


def test_an_unknown_fact_is_refused_with_the_nearest():
    """A slip in a fact's name is answered with the name that was meant."""
    with pytest.raises(LabelerError, match="employees"):
        requirements(read_recipe(RELISH), market="us", facts={"sale": "to shops", "employes": 2})
