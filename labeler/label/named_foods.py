"""Foods whose name is reserved by law: what a recipe must hold to be called so, and what its label must add.

The rules are the market's (kind ``named food``): the last words of the title that it is about, the least soluble solids
by refractometer, and the least weight of fruit in a kilogram.
"""

from __future__ import annotations

from collections.abc import Iterator

from labeler.foods.composition.food_table import load_table
from labeler.label.builder import LabelFacts
from labeler.parsing.model import Recipe
from labeler.parsing.numbers import read_quantity
from labeler.rules.ingredient_list import IngredientList, ListedIngredient
from labeler.rules.market import load_market
from labeler.rules.model import Rule
from labeler.rules.obligations import OBLIGATIONS
from labeler.text.stems import find_phrase, head_and_aside, stems

__all__ = ["holds_meat", "name_lacks", "named_food", "named_statements"]

_FRUITS = frozenset({900})
_MEATS = frozenset({500, 700, 1000, 1300, 1700})
"""Food groups of the table: fruits and juices; poultry, sausages and luncheon meats, pork, beef, lamb and game."""


def named_food(title: str, market: str) -> Rule | None:
    """The rule of the market about a food of that title, the narrowest; None where none is held."""
    head = stems(head_and_aside(title)[0])
    rules = [rule for rule in load_market(market).rules(OBLIGATIONS).values() if rule.kind == "named food"]
    found = [
        (len(stems(words)), rule)
        for rule in rules
        for words in rule.data["ends"]
        if find_phrase(stems(words), head) == len(head)
    ]
    return max(found, key=lambda pair: pair[0])[1] if found else None


def _lines_of(facts: LabelFacts, groups: frozenset[int]) -> frozenset[int]:
    """Line numbers of foods of those groups of the table."""
    table = load_table()
    lines = [line for part in facts.nutrition.weighed.parts for line in part.lines]
    return frozenset(
        line.line.number
        for line in lines
        if line.match is not None
        and line.match.food is not None
        and line.match.food in table
        and int(table.group_codes[table.position[line.match.food]]) in groups
    )


def holds_meat(facts: LabelFacts) -> bool:
    """Whether any line is meat or poultry."""
    return bool(_lines_of(facts, _MEATS))


def _walk(items: tuple[ListedIngredient, ...]) -> Iterator[ListedIngredient]:
    for item in items:
        if item.components:
            yield from _walk(item.components)
        else:
            yield item


def fruit_per_kg(facts: LabelFacts, listed: IngredientList) -> float:
    """Grams of fruit used for a kilogram of the finished food."""
    fruit = _lines_of(facts, _FRUITS)
    grams = sum(item.grams or 0.0 for item in _walk((*listed.items, *listed.small)) if fruit & set(item.lines))
    finished = facts.nutrition.dish.sold_g
    return 1000.0 * grams / finished if finished > 0.0 else 0.0


def name_lacks(recipe: Recipe, facts: LabelFacts, listed: IngredientList, *, figures: bool) -> str:
    """What a food with a reserved name lacks, in sentences; empty where nothing, or where the name is not reserved.

    Parameters
    ----------
    recipe, facts, listed
    figures : bool
        Whether the label declares sugars, which stands for the statement of the refractometer value.
    """
    rule = named_food(recipe.title, facts.market)
    if rule is None:
        return ""
    texts: list[str] = []
    least, solids = rule.data.get("soluble_solids"), recipe.head.get("refractometer")
    if least is not None and solids is None:
        if not figures:
            texts.append("Measure the soluble solids and write “refractometer: 62” in the head.")
    elif least is not None and (measured := read_quantity(str(solids))) is None:
        texts.append(f"“{solids}” is no refractometer value: write the number alone, as “refractometer: 62”.")
    elif least is not None and measured is not None and measured.low < float(least):
        texts.append(
            f"The name needs {least} % soluble solids, not {solids} (sweetened fruit spreads have other names)."
        )
    fruit, wanted = fruit_per_kg(facts, listed), rule.data.get("fruit_g_per_kg")
    if wanted is not None and fruit < float(wanted):
        texts.append(f"The name needs {wanted} g of fruit a kilogram; the recipe has {fruit:.0f} g.")
    return f"{rule.summary} ({rule.paragraph}; {rule.reading}) {' '.join(texts)}" if texts else ""


def named_statements(recipe: Recipe, facts: LabelFacts, listed: IngredientList, *, figures: bool) -> tuple[str, ...]:
    """What the label of a food with a reserved name says of its fruit and sugar; parameters as `name_lacks`."""
    rule = named_food(recipe.title, facts.market)
    if rule is None or "fruit_g_per_kg" not in rule.data:
        return ()
    words = [f"Prepared with {fruit_per_kg(facts, listed) / 10:.0f} g of fruit per 100 g."]
    if not figures and "refractometer" in recipe.head:
        words.append(f"Total sugar content: {recipe.head['refractometer']} g per 100 g.")
    return (" ".join(words),)
