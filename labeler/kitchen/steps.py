"""The steps of handling, each as a function from a pot to what stays and what leaves.

A step is given what it is about and returns an `Outcome`, or None where nothing changes.
"""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np

from labeler.foods.table import load_table
from labeler.foods.words import read_name, words
from labeler.kitchen.constituents import mix_of_foods
from labeler.kitchen.cook import heat, one_of_each
from labeler.kitchen.density import density
from labeler.kitchen.drain import discard_items, drain, drain_can, pat, pour_fat, rinse, squeeze, strain
from labeler.kitchen.heat import Place
from labeler.kitchen.kinds import kind_of
from labeler.kitchen.ledger import Count, Entry
from labeler.kitchen.measured import cannot, do_lose, do_weigh
from labeler.kitchen.mix import Array, Item, Mix, join
from labeler.kitchen.pot import SALT, Outcome, named_items, sort_pot
from labeler.kitchen.reduce import alcohol_kept, evaporate_to, has_alcohol, lose_alcohol, reduce_to
from labeler.kitchen.shape import shape_of
from labeler.kitchen.soak import cure, soak
from labeler.kitchen.tasks import SOAKS, Task
from labeler.kitchen.work import Work
from labeler.knowledge import Interval, Problem
from labeler.recipe.handling import Step

__all__ = [
    "do_discard",
    "do_drain",
    "do_dry",
    "do_heat",
    "do_keep",
    "do_lift",
    "do_make",
    "do_pat",
    "do_reduce",
    "do_rinse",
    "do_skim",
    "do_soak",
    "do_squeeze",
    "do_strain",
    "do_thin",
]

TAP_WATER = "14411"
_FRIDGE = 5.0
_STEEPING = 60.0  # °C of what was just cooked and left to stand: common practice, no source
_SKIN_OR_BONE = re.compile(r"\b(?:skin[- ]on|bone[- ]in|on the bone|whole|vacuum|inject\w*|pump\w*)\b", re.IGNORECASE)
_GONE = frozenset(words("bones shells skin peel rind stones pips seeds stalks stems cores carcass trimmings"))


def do_heat(work: Work, mix: Mix, task: Task) -> Outcome:
    """Cook: whatever `HEATS` names."""
    place = Place(work.title, task.line, task.last, task.drained, task.oil_left)
    if task.step.grams is not None:
        work.measured = task.step.grams
    return heat(mix, task.step, place, work.draws)


def do_soak(work: Work, mix: Mix, task: Task) -> Outcome | None:
    """Soak, brine, marinate, pickle, cure or let stand."""
    step = task.step
    usual, warm = SOAKS[step.action]
    pot = sort_pot(mix)
    if step.action == "stand" and (
        step.minutes is None or not pot.has_liquor or not pot.food.any() or "flour" in pot.kinds
    ):
        return None
    problems: tuple[Problem, ...] = ()
    if step.minutes is None:
        problems = (
            Problem(
                "time-assumed",
                f"“{step.text}” does not say how long; {usual.best / 60.0:.3g} hours ({usual.low / 60.0:.3g}–"
                f"{usual.high / 60.0:.3g}) are assumed. Write “{step.action} 4 hours”.",
                task.line,
            ),
        )
    celsius = step.celsius.best if step.celsius is not None else _FRIDGE if "fridge" in step.marks else warm
    if step.action == "stand" and work.hot and step.celsius is None:
        celsius = _STEEPING
    mix, entries = _brine_added(work, mix, task)
    time = step.minutes or usual
    streams: list[Entry] = []
    if time.best >= 360.0 and has_alcohol(mix) and "covered" not in step.marks and step.action != "pickle":
        mix, gone = lose_alcohol(mix, alcohol_kept("stored", time.best), work.draws)
        streams.append(Entry("evaporated alcohol", gone))
    does = cure if step.action == "cure" else soak
    outcome = does(mix, minutes=time, celsius=celsius, draws=work.draws)
    problems += _hard_to_know(mix, task)
    return replace(outcome, streams=tuple(streams), problems=problems, added=entries)


def _hard_to_know(mix: Mix, task: Task) -> tuple[Problem, ...]:
    """A warning where diffusion is known not to describe what salt does: thick, whole, skin-on or bone-in meat."""
    pot = sort_pot(mix)
    salt = float(mix.held[0, :, SALT] @ mix.weight[:, SALT])
    if salt < 0.004 * float(mix.total_mass[0]):
        return ()
    hard = [
        mix.items[at].name
        for at in pot.at(pot.flesh)
        if shape_of(mix.items[at]).half.best > 12.5 or _SKIN_OR_BONE.search(f"{mix.items[at].text} {task.step.text}")
    ]
    if not hard:
        return ()
    message = (
        f"“{task.step.text}”: how much salt {', '.join(sorted(set(hard)))} takes up is not well known for thick, "
        "whole, skin-on or bone-in pieces. Weigh the food before and after, or measure the brine that is left; for a "
        "claim about sodium only a laboratory will do."
    )
    return (Problem("uptake-uncertain", message, task.line),)


