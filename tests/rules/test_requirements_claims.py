"""What a market asks is answered for every kind of reference amount, and drinks are judged as drinks."""

import pytest

from labeler.parsing import read_recipe
from labeler.rules.requirements import requirements


@pytest.mark.parametrize(
    "title",
    ["Raspberry shrub", "Lime cordial", "Barbecue spice rub", "Lentil soup mix", "Hot cocoa mix", "Pie crust"],
)
def test_reference_amounts_in_spoons_millilitres_or_words_end_in_no_error(title):
    """Amounts in cups and spoons get a weight by the food's density; one in words leaves its claims out."""
    text = (
        f"---\ntitle: {title}\nmakes: 4 bottles\nnet: 250 g\n---\n- 500 g raspberries\n- 300 g sugar\n- 200 ml water\n"
    )
    found = requirements(read_recipe(text), market="us", facts={"sale": "to shops"})
    assert found.claims is not None


def test_a_drink_keeps_the_limits_of_drinks():
    """Low sugars: 5 g per 100 g of a solid, 2.5 g per 100 mL of a liquid (Regulation 1924/2006, annex)."""
    lines = "- 1 litre water\n- 4 tea bags\n- 40 g sugar\n> simmer 1 minute\n"
    text = "---\ntitle: {}\nmakes: 4 bottles\n---\n" + lines

    def offered(title):
        found = requirements(read_recipe(text.format(title)), market="eu").claims
        return {claim.rule.id for claim in (*found.offered, *found.withheld)}

    assert "claim-low-sugars" not in offered("Iced tea")
