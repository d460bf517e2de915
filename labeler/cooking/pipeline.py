"""A weighed recipe through the kitchen: parts in the order they need each other, each by its flow.

`cook` is the whole of it. Row 0 of every array is the best estimate and the rows after it are draws, so one pass gives
both.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

import numpy as np

from labeler.cooking.account import Carried
from labeler.cooking.declared_yield import settle_yield
from labeler.cooking.entering import prepared
from labeler.cooking.executor import PartRun, Stock
from labeler.cooking.messages import left_over, not_listed, not_read, nothing_left, too_small
from labeler.cooking.pinned_codes import pinned_codes
from labeler.cooking.readings import as_guards_ask, with_readings
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.ledger import Dish, Ledger, LedgerEntry, Stage
from labeler.cooking.state.mixture import Array, Item, Mixture, Origin, empty, join
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.cooking.streams import NamedStream, dependencies, named, part_named, receiving, stream_named
from labeler.cooking.sub_recipe_order import amount_taken, making_order, served_titles
from labeler.flow.build import build_flow
from labeler.flow.model import Flow, FromLine, PartFlow
from labeler.flow.named_parts import with_parts_named
from labeler.foods.composition.bounds import unknown_kind
from labeler.foods.model import WeighedLine, WeighedPart, WeighedRecipe
from labeler.foods.weights.volume_density import most_of_volume
from labeler.markets import market_of
from labeler.parsing.declared_servings import Servings, measured_yield, one_or_all, per_unit, read_servings
from labeler.parsing.ingredient.facts import Facts, facts_of
from labeler.types import Problem

__all__ = ["cook"]

_ALL = 0.98  # share of a part above which nothing worth naming is left of it


@dataclass
class _Made:
    """A part as made, and what the lines that take from it left of it."""

    ledger: Ledger
    left: Array
    taken: Array


@dataclass
class _Kitchen:
    """What the run of one recipe carries along."""

    weighed: WeighedRecipe
    draws: Sampler
    market: str
    servings: Servings | None
    flow: Flow
    made: dict[str, _Made] = field(default_factory=dict)
    streams: list[NamedStream] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    carried: list[Carried] = field(default_factory=list)


def cook(
    weighed: WeighedRecipe, *, draws: int = 0, seed: int = 0, flow: Flow | None = None, guarded: bool = True
) -> Dish:
    """What is served when a recipe is made as written, and an account of every part.

    Parameters
    ----------
    weighed : WeighedRecipe
        Lines with their food and grams; the method is read and bound here.
    draws : int
        Draws for the spread, 0 for the best estimate alone.
    seed : int
        Settles the draws: the same recipe and seed give the same figures, and what two recipes share is drawn alike.
    flow : Flow or None
        What is executed in place of the method as it is read.
    guarded : bool
        Whether guards look at the flow: where much of a food leaves or is left over.

    Returns
    -------
    Dish
        Masses in g, nutrients in the food table's units. What enters a part is in its ledger: kept, or in a named
        stream that leaves. What the method leaves open is a problem, with the default that was taken.

    Source: each of ``labeler/cooking/models`` cites its own; retention factors are those of USDA Release 6 (2007).

    Examples
    --------
    >>> recipe = labeler.read_recipe("# Pasta\\n- 100 g pasta\\n- 1 l water\\n> boil the pasta\\n> drain\\n")
    >>> dish = labeler.cook(labeler.weigh(recipe))
    >>> 150 < float(dish.mix.total_mass[0]) < 300  # g: dry pasta takes up its own weight of water and more
    True
    """
    market = market_of(weighed.recipe, weighed.market)
    weighed = with_parts_named(weighed, market=market)

    def run(flow: Flow, count: int) -> Dish:
        return _run(weighed, flow, draws=count, seed=seed, market=market)

    flow = flow or build_flow(weighed, market=market)
    dish = run(flow, draws)
    if guarded:
        flow, dish = as_guards_ask(weighed, flow, dish, run, draws=draws, market=market)
    return with_readings(weighed, flow, dish, run, draws=draws, seed=seed, market=market)


def _run(weighed: WeighedRecipe, flow: Flow, *, draws: int, seed: int, market: str) -> Dish:
    """The dish of one reading of the method."""
    kitchen = _Kitchen(weighed, Sampler(draws, seed=seed), market, read_servings(weighed.recipe.head), flow)
    order, problems = making_order(weighed, dependencies(weighed, flow))
    kitchen.problems += problems
    for at in order:
        _make(kitchen, at)
    return _serve(kitchen)


def _serve(kitchen: _Kitchen) -> Dish:
    """Put together what no other part takes."""
    ledgers = [kitchen.made[part.title].ledger for part in kitchen.weighed.parts]
    titles = served_titles(kitchen.weighed)
    served = [ledger for ledger in ledgers if ledger.part in titles]
    parts = [ledger.kept.scaled(ledger.times) for ledger in served]
    mix = join(parts) if parts else empty(kitchen.draws.rows)
    put_in = sum(float(entry.mix.total_mass[0]) * ledger.times for ledger in served for entry in ledger.added)
    kitchen.problems += nothing_left(put_in, float(mix.total_mass[0]))
    final = []
    for ledger in ledgers:
        taken = float(kitchen.made[ledger.part].taken[0])
        final.append(replace(ledger, used=1.0 if ledger in served else taken, stages=_with_reuse(kitchen, ledger)))
        if ledger not in served and taken > 1.02:
            kitchen.problems.append(too_small(ledger, taken))
        if ledger not in served and taken < _ALL:
            kitchen.problems.append(left_over(ledger, taken, line=_heading(kitchen, ledger.part)))
    for ledger in served:
        several = one_or_all(ledger.part, kitchen.weighed.recipe.head)
        if several is not None:
            kitchen.problems.append(
                Problem(
                    "one-or-all",
                    f"“{ledger.part}” may be one of the {several.number:g} {several.unit} or all of them, and counts "
                    f"as all. Write “## One {ledger.part.strip().lower()}” if its lines are for one, else "
                    f"“## {several.unit.capitalize()}”.",
                    _heading(kitchen, ledger.part),
                )
            )
    return Dish(
        servings=kitchen.servings,
        mix=mix.rows(0, 1),
        spread=mix.rows(1) if kitchen.draws.rows > 1 else None,
        ledgers=tuple(final),
        served=tuple(ledger.part for ledger in served),
        problems=tuple(kitchen.problems),
        yields={ledger.part: ledger.grams for ledger in final},
        inputs=kitchen.draws.named,
        flow=kitchen.flow,
        carried=tuple(kitchen.carried),
    )


def _heading(kitchen: _Kitchen, title: str) -> int | None:
    """Line number of a part's heading."""
    return next((part.number for part in kitchen.weighed.recipe.parts if part.title == title), None)


