"""One part of a recipe: each step is done to what it is about, and what it takes for granted is done before it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from labeler.cooking import measured, pouring, steps
from labeler.cooking.aside import note_aside, without_aside
from labeler.cooking.focus import focus_of, is_water, parted
from labeler.cooking.models.dry_salting import is_salted
from labeler.cooking.models.heating import HEATS
from labeler.cooking.naming import named_items
from labeler.cooking.state.ledger import Stage, interval_of
from labeler.cooking.state.mixture import Mixture
from labeler.cooking.state.phases import Outcome, sort_pot, together
from labeler.cooking.tasks import SOAKS, Task, brought
from labeler.cooking.work import Work
from labeler.foods.food_class import DISSOLVES
from labeler.foods.words import read_name, words
from labeler.knowledge import Problem
from labeler.parsing.handling import Step

__all__ = ["do"]

# Steps that take off what lies on food.
_TAKES_OFF = frozenset(["rinse", "pat", "squeeze", "drain", "discard"])
# Dry heat that nobody does in a brine or a marinade.
_OUT_OF_LIQUOR = frozenset(["broil", "deep-fry", "toast", "smoke", "roast", "pan-fry", "stir-fry"])
_SALTING = re.compile(r"\b(?:salt|salts|salted|sugar|cure|cures|rub|rubbed|spices?|seasonings?)\b", re.IGNORECASE)

_ACTIONS: dict[str, Callable[[Work, Mixture, Task], Outcome | None]] = {
    **dict.fromkeys(HEATS, steps.do_heat),
    **dict.fromkeys(SOAKS, steps.do_lie),
    "drain": pouring.do_drain,
    "rinse": pouring.do_rinse,
    "squeeze": pouring.do_squeeze,
    "pat": pouring.do_pat,
    "strain": pouring.do_strain,
    "skim": pouring.do_skim,
    "reduce": steps.do_reduce,
    "dry": steps.do_dry,
    "thin": steps.do_thin,
    "make": steps.do_make,
    "discard": pouring.do_discard,
    "lift": pouring.do_lift,
    "keep": pouring.do_keep,
    "weigh": measured.do_weigh,
    "lose": measured.do_lose,
    "left": measured.do_left,
}


def do(work: Work, task: Task) -> None:
    """Do one step, and before it what it takes for granted."""
    _note_salting(work, task.step)
    note_aside(work, task.step)
    if task.step.action in _TAKES_OFF and not work.lain:
        _lie_untimed(work, task)
    if task.step.action in _OUT_OF_LIQUOR:
        _lift_out(work, task)
    _do(work, task)
    work.said.update(words(task.step.text))
    if task.step.action in HEATS:
        work.salting, work.about = "", ()
    if task.poured:
        do(work, replace(task, step=Step("drain", task.step.text), poured=False))


def _do(work: Work, task: Task) -> None:
    step = task.step
    action = _ACTIONS.get(step.action)
    if action is None and step.water is not None and brought(step) and not any(map(is_water, work.pot.items)):
        action = steps.do_thin  # "add 200 ml water" that no line has
    if action is None:
        _put_in(work, step)
        work.hot = work.hot and "cool" not in words(step.text)
        return
    if step.action == "stand" and work.salting and not work.lain and step.text != work.salting:
        task = replace(task, step=replace(step, text=f"{work.salting}, {step.text}"))
    focus, rest = without_aside(work, step, *focus_of(work, task))
    outcome = action(work, focus, task)
    if outcome is None:
        work.focus, work.rest = focus, rest
        return
    work.added += outcome.added
    kept = sort_pot(outcome.kept)
    if kept.absorbed.any():
        work.holders.update(kept.mix.items[at].line for at in kept.at(kept.food))
    work.problems += outcome.problems
    work.focus, work.rest = outcome.kept, rest
    streams = tuple(entry for entry in outcome.streams if entry.mix.items)
    if streams or outcome.method:
        grams = interval_of(outcome.kept.total_mass + rest.total_mass)
        work.stages.append(Stage(step.text, task.line, outcome.method, streams, grams, step.action, outcome.guessed))
    work.hot = step.action in HEATS or (work.hot and step.action in ("idle", "stand", "cover"))


def _note_salting(work: Work, step: Step) -> None:
    """Remember that salt, sugar or a rub was put on food, and on which: it is what lies in it next."""
    if step.action not in ("idle", "coat", "cure", "stand") or not _SALTING.search(step.text):
        return
    pot = sort_pot(work.pot)
    loose = np.array([kind in DISSOLVES | {"seasoning"} for kind in pot.kinds], dtype=bool)
    food = pot.at(pot.food & ~loose)
    said = set(words(step.text))
    about = tuple(pot.mix.items[at].name for at in food if read_name(pot.mix.items[at].name).head in said)
    work.salting, work.about = step.text, about or work.about


def _lie_untimed(work: Work, task: Task) -> None:
    """What is taken off again was on the food for a time that nobody says: it is assumed, and said."""
    if work.salting:
        untimed = replace(task, step=Step("cure", work.salting), freed=True)
        if is_salted(focus_of(work, untimed)[0]):
            _do(work, untimed)
            return
    if not work.said or not (task.step.action == "drain" or task.step.stream == "liquid"):
        return
    untimed = replace(task, step=Step("stand", f"before “{task.step.text}”"), freed=True)
    here = focus_of(work, untimed)[0]
    pot = sort_pot(here)
    named = [at for at in named_items(here, task.step.objects) if pot.food[at]]
    if pot.has_liquor and not named and not any(item.cooked or item.phase for item in here.items):
        _do(work, untimed)


def _lift_out(work: Work, task: Task) -> None:
    """Food that goes from a brine or a marinade to dry heat is lifted out of it first; that is said."""
    if not work.lain or work.focus is None or "in its liquid" in task.step.marks:
        return
    pot = sort_pot(work.focus)
    cooked = any(item.cooked for item in pot.mix.items)
    little = pot.best(pot.liquor) < 0.03 * pot.food_mass[0]
    if little or cooked or not pot.flesh.any() or "marinade" in words(task.step.text):
        return
    _do(work, replace(task, step=Step("drain", f"before “{task.step.text}”")))
    work.problems.append(
        Problem(
            "lifted-out-assumed",
            f"“{task.step.text}”: it is taken that the food is lifted out of its liquid and what is left of that is "
            "thrown away. Write “drain” before it, or “in its marinade” if all of it is cooked and eaten.",
            task.line,
        )
    )


def _put_in(work: Work, step: Step) -> None:
    """What a step adds is from then on with what the step before was about ("drain ... toss with the butter")."""
    new = set(words(brought(step)))
    if not new or work.focus is None or work.rest is None or not work.focus.items:
        return
    places = {at for at, item in enumerate(work.rest.items) if not item.phase and read_name(item.name).head in new}
    if places:
        more, work.rest = parted(work.rest, places)
        work.focus = together([work.focus, more])
