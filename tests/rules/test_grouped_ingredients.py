"""Sugars that a market wants together in the list: Food and Drug Regulations of Canada, B.01.008.3."""

from __future__ import annotations

from labeler.rules.grouped_ingredients import grouped
from labeler.rules.ingredient_list import ListedIngredient
from labeler.rules.market import load_market

RULE = load_market("ca").rule("ingredients", "ingredient-sugars")
FOODS = {1: "20081", 2: "19296", 3: "19335", 4: "01001"}  # flour, honey, sugar, butter


def names(*items: tuple[str, float | None, int]) -> list[str]:
    """The names of a list after grouping, the members behind a colon."""
    listed = tuple(ListedIngredient(name, grams, lines=(line,)) for name, grams, line in items)
    found = grouped(listed, RULE, FOODS)
    return [
        f"{one.name}: {', '.join(part.name for part in one.components)}" if one.components else one.name
        for one in found
    ]


def test_sugars_stand_at_the_place_of_their_joint_weight() -> None:
    """Paragraphs (1) to (3): the group by its weight together, its members by their own, in lower case."""
    assert names(("Flour", 100, 1), ("Butter", 90, 4), ("Honey", 60, 2), ("Sugar", 50, 3)) == [
        "Sugars: honey, sugar",
        "Flour",
        "Butter",
    ]


def test_what_needs_no_group_has_none() -> None:
    """Paragraph (4): one sugar of that name stands alone, other single ones do not; a sweetening agent has no group."""
    assert names(("Flour", 100, 1), ("Sugar", 50, 3)) == ["Flour", "Sugar"]
    assert names(("Flour", 100, 1), ("Honey", 50, 2)) == ["Flour", "Sugars: honey"]
    assert names(("Honey", 50, 2), ("Sugar", 10, 3)) == ["Honey", "Sugar"]


def test_a_sugar_that_nobody_weighed_leaves_the_group_last() -> None:
    """A group with a member of no known weight stands behind what is weighed."""
    assert names(("Flour", 100, 1), ("Honey", 50, 2), ("Sugar", None, 3)) == ["Flour", "Sugars: honey, sugar"]
