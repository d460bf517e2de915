"""The steps of a part with what they need to know of each other: what belongs to the step before, what comes after."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from labeler.kitchen.cook import HEATS
from labeler.knowledge import Interval
from labeler.recipe.handling import Step

__all__ = ["SOAKS", "Task", "prepare"]

# Times and temperatures that are not said: common practice, no source.
SOAKS = {
    "soak": (Interval(60.0, 15.0, 480.0), 20.0),
    "brine": (Interval(480.0, 120.0, 960.0), 5.0),
    "marinate": (Interval(120.0, 30.0, 720.0), 5.0),
    "pickle": (Interval(4320.0, 1440.0, 20160.0), 20.0),
    "cure": (Interval(60.0, 15.0, 720.0), 10.0),
    "stand": (Interval(30.0, 10.0, 60.0), 20.0),
}
"""Actions of lying in liquor or salt: minutes and degrees where the sentence says none."""


@dataclass(frozen=True, slots=True)
class Task:
    """One step with its line, what comes after it, and its place among the steps as read."""

    step: Step
    line: int
    last: bool = False
    drained: bool = False
    oil_left: Interval | None = None
    index: int = 0


def prepare(steps: Sequence[tuple[Step, int]], added_after: Sequence[bool]) -> list[Task]:
    """The steps of a part with what they need to know of each other.

    A weight that follows a step is that step's; so is oil that is left, and the time of "leave overnight" after "rub
    with the salt".

    Parameters
    ----------
    steps : sequence of (Step, line number)
        In the order of the part.
    added_after : sequence of bool
        For each step whether ingredients are added between it and the next.
    """
    tasks: list[Task] = []
    fresh = True
    for at, (step, line) in enumerate(steps):
        task = Task(step, line, index=at)
        before = tasks[-1] if tasks and not fresh else None
        fresh = bool(added_after[at])
        if before is not None:
            merged = _merge(before, task)
            if merged is not None:
                tasks[-1] = merged
                continue
        tasks.append(task)
    cooks = [task.step.action in HEATS or task.step.action == "reduce" for task in tasks]
    drains = [task.step.action in ("drain", "rinse", "squeeze", "strain") for task in tasks]
    ends = bool(added_after) and bool(added_after[-1])
    return [
        replace(task, last=not any(cooks[at + 1 :]) and not ends, drained=_soon(drains, cooks, at))
        for at, task in enumerate(tasks)
    ]


def _soon(drains: Sequence[bool], cooks: Sequence[bool], at: int) -> bool:
    """Whether the pot is drained before anything else is cooked."""
    for later in range(at + 1, len(drains)):
        if drains[later]:
            return True
        if cooks[later]:
            return False
    return False


def _merge(before: Task, task: Task) -> Task | None:
    step, earlier = task.step, before.step
    settles = earlier.action in HEATS - {"heat", "flame"} or earlier.action == "reduce"
    if step.action == "weigh" and settles and earlier.grams is None and not step.objects:
        text = f"{earlier.text}, {step.text}"
        return replace(before, step=replace(earlier, grams=step.grams, millilitres=None, share=None, text=text))
    if step.action == "lose" and settles and step.share is not None and earlier.grams is None and earlier.share is None:
        return replace(before, step=replace(earlier, share=step.share, text=f"{earlier.text}, {step.text}"))
    if step.action == "left" and step.stream in ("oil", "fat") and "fry" in earlier.action:
        left = step.grams or (step.millilitres.scaled(0.92) if step.millilitres else None)  # oil: 0.92 g/mL
        return replace(before, oil_left=left, step=replace(earlier, text=f"{earlier.text}; {step.text}"))
    if step.action == "stand" and step.minutes is not None and _salts(earlier):
        earlier = replace(earlier, action="cure")
    if step.action == "stand" and step.minutes is not None and earlier.minutes is None and earlier.action in SOAKS:
        marks = earlier.marks | step.marks
        return replace(
            before, step=replace(earlier, minutes=step.minutes, marks=marks, text=f"{earlier.text}, {step.text}")
        )
    return None


def _salts(step: Step) -> bool:
    """Whether a step puts salt on food, to lie in it if time follows ("toss the cucumbers with the salt")."""
    verb = step.text.lower().split()[:2]
    salted = any("salt" in name.lower().split() for name in step.objects)
    return (
        step.action == "idle"
        and salted
        and any(word in ("toss", "sprinkle", "rub", "layer", "massage") for word in verb)
    )
