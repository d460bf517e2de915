"""Serving size: from the weight of the food, its unit and its package to the statement that a label prints.

Where the market has reference amounts, the serving is the household measure, the number of units or the fraction
of a large unit that lies closest to the reference amount, by the bands of its rule file; where it has none, it is
the portion that the cook names.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from labeler.rules.makeup import Makeup
from labeler.rules.market import Market, load_market
from labeler.rules.model import Rule
from labeler.rules.reference_amounts import SERVING, Proposal, named_reference, propose_reference
from labeler.rules.rounding import exact
from labeler.rules.serving_draft import DISCRETE, Draft, Food, by_portion, by_reference
from labeler.types import Problem

__all__ = ["SURE", "Serving", "serving_size"]

_EXACT = 100_000
"""A count of servings is as exact as its nearest fraction of so many parts: a volume comes as grams over a density."""

SURE = 0.9
"""From this confidence on a proposed reference amount is not asked about."""


@dataclass(frozen=True, slots=True)
class Serving:
    """A serving as a label states it.

    Parameters
    ----------
    statement : str
        What is printed: ``"1 tbsp (15 g)"``, ``"1 sandwich (185 g)"``.
    amount : float or None
        The metric amount as printed [`unit`], which the values of the panel are to be of; None where not known.
    unit : str
        "g" or "mL".
    grams : float or None
        The same in grams.
    servings : str
        ``"about 23"``; empty where the label need not say.
    columns : tuple of str
        What the panel gives its values of: one or two of "per serving", "per container", "per unit".
    unit_g, unit_noun : float or None, str
        Weight [g] and name of one piece, for a column per unit.
    reference : Rule or None
        The reference amount it rests on.
    confidence : float
        1 where the recipe names the reference amount, else that of the proposal.
    proposals : tuple of Proposal
        Other reference amounts that it might fall under.
    because : tuple of str
        How it was arrived at, step by step, each with its paragraph.
    problems : tuple of Problem
        What is missing or was left to choice.
    """

    statement: str
    amount: float | None
    unit: str
    grams: float | None
    servings: str = ""
    columns: tuple[str, ...] = ("per serving",)
    unit_g: float | None = None
    unit_noun: str = ""
    reference: Rule | None = None
    confidence: float = 1.0
    proposals: tuple[Proposal, ...] = ()
    because: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()


def serving_size(
    *,
    market: str | Path | Market = "us",
    category: str | None = None,
    title: str = "",
    foods: Iterable[str] = (),
    makeup: Makeup | None = None,
    package_g: float | None = None,
    unit_g: float | None = None,
    unit: str = "piece",
    shared: bool = False,
    portion_g: float | None = None,
    density: float | None = None,
    liquid: bool = False,
    topping: bool = False,
    loose_density: float | None = None,
    pack: str = "container",
    visual: str = "",
    ready_ml: float | None = None,
) -> Serving:
    """The serving statement of a food.

    Parameters
    ----------
    market : str or Path
        Market id, or a folder of rule files.
    category : str or None
        The reference amount by id or words; None to have one proposed from `title` and `foods`.
    title, foods : str, iterable of str
        Name of the food and of its ingredients.
    makeup : Makeup or None
        What it is made of, which confirms or refuses what its name says.
    package_g : float or None
        Net weight of the package [g]; the drained weight where it is packed in a liquid that is not eaten.
    unit_g, unit : float or None, str
        Weight [g] and name of one piece ("cookie", "sandwich"); None where the food is not in pieces.
    shared : bool
        True for a large unit that is cut up (pizza, pie, cake).
    portion_g : float or None
        The cook's own portion [g]: what counts where the market sets no reference amount.
    density : float or None
        g per mL of the food as it is spooned, for household measures.
    liquid : bool
        True for a fluid, whose metric amount is in mL.
    topping : bool
        True where a gravy or sauce topping adds to the reference amount.
    loose_density : float or None
        g per mL of pieces or grains with the air between them, for kinds of food that lie so.
    pack : str
        What it is sold in ("jar", "bottle").
    visual : str
        What a serving in ounces looks like: ``"about 3 spears"``.
    ready_ml : float or None
        Ready food [mL] that one package makes, of a mix or a concentrate.

    Raises
    ------
    LabelerError
        For a category or a market that there is not.
    ValueError
        For a weight or density that is not above zero.
    """
    place = load_market(market)
    rules = place.rules(SERVING)
    food = Food(
        package=_weight("package_g", package_g),
        each=_weight("unit_g", unit_g),
        unit=unit,
        shared=shared,
        portion=_weight("portion_g", portion_g),
        density=_weight("density", density),
        loose=_weight("loose_density", loose_density),
        liquid=liquid,
        topping=topping,
        pack=pack,
        visual=visual,
        ready=_weight("ready_ml", ready_ml),
    )
    proposals: tuple[Proposal, ...] = ()
    if category and DISCRETE in rules:
        proposals = (Proposal(named_reference(category, place), 1.0, "the recipe says so"),)
    elif DISCRETE in rules:
        proposals = propose_reference(title, foods, place, makeup)
    chosen = proposals[0] if proposals else None
    draft = by_reference(rules, chosen.rule, food) if chosen else by_portion(rules, food)
    if chosen is None and DISCRETE in rules:
        problem = Problem(
            "no-reference-amount",
            "No reference amount is seen for this food, so the serving is what the recipe divides it into: name one "
            "with “kind: relishes” in the head of the recipe.",
        )
        draft = replace(draft, problems=(problem, *draft.problems))
    if chosen and chosen.confidence < SURE:
        problem = Problem(
            "reference-amount-proposed",
            f"The serving rests on the reference amount of '{chosen.rule.data['category']}' because {chosen.reason}; "
            f"confirm it or name another with 'kind: {chosen.rule.data['id']}' in the head of the recipe.",
        )
        draft = replace(draft, problems=(problem, *draft.problems))
    return _finish(draft, rules, food, chosen, proposals[1:])


def _weight(name: str, value: float | None) -> Fraction | None:
    if value is None:
        return None
    if value <= 0:
        raise ValueError(f"{name} is above zero, not {value}")
    return Fraction(exact(float(value)))


def _finish(
    draft: Draft, rules: Mapping[str, Rule], food: Food, chosen: Proposal | None, others: tuple[Proposal, ...]
) -> Serving:
    """Round the metric amount and count the servings from it."""
    unit = "mL" if food.liquid and draft.millilitres is not None else "g"
    amount = draft.millilitres if unit == "mL" else draft.grams
    serving = Serving(
        statement=draft.words or "not known",
        amount=None,
        unit=unit,
        grams=None,
        columns=draft.columns,
        unit_g=None if food.each is None else float(food.each),
        unit_noun=food.unit,
        reference=chosen.rule if chosen else None,
        confidence=chosen.confidence if chosen else 1.0,
        proposals=others,
        because=draft.because,
        problems=draft.problems,
    )
    if amount is None:
        return serving
    rounded = rules["metric"].data["ladder"].apply(_decimal(amount))
    metric = f"{rounded.text} {unit}"
    printed = Fraction(rounded.value or 0)
    grams = printed if unit == "g" else (printed * food.density if food.density else None)
    return replace(
        serving,
        statement=f"{draft.words} ({metric}{'/' if draft.visual else ''}{draft.visual})" if draft.words else metric,
        amount=float(printed),
        grams=None if grams is None else float(grams),
        servings="" if draft.whole else _servings(rules["servings"], food, grams),
    )


def _decimal(number: Fraction) -> Decimal:
    return exact(float(number))


def _servings(rule: Rule, food: Food, grams: Fraction | None) -> str:
    """How many servings the package holds, with "about" where that is rounded."""
    if food.package is None or not grams:
        return ""
    count = (food.package / grams).limit_denominator(_EXACT)
    rounded = rule.data["ladder"].apply(_decimal(count))
    about = "" if rounded.value is not None and Fraction(rounded.value) == count else "about "
    return f"{about}{rounded.text}"
