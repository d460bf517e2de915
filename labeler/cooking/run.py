"""A weighed recipe through the kitchen: parts in the order they need each other, steps in the order they are written.

`cook` is the whole of it. Row 0 of every array is the best estimate and the rows after it are draws, so one pass
gives both.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

import numpy as np

from labeler.cooking.adapter import left
from labeler.cooking.declared_yield import settle_yield
from labeler.cooking.models.retention_factors import retain, retention_codes
from labeler.cooking.models.separation import rinse
from labeler.cooking.part import do
from labeler.cooking.servings import measured_yield, one_or_all, per_unit, read_servings
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.ledger import Dish, Entry, Ledger, Servings, Stage, interval_of
from labeler.cooking.state.mixture import Array, Item, Mixture, empty, join
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.cooking.streams import Named, catch, dependencies, part_named, stream_named
from labeler.cooking.sub_recipe_order import amount_taken, making_order
from labeler.cooking.taken import with_sentences
from labeler.cooking.tasks import Task, prepare
from labeler.cooking.unlisted import unlisted
from labeler.cooking.work import Work
from labeler.foods.composition.bounds import unknown_kind
from labeler.foods.model import WeighedLine, WeighedPart, WeighedRecipe
from labeler.knowledge import Problem
from labeler.parsing.handling import Reading, Step, read_handling
from labeler.parsing.ingredient.facts import facts_of
from labeler.parsing.model import Handling
from labeler.parsing.units import millilitres_per, plural

__all__ = ["cook"]

# Nothing that is eaten is heavier than solid salt [g/mL] (halite, CRC Handbook of Chemistry and Physics).
_DENSEST = 2.17

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
    readings: list[list[tuple[Handling, Reading]]]
    made: dict[str, _Made] = field(default_factory=dict)
    streams: list[Named] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


def cook(weighed: WeighedRecipe, *, draws: int = 0, seed: int = 0) -> Dish:
    """What is served when a recipe is made as written, and an account of every part.

    Parameters
    ----------
    weighed : WeighedRecipe
        Lines with their food and grams; handling is read here.
    draws : int
        Draws for the spread, 0 for the best estimate alone.
    seed : int
        Settles the draws: the same recipe and seed give the same figures, and what two recipes share is drawn alike.
    """
    recipe = weighed.recipe
    market = str(recipe.head.get("market", "us")).lower()
    handling = [part.handling for part in recipe.parts] + [()] * len(weighed.parts)
    readings = [
        [(sentence, read_handling(sentence.text, market=market)) for sentence in handling[at]]
        for at in range(len(weighed.parts))
    ]
    weighed = with_sentences(weighed, readings)
    kitchen = _Kitchen(weighed, Sampler(draws, seed=seed), market, read_servings(recipe.head), readings)
    order, problems = making_order(weighed, dependencies(weighed, readings))
    kitchen.problems += problems
    for at in order:
        _make(kitchen, at)
    return _serve(kitchen)


def _serve(kitchen: _Kitchen) -> Dish:
    """Put together what no other part takes."""
    ledgers = [kitchen.made[part.title].ledger for part in kitchen.weighed.parts]
    titles = _served(kitchen.weighed)
    served = [ledger for ledger in ledgers if ledger.part in titles]
    parts = [ledger.kept.scaled(ledger.times) for ledger in served]
    mix = join(parts) if parts else empty(kitchen.draws.rows)
    final = []
    for ledger in ledgers:
        taken = float(kitchen.made[ledger.part].taken[0])
        final.append(replace(ledger, used=1.0 if ledger in served else taken, stages=_with_reuse(kitchen, ledger)))
        if ledger not in served and taken > 1.02:
            kitchen.problems.append(
                Problem(
                    "part-too-small",
                    f"the recipe takes {taken * ledger.grams.best:.0f} g of “{ledger.part}” but makes "
                    f"{ledger.grams.best:.0f} g of it; the figures count what is taken. Make more of it or take less.",
                )
            )
        if ledger not in served and taken < _ALL:
            kitchen.problems.append(_left_over(kitchen, ledger, taken))
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
    )


def _left_over(kitchen: _Kitchen, ledger: Ledger, taken: float) -> Problem:
    """What is made and not taken is said: it is in no figure."""
    made, over = ledger.grams.best, (1.0 - taken) * ledger.grams.best
    pieces = ""
    if ledger.pieces is not None:
        unit = ledger.pieces.unit or "piece"
        pieces = f", {taken * ledger.pieces.number:.3g} of {ledger.pieces.number:g} {plural(unit)}"
    return Problem(
        "part-left-over",
        f"the recipe makes {made:.0f} g of “{ledger.part}” and takes {taken * made:.0f} g{pieces}; {over:.0f} g are "
        "left over and count in no figure. Take all of it, or make less, if that is not meant.",
        _heading(kitchen, ledger.part),
    )


def _heading(kitchen: _Kitchen, title: str) -> int | None:
    """Line number of a part's heading."""
    return next((part.number for part in kitchen.weighed.recipe.parts if part.title == title), None)