def _brine_added(work: Work, mix: Mix, task: Task) -> tuple[Mix, tuple[Entry, ...]]:
    """Water that "soak in cold water" brings and no line lists."""
    pot, step = sort_pot(mix), task.step
    if pot.has_liquor or step.action not in ("soak", "brine") or not pot.food.any():
        return mix, ()
    usual = pot.food_mass * work.draws.draw(Interval(3.0, 1.5, 6.0), "pot water")
    grams = work.draws.draw(step.water) if step.water is not None else usual
    item = Item(work.title, task.line, "water in the pot", TAP_WATER)
    entry = Entry("added", mix_of_foods([item], grams[:, None]), "soaking water, not listed")
    return join([mix, entry.mix]), (entry,)


def do_drain(work: Work, mix: Mix, task: Task) -> Outcome:
    """Pour the liquid off, or the fat where that is what is said; a whole can is drained of its liquid."""
    step = task.step
    if step.stream in ("fat", "oil", "drippings"):
        left = None
        if "all but" in step.marks:
            left = step.grams or (step.millilitres.scaled(0.92) if step.millilitres else None)  # fat: 0.92 g/mL
        return pour_fat(mix, draws=work.draws, left=left)
    name = step.name or _waiting_name(work)
    outcome = drain(mix, draws=work.draws, name=name)
    cans = [at for at, item in enumerate(outcome.kept.items) if _is_whole_can(item)]
    streams = list(outcome.streams)
    for at in cans:
        more = drain_can(outcome.kept, at, draws=work.draws, name=name)
        outcome = replace(more, method=more.method)
        streams += more.streams
    return _keep_waiting(work, replace(outcome, streams=tuple(streams)))


def do_rinse(work: Work, mix: Mix, task: Task) -> Outcome:
    """Rinse under water."""
    return rinse(mix, minutes=task.step.minutes, draws=work.draws)


def do_squeeze(work: Work, mix: Mix, task: Task) -> Outcome:
    """Squeeze or press the liquid out."""
    return squeeze(mix, draws=work.draws)


def do_pat(work: Work, mix: Mix, task: Task) -> Outcome:
    """Pat or wipe dry."""
    return pat(mix, draws=work.draws)


def do_strain(work: Work, mix: Mix, task: Task) -> Outcome:
    """Strain: the liquid stays, the solids go."""
    pot = sort_pot(mix)
    outcome = strain(mix, draws=work.draws)
    if not outcome.streams or not pot.flesh.any():
        return outcome
    message = (
        f"“{task.step.text}”: what meat and bones give to a stock is not well known; protein and minerals of the "
        "liquid are lower bounds. A stock of the table in its place, such as {food 06172}, or a laboratory is surer."
    )
    return replace(outcome, problems=(Problem("stock-uncertain", message, task.line),))


def do_skim(work: Work, mix: Mix, task: Task) -> Outcome:
    """Skim the fat off."""
    return pour_fat(mix, draws=work.draws)


def do_reduce(work: Work, mix: Mix, task: Task) -> Outcome:
    """Boil down to a weight, a volume or a share; without a goal, boil by time."""
    step = task.step
    if step.grams is None and step.millilitres is None and step.share is None:
        return do_heat(work, mix, replace(task, step=replace(step, action="boil")))
    place = Place(work.title, task.line, task.last, task.drained)
    warmed = heat(mix, replace(step, action="heat", grams=None), place, work.draws)
    outcome, short = reduce_to(
        warmed.kept, draws=work.draws, grams=step.grams, millilitres=step.millilitres, share=step.share
    )
    if step.grams is not None:
        work.measured = step.grams
    return replace(
        outcome,
        streams=one_of_each((*warmed.streams, *outcome.streams)),
        problems=cannot(step.text, task.line, warmed.kept, outcome.kept, short),
    )


def do_dry(work: Work, mix: Mix, task: Task) -> Outcome | None:
    """Dry to a weight or share, else to what dried food usually holds."""
    step = task.step
    if step.grams is not None or step.share is not None:
        return do_weigh(work, mix, task) if step.grams is not None else do_lose(work, mix, task)
    if not step.objects and step.minutes is None and step.celsius is None:
        return None  # "dry" after washing
    pot = sort_pot(mix)
    solid = mix.total_mass - pot.water(np.ones(len(mix.items), dtype=bool))
    moist = work.draws.draw(Interval(0.18, 0.08, 0.3), "dried")
    kept, water, _ = evaporate_to(mix, solid / (1.0 - moist))
    return Outcome(kept, (Entry("evaporated water", water.present()),), "dried to 18 % (8–30) water, common practice")


