"""The steps of handling, each as a function from a pot to what stays and what leaves.

A step is given what it is about and returns an `Outcome`, or None where nothing changes.
"""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np

from labeler.cooking.adapter import addressed, conditions_of, left_by_heat
from labeler.cooking.measured import cannot, do_lose, do_measure, do_weigh, regain
from labeler.cooking.models.dry_salting import cure, is_salted
from labeler.cooking.models.evaporation import HOT, alcohol_kept, evaporate_to, has_alcohol, lose_alcohol, reduce_to
from labeler.cooking.models.heating import heat, one_of_each
from labeler.cooking.models.immersion import CHANGES, PLANTS, soak
from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.density import volume, water_density
from labeler.cooking.state.geometry import shape_of
from labeler.cooking.state.ledger import Count, Entry
from labeler.cooking.state.mixture import Item, Mixture, Origin, join
from labeler.cooking.state.phases import SALT, Outcome, Phases, sort_pot
from labeler.cooking.state.sampling import Cause
from labeler.cooking.tasks import SOAKS, Task
from labeler.cooking.work import Work
from labeler.foods.food_class import DISSOLVES
from labeler.knowledge import Interval, Problem
from labeler.parsing.handling import Step
from labeler.parsing.ingredient.cut import CutStyle
from labeler.parsing.ingredient.facts import Facts, Trait

__all__ = ["do_dry", "do_heat", "do_lie", "do_make", "do_reduce", "do_thin"]

TAP_WATER = "14411"
_FRIDGE = 5.0
_STEEPING = 60.0  # °C of what was just cooked and left to stand: common practice, no source
_CURES = re.compile(r"\bcur(?:e|es|ed|ing)\b|\bdry[- ]|\bsalted for\b", re.IGNORECASE)
_SKIN_OR_BONE = re.compile(r"\b(?:skin[- ]on|bone[- ]in|on the bone|whole|vacuum|inject\w*|pump\w*)\b", re.IGNORECASE)


def do_heat(work: Work, mix: Mixture, task: Task) -> Outcome:
    """Cook: whatever `HEATS` names."""
    if task.step.grams is not None:
        work.measured = task.step.grams
    outcome = left_by_heat(heat(mix, conditions_of(mix, task.step, work.title, task), work.draws))
    return replace(outcome, problems=addressed(outcome.problems, task))


