"""From a recipe in words to foods and grams: each line with the food it means, what it weighs, and why.

A line may name another part of the same recipe instead of a food ("60 g Brined cucumber"); a name may hold two foods
("salt and pepper"); what is pinned in braces wins over everything. Whatever is not sure is a problem with what to
type to settle it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

from labeler.foods.amounts_of_method import AmountTold, amount_told
from labeler.foods.composition.food_table import load_table
from labeler.foods.composition.imputation import Imputed, todays_values
from labeler.foods.egg_parts import with_egg_parts
from labeler.foods.equipment import is_equipment
from labeler.foods.line_food import SURE, match_line, pinned_food, state_of
from labeler.foods.matching.match import match_food, split_foods
from labeler.foods.model import Match, WeighedLine, WeighedPart, WeighedRecipe
from labeler.foods.part_of_method import as_taken
from labeler.foods.sub_recipes import Parts, Reference
from labeler.foods.user_foods import OwnFoods, UserFood
from labeler.foods.weights.line_weight import grams
from labeler.foods.weights.salt_to_taste import salted_to_taste
from labeler.foods.weights.stock_for_grain import stock_for_grain
from labeler.foods.weights.user_food_weight import weigh_own
from labeler.markets import market_of
from labeler.parsing.ingredient.facts import facts_of
from labeler.parsing.ingredient.part_share import share_of_part
from labeler.parsing.instructions.actions import Heat, heat_of
from labeler.parsing.instructions.parser import read_method
from labeler.parsing.model import Line, Purpose, Recipe
from labeler.parsing.units import grams_per, kind
from labeler.types import Interval, Problem, Severity

__all__ = ["SURE", "weigh", "weigh_line"]


_SCALE = 0.02
_A_FAT = 40.0  # g fat in 100 g from which a food is a fat to cook with, whose package is at hand


def weigh_line(line: Line, *, market: str = "us", larder: OwnFoods | None = None) -> WeighedLine:
    """One line with its food and its grams.

    Parameters
    ----------
    line : Line
        What the cook wrote.
    market : str
        Whose cups and spoons: us, uk, ca, anz, eu, codex, jp.
    larder : Larder or None
        The cook's own foods, which win over the table by name.

    Returns
    -------
    WeighedLine
        Grams of edible portion as an `Interval`, or None, with every problem of the reading, the match and the weight.
        Raises nothing for any line.

    Examples
    --------
    >>> weighed = labeler.weigh_line(labeler.read_line("1 cup sugar"))
    >>> weighed.match.description, weighed.grams.best  # g
    ('Sugars, granulated', 200.0)
    """
    weighed = _one_or_several(line, market, larder)
    if line.further:
        others = [weigh_line(other, market=market, larder=larder) for other in line.further]
        further = [each for other in others for each in (replace(other, also=()), *other.also)]
        weighed = replace(weighed, also=(*weighed.also, *further))
    if line.optional and weighed.match is not None:
        message = f"“{line.text.strip()[:60]}” is optional and is counted. Take the line out where it is left out."
        weighed = replace(weighed, problems=(*weighed.problems, Problem("optional-counted", message, line.number)))
    also = tuple(replace(one, facts=facts_of(one.line)) for one in weighed.also)
    return replace(weighed, facts=facts_of(weighed.line), also=also)


def _one_or_several(line: Line, market: str, larder: OwnFoods | None) -> WeighedLine:
    if line.pin and line.pin.food is not None:
        return _weighed(line, pinned_food(line.pin.food, line), market=market)
    if not line.name.strip():
        stated = any(problem.code in ("no-food", "heading") for problem in line.problems)
        problem = Problem("no-food", f"“{line.text.strip()[:60]}” names no food.", line.number)
        return WeighedLine(line, None, None, problems=line.problems if stated else (*line.problems, problem))
    own = _own(line, larder) if larder is not None else None
    if own is not None:
        return weigh_own(line, own, market=market)
    if is_equipment(line.name) or line.purpose is Purpose.WEIGHT:
        tool = f"“{line.text.strip()[:60]}” is taken for a thing to cook with, not a food, and counts nothing."
        problem = Problem("no-food", f"{tool} Pin a food in the line where it is one: {{food 02047}}.", line.number)
        return WeighedLine(line, None, None, problems=(*line.problems, problem))
    foods = split_foods(line.name)
    if len(foods) < 2 and larder is not None:
        parts = tuple(re.split(r"\s+(?:and|&)\s+", line.name))
        foods = parts if any(larder.named(part) for part in parts) else foods
    if len(foods) < 2 and line.each:
        foods = tuple(line.name.split(" and "))
    if len(foods) < 2:
        return _weighed(line, *match_line(line, line.name, market), market=market)
    return _several(line, foods, market, larder)


def _own(line: Line, larder: OwnFoods) -> UserFood | None:
    """The own food of a line, by the longest phrase that names one.

    A package may be called by what the line counts or does: “Hilltop cheese slices”, “Hilltop chopped tomatoes”.
    """
    unit = line.amounts[0].unit if line.amounts else None
    counted = unit.replace("_", " ") if unit is not None and kind(unit) == "count" else ""
    done = line.preparation.partition(",")[0]
    for more in (f"{done} {counted}", counted, done):
        own = larder.named(f"{line.name} {more}") if more.strip() else None
        if own is not None:
            return own
    return larder.named(line.name)


def _weighed(line: Line, found: Match, later: str = "", *, market: str) -> WeighedLine:
    problems = list(line.problems)
    if found.food is None:
        problems.append(_no_such_food(line, found))
        return WeighedLine(line, found, _written_grams(line), problems=tuple(problems))
    if found.confidence <= SURE:
        problems.append(_weak_match(line, found))
    elif found.read_as:
        text = f"“{line.name}” is read as “{found.read_as}”: {found.food} ({found.description})."
        problems.append(Problem("respelled", f"{text} Mend the spelling, or write the name another way.", line.number))
    if later:
        text = f"“{line.text.strip()[:60]}” is taken as measured before it is {later}."
        mend = f"Write “{later} {line.name}” if it is measured afterwards."
        problems.append(Problem("measured-when", f"{text} {mend}", line.number))
    today = todays_values(found.food, market) if load_table().value(found.food, "FAT") >= _A_FAT else {}
    if today:
        problems.append(_fat_of_today(line, found, today["FATRN"]))
    weight, more = grams(line, found.food, market=market, read_as=found.read_as)
    return WeighedLine(line, found, weight, problems=(*problems, *more))


def _fat_of_today(line: Line, found: Match, trans: Imputed) -> Problem:
    """What a line of shortening or margarine should say: the table's trans fat is of 2015."""
    text = (
        f"“{line.name}” is taken as made today, with {trans.low:.2g} to {trans.high:.2g} g trans fat in 100 g and not "
        f"the table's {load_table().value(found.food or '', 'FATRN'):.3g}: {trans.basis}."
    )
    mend = "Read its package, and put it into your larder (labeler larder add)."
    return Problem("fat-of-today", f"{text} {mend}", line.number, Severity.NOTE)