def do_thin(work: Work, mix: Mix, task: Task) -> Outcome | None:
    """Add water up to a weight or a volume, or so much of it."""
    step = task.step
    goal = step.millilitres or step.water
    if goal is None and step.grams is None:
        return None
    if step.grams is not None:
        grams = np.maximum(work.draws.draw(step.grams) - mix.total_mass, 0.0)
    elif step.millilitres is not None:
        from labeler.kitchen.density import volume

        grams = np.maximum(work.draws.draw(step.millilitres) - volume(mix), 0.0)
    else:
        grams = work.draws.draw(step.water or Interval(0.0, 0.0, 0.0))
    item = Item(work.title, task.line, "water added", TAP_WATER)
    entry = Entry("added", mix_of_foods([item], grams[:, None]), "water, not listed")
    return Outcome(join([mix, entry.mix]), method="water is added", added=(entry,))


def do_make(work: Work, mix: Mix, task: Task) -> None:
    """Note how many pieces the part makes."""
    if task.step.pieces is not None and task.step.pieces.best > 0.0:
        work.pieces = Count(task.step.pieces.best, task.step.piece)


def do_discard(work: Work, mix: Mix, task: Task) -> Outcome | None:
    """Throw something away: ingredients, the solids, the liquid or the fat."""
    step = task.step
    if step.stream == "solids":
        pot = sort_pot(mix)
        return strain(mix, draws=work.draws) if pot.food.any() else None
    places = _to_discard(work, mix, step)
    if not places and step.stream == "liquid":
        return drain(mix, draws=work.draws)
    if not places and step.stream in ("fat", "drippings"):
        return pour_fat(mix, draws=work.draws)
    if not places:
        _not_there(work, task)
        return None
    return discard_items(mix, places)


def do_lift(work: Work, mix: Mix, task: Task) -> Outcome | None:
    """ "Take out the bay leaf" discards it; "lift out the chicken" only sets it aside."""
    places = _to_discard(work, mix, task.step)
    if not places and task.step.stream == "fat":
        return pour_fat(mix, draws=work.draws)
    if not places:
        _not_there(work, task)
        return None
    taken = float(mix.select(places).total_mass[0])
    spices = all(kind_of(mix.items[at].food) == "seasoning" for at in places)
    if not spices and taken > 0.12 * float(mix.total_mass[0]):
        return None
    return discard_items(mix, places)


def _to_discard(work: Work, mix: Mix, step: Step) -> list[int]:
    """Places of what a step throws away: "the shells" are not the mussels in the shell."""
    found = []
    for name in step.objects:
        wanted = read_name(name)
        for at in named_items(mix, (name,)):
            own = read_name(mix.items[at].name)
            if not _GONE.issuperset(wanted.words) or own.head in wanted.words:
                found.append(at)
    return sorted(set(found))


def _not_there(work: Work, task: Task) -> None:
    if any(word in _GONE for name in task.step.objects for word in words(name)):
        return  # weights are edible weights: bones, shells and peel were never counted
    names = ", ".join(task.step.objects) or task.step.text
    work.problems.append(
        Problem(
            "nothing-to-discard",
            f"“{task.step.text}”: “{names}” is no ingredient of “{work.title}” so far. Name it as its line does.",
            task.line,
        )
    )


def do_keep(work: Work, mix: Mix, task: Task) -> Outcome | None:
    """Name a stream for use elsewhere: the liquid still in the pot, or what has just been poured off."""
    for at in range(len(work.stages) - 1, -1, -1):
        stage = work.stages[at]
        wanted = ("dripped",) if task.step.stream == "drippings" else ("poured off", "discarded")
        for place, entry in enumerate(stage.streams):
            if entry.stream in wanted and not sort_pot(mix).has_liquor:
                named = replace(entry, name=task.step.name or entry.name)
                streams = (*stage.streams[:place], named, *stage.streams[place + 1 :])
                work.stages[at] = replace(stage, streams=streams)
                return None
    work.waiting.append(task.step)
    return None


def _waiting_name(work: Work) -> str:
    return work.waiting[-1].name if work.waiting else ""


def _keep_waiting(work: Work, outcome: Outcome) -> Outcome:
    """Divide what is poured off into what the cook keeps (a cup of it) and the rest."""
    if not work.waiting:
        return outcome
    step = work.waiting.pop()
    streams: list[Entry] = []
    for entry in outcome.streams:
        total = entry.mix.total_mass
        share: Array | None = None
        if step.grams is not None:
            share = work.draws.draw(step.grams) / np.maximum(total, 1e-9)
        elif step.millilitres is not None:
            share = work.draws.draw(step.millilitres) * np.nan_to_num(density(entry.mix)) / np.maximum(total, 1e-9)
        elif step.share is not None:
            share = work.draws.draw(step.share)
        if share is None:
            streams.append(replace(entry, name=step.name or entry.name))
            continue
        held, lost = entry.mix.split(np.minimum(share, 1.0)[:, None, None])
        streams += [Entry(entry.stream, held, step.name), Entry(entry.stream, lost)]
    return replace(outcome, streams=tuple(streams))


def _is_whole_can(item: Item) -> bool:
    """Whether an item is a can whose table entry is solids and liquid together, not drained yet."""
    if item.food is None or item.phase:
        return False
    description = load_table().describe(item.food).lower()
    return "solids and liquid" in description and "drained" not in item.text.lower()
