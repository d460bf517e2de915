"""A weighed recipe through the kitchen: parts in the order they need each other, steps in the order they are written.

`cook` is the whole of it. Row 0 of every array is the best estimate and the rows after it are draws, so one pass
gives both.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

import numpy as np

from labeler.foods.model import WeighedLine, WeighedPart, WeighedRecipe
from labeler.kitchen.constituents import mix_of_foods
from labeler.kitchen.draws import Draws
from labeler.kitchen.ledger import Dish, Entry, Ledger, Servings, Stage, interval_of
from labeler.kitchen.mix import Array, Item, Mix, empty, join
from labeler.kitchen.plan import amount_taken, making_order
from labeler.kitchen.reduce import evaporate_to
from labeler.kitchen.servings import per_unit, read_servings
from labeler.knowledge import Interval, Problem
from labeler.recipe.model import Handling
from labeler.recipe.units import grams_per

__all__ = ["cook"]

TAP_WATER = "14411"


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
    draws: Draws
    market: str
    servings: Servings | None
    made: dict[str, _Made] = field(default_factory=dict)
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
        With the recipe's digest it settles the draws: the same recipe and seed give the same figures.
    """
    recipe = weighed.recipe
    digest = int(recipe.digest[:15] or "0", 16) if re.fullmatch(r"[0-9a-fA-F]*", recipe.digest[:15]) else 0
    market = str(recipe.head.get("market", "us")).lower()
    servings = read_servings(recipe.head)
    kitchen = _Kitchen(weighed, Draws(draws, seed=[seed, digest]), market, servings)
    order, problems = making_order(weighed, {})
    kitchen.problems += problems
    for at in order:
        part = weighed.parts[at]
        handling = recipe.parts[at].handling if at < len(recipe.parts) else ()
        _make(kitchen, part, handling)
    return _serve(kitchen)


