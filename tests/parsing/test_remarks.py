"""Remarks on a food: typed, kept apart from its name, and never taking an allergen from it."""

from __future__ import annotations

import pytest

from labeler.allergens import assess, assess_written
from labeler.allergens.alternatives import offers
from labeler.foods.resolve import weigh
from labeler.parsing import read_line
from labeler.parsing.document import read_recipe
from labeler.parsing.ingredient.remarks import RemarkKind, split_remarks


@pytest.mark.parametrize(
    ("line", "kind", "about"),
    [
        ("1 cup milk (use oat milk to keep it dairy free)", RemarkKind.SWAP, ("dairy free",)),
        ("2 tbsp butter (or vegan butter for dairy-free)", RemarkKind.SWAP, ("vegan", "dairy-free")),
        ("1 tbsp fish sauce, omit for vegetarians", RemarkKind.OMISSION, ("vegetarians",)),
        ("1 cup oats (gluten-free if needed)", RemarkKind.CONDITION, ("gluten-free",)),
        ("1 tbsp soy sauce gluten-free if needed", RemarkKind.CONDITION, ("gluten-free",)),
        ("1 sheet puff pastry (check it is vegan)", RemarkKind.CHECK, ("vegan",)),
        ("2 tbsp oyster sauce - not suitable for vegetarians", RemarkKind.WARNING, ("vegetarians",)),
        ("not vegan: 100 g butter", RemarkKind.WARNING, ("vegan",)),
        ("100 g feta (vegan one for a vegan salad)", RemarkKind.PURPOSE, ("vegan", "vegan")),
    ],
)
def test_a_remark_is_typed_and_no_part_of_the_name(line: str, kind: RemarkKind, about: tuple[str, ...]) -> None:
    """A remark stands on the line with its kind and the words of diet that it speaks of, and nowhere else."""
    read = read_line(line)
    assert [(remark.kind, remark.about) for remark in read.remarks] == [(kind, about)]
    assert not any(word.lower() in f"{read.name} {read.preparation} {read.note}".lower() for word in about)


@pytest.mark.parametrize(
    "text",
    ["2 tbsp vegan butter", "2 cups flour, gluten-free", "6 free-range eggs", "1 cup milk (fat-free)", "2 cups flour",
     "1 stock cube (vegan, gluten-free)", "feel welcome to add salt"],
)  # fmt: skip
def test_a_claim_of_the_food_itself_is_no_remark(text: str) -> None:
    """What a food is said to be without a condition stays with it."""
    assert split_remarks(text) == (text, ())


@pytest.mark.parametrize(
    ("line", "held"),
    [
        ("200 g prawns in vegan garlic butter", {"crustaceans"}),
        ("1 salmon fillet in vegan butter sauce", {"fish"}),
        ("ham and cheese on vegan brioche", {"milk", "wheat"}),
        ("1 tbsp shellfish-free fish sauce", {"fish"}),
        ("2 eggs, fried in vegan butter", {"egg"}),
        ("cheese on a vegan burger", {"milk"}),
        ("yolk-free egg noodles", {"egg", "wheat"}),
        ("butter (the recipe is otherwise dairy free)", {"milk"}),
        ("butter for frying, not dairy-free", {"milk"}),
        ("1 cup milk (dairy-free if needed)", {"milk"}),
    ],
)
def test_a_claim_takes_nothing_from_a_food_beside_it(line: str, held: set[str]) -> None:
    """A claim clears its own noun phrase only, and a claim on a condition clears nothing."""
    assert assess_written(read_line(line), market="eu").allergens >= held


def test_what_a_swap_brings_is_asked() -> None:
    """The food of a swap is not in the dish; its allergens are a question."""
    found = assess_written(read_line("1 cup milk (use oat milk if vegan)"), market="eu")
    assert found.allergens == {"milk"} and "oats" in found.possible


def test_a_way_that_the_cook_names_is_an_offer() -> None:
    """A swap or an omission is told with its line, for allergens that no other line holds, and is no claim."""
    text = "- 200 ml cream (use oat cream for vegans)\n- 50 g walnuts (omit if nut-free)\n- 1 kg potatoes\n> bake\n"
    weighed = weigh(read_recipe(text))
    found = assess(weighed, market="eu")
    assert [(offer.without, offer.line) for offer in offers(weighed, found)] == [(("milk",), 1), (("walnut",), 2)]
    assert {"milk", "walnut"} <= found.allergens
    beside = weigh(read_recipe(text + "- 30 g butter\n"))
    assert [offer.without for offer in offers(beside, assess(beside, market="eu"))] == [("walnut",)]
