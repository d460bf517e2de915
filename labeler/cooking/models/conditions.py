"""What a step of cooking is told: the figures and plain facts of it, in types and without a word of the recipe."""

from __future__ import annotations

from dataclasses import dataclass

from labeler.parsing.ingredient.facts import Trait
from labeler.parsing.instructions.actions import Action, action
from labeler.parsing.instructions.model import Mark
from labeler.types import Interval

__all__ = ["PAN_MINUTES", "Conditions", "minutes_of"]

_MINUTES = Interval(40.0, 15.0, 90.0)  # of what no row says: common practice, no source
PAN_MINUTES = 8.0
"""Minutes in a pan after which the losses that are given for frying hold (`yield_priors.csv`)."""


@dataclass(frozen=True, slots=True)
class Conditions:
    """How food is cooked.

    Parameters
    ----------
    action : str
        Id of the action ("roast").
    minutes, celsius, core : Interval or None
        Time [min], heat of oven, pan or bath, and of the middle of the food [°C]; None where nothing is said.
    grams, share : Interval or None
        Weight of everything when done [g], or the part that is then left of it, 0 to 1.
    water, salt : Interval or None
        Water [g] and salt [g] that the instruction itself adds.
    marks : frozenset of Mark
        `Mark.WATER`: it is done in water that no line lists.
    traits : frozenset of Trait
        What the food was made into ("patty"): chooses among the table's cooked entries.
    general : bool
        True for "cook", which is frying in a pan with fat and no liquid.
    timed : bool
        True where the words say how long; `minutes` is else what is usual.
    watered : bool
        True where the food was covered before with water that no line lists.
    drained : bool
        True where the liquid around the food goes before anything else is cooked.
    lifted : bool
        True where food is lifted out of the liquid later.
    reduces : bool
        True where liquid is boiled away, so that no water comes to it that nobody names.
    drip_stays : bool
        True where what drips stays with the food, as in a pan that is used on.
    from_fat : bool
        True where what is fried in a pan leaves the fat that it has not taken up; out of deep fat it always does.
    again : bool
        True where the same heat only goes on, uncovered before: "bake for 20 minutes. Bake for 10 minutes more".
    oil_left : Interval or None
        Oil that was left after frying, as weighed [g].
    part, line : str, int
        Title and line that what the step adds is counted to.
    """

    action: str
    minutes: Interval | None = None
    celsius: Interval | None = None
    core: Interval | None = None
    grams: Interval | None = None
    share: Interval | None = None
    water: Interval | None = None
    salt: Interval | None = None
    marks: frozenset[Mark] = frozenset()
    traits: frozenset[Trait] = frozenset()
    general: bool = False
    timed: bool = False
    watered: bool = False
    drained: bool = False
    lifted: bool = False
    reduces: bool = False
    drip_stays: bool = False
    from_fat: bool = False
    again: bool = False
    oil_left: Interval | None = None
    part: str = ""
    line: int = 0

    @property
    def row(self) -> Action:
        """The row of the action in the table of actions."""
        return action(self.action)

    @property
    def eaten(self) -> bool:
        """Whether water that covers the food stays with it, as in a soup."""
        return self.watered and not self.drained and not self.lifted


def minutes_of(conditions: Conditions) -> Interval:
    """How long it takes [min]: as said, or what is usual for the action."""
    return conditions.minutes or conditions.row.minutes or _MINUTES
