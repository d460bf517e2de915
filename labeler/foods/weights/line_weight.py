"""How many grams of a table food one ingredient line is, edible part, with bounds and the reason.

In order: the weight pinned in braces; a weight in the line, less what is not eaten of it; the size of each package or
piece times their number; a volume by the food's own measures; a count by the weight of one. A line without an amount
rests on a stated default. Each weight is linear in the amount that the line gives.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache, reduce

from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.name_words import words
from labeler.foods.weights.amount_weight import FINGERS, METRIC, Context, term_weight
from labeler.foods.weights.default_amounts import shortened, unquantified_weight
from labeler.foods.weights.measured_form import around_name, forms_of
from labeler.parsing.model import Amount, Line
from labeler.parsing.units import grams_per, kind, millilitres_per
from labeler.types import Interval, Problem

__all__ = ["grams"]

_SALT_TYPES = frozenset(
    "table kosher sea fine coarse flake flaky iodized pickling canning rock curing pink garlic celery onion".split()
)

_STATES = {
    "dried": ("dried", "spices, ", "dehydrated"),
    "canned": ("canned",),
    "frozen": ("frozen",),
    "cooked": ("cooked", "boiled", "roasted,"),
}

_SEASONINGS = 200
_MOST_BARE = 24.0  # a bare number beyond this counts grams or millilitres whose unit got lost: nobody can say which
# Counts of these are helpings or vessels, each about as much as a line without an amount is taken for.
_HELPINGS = frozenset(["serving", "bowl", "plate", "glass", "mug", "helping", "portion"])
_PUT_UP = re.compile(r"(?<=\w) (?:in|with) ")


def grams(
    line: Line, food: str, *, market: str = "us", read_as: str = ""
) -> tuple[Interval | None, tuple[Problem, ...]]:
    """Edible grams of a whole line, taken for one food of the table.

    Parameters
    ----------
    line : Line
        What the cook wrote.
    food : str
        Table id, five digits.
    market : str
        Whose cups and spoons: us, uk, ca, anz, eu, codex, jp.
    read_as : str
        The line's name with its typos mended, where the match mended any: the figures go by it.

    Returns
    -------
    Interval or None
        Edible weight as it enters the pot [g]; None where the line gives no way to it, or an amount that is none.
    tuple of Problem
        ``no-weight``, ``default-weight``, ``salt-type``, each with what to type to mend it.

    Raises
    ------
    KeyError
        For a food that is not in the table, or an unknown market.
    """
    table = load_table()
    group = int(table.group_codes[table.position[food]])
    if line.pin and line.pin.grams is not None:
        pinned = line.pin.grams
        return Interval(pinned, pinned, pinned, f"{pinned:g} g, pinned in the line"), ()
    if line.unreadable:
        return None, ()
    name = _name_words(read_as or line.name)
    if not line.amounts:
        return unquantified_weight(line, food, _with_states(name, food))
    context = _context(line, food, name, group, market)
    terms = _terms(line.amounts)
    weights: list[Interval] = []
    problems: list[Problem] = []
    for term in terms:
        found = term_weight(line, term, context)
        if found is None:
            return _by_default(line, terms, food, _with_states(name, food))
        weight, default = found
        if default:
            what = f"The weight of “{shortened(line)}” rests on a default: {weight.basis}."
            mend = "Weigh it and write the grams, or pin them: {454 g}."
            problems.append(Problem("default-weight", f"{what} {mend}", line.number))
        weights.append(weight)
    problems += [problem for term in terms if (problem := _disagreement(line, term, context)) is not None]
    if _is_unstated_can(line, context):
        text = f"“{shortened(line)}” does not say whether the liquid goes in; {context.liquid.share.basis}."
        problems.append(Problem("drained-or-not", f"{text} Write “drained” or “with its liquid”.", line.number))
    if _salt_is_silent(line, name, group):
        text = "A spoon of table salt weighs about twice a spoon of flake salt: write which salt it is"
        problems.append(
            Problem("salt-type", f"{text} (table, fine sea, coarse kosher, flake), or the grams.", line.number)
        )
    return _told_of_all(line, terms, weights, context) or reduce(_sum, weights), tuple(problems)


def _by_default(
    line: Line, terms: list[list[Amount]], food: str, name: tuple[str, ...]
) -> tuple[Interval | None, tuple[Problem, ...]]:
    """What a line is taken for whose amount nobody can weigh: "1 bowl corn", "8 servings pastry", "3/4 rolled oats".

    It is no less known than a line without an amount, so it counts as that, once for each serving or vessel; a number
    without a unit may have lost any. A package and a length that nobody can weigh stay open.
    """
    amount = terms[0][0]
    helpings = amount.unit in _HELPINGS
    bare = amount.unit is None and 0.0 < amount.high <= _MOST_BARE
    if len(terms) > 1 or not (helpings or bare):
        return None, (_no_weight(line, amount),)
    one, _ = unquantified_weight(line, food, name)
    times = (amount.low + amount.high) / 2.0
    told = f"{amount.unit}s" if helpings else "an amount without its unit"
    least, most = sorted((amount.low, amount.high))
    value = Interval(one.best * times, one.low * least, one.high * most, f"{told}: {one.basis}")
    text = f"Nothing says what one {amount.unit or 'of it'} of “{line.name or shortened(line)}” weighs"
    counted = f"it is counted as {value.best:.3g} g ({value.low:.3g}–{value.high:.3g})"
    return value, (
        Problem("default-weight", f"{text}; {counted}. Write the grams, or pin them: {{454 g}}.", line.number),
    )


def _context(line: Line, food: str, name: tuple[str, ...], group: int, market: str) -> Context:
    before, after = around_name(line)
    if group == _SEASONINGS and name[-1:] == ("salt",):
        name = (*words(line.note), *name)  # "kosher salt (Diamond Crystal)": the brand says how it is flaked
    told = (*name, "rack") if any(amount.unit == "rack" for amount in line.amounts) else name
    full = _with_states(told, food)
    forms = forms_of(before, f"{after} {line.preparation.lower()}", food, full)
    text = f"{line.text} {line.name} {line.preparation}".lower()
    return Context(food, full, group, forms, before, after, text, market)


def _is_unstated_can(line: Line, context: Context) -> bool:
    """Whether a can or jar has a liquid of which the line does not say what becomes of it."""
    main = line.amounts[0]
    if main.unit not in ("can", "jar") or any(amount.role == "same" for amount in line.amounts):
        return False
    return not context.liquid.told


def _told_of_all(line: Line, terms: list[list[Amount]], weights: list[Interval], context: Context) -> Interval | None:
    """The weight of a sum that the line tells again: "1 cup plus 2 tablespoons (290 g)"; None where it tells none.

    What stands behind the last term may tell that term or the sum: it is taken for the one that it comes nearer to.
    """
    last = terms[-1]
    again = next((amount for amount in last[1:] if amount.role == "same" and _is_metric(amount)), None)
    if len(terms) < 2 or again is None or any(len(term) > 1 for term in terms[:-1]):
        return None
    whole = term_weight(line, [replace(again, role="main")], context)
    own = term_weight(line, last[:1], context)
    if whole is None or own is None or not own[0].best or not whole[0].best:
        return None
    total = sum(weight.best for weight in weights[:-1]) + own[0].best
    told = whole[0].best
    return whole[0] if abs(math.log(told / total)) < abs(math.log(told / own[0].best)) else None


_UNLIKE = 1.6
"""A weight this many times beyond the bounds of the volume beside it is no weight of that volume. Common practice."""


def _disagreement(line: Line, term: list[Amount], context: Context) -> Problem | None:
    """What to tell the cook of a weight and a volume of which each speaks against the other: "1 cup (500 g) flour"."""
    main = term[0]
    weight = next((amount for amount in term[1:] if amount.role == "same" and grams_per(amount.unit)), None)
    volume = millilitres_per(main.unit, market=context.market) if weight is not None else None
    if weight is None or not volume or main.high <= 0:
        return None
    cup, default = context.volume(volume, main.unit)
    told = (weight.low + weight.high) / (main.low + main.high) * (grams_per(weight.unit) or 0.0)
    if default or cup.low / _UNLIKE <= told <= cup.high * _UNLIKE:
        return None
    unit = (main.unit or "").replace("_", " ")
    text = f"“{shortened(line)}” makes a {unit} weigh {told:.3g} g, but one of this food weighs {cup.low:.3g} to"
    return Problem(
        "amounts-disagree", f"{text} {cup.high:.3g} g; the weight is taken. Keep the one that you trust.", line.number
    )


def _is_metric(amount: Amount) -> bool:
    return amount.unit in METRIC or grams_per(amount.unit) is not None


@lru_cache(maxsize=16384)
def _name_words(name: str) -> tuple[str, ...]:
    """The normal words of the food itself, not of what it is put up in: "chipotles in adobo sauce" are no sauce."""
    return words(_PUT_UP.split(name, maxsplit=1)[0]) or words(name)


@lru_cache(maxsize=32768)
def _with_states(name: tuple[str, ...], food: str) -> tuple[str, ...]:
    """The name with the states of the table food, which decide between fresh, dried, canned and cooked figures."""
    if "fresh" in name:
        return name
    described = load_table().describe(food).lower()
    states = (state for state, words_of in _STATES.items() if any(word in described for word in words_of))
    return (*name, *(state for state in states if state not in name))


def _terms(amounts: Sequence[Amount]) -> list[list[Amount]]:
    """The amounts by sum: each term begins with a main or plus amount, its sizes and repetitions behind it."""
    terms: list[list[Amount]] = []
    for amount in amounts:
        if amount.role in ("main", "plus") or not terms:
            terms.append([amount])
        else:
            terms[-1].append(amount)
    return terms


def _sum(one: Interval, two: Interval) -> Interval:
    return Interval(one.best + two.best, one.low + two.low, one.high + two.high, f"{one.basis}; plus {two.basis}")


def _no_weight(line: Line, amount: Amount) -> Problem:
    one = "one" if amount.unit is None else f"one {amount.unit.replace('_', ' ')}"
    text = f"Nothing says what {one} of “{line.name or shortened(line)}” weighs."
    return Problem("no-weight", f"{text} Write the grams in the line, or pin them: {{454 g}}.", line.number)


def _salt_is_silent(line: Line, name: tuple[str, ...], group: int) -> bool:
    """Whether a spoon of salt is asked for without a word on which."""
    if "salt" not in name or group != 200 or len(name) > 3 or _SALT_TYPES & frozenset(name):
        return False
    return kind(line.amounts[0].unit) == "volume" and line.amounts[0].unit not in FINGERS
