"""What a measure holds that is heaped, rounded, generous or scant, beside a level one."""

from __future__ import annotations

from labeler.parsing.model import Amount

__all__ = ["FULLNESS", "fullness"]

_SPOONS = frozenset(["teaspoon", "dessertspoon", "tablespoon", "metric_tablespoon", "spoonful"])
FULLNESS = {
    "heaped": ((1.5, 1.0, 2.2), (1.15, 1.0, 1.4)),
    "rounded": ((1.25, 1.0, 1.75), (1.1, 1.0, 1.3)),
    "generous": ((1.15, 1.0, 1.5), (1.1, 0.95, 1.4)),
    "scant": ((0.9, 0.75, 1.0), (0.94, 0.8, 1.0)),
}
"""By `Amount.filling`, of spoons and of everything else: the share of a level measure, best, least and most.

A spoon carries about half as much again above its rim, a cup little. Common practice, no source.
"""


def fullness(amount: Amount) -> tuple[float, float, float]:
    """The share of a level measure that an amount with a filling holds: best, least and most."""
    spoon, other = FULLNESS[amount.filling]
    return spoon if amount.unit in _SPOONS else other
