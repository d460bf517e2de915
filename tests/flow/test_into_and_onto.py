"""Where food goes: onto a part of what is in hand, into what was made before, out of the fat it was fried in."""

from __future__ import annotations

import pytest
from told_dishes import kept, made

from labeler.flow.model import FromNode

_DOUGH = "- 300 g dough\n- 1 litre oil\n- 200 g sugar\n- 200 ml water"
_SYRUP = "Boil the sugar and water to a syrup. "


@pytest.mark.parametrize(
    "told",
    [
        "Deep-fry the dough in the oil until brown. Put it into the syrup.",
        "Deep-fry the dough in the oil until brown. Put the dough into the syrup.",
        "Roll the dough into balls. Deep-fry the balls in the oil over a low heat. Put them into the syrup.",
        "Roll the dough into balls. Deep-fry the balls in the oil, drain and put the balls into the syrup.",
    ],
)
def test_what_was_fried_leaves_its_fat_when_it_goes_on(told: str) -> None:
    """Food that goes from the fryer into a syrup takes little of the oil along, and all of the syrup is eaten."""
    found = kept(_DOUGH, _SYRUP + told)
    assert found["1 litre oil"] < 0.15
    assert found["200 g sugar"] > 0.95


def test_what_a_dough_is_rolled_into_is_no_place() -> None:
    """ "Roll the dough into balls" puts it into nothing that was made before."""
    _, dish = made(_DOUGH, f"{_SYRUP}Roll the dough into balls. Bake the balls for 20 minutes.")
    assert dish.flow is not None
    baked = next(node for node in dish.flow.parts[0].nodes if node.action == "bake")
    assert len(baked.inputs) == 1


@pytest.mark.parametrize("onto", ["between the leaves", "into every leaf", "into the flesh", "all over the skin"])
def test_what_is_rubbed_onto_a_part_of_food_is_on_the_food(onto: str) -> None:
    """Salt that is rubbed into the flesh of what was just cut lies on it, and draws its water."""
    _, dish = made("- 2 kg cabbage\n- 100 g salt", f"Quarter the cabbage. Rub the salt {onto}. Leave for 3 hours.")
    assert dish.flow is not None
    stands = next(node for node in dish.flow.parts[0].nodes if node.action in ("stand", "cure"))
    assert len(stands.inputs) == 2


@pytest.mark.parametrize("low", ["", " over a low heat"])
def test_coated_food_is_lifted_out_of_its_fat_at_any_heat(low: str) -> None:
    """What was dragged through egg and crumbs is fried, whatever the flame, and leaves the fat."""
    lines = "- 4 pork cutlets\n- 2 eggs\n- 100 g breadcrumbs\n- 200 ml oil\n- 50 g flour"
    method = (
        "Dust the cutlets with the flour. Beat the eggs. Drag the cutlets through the egg, then through the crumbs. "
        f"Shallow-fry in the oil{low} for 4 minutes a side."
    )
    found = kept(lines, method)
    assert found["200 ml oil"] < 0.5
    assert found["100 g breadcrumbs"] < 0.7


@pytest.mark.parametrize("left", ["", " Lift out, discard the leftover marinade."])
def test_what_was_reserved_of_a_marinade_comes_back_and_the_rest_is_on_the_food(left: str) -> None:
    """Pork is coated with the rest of a marinade of which a third waits, and that third is brushed on."""
    method = (
        "Stir the soy sauce and honey to a marinade. Set aside a third of it for basting. Coat the pork with the rest "
        f"and leave overnight.{left} Roast for 40 minutes, basting with the reserved marinade."
    )
    _, dish = made("- 1 kg pork\n- 100 ml soy sauce\n- 100 g honey", method)
    assert dish.flow is not None
    nodes = dish.flow.parts[0].nodes
    assert [node.action for node in nodes if node.coats] == ["coat"]
    shared = next(at for at, node in enumerate(nodes) if node.inputs and node.inputs[0].share is not None)
    taken = [one.source for node in nodes[shared + 1 :] for one in node.inputs if isinstance(one.source, FromNode)]
    assert any(source.node == shared for source in taken)


@pytest.mark.parametrize("told", ["Remove the water pan.", "Remove the tray of water.", "Take out the water bath."])
def test_a_vessel_that_is_named_after_water_takes_no_water_out_of_a_dough(told: str) -> None:
    """What is kneaded into a dough comes out with no pan, and is not drained off."""
    lines = "- 500 g flour\n- 350 g water\n- 10 g salt"
    method = "Mix the flour, water and salt and knead to a dough. Bake for 15 minutes. {}Bake for another 25 minutes."
    assert kept(lines, method.format(f"{told} ")) == kept(lines, method.format(""))


@pytest.mark.parametrize(
    "told",
    [
        "Serve with the remaining marinade.",
        "Brush with the rest of the marinade.",
        "Serve with the rest of the marinade.",
    ],
)
def test_half_of_a_marinade_coats_and_the_other_half_is_not_what_ran_off_raw_meat(told: str) -> None:
    """The rest of a marinade is what never touched the chicken; what ran off that leaves."""
    method = "Mix the yogurt and honey to a marinade. Coat the chicken with half of the marinade. Leave overnight. "
    method += f"Roast for 40 minutes. {told}"
    _, dish = made("- 1 kg chicken thighs\n- 200 ml yogurt\n- 50 g honey", method)
    assert dish.flow is not None
    part = dish.flow.parts[0]
    coat = next(node for node in part.nodes if node.coats)
    assert [one.share.best for one in coat.inputs if one.share is not None] == [0.5]
    ran_off = next(at for at, node in enumerate(part.nodes) if node.action == "drain")
    assert ran_off in {one.source.node for one in part.leaves if isinstance(one.source, FromNode)}


@pytest.mark.parametrize("line", ["- 250 g mozzarella", "- 200 g feta in brine", "- 100 g cashews, soaked overnight"])
def test_what_lies_in_liquid_as_bought_or_soaked_may_be_drained(line: str) -> None:
    """A cheese in its whey and nuts that were soaked are drained without a word."""
    _, dish = made(line, "Drain and serve.")
    assert "nothing-runs-off" not in {problem.code for problem in dish.problems}
