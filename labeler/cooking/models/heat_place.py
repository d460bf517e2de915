"""What every kind of heat needs to know: where the step stands in its part, and how long it takes unless it is said."""

from __future__ import annotations

from dataclasses import dataclass

from labeler.knowledge import Interval
from labeler.parsing.handling import Step

__all__ = ["Place", "minutes_of"]

# Times that are not said: common practice, no source.
_USUAL_MINUTES = {
    "boil": Interval(15.0, 6.0, 30.0),
    "simmer": Interval(20.0, 8.0, 45.0),
    "braise": Interval(120.0, 60.0, 180.0),
    "steam": Interval(10.0, 4.0, 25.0),
    "blanch": Interval(2.0, 0.5, 4.0),
    "heat": Interval(3.0, 1.0, 8.0),
    "flame": Interval(1.0, 0.5, 2.0),
}
_OVEN_MINUTES = Interval(40.0, 15.0, 90.0)


@dataclass(frozen=True)
class Place:
    """Where a step stands: part title and line for what it adds, and what comes after it in the part.

    Parameters
    ----------
    part, line : str, int
    last : bool
        True where nothing else is cooked or added after the step.
    drained : bool
        True where the liquid is poured off later in the part.
    oil_left : Interval or None
        Oil that was left after frying, as weighed [g].
    watered : bool
        True where a step just before has covered the food with water that no line lists.
    lifted : bool
        True where food is lifted out after it.
    """

    part: str
    line: int
    last: bool
    drained: bool
    oil_left: Interval | None = None
    watered: bool = False
    lifted: bool = False

    @property
    def eaten(self) -> bool:
        """Whether the water that covers the food stays with it, as in a soup."""
        return self.watered and not self.drained and not self.lifted


def minutes_of(step: Step) -> Interval:
    """How long a step of heat takes [min]: as said, or what is usual for its action."""
    return step.minutes or _USUAL_MINUTES.get(step.action, _OVEN_MINUTES)
