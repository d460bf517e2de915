"""Two ways to read a method: which is taken, and what the other does to the figures.

Where the words leave something open, every other way is cooked as a best estimate. Those that move the weight of the
dish or one of five values by more than a twentieth stand beside the one that was taken: each has its share of the
draws, so that an interval is that of the mixture, and how the method is read is one more input behind it. Where a guard
refuses the way that was taken, the likeliest way that no guard refuses is taken in its place, and told.

The thresholds are choices of this project, without a source.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import islice

import numpy as np

from labeler.cooking.losses import guards_of
from labeler.cooking.messages import guard_problems, read_otherwise
from labeler.cooking.state.ledger import Dish
from labeler.cooking.state.mixture import Array, Item, Mixture, column
from labeler.cooking.state.normal_quantiles import normal_quantile
from labeler.cooking.state.sampling import Cause, DrawKey, Sampler
from labeler.flow.choices import Doubt
from labeler.flow.guards import Guard
from labeler.flow.model import Flow, Reading
from labeler.flow.readings import other_ways, read_as
from labeler.foods.model import WeighedRecipe
from labeler.types import Severity

__all__ = ["READ_KEY", "as_guards_ask", "with_readings"]

Run = Callable[[Flow, int], Dish]
"""Cooks a flow with so many draws."""

READ_KEY = DrawKey(Cause.READING)
"""What decides in each draw which way the method is read."""

# What may have been misread; what is offered, or done in one of two ways, is the cook's to say and no misreading.
_MISREAD = frozenset({Doubt.SIDE, Doubt.MEANT, Doubt.EATEN})
_TRIED = 8  # ways of one recipe that are cooked to see what they do
_TOLD = 2  # ways that stand beside the one that was taken
_LIKELY = 0.3  # a way that is less likely is neither taken nor told
_MOVED = 0.05  # share of a figure from which a way moves it
# Per 100 g, the difference that is none: what the smallest rounding step of a panel may hide.
_FIVE = {"ENERC_KCAL": 4.0, "FAT": 0.5, "PROCNT": 0.5, "CHOCDF": 0.5, "NA": 5.0}


def as_guards_ask(
    weighed: WeighedRecipe, flow: Flow, dish: Dish, run: Run, *, draws: int, market: str
) -> tuple[Flow, Dish]:
    """The flow and the dish with what guards find; where one refuses, the likeliest way that none refuses is taken.

    One answer is changed at a time, and only where words may have been misread.

    Parameters
    ----------
    weighed : WeighedRecipe
    flow : Flow
        As read.
    dish : Dish
        What it makes.
    run : callable
        Cooks a flow with so many draws.
    draws : int
        Draws of `dish`.
    market : str
    """
    found = guards_of(weighed, dish)
    if _refused(found):
        doubts = ((at, one) for at, one in other_ways(flow, least=_LIKELY) if one.choice.question.doubt in _MISREAD)
        for at, reading in islice(doubts, _TRIED):
            other = read_as(weighed, flow, at, reading, market=market)
            if other is flow:
                continue
            tried = run(other, 0)
            guards = guards_of(weighed, tried)
            if not _refused(guards):
                problem = read_otherwise(reading)
                flow, found = other, guards
                dish = run(flow, draws) if draws else tried
                dish = replace(dish, problems=(*dish.problems, problem))
                break
    problems = () if dish.flow is None else tuple(guard_problems(weighed, dish.flow, found))
    return flow, replace(dish, guards=found, problems=(*dish.problems, *problems))


def _refused(guards: Sequence[Guard]) -> bool:
    return any(guard.severity is Severity.REFUSE for guard in guards)


def with_readings(
    weighed: WeighedRecipe, flow: Flow, dish: Dish, run: Run, *, draws: int, seed: int, market: str
) -> Dish:
    """The dish with the other ways to read its method that matter, each on its share of the draws.

    Parameters are those of `as_guards_ask`; `seed` is that of the dish. A flow that has readings already keeps them
    without another look. Every other way that no guard refuses is among `Dish.others`, whatever it moves, for what asks
    of the least that is done to a food.
    """
    known = any(part.readings for part in flow.parts)
    refused = _refused(dish.guards)
    told: list[_Way] = []
    others: list[Dish] = []
    for at, reading in _known(flow) if known else islice(other_ways(flow, least=_LIKELY), _TRIED):
        other = read_as(weighed, flow, at, reading, market=market)
        if other is flow:
            continue
        tried = run(other, 0)
        if not known and not refused and _refused(guards_of(weighed, tried)):
            continue
        others.append(tried)
        if len(told) < _TOLD and (known or _moves(dish.mix, tried.mix)):
            told.append(_Way(at, reading, other))
    if dish.flow is None or not others:
        return dish
    parts = tuple(
        replace(part, readings=tuple(way.reading for way in told if way.part == at))
        for at, part in enumerate(dish.flow.parts)
    )
    dish = replace(dish, flow=Flow(parts), others=tuple(others))
    if dish.spread is None or not told:
        return dish
    bands = [(chance, run(other, draws)) for chance, other in _bands(weighed, told, market)]
    spreads = [one.spread for _, one in bands if one.spread is not None]
    normals = Sampler(draws, seed=seed).normal(READ_KEY.cause)
    spread = _mixed(dish.spread, spreads, [chance for chance, _ in bands], normals[1:])
    inputs = {key: drawn for _, one in reversed(bands) for key, drawn in one.inputs.items()}
    return replace(dish, spread=spread, inputs={**inputs, **dish.inputs, READ_KEY: normals})


@dataclass(frozen=True, slots=True)
class _Way:
    """Another way to read the method: the place of its part, what is read otherwise, and the flow."""

    part: int
    reading: Reading
    flow: Flow


def _bands(weighed: WeighedRecipe, told: Sequence[_Way], market: str) -> list[tuple[float, Flow]]:
    """The other flows with their chances; what is left of 1 is that of the flow that was taken.

    Two ways of one question exclude each other; of two questions each may be answered either way.
    """
    if len(told) == 1 or told[0].reading.choice.question == told[1].reading.choice.question:
        return [(way.reading.probability, way.flow) for way in told]
    first, second = told
    one, two = first.reading.probability, second.reading.probability
    both = read_as(weighed, first.flow, second.part, second.reading, market=market)
    return [(one * (1.0 - two), first.flow), (two * (1.0 - one), second.flow), (one * two, both)]


def _known(flow: Flow) -> list[tuple[int, Reading]]:
    return [(at, reading) for at, part in enumerate(flow.parts) for reading in part.readings]


def _moves(best: Mixture, other: Mixture) -> bool:
    """Whether another way moves the weight of the dish, or one of five values of it or of 100 g of it."""
    mass, its = float(best.total_mass[0]), float(other.total_mass[0])
    if abs(its - mass) > _MOVED * mass:
        return True
    columns = [column(key) for key in _FIVE]
    per_100g = 100.0 * best.total_of(columns)[:, 0] / max(mass, 1e-9)
    its_per_100g = 100.0 * other.total_of(columns)[:, 0] / max(its, 1e-9)
    moved = np.abs(its_per_100g - per_100g)
    return bool(np.any((moved > _MOVED * per_100g) & (moved > list(_FIVE.values()))))


def _mixed(best: Mixture, others: Sequence[Mixture], chances: Sequence[float], normals: Array) -> Mixture:
    """Draws of several dishes in one: each has the share of the draws that it is likely, the first the rest.

    The items of the first stay in their places; what only the others hold comes behind them.
    """
    bounds = normal_quantile(np.clip(1.0 - np.cumsum(chances), 1e-9, 1.0 - 1e-9))
    which = (normals[None] > bounds[:, None]).sum(axis=0)  # 0 for the first, then from the least likely band inwards
    which = np.where(which > 0, len(others) + 1 - which, 0)
    held = [np.array(one) for one in np.where(which == 0, best.held.transpose(1, 2, 0), 0.0)]
    weight, composition, status = list(best.weight), list(best.composition), list(best.status)
    items = list(best.items)
    place: dict[tuple[Item, float], int] = {}
    for at, item in enumerate(items):
        place.setdefault((item, float(composition[at].sum())), at)
    for number, other in enumerate(others, 1):
        for at, item in enumerate(other.items):
            key = (item, float(other.composition[at].sum()))
            own = np.where(which == number, other.held[:, at].T, 0.0)
            if key in place:
                held[place[key]] += own
                continue
            place[key] = len(items)
            items.append(item)
            held.append(own)
            weight.append(other.weight[at])
            composition.append(other.composition[at])
            status.append(other.status[at])
    return Mixture(
        tuple(items), np.stack(held).transpose(2, 0, 1), np.stack(weight), np.stack(composition), np.stack(status)
    )