def _no_such_food(line: Line, found: Match) -> Problem:
    table = load_table()
    near = ", ".join(f"{food} ({table.describe(food)})" for food in found.alternatives[:3])
    if line.pin and line.pin.food is not None:
        what = f"{line.pin.food} is no food of the table, so the food of this line is not known."
        mend = (
            f"For “{line.name}” the nearest are {near}; pin one, such as {{food {found.alternatives[0]}}}, or take "
            "the pin out."
            if near
            else "Ids have five digits; `labeler foods NAME` finds them."
        )
        return Problem("no-such-food", f"{what} {mend}", line.number)
    mend = (
        f"The nearest are {near}; pin one, such as {{food {found.alternatives[0]}}}."
        if near
        else "Find one with `labeler foods NAME` and pin its five digits, as {food ...}."
    )
    return Problem("no-such-food", f"The table has nothing that “{line.name}” surely means. {mend}", line.number)


def _weak_match(line: Line, found: Match) -> Problem:
    others = ", ".join(found.alternatives[:3])
    return Problem(
        "weak-match",
        f"“{line.name}” is taken for {found.food} ({found.description}): {found.reason}. If that is wrong pin another"
        f"{', such as ' + others if others else ''}: {{food {others[:5] or found.food}}}.",
        line.number,
    )


