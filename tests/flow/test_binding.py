"""What the words of a method mean: which list, which liquid, which heap; no source but the words themselves."""

import numpy as np
import pytest
from told_dishes import kept, made

from labeler.cooking.pipeline import cook
from labeler.flow.build import build_flow
from labeler.flow.model import FromLine, FromNode, Port
from labeler.foods.resolve import weigh
from labeler.parsing.document import read_recipe


def flow_of(text):
    weighed = weigh(read_recipe(text))
    return weighed.parts[0], build_flow(weighed, market="us").parts[0]


def foods_in(part, flow, source):
    """Names of the lines that end in a source, through every node before it."""
    if isinstance(source, FromLine):
        return {part.lines[source.index].line.name}
    if not isinstance(source, FromNode):
        return set()
    return set().union(*(foods_in(part, flow, portion.source) for portion in flow.nodes[source.node].inputs))


def dish_weight(text):
    return cook(weigh(read_recipe(text))).mix.total_mass[0]


def test_their_liquid_belongs_to_what_is_named_before_it():
    """ "The clams, their liquid" is in the clams' pot; the water of the pasta stays poured off."""
    _, flow = flow_of(
        "# P\n- 400 g spaghetti\n- 500 g clams\n- 100 ml wine\n> Boil the spaghetti, drain. Steam the clams with the "
        "wine 4 minutes. Toss with the clams, their liquid and the spaghetti.\n"
    )
    drained = next(at for at, node in enumerate(flow.nodes) if node.action == "drain")
    assert any(one.source == FromNode(drained, Port.OFF) for one in flow.leaves)


@pytest.mark.parametrize("water", ["warm water", "cold water", "water"])
def test_water_without_an_article_is_fresh(water):
    """A dip in warm water is no dip in the water that was poured off before."""
    _, flow = flow_of(
        f"# R\n- 12 rice paper wrappers\n- 100 g rice noodles\n- 1 carrot\n> Boil the noodles, drain. Dip each wrapper "
        f"in {water}, fill with the noodles and carrot and roll.\n"
    )
    drained = next(at for at, node in enumerate(flow.nodes) if node.action == "drain")
    assert any(one.source == FromNode(drained, Port.OFF) for one in flow.leaves)


def test_what_was_rinsed_is_what_is_drained():
    """ "Rinse and drain" is about one food; the pot beside it keeps its broth."""
    _, flow = flow_of(
        "# S\n- 1 l chicken broth\n- 300 g pork belly\n- 100 g rice noodles\n> Simmer the pork in the broth 30 "
        "minutes. Cook the noodles, rinse in cold water and drain. Add the noodles to the soup.\n"
    )
    assert not any(
        node.action == "drain" and node.inputs[0].source == FromNode(0) for node in flow.nodes if node.inputs
    )


def test_a_rub_is_made_of_its_own_list():
    """The sugar under the heading of the sauce is no part of the rub above it."""
    part, flow = flow_of(
        "# P\n- 1 kg pork shoulder\n- 2 tbsp paprika\n- 1 tbsp salt\n\nSauce:\n- 100 ml vinegar\n- 2 tbsp sugar\n\n"
        "> Mix the rub and pat it on the pork. Roast at 120 °C for 6 hours. Simmer the sauce ingredients 5 minutes.\n"
    )
    roast = next(at for at, node in enumerate(flow.nodes) if node.action == "roast")
    assert "sugar" not in foods_in(part, flow, FromNode(roast))


def test_the_sauce_is_the_list_of_that_title_and_not_the_fish_sauce():
    """A title of a list names all of it, where no food has just that name."""
    part, flow = flow_of(
        "# R\n- 12 rice paper wrappers\n- 1 carrot\n\nFor the sauce:\n- 60 ml fish sauce\n- 60 ml lime juice\n- 3 tbsp "
        "sugar\n\n> Fill the wrappers with the carrot and roll. Stir together the sauce.\n"
    )
    assert any(
        {"fish sauce", "lime juice", "sugar"} <= foods_in(part, flow, FromNode(at)) for at in range(len(flow.nodes))
    )


def test_everything_else_waits_for_its_step():
    """What no step names goes where the words take all that is left."""
    part, flow = flow_of(
        "# S\n- 2 tbsp oil\n- 1 onion\n- 500 ml ketchup\n- 100 g sugar\n> Heat the oil. Add the onion and cook 5 "
        "minutes. Stir in everything else and simmer 20 minutes.\n"
    )
    fried = next(at for at, node in enumerate(flow.nodes) if node.action == "pan-fry")
    assert foods_in(part, flow, FromNode(fried)) == {"oil", "onion"}


def test_a_fresh_herb_does_not_boil_with_the_meat():
    """A cup of leaves that no step names goes into the roll, not into the pot."""
    part, flow = flow_of(
        "# R\n- 300 g pork belly\n- 1 cup mint leaves\n- 12 rice paper wrappers\n> Simmer the pork 30 minutes in water "
        "and slice. Fill and roll.\n"
    )
    assert foods_in(part, flow, FromNode(0)) == {"pork belly"}


def test_what_is_pushed_into_slits_is_in_the_roast():
    """ "Cut slits in the lamb and push in the garlic": both are roasted together."""
    part, flow = flow_of(
        "# L\n- 2 kg leg of lamb\n- 4 cloves garlic\n- 2 tbsp oil\n- 1 tsp salt\n> Cut slits in the lamb and push "
        "in the "
        "garlic. Rub with the oil and salt. Roast at 180 °C for 90 minutes.\n"
    )
    roast = next(at for at, node in enumerate(flow.nodes) if node.action == "roast")
    assert foods_in(part, flow, FromNode(roast)) == {"leg of lamb", "garlic", "oil", "salt"}


