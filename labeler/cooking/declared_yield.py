"""The weight or the volume that the head of a recipe says the batch comes to: ``makes: 1.2 kg``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.cooking.part import do
from labeler.cooking.tasks import Task
from labeler.cooking.work import Work
from labeler.knowledge import Interval, Problem
from labeler.parsing.handling import read_handling

__all__ = ["settle_yield"]

# Two weighings agree, and a batch weighs what went in, within so much. Common practice, no source.
_HEAVIER = 1.05


def settle_yield(work: Work, said: str, served: Sequence[str], *, times: float, line: int, market: str) -> None:
    """Let what the head says the batch comes to settle a part that is served.

    Parameters
    ----------
    work : Work
        The part, with everything in it and done.
    said : str
        The measure as written ("1.2 kg", "about 2 litres").
    served : sequence of str
        Titles of the parts that are served; of several nobody knows which was weighed, and none is settled.
    times : float
        How often the part is made for the whole recipe.
    line : int
        Of its heading.
    market : str
        Whose cups and spoons.

    A weight that stands under the part wins over the head's.
    """
    step = next((step for step in read_handling(f"makes {said}", market=market).steps if step.action == "make"), None)
    if step is None:
        return
    grams = step.grams.scaled(1.0 / times) if step.grams is not None else None
    millilitres = step.millilitres.scaled(1.0 / times) if step.millilitres is not None else None
    if len(served) > 1:
        if work.title == served[-1]:
            message = (
                f"“{said}” in the head may be of “{served[0]}” or of “{work.title}”, and is not used. "
                "Write “> weighs 1.2 kg” under the part that was weighed."
            )
            work.problems.append(Problem("yield-of-which", message, line))
    elif work.measured is not None:
        if grams is not None and not _agree(grams, work.measured):
            message = (
                f"“{work.title}” weighs {work.measured.best:.4g} g under its heading and {grams.best:.4g} g by "
                f"“{said}” in the head; the first counts. Keep the one that was weighed last."
            )
            work.problems.append(Problem("yield-twice", message, line))
    else:
        before = float(work.pot.total_mass[0])
        do(work, Task(replace(step, grams=grams, millilitres=millilitres), line))
        if grams is not None and grams.low > _HEAVIER * before:
            message = (
                f"“{said}” in the head is more than the {before:.4g} g that went in; the difference counts as water "
                "taken up. Add the line that is missing, or weigh the batch again."
            )
            work.problems.append(Problem("yield-heavier", message, line))


def _agree(one: Interval, other: Interval) -> bool:
    """Whether two weighings of the same thing agree within `_HEAVIER`."""
    return max(one.low, other.low) <= _HEAVIER * min(one.high, other.high)
