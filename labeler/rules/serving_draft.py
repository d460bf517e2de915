"""The serving of a food before its metric amount is rounded: by a reference amount, or by the cook's own portion.

`labeler.rules.serving` chooses the reference amount, rounds and counts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from labeler.rules.household_measures import HouseholdMeasure, mixed, nearest_fraction, nearest_measure
from labeler.rules.model import Rule
from labeler.rules.rounding import Ladder, plain, to_step
from labeler.text.plurals import counted, plural
from labeler.types import Problem

__all__ = ["DISCRETE", "Draft", "Food", "by_portion", "by_reference"]

DISCRETE = "discrete-units"
"""Id of the rule of units, which only markets with reference amounts have."""


@dataclass(frozen=True, slots=True)
class Food:
    """What is stated of the food, as exact numbers."""

    package: Fraction | None
    each: Fraction | None
    unit: str
    shared: bool
    portion: Fraction | None
    density: Fraction | None
    loose: Fraction | None
    liquid: bool
    topping: bool
    pack: str
    visual: str
    ready: Fraction | None


@dataclass(frozen=True, slots=True)
class Draft:
    """The serving before its metric amount is rounded: its words, grams and millilitres, and why."""

    words: str
    grams: Fraction | None
    millilitres: Fraction | None = None
    columns: tuple[str, ...] = ("per serving",)
    whole: bool = False
    visual: str = ""
    because: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()


_LOAF = 3
"""Of so many reference amounts on, one piece of a food that is sold in ounces is a loaf; 21 CFR 101.9(b)(2)(i)(C)."""


def _course(rule: Rule, ratio: Fraction) -> str:
    """The course that a rule in bands chooses for a ratio."""
    # The bands are decimals: a ratio such as 2/3 is compared with 28 digits, far beyond any weighing.
    number = Decimal(ratio.numerator) / Decimal(ratio.denominator)
    return Ladder(rule.data["bands"]).band(number).choose


def by_portion(rules: Mapping[str, Rule], food: Food) -> Draft:
    """The cook's own portion: a weight, else one piece, else the package; of a liquid its volume as well."""
    draft = _portion(rules, food)
    if not food.liquid or not food.density or draft.grams is None:
        return draft
    return replace(draft, millilitres=draft.grams / food.density)


def _portion(rules: Mapping[str, Rule], food: Food) -> Draft:
    because = (f"{rules['basis'].summary} ({rules['basis'].paragraph})",) if "basis" in rules else ()
    if food.portion is not None and food.package is not None and food.portion >= food.package:
        return Draft(f"1 {food.pack}", food.package, whole=True, because=because)
    if food.portion is not None:
        words = f"1 {food.unit}" if food.portion == food.each else ""
        return Draft(words, food.portion, because=because)
    if food.each is not None:
        return Draft(f"1 {food.unit}", food.each, because=because)
    problem = Problem("no-serving", "No serving size is known: name the kind of food or give a portion in grams.")
    return Draft("", None, because=because, problems=(problem,))


def by_reference(rules: Mapping[str, Rule], reference: Rule, food: Food) -> Draft:
    """The serving by the reference amount, and whether the package is one serving or needs a second column."""
    amount, unit = reference.data["amount"], reference.data["unit"]
    text = f"reference amount of {reference.data['category']}"
    if amount is None:
        return _by_words(rules, reference, food, text)
    if food.topping and reference.data["topping"]:
        amount += reference.data["topping"]
    volume = None if unit == "g" else amount * Fraction(rules["household"].data["millilitres"].get(unit, 1))
    grams = amount if volume is None else (volume * food.density if food.density else None)
    because: tuple[str, ...] = (f"{text}: {mixed(amount)} {unit} ({reference.paragraph}; {reference.reading})",)
    if food.package and grams:
        container = rules["container"]
        course = _course(container, food.package / grams)
        share = plain(to_step(Decimal(float(food.package / grams * 100)), Decimal(1)))
        because += (f"the package is {share} % of it: {course} ({container.paragraph}; {container.reading})",)
        if course == "one serving":
            words = f"1 {food.unit if food.each == food.package else food.pack}"
            millilitres = food.package / food.density if food.density and food.liquid else None
            return Draft(words, food.package, millilitres, whole=True, because=because)
        draft = _amount(rules, reference, food, grams, volume)
        columns = draft.columns + (("per container",) if course == "two columns" else ())
        return replace(draft, columns=columns, because=because + draft.because)
    draft = _amount(rules, reference, food, grams, volume)
    return replace(draft, because=because + draft.because)