def test_the_contents_of_a_cup_are_what_was_stirred_in_it():
    """They are poured over the food in the pan, and not into the cup."""
    part, flow = flow_of(
        "# T\n- 400 g firm tofu\n- 2 tbsp oil\n- 3 tbsp soy sauce\n- 1 tbsp honey\n> Brown the tofu in the oil 4 "
        "minutes. "
        "Stir the soy sauce and honey together in a cup. Pour the contents of the cup over the tofu and let it bubble "
        "for a minute.\n"
    )
    assert len(flow.dish) == 1
    assert foods_in(part, flow, flow.dish[0]) == {"firm tofu", "oil", "soy sauce", "honey"}


def test_a_share_of_a_sauce_leaves_the_rest_of_it():
    """ "Pull the pork, then mix with half of the sauce": the pork is what is mixed."""
    _, flow = flow_of(
        "# P\n- 1 kg pork shoulder\n- 1 tsp salt\n\nSauce:\n- 200 ml ketchup\n- 50 ml vinegar\n\n> Salt the pork "
        "and roast "
        "at 120 °C for 6 hours. Simmer the sauce ingredients 5 minutes. Pull the pork, then mix with half of the "
        "sauce.\n"
    )
    assert any(portion.share is not None and portion.share.best == 0.5 for portion in flow.nodes[-1].inputs)


def test_bringing_a_soup_to_a_simmer_pours_nothing_off():
    """A soup that boils and then simmers is the same soup."""
    _, flow = flow_of(
        "# M\n- 2 tbsp miso paste\n- 1 onion\n> Add two cups of water, the onion and the miso to a pan. Boil 10 "
        "minutes, "
        "then bring to a simmer.\n"
    )
    assert not any(node.action == "drain" for node in flow.nodes)


def test_frying_longer_never_leaves_more_water():
    """Onions lose water with every minute in the pan."""
    weights = [
        dish_weight(f"# O\n- 500 g onions, sliced\n- 2 tbsp oil\n> Fry the onions in the oil for {minutes} minutes.\n")
        for minutes in (2, 5, 8, 15, 30, 60)
    ]
    assert weights == sorted(weights, reverse=True) and weights[-1] < 0.4 * weights[0]


def test_a_time_that_is_a_range_widens_what_is_left():
    """Onions fried "5 to 25 minutes" weigh less surely than those fried 15 minutes."""

    def width(time):
        onions = "# O\n- 500 g onions, sliced\n- 2 tbsp oil\n> Fry the onions in the oil for "
        dish = cook(weigh(read_recipe(f"{onions}{time} minutes.\n")), draws=1000)
        low, high = np.percentile(dish.spread.total_mass, (2.5, 97.5))
        return high - low

    assert width("5 to 25") > width("15")


@pytest.mark.parametrize(
    "told",
    [
        "Mix together the trinity (onion, bell pepper, celery).",
        "Chop the trinity (onion, bell pepper and celery).",
    ],
)
def test_a_name_that_the_method_gives_to_several_foods_means_them(told: str) -> None:
    """Half of what a bracket lists goes in, and the rest of it later."""
    lines = "- 50 g onion\n- 50 g bell pepper\n- 50 g celery\n- 100 g sausage\n- 200 g rice\n- 400 ml stock"
    method = (
        f"{told} Fry the sausage for 5 minutes. Add half of the trinity and fry until soft. Add the rice, the stock "
        "and the remaining trinity. Simmer for 20 minutes."
    )
    _, dish = made(lines, method)
    assert dish.flow is not None
    nodes = dish.flow.parts[0].nodes
    first = next(node for node in nodes if node.action == "pan-fry" and len(node.inputs) > 1)
    assert [round(one.share.best, 2) for one in first.inputs if one.share is not None and one.share.best < 1.0]
    assert not dish.flow.parts[0].readings


@pytest.mark.parametrize("told", ["Discard the rest of the celery.", "Throw away the remaining celery."])
def test_the_rest_of_a_line_that_is_thrown_away_is_gone(told: str) -> None:
    """What is left of a line when a part of it has gone in leaves by its name."""
    method = f"Fry the sausage with half of the celery. {told}"
    found = kept("- 50 g celery\n- 100 g sausage", method)
    assert found["50 g celery"] == pytest.approx(0.5, abs=0.05)


def test_a_line_without_a_weight_enters_once():
    """What another part makes is named twice in one step and goes in once."""
    recipe = read_recipe(
        "## Relish\n- 100 g cheddar\n- 60 g honey\n> Mix.\n## Dish\n- relish\n- 150 g turkey\n"
        "> Add the relish with the relish to the turkey.\n"
    )
    (node,) = build_flow(weigh(recipe)).parts[1].nodes
    assert sum(portion.source == FromLine(0) for portion in node.inputs) == 1


def test_a_class_word_does_not_mean_a_food_that_it_only_tells_the_kind_of():
    """ "The vegetables" are the carrot and the onion, and not the vegetable oil."""
    part, flow = flow_of(
        "# Bank stew\n- 2 tbsp vegetable oil\n- 600 g beef shin\n- 1 onion\n- 1 carrot\n- 500 ml stock\n> Brown the "
        "beef in the oil. Remove from the pan. Add the vegetables and fry 5 minutes. Return the beef, add the stock, "
        "simmer 2 hours.\n"
    )
    browned = next(node for node in flow.nodes if node.action == "pan-fry")
    assert {part.lines[one.source.index].line.name for one in browned.inputs} == {"vegetable oil", "beef shin"}