def _with_reuse(kitchen: _Kitchen, ledger: Ledger) -> tuple[Stage, ...]:
    """The stages of a part with how much of each stream other parts took."""
    reused = {id(entry): stream.reused for stream in kitchen.streams for entry in stream.entries}
    return tuple(
        replace(
            stage,
            streams=tuple(
                replace(entry, reused=reused[id(entry)]) if id(entry) in reused else entry for entry in stage.streams
            ),
        )
        for stage in ledger.stages
    )


def _make(kitchen: _Kitchen, at: int) -> None:
    """Make one part: lay out its lines and execute its flow."""
    part, flow = kitchen.weighed.parts[at], kitchen.flow.parts[at]
    times = per_unit(part.title, kitchen.servings, kitchen.weighed.recipe.head)
    ready: list[Stage] = []
    before: list[LedgerEntry] = []
    stock = Stock({})
    _lay_out(kitchen, stock, part, times, ready, before)
    for place, one in enumerate(flow.unlisted):
        weighed = one.grams is not None
        item = Item(
            part.title,
            one.span.line,
            one.name,
            one.food,
            weighed,
            Facts(),
            origin=Origin.UNLISTED,
            market=kitchen.market,
        )
        grams = (
            kitchen.draws.draw(one.grams, Cause.UNLISTED, part.title, one.name, place)
            if one.grams is not None
            else np.zeros(kitchen.draws.rows)
        )
        stock.unlisted.append(mix_of_foods([item], grams[:, None]))
        kitchen.problems.append(not_listed(part.title, one))
    listed = _unlisted_entries(flow, stock)
    caught = _caught(kitchen, part)
    flow = receiving(flow, caught, line=_heading(kitchen, part.title) or 1)
    stock.unlisted += [entry.mix for entry in caught]
    parts = kitchen.flow.parts
    kitchen.flow = Flow((*parts[:at], flow, *parts[at + 1 :]))
    run = PartRun(flow, stock, kitchen.draws, at)
    run.run()
    said, served = measured_yield(kitchen.weighed.recipe.head), served_titles(kitchen.weighed)
    extra: list[Stage] = []
    if said and part.title in served:
        extra = settle_yield(
            run, said, served, times=times, line=_heading(kitchen, part.title) or 1, market=kitchen.market
        )
    kitchen.problems += flow.problems
    kitchen.problems += map(not_read, flow.unread)
    kitchen.problems += run.problems
    ledger = Ledger(
        part.title,
        (*before, *run.added, *listed, *caught),
        (*ready, *run.stages(), *extra),
        run.kept,
        pieces=run.pieces,
        times=times,
        measured=run.measured,
    )
    kitchen.carried += run.carried
    kitchen.made[part.title] = _Made(ledger, np.ones(kitchen.draws.rows), np.zeros(kitchen.draws.rows))
    kitchen.streams += named(run.departed, part.title)


