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

from labeler.knowledge import Problem
from labeler.plurals import counted, plural
from labeler.rules.engine import Ladder, exact, plain, to_step
from labeler.rules.market import Market, load_market
from labeler.rules.measures import HouseholdMeasure, mixed, nearest_fraction, nearest_measure
from labeler.rules.model import Rule
from labeler.rules.reference import SERVING, Proposal, named_reference, propose_reference

__all__ = ["Serving", "serving_size"]

_DISCRETE = "discrete-units"


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
    reference: Rule | None = None
    confidence: float = 1.0
    proposals: tuple[Proposal, ...] = ()
    because: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class _Food:
    """What was said of the food, as exact numbers."""

    package: Fraction | None
    each: Fraction | None
    unit: str
    shared: bool
    portion: Fraction | None
    density: Fraction | None
    liquid: bool
    topping: bool


@dataclass(frozen=True, slots=True)
class _Draft:
    """The serving before its metric amount is rounded: its words, grams and millilitres, and why."""

    words: str
    grams: Fraction | None
    millilitres: Fraction | None = None
    columns: tuple[str, ...] = ("per serving",)
    whole: bool = False
    because: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()


def serving_size(
    *,
    market: str | Path | Market = "us",
    category: str | None = None,
    title: str = "",
    foods: Iterable[str] = (),
    package_g: float | None = None,
    unit_g: float | None = None,
    unit: str = "piece",
    shared: bool = False,
    portion_g: float | None = None,
    density: float | None = None,
    liquid: bool = False,
    topping: bool = False,
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

    Raises
    ------
    LabelerError
        For a category or a market that there is not.
    ValueError
        For a weight or density that is not above zero.
    """
    place = load_market(market)
    rules = place.rules(SERVING)
    food = _Food(
        package=_weight("package_g", package_g),
        each=_weight("unit_g", unit_g),
        unit=unit,
        shared=shared,
        portion=_weight("portion_g", portion_g),
        density=_weight("density", density),
        liquid=liquid,
        topping=topping,
    )
    proposals: tuple[Proposal, ...] = ()
    if category and _DISCRETE in rules:
        proposals = (Proposal(named_reference(category, place), 1.0, "the recipe says so"),)
    elif _DISCRETE in rules:
        proposals = propose_reference(title, foods, place)
    chosen = proposals[0] if proposals else None
    draft = _by_reference(rules, chosen.rule, food) if chosen else _by_portion(rules, food)
    if chosen and chosen.confidence < 1:
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


def _course(rule: Rule, ratio: Fraction) -> str:
    """The course that a rule in bands chooses for a ratio."""
    # The bands are decimals: a ratio such as 2/3 is compared with 28 digits, far beyond any weighing.
    number = Decimal(ratio.numerator) / Decimal(ratio.denominator)
    return Ladder(rule.data["bands"]).band(number).choose


def _by_portion(rules: Mapping[str, Rule], food: _Food) -> _Draft:
    """The cook's own portion: a weight, else one piece, else the package."""
    because = (f"{rules['basis'].says} ({rules['basis'].paragraph})",) if "basis" in rules else ()
    if food.portion is not None:
        words = f"1 {food.unit}" if food.portion == food.each else ""
        return _Draft(words, food.portion, because=because)
    if food.each is not None:
        return _Draft(f"1 {food.unit}", food.each, because=because)
    problem = Problem("no-serving", "No serving size is known: name the kind of food or give a portion in grams.")
    return _Draft("", None, because=because, problems=(problem,))


def _by_reference(rules: Mapping[str, Rule], reference: Rule, food: _Food) -> _Draft:
    """The serving by the reference amount, and whether the package is one serving or needs a second column."""
    amount, unit = reference.data["amount"], reference.data["unit"]
    said = f"reference amount of {reference.data['category']}"
    if amount is None:
        problem = Problem("reference-amount-in-words", f"The {said} is {reference.data['note']}: work it out by hand.")
        draft = _by_portion(rules, food)
        return replace(draft, problems=(problem, *draft.problems))
    if food.topping and reference.data["topping"]:
        amount += reference.data["topping"]
    volume = None if unit == "g" else amount * Fraction(rules["household"].data["millilitres"].get(unit, 1))
    grams = amount if volume is None else (volume * food.density if food.density else None)
    because: tuple[str, ...] = (f"{said}: {mixed(amount)} {unit} ({reference.paragraph}; {reference.reading})",)
    if food.package and grams:
        container = rules["container"]
        course = _course(container, food.package / grams)
        share = plain(to_step(Decimal(float(food.package / grams * 100)), Decimal(1)))
        because += (f"the package is {share} % of it: {course} ({container.paragraph}; {container.reading})",)
        if course == "one serving":
            words = f"1 {food.unit if food.each == food.package else 'container'}"
            millilitres = food.package / food.density if food.density and food.liquid else None
            return _Draft(words, food.package, millilitres, whole=True, because=because)
        draft = _amount(rules, reference, food, grams, volume)
        columns = draft.columns + (("per container",) if course == "two columns" else ())
        return replace(draft, columns=columns, because=because + draft.because)
    draft = _amount(rules, reference, food, grams, volume)
    return replace(draft, because=because + draft.because)


def _amount(
    rules: Mapping[str, Rule], reference: Rule, food: _Food, grams: Fraction | None, volume: Fraction | None
) -> _Draft:
    """The number of units, fraction, household measure or ounces closest to a reference amount."""
    if food.each and grams:
        return _pieces(rules, food, food.each, grams)
    measures: tuple[str, ...] = reference.data["measures"]
    household = rules["household"]
    why = (f"{household.says} ({household.paragraph})",)
    if volume is None and grams and food.density:
        volume = grams / food.density
    spoons = [unit for unit in measures if unit in household.data["millilitres"]]
    if spoons and volume is not None:
        if spoons[0] == "fl oz":
            ounces = volume / Fraction(household.data["millilitres"]["fl oz"])
            return _Draft(f"{mixed(ounces)} fl oz", grams, volume, because=why)
        measure = nearest_measure(household, volume)
        weight = measure.millilitres * food.density if food.density else None
        return _Draft(
            measure.words, weight, measure.millilitres, because=why, problems=_weigh_it(weight, food, measure)
        )
    if "oz" in measures and grams:
        ounce = household.data["ounce"]
        count = Fraction(to_step(Decimal(float(grams / Fraction(ounce["grams"]))), ounce["step"]))
        problem = Problem(
            "ounces-need-a-picture",
            "A serving in ounces needs something to picture, such as 'about 3 slices': count what the serving holds.",
        )
        words = f"{plain(Decimal(float(count)))} oz"
        return _Draft(words, count * Fraction(ounce["grams"]), because=why, problems=(problem,))
    need = "the weight of one piece" if "piece" in measures else "the weight of a cup of it"
    problem = Problem("no-household-measure", f"The serving has no household measure: give {need}.")
    return _Draft("", grams, volume, problems=(problem,))


def _weigh_it(weight: Fraction | None, food: _Food, measure: HouseholdMeasure) -> tuple[Problem, ...]:
    if weight is not None or food.liquid:
        return ()
    return (Problem("no-weight-of-measure", f"Weigh {measure.words} of it: the label states the grams beside it."),)


def _pieces(rules: Mapping[str, Rule], food: _Food, each: Fraction, grams: Fraction) -> _Draft:
    units = rules["fractions" if food.shared else _DISCRETE]
    why = (f"{units.says} ({units.paragraph}; {units.reading})",)
    course = "closest amount" if food.shared else _course(units, each / grams)
    if course.startswith("closest amount"):
        part = nearest_fraction(rules["fractions"], each, grams)
        by_unit = course.endswith("per unit") and food.package != each
        columns: tuple[str, ...] = ("per serving", "per unit") if by_unit else ("per serving",)
        return _Draft(f"{mixed(part)} {food.unit}", part * each, columns=columns, because=why)
    problems: tuple[Problem, ...] = ()
    count = Fraction(1)
    if course != "one unit":
        count = max(count, Fraction(int(grams / each)))
        if abs((count + 1) * each - grams) <= abs(count * each - grams):
            count += 1
    if course == "one or two units":
        problems = (Problem("serving-of-one-or-two", f"One or two {plural(food.unit)} may be the serving."),)
    return _Draft(counted(float(count), food.unit), count * each, because=why, problems=problems)


def _finish(
    draft: _Draft, rules: Mapping[str, Rule], food: _Food, chosen: Proposal | None, others: tuple[Proposal, ...]
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
        statement=f"{draft.words} ({metric})" if draft.words else metric,
        amount=float(printed),
        grams=None if grams is None else float(grams),
        servings="" if draft.whole else _servings(rules["servings"], food, grams),
    )


def _decimal(number: Fraction) -> Decimal:
    return exact(float(number))


def _servings(rule: Rule, food: _Food, grams: Fraction | None) -> str:
    """How many servings the package holds, with "about" where that is rounded."""
    if food.package is None or not grams:
        return ""
    count = food.package / grams
    rounded = rule.data["ladder"].apply(_decimal(count))
    about = "" if rounded.value is not None and Fraction(rounded.value) == count else "about "
    return f"{about}{rounded.text}"
