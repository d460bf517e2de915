"""The steps of a part with what they need to know of each other: what belongs to the step before, what comes after."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from labeler.cooking.models.heating import HEATS
from labeler.foods.words import words
from labeler.knowledge import Interval
from labeler.parsing.handling import Step

__all__ = ["SOAKS", "Task", "brought", "prepare"]

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
    """One step with its line, what comes after it, and its place among the steps as read.

    `last`: nothing is cooked after it; `drained`: the pot is drained before anything else is cooked; `freed`: what lies
    on the food is taken off before anything is cooked; `aside`: what is thrown away or kept as it is strained;
    `poured`: what it draws runs off meanwhile; `later`: words of what a later step adds ("stir in the butter")
    and no step before has named; `claimed`: words of what later steps are about; `watered`: water was put on it just
    before, in words only; `lifted`: something is lifted out after it; `ahead`: the
    steps after it.
    """

    step: Step
    line: int
    last: bool = False
    drained: bool = False
    oil_left: Interval | None = None
    index: int = 0
    freed: bool = False
    aside: Step | None = None
    later: frozenset[str] = frozenset()
    poured: bool = False
    claimed: frozenset[str] = frozenset()
    watered: bool = False
    lifted: bool = False
    ahead: tuple[Step, ...] = ()


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
        place = _before(tasks, step) if not fresh else -1
        fresh = bool(added_after[at])
        if place >= 0:
            merged = _merge(tasks[place], task)
            if merged is not None:
                tasks[place] = merged
                continue
        tasks.append(task)
    cooks = [task.step.action in HEATS or task.step.action == "reduce" for task in tasks]
    drains = [_drains(task.step) for task in tasks]
    busy = [cook or task.step.action in SOAKS for cook, task in zip(cooks, tasks, strict=True)]
    frees = [task.step.action in _FREES for task in tasks]
    said: list[frozenset[str]] = []
    for task in tasks:
        said.append(frozenset(words(task.step.text)) | (said[-1] if said else frozenset()))
    ends = bool(added_after) and bool(added_after[-1])
    about = [frozenset(words(" ".join(task.step.objects))) if _uses(task.step) else frozenset() for task in tasks]
    return [
        replace(
            task,
            last=not any(cooks[at + 1 :]) and not ends,
            drained=_soon(drains, busy, at),
            freed=_soon(frees, cooks, at),
            later=frozenset(word for step in tasks[at + 1 :] for word in words(brought(step.step))) - said[at],
            claimed=frozenset().union(*about[at + 1 :]),
            watered=_watered(tasks[:at]),
            ahead=tuple(after.step for after in tasks[at + 1 :]),
            lifted=any(after.step.action == "lift" for after in tasks[at + 1 :]),
        )
        for at, task in enumerate(tasks)
    ]


_ADDING = re.compile(
    r"(?:then |and |finally |,)*(?:(?:stir|fold|beat|whisk|mix|pour|tip|rub|work|blend|toss)(?:ed|ing|s)? "
    r"(?:in|over)\b|(?:add|scatter|drizzle|crumble|sprinkle|strew|pour|dot)(?:ed|ing|s)?\b(?!.*\bwith\b))(?P<what>.*)|"
    r".*\b(?:mix|toss|top|finish|season|serve|sprinkle|dress|drizzle|scatter|cover|fill|mash|stir|whisk|beat|coat|"
    r"dredge|blend|blitz|pur[ée]e)(?:ed|ing|s|es)?\b.*?\bwith\b(?P<with>.*)",
    re.IGNORECASE,
)
_WHERE = re.compile(r"\b(?:to|into|over|onto|on|until|for|at)\b.*", re.IGNORECASE)


def brought(step: Step) -> str:
    """The words for what a step adds to the pot ("stir in the butter", "toss with the dressing"); empty for nothing."""
    found = _ADDING.match(step.text) if step.action in ("idle", "coat") else None
    return "" if found is None else _WHERE.sub("", found["what"] or found["with"] or "")


_WATERED = re.compile(
    r"\b(?:cover\w*|top\w*(?: up)?|fill\w*)\b[^.;]*\bwith\b[^,.;]*\bwater\b|"
    r"\b(?:in|into) (?:a|fresh|cold|clean|plenty)\b[^,.;]*\bwater\b",
    re.IGNORECASE,
)


def _watered(before: Sequence[Task]) -> bool:
    """Whether the steps since the last cooking or draining have put food in water that they do not measure."""
    for task in reversed(before):
        step = task.step
        if step.action not in ("idle", "heat", "stand", "skim"):
            return False
        if step.action == "idle" and step.water is None and _WATERED.search(step.text):
            return True
    return False


def _uses(step: Step) -> bool:
    """Whether a step brings what it names to the pot or heats it, and does not take it away."""
    return step.action in ("idle", "coat", "reduce") or step.action in HEATS or step.action in SOAKS


def _drains(step: Step) -> bool:
    """Whether a step pours the liquid of the pot off."""
    return step.action in ("drain", "rinse", "squeeze", "strain") or (
        step.action == "discard" and step.stream in ("liquid", "oil")
    )


def _soon(drains: Sequence[bool], cooks: Sequence[bool], at: int) -> bool:
    """Whether the pot is drained before anything else is cooked."""
    for later in range(at + 1, len(drains)):
        if drains[later]:
            return True
        if cooks[later]:
            return False
    return False


# What takes liquor, salt or a coating off food again.
_FREES = frozenset(["drain", "rinse", "squeeze", "strain", "pat", "discard"])


def _before(tasks: Sequence[Task], step: Step) -> int:
    """Place of the step that another one may belong to: the last, and for lying the last that does something."""
    place = len(tasks) - 1
    while step.action == "stand" and place >= 0 and tasks[place].step.action == "idle":
        place -= 1
    return place


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
    if step.action == "stand" and step.minutes is not None and earlier.minutes is None and earlier.action in SOAKS:
        marks = earlier.marks | step.marks
        return replace(
            before, step=replace(earlier, minutes=step.minutes, marks=marks, text=f"{earlier.text}, {step.text}")
        )
    if step.action == "drain" and step.minutes is not None and earlier.action == "stand" and earlier.minutes is None:
        # "leave to drain in a colander for 1 hour"
        told = f"{earlier.text} {step.text}"
        return replace(before, step=replace(earlier, minutes=step.minutes, text=told), poured=True)
    if step.action == "discard" and earlier.action == "strain" and before.aside is None:
        text = f"{earlier.text}, {step.text}"
        return replace(before, aside=step, step=replace(earlier, text=text))
    return None
