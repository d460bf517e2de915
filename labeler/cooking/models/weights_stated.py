"""Whether a heap can weigh what the recipe says: no more than went in, but for water that it may have taken up."""

from __future__ import annotations

from labeler.cooking.state.mixture import Mixture
from labeler.parsing.instructions.actions import Heat
from labeler.types import Problem, Severity

__all__ = ["BRINGS_WATER", "heavier"]

BRINGS_WATER = frozenset((Heat.WET, Heat.STEAM, Heat.WARM, Heat.BY_PLACE))
"""Heat in which food may take up water that no line lists; an oven, a pan and a microwave give none."""

_SCALES = 0.05  # of what went in, by which two weighings and a lid of foil may differ: a choice, no source


def heavier(mix: Mixture, goal: float) -> Problem:
    """The question to ask where a stated weight is more than what is there, refused where no scales can differ so much.

    Parameters
    ----------
    mix : Mixture
        What is there.
    goal : float
        What it is said to weigh [g].
    """
    there = float(mix.total_mass[0])
    return Problem(
        "heavier-than-added",
        f"only {there:.0f} g went in and no step brings water, so it cannot weigh {goal:.0f} g, and the weight is not "
        "used. Check the weight and its unit, or add the line that is missing.",
        severity=Severity.REFUSE if goal > (1.0 + _SCALES) * there else Severity.PROBLEM,
    )
