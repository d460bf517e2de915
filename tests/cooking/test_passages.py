"""What each food goes through on its way to the dish, and which of its ways treats it least."""

import pytest

from labeler.cooking import cook
from labeler.cooking.passages import Passage, passages
from labeler.foods.resolve import weigh
from labeler.parsing import read_recipe
from labeler.parsing.instructions.actions import Heat, action


def heats(node) -> bool:
    return action(node.action).heat not in (Heat.NONE, Heat.WARM)


def of(text: str) -> dict[str, Passage]:
    weighed = weigh(read_recipe(text))
    return {key[2]: one for key, one in passages(weighed, cook(weighed), rank=heats).items()}


def done(passage: Passage) -> list[str]:
    return [node.action for node in passage.least if node.action != "add"]


def test_a_food_goes_through_what_its_heap_goes_through():
    """Brined, drained and roasted, in the order of the words."""
    found = of(
        "- 2 litres water\n- 100 g salt\n- 1 kg pork loin\n> brine 12 hours, drain, roast at 180 °C for 1 hour\n"
    )
    assert done(found["pork loin"]) == ["brine", "drain", "roast"]


def test_what_comes_in_later_goes_through_less():
    """Prawns that are stirred into a sauce that was simmered are not simmered."""
    found = of("- 400 g tomatoes\n- 200 g prawns\n> simmer the tomatoes 20 minutes. Stir in the prawns.\n")
    assert any(map(heats, found["tomatoes"].least)) and not any(map(heats, found["prawns"].least))


def test_the_least_of_two_ways_is_the_one_that_counts():
    """Eggs of which half are baked and half go raw into the cream are raw on one way, and both ways are known."""
    found = of(
        "- 4 eggs\n- 200 g flour\n- 200 ml cream\n"
        "> Mix half of the eggs with the flour and bake for 20 minutes. Whisk the rest of the eggs into the cream.\n"
    )
    assert not any(map(heats, found["eggs"].least)) and any(map(heats, found["eggs"].nodes))
    assert any(map(heats, found["flour"].least))


@pytest.mark.parametrize("bake", ["> bake 30 minutes\n", ""])
def test_a_part_goes_through_what_the_part_that_takes_it_does(bake):
    """A filling is baked in its pie, through as many parts as there are."""
    found = of(f"## Filling\n- 300 g beef mince\n## Pie\n- all of the Filling\n- 200 g pastry\n{bake}")
    assert any(map(heats, found["beef mince"].least)) is bool(bake)


def test_what_never_gets_into_the_dish_is_not_served():
    """Bay leaves that are taken out are simmered and not served."""
    found = of("- 1 kg tomatoes\n- 2 bay leaves\n> simmer 30 minutes, discard the bay leaves\n")
    assert not found["bay leaves"].served and found["tomatoes"].served
    assert any(map(heats, found["bay leaves"].nodes))
