"""Food that waits beside the pot is not boiled down with the sauce."""

from __future__ import annotations

import pytest
from kitchen_help import imbalance

from labeler.cooking.pipeline import cook
from labeler.cooking.state.mixture import column
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe


def made(lines: str, handling: str):
    dish = cook(weigh(read_recipe(f"# Test\n{lines}\n> {handling}\n")))
    assert max(imbalance(ledger) for ledger in dish.ledgers) < 1e-9
    return dish


@pytest.mark.parametrize(
    "out", ["Lift out the shanks.", "Transfer the shanks to a plate.", "Set the shanks aside.", "Remove the shanks."]
)
def test_meat_that_is_lifted_out_keeps_its_water_while_the_sauce_is_reduced(out):
    """A sauce is reduced to its volume without the meat, which is in the dish as it was: by what words mean."""
    dish = made(
        "- 1.2 kg lamb shanks\n- 750 ml red wine\n- 500 ml beef stock",
        f"Braise the shanks in the wine and stock for 2 hours. {out} Boil until reduced to 300 ml. Return the shanks.",
    )
    sauce = dish.mix.total_mass[0] - sum(
        dish.mix.mass[0, at] for at, item in enumerate(dish.mix.items) if item.name == "lamb shanks" and not item.phase
    )
    assert 250.0 < sauce < 480.0 and dish.mix.constituent("water")[0].sum() > 450.0
    assert not {"lighter-than-dry"} & {problem.code for problem in dish.problems}


def test_what_comes_back_cooks_with_the_pot_again():
    """Chicken set aside and returned gives to the stock what chicken gives that never left."""
    lines = "- 800 g chicken thighs\n- 1 onion, sliced\n- 500 ml chicken stock"
    away = made(
        lines, "Fry the chicken. Set aside. Fry the onion. Return the chicken, add the stock and simmer 30 minutes."
    )
    assert [item.phase for item in away.mix.items if item.name == "chicken thighs"].count("dissolved") >= 1


def test_a_gravy_is_made_of_drippings_and_not_of_the_roast():
    """Juices in a jug lose their fat, thicken and are strained, and the bird is not strained out with them."""
    dish = made(
        "- 1.8 kg whole chicken\n- 25 g flour\n- 400 ml chicken stock",
        "Roast the chicken at 200 °C for 80 minutes. Pour the pan juices into a jug and spoon off the fat. Stir the "
        "flour into the pan juices, add the stock and simmer 10 minutes. Strain.",
    )
    (ledger,) = dish.ledgers
    gone = {entry.stream for stage in ledger.stages for entry in stage.streams if entry.mix.total_mass[0] > 1.0}
    assert "discarded" not in gone and "poured off" in gone
    assert dish.mix.total[0, column("PROCNT")] > 150.0
    assert not {"no-drippings", "stock-uncertain"} & {problem.code for problem in dish.problems}


def test_a_liquor_that_nothing_speaks_of_again_is_left_behind():
    """Pork lifted out of its water and tossed in a sauce is eaten without the water; that it is assumed is said."""
    lines = "- 1 kg pork shoulder\n- 2 litres water\n- 20 g salt\n- 150 g barbecue sauce"
    simmer = "Simmer the pork in the water with the salt for 2 hours."
    dish = made(lines, f"{simmer} Lift out, shred and toss with the sauce.")
    assert dish.mix.total_mass[0] < 1100.0
    assert "liquid-left-assumed" in {problem.code for problem in dish.problems}
    back = made(lines, f"{simmer} Lift out, shred and return to the pot.")
    assert back.mix.total_mass[0] > 1800.0 and not back.problems