def _unlisted_entries(flow: PartFlow, stock: Stock) -> list[LedgerEntry]:
    return [
        LedgerEntry("added", mix, f"{one.name}, not among the lines")
        for one, mix in zip(flow.unlisted, stock.unlisted, strict=True)
        if mix.items
    ]


def _caught(kitchen: _Kitchen, part: WeighedPart) -> list[LedgerEntry]:
    """The streams that other parts send here, unless a line says how much of them it takes."""
    found = []
    titles = [one.title for one in kitchen.weighed.parts]
    for stream in kitchen.streams:
        taken = any(stream_named(line, [stream], part.title) is not None for line in part.lines)
        if not taken and part_named(stream.into, titles) == part.title and float(stream.left[0]) > 1e-9:
            found.append(stream.take(stream.left, 1.0))
    return found


def _lay_out(
    kitchen: _Kitchen, stock: Stock, part: WeighedPart, times: float, ready: list[Stage], before: list[LedgerEntry]
) -> None:
    """The mixture of each food of each line, with what its own words say was done to it."""
    foods: list[Mixture] = []
    for index, line in enumerate(part.lines):
        stock.names[FromLine(index)] = line.line.name or line.line.text
        if line.part is not None:
            source = kitchen.made.get(line.part)
            if source is not None and line.part != part.title:
                entry = _take(kitchen, line, source, times)
                stock.lines[FromLine(index)] = entry.mix
                before.append(entry)
            continue
        stream = stream_named(line, kitchen.streams, part.title)
        if stream is not None:
            entry = _take_stream(kitchen, line, stream, times)
            stock.lines[FromLine(index)] = entry.mix
            before.append(entry)
            continue
        for place, one in enumerate((line, *line.also)):
            stock.names[FromLine(index, place)] = one.line.name or one.line.text
            if one.names_no_food:
                stock.lines[FromLine(index, place)] = empty(kitchen.draws.rows)
                continue
            codes, unknown = pinned_codes(one.line)
            kitchen.problems += unknown
            mix = _food(kitchen, part, one, pinned=bool(codes), line=index + 1)
            foods.append(mix)
            stock.lines[FromLine(index, place)] = prepared(kitchen.draws, one, mix, codes, ready, before)
    if foods:
        before.insert(0, LedgerEntry("added", join(foods)))


def _food(kitchen: _Kitchen, part: WeighedPart, one: WeighedLine, *, pinned: bool, line: int) -> Mixture:
    food = one.match.food if one.match is not None else None
    item = Item(
        part.title,
        one.line.number,
        one.line.name or one.line.text,
        food,
        one.grams is not None,
        one.facts if one.facts is not None else facts_of(one.line),
        pinned=pinned,
        own=one.match.own if one.match is not None else None,
        most_g=most_of_volume(one.line, market=kitchen.market) if one.grams is None else math.inf,
        market=kitchen.market,
        kind="" if food else unknown_kind(one.line.name),
        place=line,
    )
    return mix_of_foods([item], _grams(kitchen.draws, one, food)[:, None])


def _grams(draws: Sampler, line: WeighedLine, food: str | None) -> Array:
    """Draws of one line's grams; lines of the same food on the same basis err together."""
    if line.grams is None:
        return np.zeros(draws.rows)
    if food is None or not line.grams.basis:
        return draws.draw(line.grams)
    return draws.draw(line.grams, Cause.GRAMS, food, line.grams.basis)


def _take(kitchen: _Kitchen, line: WeighedLine, source: _Made, times: float) -> LedgerEntry:
    """What a line takes from a part that is made already."""
    ledger = source.ledger
    use = amount_taken(line, ledger.kept, pieces=ledger.pieces, draws=kitchen.draws, market=kitchen.market)
    kitchen.problems += use.problems
    share = source.left / times if use.share is None else use.share
    source.taken = source.taken + share * times
    source.left = np.maximum(0.0, source.left - share * times)
    return LedgerEntry("added", ledger.kept.scaled(share), ledger.part, line=line.line.number)


def _take_stream(kitchen: _Kitchen, line: WeighedLine, stream: NamedStream, times: float) -> LedgerEntry:
    """What a line takes from a stream; never more than there is."""
    use = amount_taken(line, stream.mix, pieces=None, draws=kitchen.draws, market=kitchen.market)
    share = stream.left / times if use.share is None else np.minimum(use.share, stream.left / times)
    return replace(stream.take(share, times), line=line.line.number)