def _with_reuse(kitchen: _Kitchen, ledger: Ledger) -> tuple[Stage, ...]:
    """The stages of a part with how much of each stream other parts took."""
    reused = {id(stream.entry): stream.reused for stream in kitchen.streams}
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
    """Make one part: add its lines and do its handling in the order of the file."""
    part = kitchen.weighed.parts[at]
    times = per_unit(part.title, kitchen.servings, kitchen.weighed.recipe.head)
    work = Work(part.title, kitchen.draws)
    upto, tasks = _tasks(kitchen, at, part)
    _take_caught(kitchen, work, part.lines)
    done = 0
    for task, until in zip(tasks, upto, strict=True):
        _add(kitchen, work, part, part.lines[done:until], times)
        done = max(done, until)
        if task.step.action == "catch":
            catch(work, task, [part.title for part in kitchen.weighed.parts if part.title != work.title])
        else:
            do(work, task)
    _add(kitchen, work, part, part.lines[done:], times)
    put_in = join([entry.mix for entry in work.added]) if work.added else work.pot
    steps = [(step, sentence.number) for sentence, reading in kitchen.readings[at] for step in reading.steps]
    unlisted(work, steps, kitchen.weighed, put_in, [stream.name for stream in kitchen.streams])
    said, served = measured_yield(kitchen.weighed.recipe.head), _served(kitchen.weighed)
    if said and part.title in served:
        settle_yield(work, said, served, times=times, line=_heading(kitchen, part.title) or 1, market=kitchen.market)
    ledger = Ledger(
        part.title,
        tuple(work.added),
        tuple(work.stages),
        work.pot,
        pieces=work.pieces,
        times=times,
        measured=work.measured,
    )
    kitchen.problems += work.problems
    kitchen.made[part.title] = _Made(ledger, np.ones(kitchen.draws.rows), np.zeros(kitchen.draws.rows))
    for stage in work.stages:
        for entry in stage.streams:
            if entry.name and entry.stream != "destroyed by heat":
                into = next((named for key, named in _goals(kitchen, at) if key == entry.name), "")
                kitchen.streams.append(Named(entry.name, entry, part.title, into, np.ones(kitchen.draws.rows)))


def _served(weighed: WeighedRecipe) -> list[str]:
    """Titles of the parts that no other part takes; the last one where they go round in a ring."""
    named = {line.part for part in weighed.parts for line in part.lines}
    titles = [part.title for part in weighed.parts]
    return [title for title in titles if title not in named] or titles[-1:]


def _goals(kitchen: _Kitchen, at: int) -> list[tuple[str, str]]:
    """Where the named streams of a part go, as (stream name, part title)."""
    titles = [part.title for part in kitchen.weighed.parts]
    goals = []
    for _, reading in kitchen.readings[at]:
        for step in reading.steps:
            title = part_named(step.into, titles) if step.into else None
            if title is not None and step.action == "catch":
                goals.append(("drippings", title))
            elif title is not None and step.action == "keep":
                goals.append((step.name, title))
    return goals


def _tasks(kitchen: _Kitchen, at: int, part: WeighedPart) -> tuple[list[int], list[Task]]:
    """The steps of a part, and for each how many of its lines stand above it."""
    steps: list[tuple[Step, int]] = []
    above: list[int] = []
    for sentence, reading in kitchen.readings[at]:
        for step in reading.steps:
            steps.append((step, sentence.number))
            above.append(min(max(sentence.after, above[-1] if above else 0), len(part.lines)))
        for unread in reading.unread:
            kitchen.problems.append(
                Problem(
                    "handling-not-read",
                    f"“{unread.text}” in “{sentence.text}” is not understood and changes nothing. The nearest that is: "
                    f"{unread.nearest}.",
                    sentence.number,
                )
            )
    following = [*above[1:], len(part.lines)]
    tasks = prepare(steps, [later > here for here, later in zip(above, following, strict=False)])
    return [above[task.index] for task in tasks], tasks


def _add(kitchen: _Kitchen, work: Work, part: WeighedPart, lines: tuple[WeighedLine, ...], times: float) -> None:
    """Put in the ingredients of some lines: foods in one entry, each part or stream that is taken from in its own."""
    items: list[Item] = []
    texts: list[str] = []
    grams: list[Array] = []
    pinned: dict[int, tuple[str, ...]] = {}
    taken: list[Entry] = []
    for line in lines:
        if line.part is not None:
            source = kitchen.made.get(line.part)
            if source is not None and line.part != part.title:
                taken.append(_take(kitchen, line, source, times))
            continue
        stream = stream_named(line, kitchen.streams, part.title)
        if stream is not None:
            taken.append(_take_stream(kitchen, line, stream, times))
            continue
        for one in (line, *line.also):
            food = one.match.food if one.match is not None else None
            codes = _pinned_codes(kitchen, one)
            if codes:
                pinned[len(items)] = codes
            texts.append(f"{one.line.name} {one.line.preparation} {one.line.note}".strip() or one.line.text)
            items.append(
                Item(
                    part.title,
                    one.line.number,
                    one.line.name or one.line.text,
                    food,
                    one.grams is not None,
                    one.facts if one.facts is not None else facts_of(one.line),
                    pinned=bool(codes),
                    own=one.match.own if one.match is not None else None,
                    most_g=_at_most(one, kitchen.market),
                    market=kitchen.market,
                    kind="" if food else unknown_kind(one.line.name),
                )
            )
            grams.append(_grams(kitchen.draws, one, food))
    if items:
        _add_foods(work, mix_of_foods(items, np.stack(grams, axis=1)), pinned, texts, lines[0].line.number)
    for entry in taken:
        work.add(entry)