def _by_words(rules: Mapping[str, Rule], reference: Rule, food: Food, text: str) -> Draft:
    """The serving of a mix or a concentrate, of which the law sets how much of the ready food it makes."""
    makes = reference.data["makes"]
    if makes is None or food.ready is None or food.package is None:
        need = "say how much one pack makes, as “ready: 2 litres”" if makes else "work it out and write “serving: 4 g”"
        draft = by_portion(rules, food)
        problem = Problem("reference-amount-in-words", f"The {text} is {reference.data['note']}: {need}, in the head.")
        return replace(draft, problems=(problem, *draft.problems))
    grams = food.package * makes / food.ready
    per_ml = food.density if food.liquid else food.loose or food.density
    why = (f"{text}: {reference.data['note']} ({reference.paragraph}; {reference.reading})",)
    if per_ml is None:
        return Draft("", grams, because=why)
    measure = nearest_measure(rules["household"], grams / per_ml)
    return Draft(measure.words, measure.millilitres * per_ml, measure.millilitres, because=why)


def _amount(
    rules: Mapping[str, Rule], reference: Rule, food: Food, grams: Fraction | None, volume: Fraction | None
) -> Draft:
    """The number of units, fraction, household measure or ounces closest to a reference amount."""
    measures: tuple[str, ...] = reference.data["measures"]
    # A loaf is bulk: it is neither eaten whole nor cut as a cake is (table 2, "bulk products", in ounces).
    loaf = food.each and grams and "oz" in measures and "fraction" not in measures and food.each > _LOAF * grams
    if food.each and grams and not loaf:
        return _pieces(rules, food, food.each, grams)
    if reference.data["loose"] and not food.liquid:
        food = replace(food, density=food.loose)
    household = rules["household"]
    why = (f"{household.summary} ({household.paragraph})",)
    if volume is None and grams and food.density:
        volume = grams / food.density
    spoons = [unit for unit in measures if unit in household.data["millilitres"]]
    if spoons and volume is not None:
        if spoons[0] == "fl oz":
            ounces = volume / Fraction(household.data["millilitres"]["fl oz"])
            return Draft(f"{mixed(ounces)} fl oz", grams, volume, because=why)
        measure = nearest_measure(household, volume)
        weight = measure.millilitres * food.density if food.density else None
        return Draft(measure.words, weight, measure.millilitres, because=why, problems=_weigh_it(weight, food, measure))
    if "oz" in measures and grams:
        ounce = household.data["ounce"]
        count = Fraction(to_step(Decimal(float(grams / Fraction(ounce["grams"]))), ounce["step"]))
        problem = Problem(
            "ounces-need-a-picture",
            "A serving in ounces needs something to picture: write “visual: about 3 slices” in the head.",
        )
        words = f"{plain(Decimal(float(count)))} oz"
        asked = () if food.visual else (problem,)
        return Draft(words, count * Fraction(ounce["grams"]), because=why, visual=food.visual, problems=asked)
    need = "what one piece weighs, as “piece: 4 g cracker”" if "piece" in measures else "the weight of a cup of it"
    problem = Problem("no-household-measure", f"The serving has no household measure: give {need}, in the head.")
    return Draft("", grams, volume, problems=(problem,))


def _weigh_it(weight: Fraction | None, food: Food, measure: HouseholdMeasure) -> tuple[Problem, ...]:
    if weight is not None or food.liquid:
        return ()
    return (Problem("no-weight-of-measure", f"Weigh {measure.words} of it: the label states the grams beside it."),)


def _pieces(rules: Mapping[str, Rule], food: Food, each: Fraction, grams: Fraction) -> Draft:
    units = rules["fractions" if food.shared else DISCRETE]
    why = (f"{units.summary} ({units.paragraph}; {units.reading})",)
    course = "closest amount" if food.shared else _course(units, each / grams)
    if course.startswith("closest amount"):
        part = nearest_fraction(rules["fractions"], each, grams)
        by_unit = course.endswith("per unit") and food.package != each
        columns: tuple[str, ...] = ("per serving", "per unit") if by_unit else ("per serving",)
        return Draft(f"{mixed(part)} {food.unit}", part * each, columns=columns, because=why)
    problems: tuple[Problem, ...] = ()
    count = Fraction(1)
    if course != "one unit":
        count = max(count, Fraction(int(grams / each)))
        if abs((count + 1) * each - grams) <= abs(count * each - grams):
            count += 1
    if course == "one or two units":
        problems = (Problem("serving-of-one-or-two", f"One or two {plural(food.unit)} may be the serving."),)
    return Draft(counted(float(count), food.unit), count * each, because=why, problems=problems)