def _serve(kitchen: _Kitchen) -> Dish:
    """Put together what no other part takes."""
    named = {line.part for part in kitchen.weighed.parts for line in part.lines}
    ledgers = [kitchen.made[part.title].ledger for part in kitchen.weighed.parts]
    served = [ledger for ledger in ledgers if ledger.part not in named] or ledgers[-1:]
    parts = [ledger.kept.scaled(ledger.times) for ledger in served]
    mix = join(parts) if parts else empty(kitchen.draws.rows)
    final = []
    for ledger in ledgers:
        taken = float(kitchen.made[ledger.part].taken[0])
        final.append(replace(ledger, used=1.0 if ledger in served else taken))
        if ledger not in served and taken > 1.02:
            kitchen.problems.append(
                Problem(
                    "part-too-small",
                    f"the recipe takes {taken * ledger.grams.best:.0f} g of “{ledger.part}” but makes "
                    f"{ledger.grams.best:.0f} g of it; the figures count what is taken. Make more of it or take less.",
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


def _make(kitchen: _Kitchen, part: WeighedPart, handling: tuple[Handling, ...]) -> None:
    """Make one part: add its lines and do its handling in the order of the file."""
    rows = kitchen.draws.rows
    times = per_unit(part.title, kitchen.servings, kitchen.weighed.recipe.head)
    pot = empty(rows)
    added: list[Entry] = []
    stages: list[Stage] = []
    measured: Interval | None = None
    done = 0
    for sentence in [*handling, None]:
        upto = len(part.lines) if sentence is None else min(max(sentence.after, done), len(part.lines))
        fresh = _add(kitchen, part, part.lines[done:upto], times)
        added += fresh
        pot = join([pot, *[entry.mix for entry in fresh]])
        done = upto
        if sentence is not None:
            pot, stage, weight = _handle(kitchen, pot, sentence, added)
            measured = weight or measured
            stages += stage
    ledger = Ledger(part.title, tuple(added), tuple(stages), pot, times=times, measured=measured)
    kitchen.made[part.title] = _Made(ledger, np.ones(rows), np.zeros(rows))


def _add(kitchen: _Kitchen, part: WeighedPart, lines: tuple[WeighedLine, ...], times: float) -> list[Entry]:
    """The ingredients that some lines put in: foods in one entry, each part that is taken from in its own."""
    entries: list[Entry] = []
    items: list[Item] = []
    grams: list[Array] = []
    for line in lines:
        if line.part is not None:
            source = kitchen.made.get(line.part)
            if source is not None and line.part != part.title:
                entries.append(_take(kitchen, line, source, times))
            continue
        for one in (line, *line.also):
            food = one.match.food if one.match is not None else None
            items.append(Item(part.title, one.line.number, one.line.name or one.line.text, food, one.grams is not None))
            grams.append(_grams(kitchen.draws, one, food))
    if items:
        entries.insert(0, Entry("added", mix_of_foods(items, np.stack(grams, axis=1))))
    return entries


def _grams(draws: Draws, line: WeighedLine, food: str | None) -> Array:
    """Draws of one line's grams; lines of the same food on the same basis err together."""
    if line.grams is None:
        return np.zeros(draws.rows)
    key = ("grams", food, line.grams.basis) if food is not None and line.grams.basis else None
    return draws.draw(line.grams, key)


def _take(kitchen: _Kitchen, line: WeighedLine, source: _Made, times: float) -> Entry:
    """What a line takes from a part that is made already."""
    ledger = source.ledger
    use = amount_taken(line, ledger.kept, pieces=ledger.pieces, draws=kitchen.draws, market=kitchen.market)
    kitchen.problems += use.problems
    share = source.left / times if use.share is None else use.share
    source.taken = source.taken + share * times
    source.left = np.maximum(0.0, source.left - share * times)
    return Entry("added", ledger.kept.scaled(share), ledger.part)


_WEIGHS = re.compile(
    r"\b(?:weighs?|weighing|weight is)\s+(?:about\s+)?(?P<number>\d+(?:[.,]\d+)?)\s*(?P<unit>[a-z]+)", re.I
)
_DISCARD = re.compile(r"\bdiscard\s+(?:the\s+)?(?P<what>[^.;]+)", re.I)


def _handle(
    kitchen: _Kitchen, pot: Mix, sentence: Handling, added: list[Entry]
) -> tuple[Mix, list[Stage], Interval | None]:
    """Do one sentence of handling."""
    weighs = _WEIGHS.search(sentence.text)
    if weighs is not None:
        factor = grams_per(_unit(weighs["unit"]))
        if factor is not None:
            grams = float(weighs["number"].replace(",", ".")) * factor
            return _settle(kitchen, pot, Interval(grams, grams, grams, "weighed by the cook"), sentence, added)
    return pot, [], None


def _unit(word: str) -> str:
    from labeler.recipe.units import canonical_unit

    return canonical_unit(word) or "piece"


def _settle(
    kitchen: _Kitchen, pot: Mix, weight: Interval, sentence: Handling, added: list[Entry]
) -> tuple[Mix, list[Stage], Interval | None]:
    """Let a measured weight settle what a part weighs, by water."""
    kept, water, short = evaporate_to(pot, kitchen.draws.draw(weight))
    if float(short[0]) < -0.5:
        kitchen.problems.append(
            Problem(
                "lighter-than-dry",
                f"“{sentence.text}”: of the {pot.total_mass[0]:.0f} g that went in, {kept.total_mass[0]:.0f} g "
                "are not water, so it cannot weigh that little. Check the weight, or say what was poured off.",
                sentence.number,
            )
        )
    gained = np.maximum(short, 0.0)
    if float(gained[0]) > 0.0:
        item = Item(kept.items[0].part if kept.items else "", sentence.number, "water taken up", TAP_WATER)
        entry = Entry("added", mix_of_foods([item], gained[:, None]), "water taken up")
        added.append(entry)
        kept = join([kept, entry.mix])
    stage = Stage(
        sentence.text,
        sentence.number,
        "measured weight; the difference is water",
        (Entry("evaporated water", water),),
        interval_of(kept.total_mass),
    )
    return kept, [stage], weight
