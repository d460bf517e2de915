"""What was mixed before and goes by what it is: "the two", "the wet ingredients"; a greased tin; a cake of our own."""

from __future__ import annotations

import pytest
from told_dishes import cooked, made

CAKE = (
    "- 250 g flour\n- 10 g baking soda\n- 3 g salt\n- 280 ml vegetable oil\n- 200 g sugar\n- 4 eggs\n"
    "- 300 g grated parsnips\n- 120 g chopped walnuts"
)


@pytest.mark.parametrize("grease", ["", "Grease two tins. "])
@pytest.mark.parametrize(
    "joined",
    [
        "Fold the two together",
        "Combine both",
        "Combine the two mixtures",
        "Add the wet ingredients to the dry and mix",
        "Stir the dry mixture into the wet",
        "Combine the wet and dry ingredients",
        "Fold in the dry ingredients",
        "Mix wet into dry",
        "Stir the flour mixture into the egg mixture",
    ],
)
def test_bowls_that_were_mixed_before_are_joined_and_baked_together(grease, joined):
    """Whatever the two bowls are called, one batter is baked, with the film of fat of the tins."""
    bowls = "Whisk the flour, baking soda and salt together. In another bowl beat the oil with the sugar, then beat in"
    ends = "Stir in the parsnips and nuts. Divide between the tins and bake 35 minutes."
    method = f"{grease}{bowls} the eggs one by one. {joined}. {ends}"
    flow = made(CAKE, method)[1].flow
    assert flow is not None
    (part,) = flow.parts
    assert len(part.dish) == 1 and part.nodes[-1].action == "bake" and not part.leaves


def test_dry_ingredients_that_nobody_has_mixed_are_lines():
    """Without a bowl of them, the words mean the flour, the soda and the salt of the list."""
    method = "Beat the oil, sugar and eggs. Fold in the dry ingredients, parsnips and walnuts. Bake for 40 minutes."
    flow = made(CAKE, method)[1].flow
    assert flow is not None and len(flow.parts[0].dish) == 1


def test_what_is_only_put_in_has_the_words_that_put_it_in() -> None:
    """A step that nothing else follows is told in the cook's words, and stands on their line."""
    text = "# Bowl\n- 200 g rice\n- 600 ml stock\n- 50 g butter\n- 10 g basil\n> Simmer the rice in the stock.\n"
    _, dish = cooked(text + "> Stir in the butter. Scatter the basil over.\n")
    assert dish.flow is not None
    last = dish.flow.parts[0].nodes[-1]
    assert (last.text, last.span.line) == ("Stir in the butter; Scatter the basil over", 7)
