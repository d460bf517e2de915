"""Steps that settle a figure by what the cook measured: a weight, a loss, the brine or the coating that is left."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from labeler.cooking.models.evaporation import evaporate_to, lose_water
from labeler.cooking.naming import named_items
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.density import density, volume, water_density
from labeler.cooking.state.ledger import Entry, interval_of
from labeler.cooking.state.mixture import Array, Item, Mixture, Origin, join
from labeler.cooking.state.phases import Outcome, sort_pot, together
from labeler.cooking.tasks import Task
from labeler.cooking.work import Work
from labeler.foods.food_class import kind_of
from labeler.knowledge import Interval, Problem

__all__ = ["cannot", "do_left", "do_lose", "do_measure", "do_weigh", "from_poured", "regain"]

TAP_WATER = "14411"
# A volume within so much of what the ingredients take up without air says that they are as they were.
_FULL = 0.02


def do_weigh(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    """Let a measured weight settle what the pot weighs."""
    weight = task.step.grams
    if weight is None:
        return None
    work.measured = weight
    goal = work.draws.draw(weight)
    returned = from_poured(work, mix, goal)
    if returned is not None:
        return returned
    mix = regain(work, mix, goal - mix.total_mass)
    kept, water, short = evaporate_to(mix, goal)
    problems = cannot(task.step.text, task.line, mix, kept, short)
    gained = np.maximum(short, 0.0)
    added: tuple[Entry, ...] = ()
    if float(gained[0]) > 1e-6 and mix.items:
        item = Item(work.title, task.line, "water taken up", TAP_WATER, origin=Origin.WATER_TAKEN_UP)
        added = (Entry("added", mix_of_foods([item], gained[:, None]), "water taken up"),)
        kept = join([kept, added[0].mix])
    method = f"measured: {weight.best:.4g} g; the difference is water"
    return Outcome(kept, (Entry("evaporated water", water.present()),), method, problems, added)


def do_measure(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    """Let a measured volume [mL, cold] settle what the pot weighs: what is missing to it is water that has left.

    A volume above what the ingredients take up has air in it, or water that nobody wrote down; that and a volume below
    what they take up dry settle nothing and are problems.
    """
    measured = task.step.millilitres
    if measured is None or not mix.items:
        return None
    goal = work.draws.draw(measured)
    mix = regain(work, mix, (goal - volume(mix)) * float(water_density(20.0)) / 1000.0)
    room = volume(mix)
    if float(goal[0]) > (1.0 + _FULL) * float(room[0]):
        work.problems.append(
            Problem(
                "volume-not-filled",
                f"“{task.step.text}”: the ingredients fill {float(room[0]):.4g} mL, so "
                f"{float(goal[0]):.4g} mL hold air or water that no line has, and the volume is not used. "
                "Weigh the batch and write “> weighs 1.2 kg” under its part.",
                task.line,
            )
        )
        return None
    lost = np.maximum(room - goal, 0.0) * float(water_density(20.0)) / 1000.0
    kept, water, short = evaporate_to(mix, mix.total_mass - lost)
    if problems := cannot(task.step.text, task.line, mix, kept, short):
        work.problems += problems
        return None
    work.measured = interval_of(kept.total_mass, "by volume")
    method = f"measured: {measured.best:.4g} mL; the difference is water"
    return Outcome(kept, (Entry("evaporated water", water.present()),), method)


def regain(work: Work, mix: Mixture, missing: Array) -> Mixture:
    """A pot that was measured heavier than the guessed boiling leaves it: that much of the guess has not boiled away.

    Parameters
    ----------
    work : Work
        Its stages give back; what boiled away before liquid was poured off is not touched.
    mix : Mixture
    missing : array (draws,)
        What the measured pot weighs more [g]; less than nothing is nothing.
    """
    missing = np.maximum(missing, 0.0)
    for at in range(len(work.stages) - 1, -1, -1):
        stage = work.stages[at]
        if not missing.any() or any(entry.stream == "poured off" for entry in stage.streams):
            break
        for place, entry in enumerate(stage.streams):
            if entry.stream != "evaporated water" or not stage.guessed:
                continue
            pool = entry.mix.total_mass
            share = np.clip(np.divide(missing, pool, out=np.zeros_like(pool), where=pool > 0.0), 0.0, 1.0)
            back, stays = entry.mix.split(share[:, None, None])
            streams = (*stage.streams[:place], replace(entry, mix=stays), *stage.streams[place + 1 :])
            work.stages[at] = stage = replace(stage, streams=streams)
            mix, missing = together([mix, back]), missing - back.total_mass
    return mix


def from_poured(work: Work, mix: Mixture, goal: Array) -> Outcome | None:
    """After draining, a weight says how much liquid went in or clings: settle it with what was poured off."""
    if not work.stages or not any(item.phase in ("absorbed", "clinging") for item in mix.items):
        return None
    stage = work.stages[-1]
    poured = next((entry for entry in stage.streams if entry.stream == "poured off"), None)
    if poured is None:
        return None
    missing = goal - mix.total_mass
    pool = poured.mix.total_mass
    share = np.clip(np.divide(missing, pool, out=np.zeros_like(pool), where=pool > 0.0), 0.0, 1.0)
    back, stays = poured.mix.split(share[:, None, None])
    back = back.renamed([replace(item, phase="absorbed") for item in back.items])
    pot = sort_pot(mix)
    held = pot.mass_of(pot.absorbed)
    less = np.clip(np.divide(-missing, held, out=np.zeros_like(held), where=held > 0.0), 0.0, 1.0)
    fraction = np.where(pot.absorbed[None, :, None], less[:, None, None], 0.0)
    out, kept = mix.split(fraction)
    out = out.renamed([replace(item, phase="") for item in out.items]).present()
    entry = replace(poured, mix=together([stays, out]))
    others = tuple(entry if one is poured else one for one in stage.streams)
    work.stages[-1] = replace(stage, streams=others)
    kept, water = lose_water(together([kept, back]), kept.total_mass + back.total_mass - goal)
    streams = (Entry("evaporated water", water),) if water.items else ()
    return Outcome(kept, streams, "measured: what it weighs more than the food is liquid it took up")


def cannot(text: str, line: int, before: Mixture, kept: Mixture, short: Array) -> tuple[Problem, ...]:
    """A problem where even without water the pot weighs more than it should."""
    if float(short[0]) > -0.5:
        return ()
    return (
        Problem(
            "lighter-than-dry",
            f"“{text}”: of the {before.total_mass[0]:.0f} g that went in, {kept.total_mass[0]:.0f} g are not water, "
            "so it cannot weigh that little. Check the weight, or say what was poured off or discarded.",
            line,
        ),
    )


def do_lose(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    """Let a stated loss settle what the pot weighs."""
    share, grams = task.step.share, task.step.grams
    if share is None and grams is None:
        return None
    total = mix.total_mass
    goal = total * work.draws.draw(share) if share is not None else total - work.draws.draw(grams or Interval(0, 0, 0))
    kept, water, short = evaporate_to(mix, goal)
    problems = cannot(task.step.text, task.line, mix, kept, short)
    return Outcome(kept, (Entry("evaporated water", water.present()),), "loss as stated, all of it water", problems)


def do_left(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    """What is left of a brine or a coating, as measured."""
    step = task.step
    if step.stream == "coating":
        return _coating_left(work, mix, task)
    pot = sort_pot(mix)
    in_pot = pot.has_liquor
    entry = None if in_pot else _last_poured(work)
    liquid = mix.select(pot.at(pot.liquor)) if in_pot else entry.mix if entry is not None else None
    if liquid is None or not (step.grams or step.millilitres):
        return None
    if step.grams is not None:
        goal = work.draws.draw(step.grams)
    else:
        goal = work.draws.draw(step.millilitres or Interval(0, 0, 0)) * np.nan_to_num(density(liquid))
    if not in_pot:
        return from_poured(work, mix, mix.total_mass + liquid.total_mass - goal)
    total = liquid.total_mass
    share = np.clip(1.0 - np.divide(goal, total, out=np.ones_like(total), where=total > 0.0), 0.0, 1.0)
    fraction = np.where(pot.liquor[None, :, None], share[:, None, None], 0.0)
    taken, rest = mix.split(fraction)
    taken = taken.renamed([replace(item, phase="absorbed") for item in taken.items]).present()
    return Outcome(together([rest, taken]), method="measured: the liquid that is not left has gone into the food")


def _last_poured(work: Work) -> Entry | None:
    for stage in reversed(work.stages):
        for entry in stage.streams:
            if entry.stream == "poured off":
                return entry
    return None


def _coating_left(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    places = named_items(mix, task.step.objects) or [
        at for at, item in enumerate(mix.items) if kind_of(item.food) == "flour" and not item.phase
    ]
    if not places or task.step.grams is None:
        return None
    mass = mix.select(places).total_mass
    share = np.clip(work.draws.draw(task.step.grams) / np.maximum(mass, 1e-9), 0.0, 1.0)
    fraction = np.zeros((work.draws.rows, len(mix.items), 1))
    fraction[:, places] = share[:, None, None]
    lost, kept = mix.split(fraction)
    return Outcome(kept, (Entry("left on the plate", lost.present()),), "measured: the coating that is left")
