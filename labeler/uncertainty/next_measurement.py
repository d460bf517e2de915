"""Which few measurements in the kitchen would make the label surer, and by how much.

Every input that is in doubt has a way to be settled: weigh the line, or what no line lists, say which food it is or how
thick, weigh what is left after a step, weigh a serving, read the package. The ways that look best by their shares of
the variance are tried in earnest: the recipe is changed as its cook would change it, run again with the same draws, and
the intervals are compared. What is promised is what typing the measured value does.

Figures count by what they are of a day: 2,000 kcal, fat 78 g, saturated fat 20 g, carbohydrate 275 g, protein 50 g and
sodium 2,300 mg (21 CFR 101.9(c)(8)(iii) and (9)), sugars 90 g (Regulation (EU) 1169/2011, annex XIII, part B).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from labeler.cooking.pipeline import cook
from labeler.cooking.readings import READ_KEY
from labeler.cooking.serving import Portion, portion
from labeler.cooking.state.ledger import Dish, Ledger
from labeler.cooking.state.mixture import Array, column
from labeler.cooking.state.sampling import Cause, DrawKey
from labeler.flow.build import build_flow
from labeler.flow.model import Flow, Reading
from labeler.flow.named_parts import with_parts_named
from labeler.flow.readings import answers_of, settled
from labeler.foods.composition.food_table import load_table
from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.types import Interval
from labeler.uncertainty.amount_rounding import with_rounding
from labeler.uncertainty.composition_error import made_up
from labeler.uncertainty.food_identity import Candidates
from labeler.uncertainty.measurement_options import (
    Changes,
    Way,
    gain,
    line_way,
    list_way,
    package_way,
    pinned,
    rounded,
    settle_division,
    settle_reading,
    thickness_way,
    weigh_after,
)
from labeler.uncertainty.monte_carlo import Drawn, chosen_food, draw_dish, inverse

__all__ = ["KEY_FIGURES", "Advice", "weigh_next"]

KEY_FIGURES = {
    "ENERC_KCAL": ("energy", 2000.0),
    "FAT": ("fat", 78.0),
    "FASAT": ("saturated fat", 20.0),
    "CHOCDF": ("carbohydrate", 275.0),
    "SUGAR": ("sugars", 90.0),
    "PROCNT": ("protein", 50.0),
    "NA": ("sodium", 2300.0),
}
"""Figures that advice goes by: name, and how much of it a day has."""

_PACKAGED = ("canned", "smoked", "cured", "pickled", "cheese", "yogurt", "tofu", "soy sauce", "bacon", "peanut butter")
_DRAWS = 1000
_TRIED, _GIVEN = 4, 3
_WORTH = 0.05
# A kitchen scale shows whole grams, so that less than this is not told from nothing [g]. Common practice, no source.
_ON_A_SCALE = 2.0
_DIVISION = DrawKey(Cause.DIVISION)
# What a cook settles by weighing, looking or measuring; everything else that is drawn is handling.
_INPUTS = frozenset({Cause.READING, Cause.GRAMS, Cause.FOOD, Cause.DIVISION, Cause.HALF_THICKNESS, Cause.UNLISTED})
_COLUMNS = [column(key) for key in KEY_FIGURES]
_DAY = np.array([day for _, day in KEY_FIGURES.values()])


@dataclass(frozen=True, slots=True)
class Advice:
    """One measurement that is worth its trouble.

    Parameters
    ----------
    measure : str
        What to do.
    type : str
        What to type then, with the best estimate in place of what the scale will say.
    nutrient : str
        INFOODS tagname of the figure that gains most.
    removes : float
        Share of its interval per serving that goes away, 0 to 1.
    message : str
        All of it in a sentence.
    """

    measure: str
    type: str
    nutrient: str
    removes: float
    message: str


def weigh_next(
    weighed: WeighedRecipe, dish: Dish, divided: Portion, drawn: Drawn, *, market: str
) -> tuple[Advice, ...]:
    """The one to three measurements that cut the doubt about a serving most.

    Parameters
    ----------
    weighed, dish, divided, drawn : WeighedRecipe, Dish, Portion, Drawn
        The recipe as it was run.
    market : str
        Whose cups and spoons.

    Returns
    -------
    tuple of Advice
        Best first; fewer or none where nothing would take away a twentieth of any interval.
    """
    weight = _widths(drawn) / _DAY
    if not weight.any():
        return ()
    # Against a run of as many draws, so that what chance does is the same in both.
    flow = _flow_of(weighed, dish, market)
    run = cook(with_rounding(weighed), draws=_DRAWS, flow=flow, guarded=False)
    before = _widths_of(weighed, run, market)
    ways = sorted(_ways(weighed, dish, divided, drawn, market), key=lambda way: -float(way.promise @ weight))
    found: list[tuple[float, Way, int, float]] = []
    for way in ways[:_TRIED]:
        if len(found) >= _GIVEN and float(way.promise @ weight) < min(gain for gain, *_ in found):
            break
        changed, again = way.changed(), run
        if way.changes is not Changes.DIVISION:
            kept = flow if way.changes is Changes.FOODS else None
            if way.changes is Changes.READING:
                kept = settled(flow, _readings(flow)[0].choice.question)
            elif way.changes is Changes.METHOD:
                kept = _flow_of(changed, dish, market)
            again = cook(with_rounding(changed), draws=_DRAWS, flow=kept, guarded=False)
        after = _widths_of(changed, again, market)
        gained = np.where(before > 0.0, 1.0 - after / np.maximum(before, 1e-12), 0.0)
        best = int(np.argmax(gained * weight))
        if gained[best] >= _WORTH:
            found.append((float(gained @ weight), way, best, float(gained[best])))
    found.sort(key=lambda one: -one[0])
    return tuple(_advice(way, best, removes) for _, way, best, removes in found[:_GIVEN])


def _flow_of(weighed: WeighedRecipe, dish: Dish, market: str) -> Flow:
    """The flow as the dish was read, with its other readings."""
    parts = dish.flow.parts if dish.flow is not None else ()
    answers = [answers_of(part) for part in parts]
    flow = build_flow(with_parts_named(weighed, market=market), market=market, answers=answers)
    read = [replace(part, readings=own.readings) for part, own in zip(flow.parts, parts, strict=False)]
    return Flow((*read, *flow.parts[len(read) :]))


def _readings(flow: Flow) -> list[Reading]:
    return [one for part in flow.parts for one in part.readings]


def _widths(drawn: Drawn) -> Array:
    """Width of the interval of each key figure per serving."""
    low, high = drawn.propagated.interval(drawn.servings, _COLUMNS)
    return high - low


def _widths_of(weighed: WeighedRecipe, dish: Dish, market: str) -> Array:
    """Widths of the key figures of a recipe that was cooked with the draws of the first run."""
    drawn = draw_dish(weighed, dish, portion(weighed.recipe, dish, market=market))
    assert drawn is not None
    return _widths(drawn)


def _advice(way: Way, best: int, removes: float) -> Advice:
    key = list(KEY_FIGURES)[best]
    name = KEY_FIGURES[key][0]
    share = f"{removes:.0%}".replace("%", " %")
    message = (
        f"{way.measure[0].upper()}{way.measure[1:]} and {way.where}: {way.type}. "
        f"That would make the range of {name} some {share} narrower."
    )
    return Advice(way.measure, way.type, key, round(removes, 3), message)


# --- ways to settle something ----------------------------------------------------------------------------------------


def _ways(weighed: WeighedRecipe, dish: Dish, divided: Portion, drawn: Drawn, market: str) -> Iterator[Way]:
    """Every way there is, with the share of each key interval that it looks like taking away."""
    totals = drawn.propagated.totals(_COLUMNS) * inverse(drawn.servings)
    variance = np.maximum(totals.var(axis=1), 1e-30)
    parts = np.square(drawn.inputs.linear(totals)).T / variance
    shares = dict(zip(drawn.inputs.keys, parts, strict=True))
    places = {key: row for row, key in enumerate(drawn.inputs.keys)}
    for (_, _, food), choice in drawn.choices.items():
        normals = drawn.inputs.normals[places[choice.key]]
        shares[choice.key] = _between(totals, chosen_food(food, choice.foods, normals))
    nothing = np.zeros(len(_COLUMNS))
    handled = sum((share for key, share in shares.items() if key.cause not in _INPUTS), nothing)

    yield from _settle_lines(weighed, shares, drawn, market)
    yield from _list_unlisted(weighed, dish, shares, market)
    loose = [(ledger, stage) for ledger in dish.ledgers for stage in _weighable(ledger)]
    total = sum(_looseness(stage.grams) for _, stage in loose)
    for ledger, stage in loose:
        promise = gain(handled * (_looseness(stage.grams) / total))
        at = [part.title for part in weighed.parts].index(ledger.part)
        yield weigh_after(weighed, at, stage.line, stage.grams, promise)
    readings = _readings(dish.flow) if dish.flow is not None else []
    if readings and READ_KEY in shares:
        yield settle_reading(weighed, readings[0], gain(shares[READ_KEY]))
    if _DIVISION in shares:
        yield settle_division(weighed, divided, gain(shares[_DIVISION]))


def _settle_lines(weighed: WeighedRecipe, shares: dict[DrawKey, Array], drawn: Drawn, market: str) -> Iterator[Way]:
    """What settles each line that has one food and a weight."""
    for at, part in enumerate(weighed.parts):
        for place, line in enumerate(part.lines):
            if not line.also and line.match is not None and line.match.food is not None and line.grams is not None:
                yield from _settle_line(weighed, (at, place), line, shares, drawn, market)


def _list_unlisted(weighed: WeighedRecipe, dish: Dish, shares: dict[DrawKey, Array], market: str) -> Iterator[Way]:
    """Write what only the method names, and what a scale can weigh, as a line."""
    for at, flow in enumerate(dish.flow.parts if dish.flow is not None else ()):
        for place, one in enumerate(flow.unlisted):
            share = shares.get(DrawKey(Cause.UNLISTED, (flow.title, one.name, place)))
            if share is not None and one.grams is not None and one.grams.best >= _ON_A_SCALE:
                yield list_way(weighed, at, one, gain(share), market)


def _between(totals: Array, group: NDArray[np.intp]) -> Array:
    """Share of the variance of totals (totals, draws) between groups of draws, less what chance puts there."""
    sizes = np.bincount(group)
    member = (group[None] == np.flatnonzero(sizes)[:, None]).astype(totals.dtype)
    means = totals @ member.T / member.sum(axis=1)
    between = np.square(means - totals.mean(axis=1, keepdims=True)) @ member.sum(axis=1) / len(group)
    share: Array = between / np.maximum(totals.var(axis=1), 1e-30) - len(member) / len(group)
    return np.maximum(share, 0.0)


def _settle_line(
    weighed: WeighedRecipe,
    place: tuple[int, int],
    line: WeighedLine,
    shares: dict[DrawKey, Array],
    drawn: Drawn,
    market: str,
) -> Iterator[Way]:
    """Weigh a line, say which food it is, or read its package."""
    assert line.match is not None and line.match.food is not None and line.grams is not None
    name = line.line.name or line.line.text
    text = line.line.text.strip()
    weight = shares.get(DrawKey(Cause.GRAMS, (line.match.food, line.grams.basis)))
    if weight is not None and not (line.line.pin and line.line.pin.grams) and line.grams.best >= _ON_A_SCALE:
        if any(problem.code == "salt-type" for problem in line.problems):
            typed = re.sub(r"\bsalt\b", "table salt", text, count=1, flags=re.IGNORECASE)
            measure = f"look which salt goes in (“{text}”)"
            yield line_way(weighed, place, measure, typed, gain(weight), market, changes=Changes.METHOD)
        typed = pinned(text, f"{rounded(line.grams.best)} g")
        measure = f"weigh the {name} (“{text}”)"
        yield line_way(weighed, place, measure, typed, gain(weight), market, changes=Changes.FOODS)
    half = shares.get(DrawKey(Cause.HALF_THICKNESS, (weighed.parts[place[0]].title, place[1] + 1)))
    if half is not None:
        yield thickness_way(weighed, place, line, half, market)
    choice = drawn.choices.get((weighed.parts[place[0]].title, line.line.number, line.match.food))
    if choice is not None:
        typed = pinned(text, f"food {line.match.food}")
        other = _telling(line.match.food, choice.foods)
        described = f"“{line.match.description}” ({line.match.food})"
        measure = f"say which {name} you use, {described} or for example “{load_table().describe(other)}” ({other}),"
        share = gain(shares[choice.key])
        yield line_way(weighed, place, measure, typed, share, market, changes=Changes.FOODS)
    composition = drawn.propagated.composition
    if line.match.own is None and line.match.food in composition.foods and _has_package(line.match.food):
        own = composition.by_food[composition.foods.index(line.match.food), _COLUMNS]
        whole = composition.sd[_COLUMNS]
        spread = drawn.propagated.totals(_COLUMNS).std(axis=1)
        share = np.square(np.divide(own, spread, out=np.zeros_like(own), where=(spread > 0.0) & (whole > 0.0)))
        yield package_way(weighed, place, line, gain(share))


def _telling(food: str, foods: Candidates) -> str:
    """The other candidate that does most: by its weight and by how far its key figures are from the matched food's."""
    table = load_table()

    def difference(other: str) -> float:
        steps = [table.value(other, key) - table.value(food, key) for key in KEY_FIGURES]
        return float(np.abs(np.nan_to_num(steps) / _DAY).sum())

    return max((pair for pair in foods if pair[0] != food), key=lambda pair: pair[1] * difference(pair[0]))[0]


def _has_package(food: str) -> bool:
    """Whether a food comes in a package whose panel says what is in it, and not by the piece or the weight."""
    table = load_table()
    described = table.describe(food).lower()
    return made_up(table.position[food]) or any(word in described for word in _PACKAGED)


@dataclass(frozen=True, slots=True)
class _Weighable:
    line: int
    grams: Interval


def _weighable(ledger: Ledger) -> Iterator[_Weighable]:
    """The handling of a part after which its weight is in doubt: the last stage of each sentence."""
    last = {stage.line: stage.grams for stage in ledger.stages}
    for line, grams in last.items():
        if grams.best > 0.0 and _looseness(grams) > 0.01:
            yield _Weighable(line, grams)


def _looseness(grams: Interval) -> float:
    return (grams.high - grams.low) / grams.best if grams.best > 0.0 else 0.0