def _at_most(line: WeighedLine, market: str) -> float:
    """What a line that nobody could weigh may weigh at most [g], by its volume; infinite where it gives none."""
    amounts = [amount for amount in line.line.amounts if amount.role in ("main", "plus")]
    volumes = [millilitres_per(amount.unit, market=market) for amount in amounts]
    if line.grams is not None or not amounts or None in volumes:
        return math.inf
    return _DENSEST * sum(amount.high * (volume or 0.0) for amount, volume in zip(amounts, volumes, strict=True))


def _add_foods(work: Work, mix: Mixture, pinned: dict[int, tuple[str, ...]], texts: list[str], line: int) -> None:
    """Put foods in; retention that a line states, and rinsing that it says, is done at once."""
    work.added.append(Entry("added", mix))
    if pinned:
        mix, destroyed = retain(mix, pinned)
        told = "retention as stated in the lines"
        lost = Entry("destroyed by heat", destroyed.present())
        work.stages.append(Stage("{retention}", line, told, (lost,), interval_of(mix.total_mass)))
    washed = [at for at, item in enumerate(mix.items) if item.facts.rinsed]
    ready = [mix.select([at for at in range(len(mix.items)) if at not in washed])] if washed else [mix]
    for at in washed:
        outcome = left(rinse(mix.select([at]), minutes=None, draws=work.draws))
        streams = tuple(entry for entry in outcome.streams if entry.mix.present().items)
        ready.append(outcome.kept)
        if streams:
            grams = interval_of(outcome.kept.total_mass)
            work.stages.append(Stage(texts[at], line, outcome.method, streams, grams))
    work.put_back(join(ready))


def _pinned_codes(kitchen: _Kitchen, line: WeighedLine) -> tuple[str, ...]:
    """Retention codes that a line states; one that the release does not have is a problem."""
    pin = line.line.pin
    if pin is None or not pin.retention:
        return ()
    known = set(retention_codes())
    good = tuple(code for code in pin.retention if code.zfill(4) in known)
    for code in pin.retention:
        if code.zfill(4) not in known:
            kitchen.problems.append(
                Problem(
                    "no-such-retention",
                    f"{code} is no code of the USDA retention table, Release 6; codes have four digits, such as 0805.",
                    line.line.number,
                )
            )
    return good


def _grams(draws: Sampler, line: WeighedLine, food: str | None) -> Array:
    """Draws of one line's grams; lines of the same food on the same basis err together."""
    if line.grams is None:
        return np.zeros(draws.rows)
    if food is None or not line.grams.basis:
        return draws.draw(line.grams)
    return draws.draw(line.grams, Cause.GRAMS, food, line.grams.basis)


def _take(kitchen: _Kitchen, line: WeighedLine, source: _Made, times: float) -> Entry:
    """What a line takes from a part that is made already."""
    ledger = source.ledger
    use = amount_taken(line, ledger.kept, pieces=ledger.pieces, draws=kitchen.draws, market=kitchen.market)
    kitchen.problems += use.problems
    share = source.left / times if use.share is None else use.share
    source.taken = source.taken + share * times
    source.left = np.maximum(0.0, source.left - share * times)
    return Entry("added", ledger.kept.scaled(share), ledger.part, line=line.line.number)


def _take_stream(kitchen: _Kitchen, line: WeighedLine, stream: Named, times: float) -> Entry:
    """What a line takes from a stream; never more than there is."""
    use = amount_taken(line, stream.entry.mix, pieces=None, draws=kitchen.draws, market=kitchen.market)
    share = stream.left / times if use.share is None else np.minimum(use.share, stream.left / times)
    return replace(stream.take(share, times), line=line.line.number)


def _take_caught(kitchen: _Kitchen, work: Work, lines: tuple[WeighedLine, ...]) -> None:
    """Put in the streams that other parts send here, unless a line says how much of them it takes."""
    for stream in kitchen.streams:
        if any(stream_named(line, [stream], work.title) is not None for line in lines):
            continue
        if stream.into == work.title and float(stream.left[0]) > 1e-9:
            work.add(stream.take(stream.left, 1.0))