def _several(line: Line, foods: tuple[str, ...], market: str, larder: OwnFoods | None) -> WeighedLine:
    """A line that names several foods.

    Where it says "each", and where it counts pieces, the amount is of every food; without an amount each has its own;
    else it is shared among them.
    """
    whole = line.each or not line.amounts or line.amounts[0].unit is None
    shares = 1.0 if whole else 1 / len(foods)
    weighed = []
    for at, name in enumerate(foods):
        amounts = tuple(replace(amount, low=amount.low * shares, high=amount.high * shares)
                        if amount.role != "each" else amount for amount in line.amounts)  # fmt: skip
        pin = line.pin
        if pin and pin.grams is not None:
            pin = replace(pin, grams=pin.grams / (1 if line.each else len(foods)))
        derived = line.derived
        if derived == "juice and zest":
            derived = "zest" if "zest" in name or "peel" in name else "juice"
            if derived == "zest":  # "(1 dl of juice and the zest)": the measure is of the juice
                amounts = tuple(amount for amount in amounts if amount.role != "same")
        one = replace(line, name=name, amounts=amounts, pin=pin, derived=derived,
                      problems=line.problems if at == 0 else ())  # fmt: skip
        own = larder.named(name) if larder is not None else None
        weighed.append(
            weigh_own(one, own, market=market) if own else _weighed(one, *match_line(line, name, market), market=market)
        )
    first, *rest = weighed
    problems = first.problems
    if shares < 1:
        text = f"“{line.text.strip()[:60]}” gives one amount for {len(foods)} foods; it is shared evenly."
        problems = (*problems, Problem("shared-amount", f"{text} Write a line for each.", line.number))
    return WeighedLine(line, first.match, first.grams, also=tuple(rest), problems=problems)


def weigh(recipe: Recipe, *, market: str | None = None) -> WeighedRecipe:
    """A whole recipe with foods and grams.

    Lines that take another part of the recipe come first (`labeler.foods.sub_recipes`). Such a line has `part` set and
    no match; its grams are known where it gives a weight, else `cook` works them out. A part that would contain
    itself is a problem ``part-cycle``, a line that speaks of a part that is not there ``no-such-part``.

    Parameters
    ----------
    recipe : Recipe
        As read; the foods of its larder win over the table by name.
    market : str or None
        Whose cups and spoons; None takes the head's `market`, else us.

    Returns
    -------
    WeighedRecipe
        Each line with its match, its grams of edible portion as an `Interval` (None where nobody can say) and its
        problems.

    Source: weights of household measures are those of USDA SR28; every other names its source in
    ``labeler/foods/data``.

    Examples
    --------
    >>> recipe = labeler.read_recipe("# Dip\\n- 1 cup sugar\\n- 250 g butter\\n")
    >>> [line.grams.best for part in labeler.weigh(recipe).parts for line in part.lines]  # g
    [200.0, 250.0]
    """
    market = market_of(recipe, market)
    known = Parts(recipe, market=market)
    references = [[known.reference(line, part) for line in part.lines] for part in recipe.parts]
    links = {
        part.title: {found.title for found in row if found is not None and found.title}
        for part, row in zip(recipe.parts, references, strict=True)
    }
    problems = list(recipe.problems)
    parts = []
    for part, row in zip(recipe.parts, references, strict=True):
        lines = []
        for line, found in zip(part.lines, row, strict=True):
            if found is None:
                line = as_taken(line, part, recipe, market=market)
                told = amount_told(line, part, recipe, market=market)
                lines.append(_by_method(line, told, market, recipe.larder))
            elif line.unreadable:
                lines.append(WeighedLine(line, None, None, problems=line.problems))  # not the whole of that part
            elif found.kept is not None:
                taken = share_of_part(line, found.kept.name)
                lines.append(WeighedLine(line, None, None, problems=line.problems, kept=found.kept, taken=taken))
            elif found.title is not None and _reaches(found.title, part.title, links):
                problems.append(Problem(
                    "part-cycle",
                    f"“{part.title}” and “{found.title}” contain each other; take one of the two lines out.",
                    line.number))  # fmt: skip
                lines.append(_refers(line, found, None, problems[-1]))
            else:
                lines.append(_refers(line, found, _written_grams(line), found.problem))
        parts.append(WeighedPart(part.title, tuple(with_egg_parts(lines, part, market=market))))
    salted = salted_to_taste(stock_for_grain(parts), cold=_is_cold(recipe, market))
    return WeighedRecipe(recipe, salted, tuple(problems), market)


