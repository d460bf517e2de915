"""Between the steps as read from sentences and the models of cooking: what a model is told, and what leaves.

The models take typed conditions and part phases; that what they part leaves the part is decided here.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from labeler.cooking.models.conditions import Conditions
from labeler.cooking.models.heating import action_meant, one_of_each
from labeler.cooking.models.meat_losses import flesh_share
from labeler.cooking.models.moist_heat import WET
from labeler.cooking.models.separation import strain
from labeler.cooking.models.stock_extraction import stock_extract
from labeler.cooking.state.ledger import Entry
from labeler.cooking.state.mixture import Mixture, join
from labeler.cooking.state.phases import Off, Outcome, Parted, sort_pot
from labeler.cooking.tasks import Task
from labeler.cooking.work import Work
from labeler.knowledge import Problem
from labeler.parsing.handling import Step
from labeler.parsing.ingredient.facts import read_traits
from labeler.parsing.instructions.model import Mark

__all__ = ["addressed", "conditions_of", "left", "left_by_heat", "strained", "with_extract"]

_IN_WATER = re.compile(r"\b(?:in|into|under)\b[^,;]*\bwater\b", re.IGNORECASE)
_MARKS = {mark.value: mark for mark in Mark} | {"changed": Mark.CHANGED_WATER}
# What becomes of what is parted, and what it is called.
_STREAMS = {
    Parted.LIQUID: ("poured off", ""),
    Parted.RINSINGS: ("poured off", ""),
    Parted.JUICE: ("poured off", ""),
    Parted.FAT: ("poured off", ""),
    Parted.BATH: ("poured off", "oil"),
    Parted.PAN_FAT: ("stuck to the pan", "oil"),
    Parted.DRIPPINGS: ("dripped", "drippings"),
    Parted.FILM: ("discarded", ""),
    Parted.SOLIDS: ("discarded", ""),
    Parted.PIECES: ("discarded", ""),
}


def conditions_of(mix: Mixture, step: Step, part: str, task: Task) -> Conditions:
    """What a model of cooking is told of a step, given what is in the pot."""
    marks = {_MARKS[mark] for mark in step.marks if mark in _MARKS}
    if _IN_WATER.search(step.text):
        marks.add(Mark.WATER)
    conditions = Conditions(
        step.action,
        minutes=step.minutes,
        celsius=step.celsius,
        core=step.core,
        grams=step.grams,
        share=step.share,
        water=step.water,
        salt=step.salt,
        marks=frozenset(marks),
        traits=read_traits(step.text),
        general="cook" in step.text.lower(),
        watered=task.watered,
        drained=task.drained,
        lifted=task.lifted,
        oil_left=task.oil_left,
        part=part,
        line=task.line,
    )
    action = action_meant(mix, conditions)
    return replace(
        conditions,
        drip_stays=action in ("pan-fry", "stir-fry") and not task.last,
        from_fat=task.oil_left is not None or (task.last and flesh_share(sort_pot(mix)) > 0.5),
    )


def _entry(off: Off, name: str = "") -> Entry:
    stream, usual = _STREAMS[off.parted]
    return Entry(stream, off.mix, name or usual)


def left(outcome: Outcome, *, name: str = "") -> Outcome:
    """An outcome whose parted phases have left, under a name that the cook gave them."""
    if not outcome.off:
        return outcome
    return replace(outcome, streams=(*(_entry(off, name) for off in outcome.off), *outcome.streams), off=())


def left_by_heat(outcome: Outcome) -> Outcome:
    """The same after a step of heat: fat and drippings come between alcohol and water, what is drained at the end."""
    alcohol = [entry for entry in outcome.streams if entry.stream == "evaporated alcohol"]
    others = [entry for entry in outcome.streams if entry.stream != "evaporated alcohol"]
    first = [_entry(off) for off in outcome.off if off.parted is not Parted.LIQUID]
    last = [_entry(off) for off in outcome.off if off.parted is Parted.LIQUID]
    return replace(outcome, streams=one_of_each([*alcohol, *first, *others, *last]), off=())


def addressed(problems: Iterable[Problem], task: Task) -> tuple[Problem, ...]:
    """Problems of a model with the words and the line of the step that they are of."""
    said = f"“{task.step.text}”: "
    return tuple(replace(problem, message=said + problem.message, line=task.line) for problem in problems)


def with_extract(work: Work, before: Mixture, outcome: Outcome, task: Task) -> Outcome:
    """Add to a liquor what the bones and the meat that leave it have given, and say that it is a guess.

    `before` is the pot before they left; what is thrown away is among the streams of `outcome`.
    """
    gone = [entry.mix for entry in outcome.streams if entry.stream == "discarded" and entry.mix.items]
    if not gone or not outcome.kept.items:
        return outcome
    simmered = any(stage.action in WET for stage in work.stages)
    found = stock_extract(before, join(gone), simmered=simmered, part=work.title, draws=work.draws)
    if found is None:
        return outcome
    return replace(
        outcome,
        kept=join([outcome.kept, found.mix]),
        added=(*outcome.added, Entry("added", found.mix, "given by bones and meat, from stocks of the table")),
        problems=(*outcome.problems, *addressed([found.problem], task)),
    )


def strained(work: Work, mix: Mixture, task: Task) -> Outcome:
    """Strain a stock: the liquid stays with what the solids have given it."""
    return with_extract(work, mix, left(strain(mix, draws=work.draws)), task)
