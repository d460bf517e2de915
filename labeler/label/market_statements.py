"""Statements that a market asks for of some foods: a warning on raw juice, "with sweetener", a home kitchen's sentence.

The rules are the market's (kind ``statement``): which foods they are about, by the end of the name and by what the food
is made of, and the words. The sentences of cottage-food laws are a table by state.
"""

from __future__ import annotations

from dataclasses import dataclass

from labeler.cooking.state.density import density
from labeler.label.builder import LabelFacts, is_liquid
from labeler.parsing.instructions.actions import Heat, action
from labeler.parsing.model import Recipe
from labeler.rules.drinks import DrinkVerdict, drink_verdict
from labeler.rules.food_makeup import makeup_of
from labeler.rules.label_elements import Element
from labeler.rules.makeup import Makeup
from labeler.rules.market import load_market
from labeler.rules.model import Rule
from labeler.rules.obligations import OBLIGATIONS
from labeler.rules.sale import Sale
from labeler.text.stems import find_phrase, head_and_aside, stems

__all__ = ["MarketStatements", "market_statements"]

_HOME_KITCHEN = "cottage food"
_OWN_SALES = frozenset({"packed at the stall", "packed ahead", "by mail"})


@dataclass(frozen=True, slots=True)
class MarketStatements:
    """What a market wants said of a food.

    Parameters
    ----------
    printed : tuple of str
        What stands on the label.
    notes : tuple of str
        What the cook should know, with its paragraph.
    questions : tuple of str
        What the sale leaves open.
    food_questions : tuple of str
        What the food leaves open: until it is answered, nothing is made compulsory and nothing is freed.
    needs, frees : frozenset of Element
        What a statement makes compulsory, as the origin of honey, and what it frees from.
    """

    printed: tuple[str, ...]
    notes: tuple[str, ...]
    questions: tuple[str, ...]
    food_questions: tuple[str, ...] = ()
    needs: frozenset[Element] = frozenset()
    frees: frozenset[Element] = frozenset()


def market_statements(recipe: Recipe, facts: LabelFacts, sale: Sale) -> MarketStatements:
    """What the market wants said of a food as it is sold; nothing of food that is not packed."""
    if not sale.packed:
        return MarketStatements((), (), ())
    rules = load_market(facts.market).rules(OBLIGATIONS)
    makeup = makeup_of(facts.nutrition)
    printed: list[str] = []
    notes: list[str] = []
    needs: set[Element] = set()
    frees: set[Element] = set()
    of_food: list[str] = []
    for rule in rules.values():
        if rule.kind == "statement" and _applies(rule, recipe, facts, makeup):
            drink = _drink(recipe, facts, makeup) if rule.data.get("drink") else DrinkVerdict.YES
            if drink is DrinkVerdict.UNSURE:
                of_food.append(_asks_for_drink(rule))
            if drink is not DrinkVerdict.YES:
                continue
            printed += [_worded(rule, recipe, facts, makeup)] if rule.data["place"] == "label" else []
            notes.append(f"{rule.summary} ({rule.paragraph}; {rule.reading})")
            needs |= {Element(rule.data["needs"])} if "needs" in rule.data else set()
            frees |= {Element(one) for one in rule.data.get("frees", ())}
    home, stated, asked = _home_kitchen(recipe, sale, [rule for rule in rules.values() if rule.kind == "home kitchens"])
    words = tuple(text for text in printed if text)
    return MarketStatements(
        (*words, *home), (*notes, *stated), asked, tuple(of_food), frozenset(needs), frozenset(frees)
    )


def _drink(recipe: Recipe, facts: LabelFacts, makeup: Makeup) -> DrinkVerdict:
    head = recipe.head
    return drink_verdict(
        recipe.title,
        makeup,
        liquid=is_liquid(recipe, facts.nutrition, facts.market),
        kind=str(head.get("kind") or "").strip(),
        strength=_strength(recipe),
    )


def _asks_for_drink(rule: Rule) -> str:
    return (
        "Is it a drink? There is alcohol in it. If so, have its strength measured and write it in the head, as "
        f"“alcohol: 25 % vol”, and what a pack holds in millilitres; if not, write “alcohol: no”. {rule.summary} "
        f"({rule.paragraph}; {rule.reading}) Until it is answered, it is no drink."
    )


def _strength(recipe: Recipe) -> str:
    """What the head says of its alcohol; "no" is read by YAML as a truth value."""
    stated = recipe.head.get("alcohol")
    return "no" if stated is False else str(stated or "").strip()


def _applies(rule: Rule, recipe: Recipe, facts: LabelFacts, makeup: Makeup) -> bool:
    head = stems(head_and_aside(recipe.title)[0])
    ends, unless = rule.data.get("ends", ()), rule.data.get("unless", ())
    if ends and not any(find_phrase(stems(words), head) == len(head) for words in ends):
        return False
    if any(find_phrase(stems(words), stems(recipe.title)) is not None for words in unless):
        return False
    if rule.data.get("unheated") and _heated(facts):
        return False
    return all(condition.holds(makeup) for condition in rule.data.get("fits", ()))


def _worded(rule: Rule, recipe: Recipe, facts: LabelFacts, makeup: Makeup) -> str:
    """The words of a statement, with what the food has of what they name and the strength that the head states."""
    per_ml = float(density(facts.nutrition.dish.mix)[0])
    strength = _strength(recipe)
    named = {"caffeine": f"{makeup.per_100g.get('caffeine', 0.0) * per_ml:.0f}", "alcohol": strength}
    return str(rule.data["text"]).format(**named).strip()


def _heated(facts: LabelFacts) -> bool:
    """Whether the method brings anything to heat."""
    flow = facts.nutrition.dish.flow
    if flow is None:
        return False
    return any(action(node.action).heat is not Heat.NONE for part in flow.parts for node in part.nodes)


def _home_kitchen(
    recipe: Recipe, sale: Sale, rules: list[Rule]
) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    """The sentence of a home kitchen, what is to be known of it, and the question whether it is one."""
    if not rules or sale.kind not in _OWN_SALES:
        return (), (), ()
    state = str(recipe.head.get(_HOME_KITCHEN, "")).strip()
    if not state:
        held = ", ".join(rule.data["state"] for rule in rules)
        return (), (), (f"Is it made in a home kitchen? Say its state, as “cottage food: {rules[0].data['state']}”, or "
                        f"“cottage food: no” (held: {held}; of other states look up the sentence).",)  # fmt: skip
    if state.casefold() in ("no", "false"):
        return (), (), ()
    for rule in rules:
        if rule.data["state"].casefold() == state.casefold():
            size = f" in {rule.data['type']} type" if rule.data["type"] else ""
            note = f"Cottage food in {rule.data['state']}{size}: {rule.summary} ({rule.paragraph}; {rule.reading})"
            return (rule.data["statement"],), (note,), ()
    unknown = f"The sentence of home kitchens in {state} is not held: look up yours and write it as “story: ...”."
    return (), (unknown,), ()