def do_lie(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    """Let food lie in what is around it: soak, brine, marinate, pickle, cure or stand.

    What happens follows from the pot and not from the word: in liquor it soaks, under salt or sugar it cures.
    """
    step = task.step
    usual, warm = SOAKS[step.action]
    pot = sort_pot(mix)
    salted = is_salted(mix)
    if step.action == "stand" and not _matters(pot, task, salted=salted):
        return None
    if step.action == "cure" and step.minutes is None and not task.freed and not _CURES.search(step.text):
        return None  # "sprinkle with the salt": seasoning, not a cure
    problems: tuple[Problem, ...] = ()
    if step.minutes is None:
        usual = SOAKS["cure"][0] if salted and step.action == "stand" else usual
        problems = (
            Problem(
                "time-assumed",
                f"“{step.text}” does not say how long; {usual.best / 60.0:.3g} hours ({usual.low / 60.0:.3g}–"
                f"{usual.high / 60.0:.3g}) are assumed. Write “{step.action} 4 hours”.",
                task.line,
            ),
        )
    celsius = step.celsius.best if step.celsius is not None else _FRIDGE if "fridge" in step.marks else warm
    if salted and step.celsius is None:
        plants = all(pot.kinds[at] in PLANTS for at in pot.at(pot.food) if pot.kinds[at] not in DISSOLVES)
        celsius = SOAKS["stand"][1] if plants else _FRIDGE  # meat, fish and eggs are cured cold, whatever is said
    short = step.minutes is not None and step.minutes.best <= 120.0
    if step.action == "stand" and work.hot and short and step.celsius is None:
        celsius = _STEEPING
    mix, entries = _brine_added(work, mix, task)
    time = step.minutes or usual
    streams: list[Entry] = []
    if time.best >= 360.0 and has_alcohol(mix) and "covered" not in step.marks and step.action != "pickle":
        mix, gone = lose_alcohol(mix, alcohol_kept("stored", time.best), work.draws)
        streams.append(Entry("evaporated alcohol", gone))
    does = cure if salted or step.action == "cure" else soak
    if "changed" in step.marks and does is soak:
        fresh = sort_pot(mix)
        bath = fresh.water(fresh.liquor) * work.draws.draw(CHANGES, Cause.FRESH_BATHS)
        outcome = soak(mix, minutes=time, celsius=celsius, draws=work.draws, bath=bath)
    else:
        outcome = does(mix, minutes=time, celsius=celsius, draws=work.draws)
    problems += _hard_to_know(mix, task)
    work.lain = True
    return replace(outcome, streams=tuple(streams), problems=problems, added=entries)


def _matters(pot: Phases, task: Task, *, salted: bool) -> bool:
    """Whether standing does anything: food in liquor, or raw food under salt."""
    if not pot.food.any() or "flour" in pot.kinds:
        return False
    raw = any(not pot.mix.items[at].cooked for at in pot.at(pot.food) if pot.kinds[at] != "salt")
    lies = task.step.minutes is not None or (raw and task.freed)
    return lies and (pot.has_liquor or (salted and raw))


def _hard_to_know(mix: Mixture, task: Task) -> tuple[Problem, ...]:
    """A warning where diffusion is known not to describe what salt does: thick, whole, skin-on or bone-in meat."""
    pot = sort_pot(mix)
    salt = float(mix.held[0, :, SALT] @ mix.weight[:, SALT])
    if salt < 0.004 * float(mix.total_mass[0]):
        return ()
    hard = [
        mix.items[at].name
        for at in pot.at(pot.flesh)
        if shape_of(mix.items[at]).half.best > 12.5 or _is_whole_piece(mix.items[at].facts, task.step)
    ]
    if not hard:
        return ()
    message = (
        f"“{task.step.text}”: how much salt {', '.join(sorted(set(hard)))} takes up is not well known for thick, "
        "whole, skin-on or bone-in pieces. Weigh the food before and after, or measure the brine that is left; for a "
        "claim about sodium only a laboratory will do."
    )
    return (Problem("uptake-uncertain", message, task.line),)


def _is_whole_piece(facts: Facts, step: Step) -> bool:
    whole = CutStyle.WHOLE in facts.cut.styles or facts.skin_on or Trait.BONE_IN in facts.traits or facts.injected
    return whole or _SKIN_OR_BONE.search(step.text) is not None


def _brine_added(work: Work, mix: Mixture, task: Task) -> tuple[Mixture, tuple[Entry, ...]]:
    """Water that "soak in cold water" brings and no line lists."""
    pot, step = sort_pot(mix), task.step
    if pot.has_liquor or step.action not in ("soak", "brine") or not pot.food.any():
        return mix, ()
    usual = pot.food_mass * work.draws.draw(Interval(3.0, 1.5, 6.0), Cause.POT_WATER)
    grams = work.draws.draw(step.water) if step.water is not None else usual
    item = Item(work.title, task.line, "water in the pot", TAP_WATER, origin=Origin.POT_WATER)
    entry = Entry("added", mix_of_foods([item], grams[:, None]), "soaking water, not listed")
    return join([mix, entry.mix]), (entry,)


def do_reduce(work: Work, mix: Mixture, task: Task) -> Outcome:
    """Boil down to a weight, a volume or a share; without a goal, boil by time."""
    step = task.step
    if step.grams is None and step.millilitres is None and step.share is None:
        return do_heat(work, mix, replace(task, step=replace(step, action="boil")))
    plain = replace(task, oil_left=None, watered=False, lifted=False)
    conditions = conditions_of(mix, replace(step, action="heat", grams=None), work.title, plain)
    warmed = left_by_heat(heat(mix, conditions, work.draws))
    pot = _at_least(work, warmed.kept, step)
    outcome, short = reduce_to(pot, draws=work.draws, grams=step.grams, millilitres=step.millilitres, share=step.share)
    if step.grams is not None:
        work.measured = step.grams
    return replace(
        outcome,
        streams=one_of_each((*warmed.streams, *outcome.streams)),
        problems=cannot(step.text, task.line, pot, outcome.kept, short),
    )


def _at_least(work: Work, mix: Mixture, step: Step) -> Mixture:
    """The pot with at least what it is boiled down to: an earlier boiling by time alone was a guess."""
    if step.grams is not None:
        return regain(work, mix, work.draws.draw(step.grams) - mix.total_mass)
    if step.millilitres is not None:
        missing = work.draws.draw(step.millilitres) - volume(mix, temperature=HOT)
        return regain(work, mix, missing * float(water_density(HOT)) / 1000.0)
    return mix


def do_dry(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    """Dry to a weight or share, else to what dried food usually holds."""
    step = task.step
    if step.grams is not None or step.share is not None:
        return do_weigh(work, mix, task) if step.grams is not None else do_lose(work, mix, task)
    if not step.objects and step.minutes is None and step.celsius is None:
        return None  # "dry" after washing
    pot = sort_pot(mix)
    solid = mix.total_mass - pot.water(np.ones(len(mix.items), dtype=bool))
    moist = work.draws.draw(Interval(0.18, 0.08, 0.3), Cause.DRIED)
    kept, water, _ = evaporate_to(mix, solid / (1.0 - moist))
    return Outcome(kept, (Entry("evaporated water", water.present()),), "dried to 18 % (8–30) water, common practice")


def do_thin(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    """Add water up to a weight or a volume, or so much of it."""
    step = task.step
    goal = step.millilitres or step.water
    if goal is None and step.grams is None:
        return None
    if step.grams is not None:
        grams = np.maximum(work.draws.draw(step.grams) - mix.total_mass, 0.0)
    elif step.millilitres is not None:
        grams = np.maximum(work.draws.draw(step.millilitres) - volume(mix), 0.0)
    else:
        grams = work.draws.draw(step.water or Interval(0.0, 0.0, 0.0))
    item = Item(work.title, task.line, "water added", TAP_WATER, origin=Origin.WATER_ADDED)
    entry = Entry("added", mix_of_foods([item], grams[:, None]), "water, not listed")
    return Outcome(join([mix, entry.mix]), method="water is added", added=(entry,))


def do_make(work: Work, mix: Mixture, task: Task) -> Outcome | None:
    """Note how many pieces the part makes; a weight or a volume that it makes is one that was measured."""
    if task.step.pieces is not None and task.step.pieces.best > 0.0:
        work.pieces = Count(task.step.pieces.best, task.step.piece)
        return None
    return do_weigh(work, mix, task) if task.step.grams is not None else do_measure(work, mix, task)
