"""Net quantity: units, forms and the height of the type."""

from __future__ import annotations

import pytest

from labeler.rules.market import load_market, market_ids
from labeler.rules.net_quantity import net_quantity


@pytest.mark.parametrize(
    ("grams", "text"),
    [
        # 21 CFR 101.7(j): below 1 lb in ounces; from 1 lb pounds in parentheses; from 4 lb in pounds and ounces.
        # 1 oz = 28.3495 g, 1 lb = 453.592 g.
        (340, "Net Wt 12 oz (340 g)"),
        (190, "Net Wt 6.7 oz (190 g)"),
        (453.6, "Net Wt 16 oz (1 lb) 454 g"),
        # The example of the paragraph: "24 oz (1 lb 8 oz)".
        (680.4, "Net Wt 24 oz (1 lb 8 oz) 680 g"),
        (1360, "Net Wt 48 oz (3 lb) 1.36 kg"),
        (2381, "Net Wt 5 lb 4 oz (2.38 kg)"),
    ],
)
def test_us_weights(grams: float, text: str) -> None:
    """Ounces below a pound, with pounds in parentheses from there, and pounds and ounces first from four pounds."""
    assert net_quantity(market="us", grams=grams).text == text


def test_us_liquids_go_by_the_fluid_ounce() -> None:
    """A liquid is declared in fluid ounces, from a pint on with the pints beside them."""
    # 1 fl oz = 29.5735 mL, 1 pt = 16 fl oz.
    assert net_quantity(market="us", millilitres=355, liquid=True).text == "Net 12 fl oz (355 mL)"
    assert net_quantity(market="us", millilitres=709.8, liquid=True).text == "Net 24 fl oz (1 pt 8 fl oz) 710 mL"


@pytest.mark.parametrize("food", ["Dill pickles", "Beetroot and apple relish", "Pickled red onions", "Piccalilli"])
def test_pickles_and_relishes_go_by_fluid_measure_in_the_us(food: str) -> None:
    """Pickles and relishes are declared by volume in the US, which is asked for where only a weight is known."""
    # 21 CFR 101.7(r).
    net = net_quantity(market="us", grams=300, millilitres=284, food=food)
    assert net.text == "Net 9.6 fl oz (284 mL)"
    assert "net-volume-foods" in {rule.id for rule in net.rules}
    weighed = net_quantity(market="us", grams=300, food=food)
    assert weighed.text == "Net Wt 10.6 oz (300 g)"
    assert weighed.problems[0].code == "net-needs-volume"
    assert net_quantity(market="eu", grams=300, millilitres=284, food=food).text == "300 g"


@pytest.mark.parametrize("food", ["Pickled herring", "Ham sandwich with pickles", "Pickled shrimp", "Tomato soup"])
def test_what_only_sounds_like_a_pickle_goes_by_weight(food: str) -> None:
    """Fish, meat and dishes with pickles in their names are declared by weight."""
    assert net_quantity(market="us", grams=300, millilitres=284, food=food).text == "Net Wt 10.6 oz (300 g)"


def test_metric_markets_print_metric_and_may_add_the_other_system() -> None:
    """Metric stands first and alone; ounces may follow in parentheses."""
    for market in ("eu", "uk", "ca", "codex"):
        net = net_quantity(market=market, grams=340)
        assert (net.text, net.both) == ("340 g", "340 g (12 oz)")
    # The imperial fluid ounce has 28.41 mL.
    assert net_quantity(market="uk", millilitres=500, liquid=True).both == "500 ml (17.6 fl oz)"


@pytest.mark.parametrize(
    ("area_cm2", "height_mm"),
    # 21 CFR 101.7(i): to 5 sq in 1/16 inch, to 25 1/8, to 100 3/16, to 400 1/4, above 1/2. 1 sq in = 6.4516 cm2.
    [(32.2, 1.5875), (32.3, 3.175), (161.29, 3.175), (161.3, 4.7625), (645.2, 6.35), (2580.7, 12.7)],
)
def test_us_type_grows_with_the_panel(area_cm2: float, height_mm: float) -> None:
    """The height of the type in the US follows the area of the principal display panel."""
    assert net_quantity(market="us", grams=100, panel_area_cm2=area_cm2).minimum_type_mm == pytest.approx(height_mm)


def test_us_type_needs_the_panel() -> None:
    """Without the area of the panel the height is not known, and a problem says so."""
    net = net_quantity(market="us", grams=100)
    assert net.minimum_type_mm is None
    assert net.problems[0].code == "net-type-needs-panel-area"


@pytest.mark.parametrize(("grams", "height"), [(50, 2), (50.1, 3), (200, 3), (201, 4), (1000, 4), (1001, 6)])
def test_eu_type_grows_with_the_quantity(grams: float, height: float) -> None:
    """The height of the type in the EU follows the nominal quantity."""
    # Directive 76/211/EEC, Annex I, 3.1, from memory.
    assert net_quantity(market="eu", grams=grams).minimum_type_mm == height


def test_a_solid_food_in_a_liquid_shows_its_drained_weight() -> None:
    """The drained weight stands beside the net weight in the EU and in its place in the US."""
    # Annex IX, point 5 (from memory): both. us, 21 CFR 101.7(a) (from memory): the drained weight in its place.
    assert net_quantity(market="eu", grams=340, drained_g=200).text == "340 g, drained net weight 200 g"
    assert net_quantity(market="us", grams=340, drained_g=200).text == "Net Wt 7.05 oz (200 g)"
    assert net_quantity(market="us", grams=340, millilitres=330, drained_g=200, food="Pickles").text.startswith(
        "Net 11"
    )


def test_quantities_are_given_and_above_zero() -> None:
    """A quantity that lacks, or that is zero, is refused."""
    with pytest.raises(ValueError, match="grams or in millilitres"):
        net_quantity(market="us")
    with pytest.raises(ValueError, match="above zero"):
        net_quantity(market="us", grams=0)


def test_canada_counts_fluid_ounces_below_a_gallon_and_japan_none() -> None:
    """Safe Food for Canadians Regulations, sections 233 and 237(1): no pints; Japan has metric units alone."""
    assert net_quantity(market="ca", millilitres=2000, liquid=True).both == "2 L (70.4 fl oz)"
    assert net_quantity(market="ca", millilitres=999, liquid=True).text == "999 mL"
    assert net_quantity(market="ca", millilitres=5000, liquid=True).both.startswith("5 L (1 gal")
    assert net_quantity(market="jp", grams=250).both == "250 g" == net_quantity(market="anz", grams=250).both


@pytest.mark.parametrize("market", market_ids())
def test_a_market_of_metric_units_alone_holds_no_others(market: str) -> None:
    """Customary units stand in the rules just where they may be printed."""
    for rule in load_market(market).rules("net_quantity").values():
        if rule.kind == "net quantity":
            held = {"small", "large", "large_first_from"} & set(rule.data)
            assert len(held) == (0 if rule.data["second"] == "none" else 3), rule.id
