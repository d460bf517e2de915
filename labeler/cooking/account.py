"""What each arrow of a flow carried when it was executed: the account that pictures, tables and kept shares read."""

from __future__ import annotations

from dataclasses import dataclass

from labeler.cooking.state.mixture import Mixture
from labeler.flow.model import Fate, Source

__all__ = ["Carried"]


@dataclass(frozen=True, slots=True)
class Carried:
    """What one arrow of the flow carried.

    Parameters
    ----------
    part : int
        Place of the part in the flow.
    source : Source or None
        Where it came from; None for what a node itself brought (water that covers the food) or lost to the air.
    node : int or None
        The node that took it; None where it went into the dish or left.
    from_node : int or None
        The node that it left, where `source` is None.
    in_dish : bool
    fate : Fate or None
        Why it left; None where it did not.
    stream : str
        What became of it, one of the ledger's streams, or "added".
    name : str
        What the cook calls it.
    mix : Mixture
        What it holds; row 0 is the best estimate.
    """

    part: int
    source: Source | None
    node: int | None
    from_node: int | None
    in_dish: bool
    fate: Fate | None
    stream: str
    name: str
    mix: Mixture