def _is_cold(recipe: Recipe, market: str) -> bool:
    """Whether a recipe has a method and no step of it heats anything."""
    steps = [one for part in recipe.parts for one in read_method(part, market=market).instructions]
    return bool(steps) and not any(heat_of(one.action) is not Heat.NONE for one in steps)


def _by_method(line: Line, told: AmountTold | None, market: str, larder: OwnFoods | None) -> WeighedLine:
    """A line with its food and its grams, by the amount that the method gives where it gives none itself."""
    if told is None:
        return weigh_line(line, market=market, larder=larder)
    weighed = weigh_line(replace(line, amounts=told.amounts), market=market, larder=larder)
    text = f"“{line.text.strip()[:60]}” gives no amount; the method's “{told.text[:80]}” is taken."
    problem = Problem(
        "amount-of-method", f"{text} Write the amount in the line to be sure.", line.number, Severity.NOTE
    )
    return replace(weighed, problems=(problem, *weighed.problems))


def _refers(line: Line, found: Reference, weight: Interval | None, problem: Problem | None) -> WeighedLine:
    """A line that takes a part, or of an ingredient that is counted on another line, or of nothing that is there."""
    problems = (*line.problems, problem) if problem else line.problems
    if line.further:
        text = f"“{line.text.strip()[:60]}” goes on with a food that is not counted here, as the line takes a part."
        lost = Problem("second-food-lost", f"{text} Write it on a line of its own.", line.number)
        problems = (*(one for one in problems if one.code != "two-foods"), lost)
    if found.line is None:
        taken = share_of_part(line, found.title) if found.title is not None else None
        return WeighedLine(line, None, weight, part=found.title, problems=problems, taken=taken)
    nothing = Interval(0.0, 0.0, 0.0, f"counted on line {found.line.number}")
    return WeighedLine(line, match_food(found.line.name, preparation=state_of(found.line)), nothing, problems=problems)


def _reaches(start: str, goal: str, links: Mapping[str, set[str]]) -> bool:
    """Whether `goal` is among the parts that `start` is made of, over any number of steps."""
    seen, ahead = set(), [start]
    while ahead:
        here = ahead.pop()
        if here == goal:
            return True
        if here not in seen:
            seen.add(here)
            ahead.extend(links.get(here, ()))
    return False


def _written_grams(line: Line) -> Interval | None:
    """Grams of a line without a food of the table where it gives a weight; its cups and pieces weigh who knows what."""
    if line.pin and line.pin.grams is not None:
        weight = line.pin.grams
        return Interval(weight, weight, weight, f"{weight:g} g, pinned in the line")
    count = line.amounts[0] if line.amounts else None
    for amount in line.amounts:
        per = grams_per(amount.unit)
        if per is None or amount.role == "plus":
            continue
        times = count.low if count is not None and amount.role == "each" else 1.0
        low, high = sorted((amount.low * per * times, amount.high * per * times))
        spread = 0.15 if amount.about else _SCALE
        best = (low + high) / 2
        return Interval(best, low * (1 - spread), high * (1 + spread), f"{best:g} g in the line")
    return None
