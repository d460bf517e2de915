"""What leaves the kitchen: the dish as served, and for each part a ledger of what went in, out and stayed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

from labeler.cooking.account import Carried
from labeler.cooking.state.mixture import Array, Mixture, column
from labeler.cooking.state.reckoning import Account, written
from labeler.cooking.state.sampling import DrawKey
from labeler.flow.guards import Guard
from labeler.flow.model import Flow
from labeler.parsing.declared_servings import Count, Servings
from labeler.percentiles import percentile
from labeler.types import Interval, Problem

__all__ = ["Dish", "Ledger", "LedgerEntry", "Stage", "interval_of"]

# What a stream can be. Nothing leaves a part except by one of these.
STREAMS = (
    "poured off",
    "dripped",
    "evaporated water",
    "evaporated alcohol",
    "destroyed by heat",
    "stuck to the pan",
    "discarded",
    "left on the plate",
    "difference of table entries",
)


def interval_of(values: Array, basis: str = "") -> Interval:
    """The interval that draws span: row 0 is the best value, the bounds are the 2.5 and 97.5 percentiles of the rest.

    With no draws the bounds equal the best value; the bounds always include it.
    """
    best = float(values[0])
    if len(values) < 2:
        return Interval(best, best, best, basis)
    ordered = np.sort(values[1:])
    low, high = percentile(ordered, 0.025), percentile(ordered, 0.975)
    return Interval(best, min(best, low), max(best, high), basis)


@dataclass(frozen=True, slots=True)
class LedgerEntry:
    """One stream of a part.

    Parameters
    ----------
    stream : str
        What became of it: one of `STREAMS`, or ``"added"``.
    mix : Mixture
        What it holds; draw 0 is the best estimate. "destroyed by heat" has nutrients but no mass, and "difference of
        table entries" may be negative.
    name : str
        The name that the cook gave it ("brine"), for use elsewhere; empty where it has none.
    reused : float
        Share that went into other parts in the best estimate, 0 to 1.
    line : int
        Number of the line that took it from another part; 0 where no line did.
    in_jar : bool
        True for what lies around the food as it is sold, and is not eaten with it: a pickling brine.
    """

    stream: str
    mix: Mixture
    name: str = ""
    reused: float = 0.0
    line: int = 0
    in_jar: bool = False

    @property
    def grams(self) -> Interval:
        """Weight of the stream [g]."""
        return interval_of(self.mix.total_mass)

    def amount(self, key: str) -> Interval:
        """Amount of one nutrient in the stream, in the table's unit."""
        return interval_of(self.mix.total_of([column(key)])[0])


@dataclass(frozen=True, slots=True)
class Stage:
    """One step as it was done.

    Parameters
    ----------
    text : str
        The words of the recipe that asked for it.
    line : int
        Their line number.
    account : tuple of Account
        How it was worked out: tier, formula or table, and source.
    streams : tuple of LedgerEntry
        What left.
    grams : Interval
        Weight of the part when the step was done [g].
    action : str
        The action of handling that it was; empty for what a line itself says.
    guessed : bool
        True where water has boiled off by the time alone, so that a measure overrules it.
    """

    text: str
    line: int
    account: tuple[Account, ...]
    streams: tuple[LedgerEntry, ...]
    grams: Interval
    action: str = ""
    guessed: bool = False

    @property
    def method(self) -> str:
        """How it was worked out, to show."""
        return written(self.account)


@dataclass(frozen=True, slots=True)
class Ledger:
    """The account of one part: what was put in = what was kept + every stream that left.

    Parameters
    ----------
    part : str
        Its title.
    added : tuple of LedgerEntry
        What went in: the ingredients, and whatever came from other parts (`name` is the part or stream it is from).
    stages : tuple of Stage
        What was done, in order.
    kept : Mixture
        What the part is in the end; draw 0 is the best estimate.
    pieces : Count or None
        How many pieces the part makes, where the recipe says so, and what one is called.
    used : float
        Share of it that other parts take, 1 where it is served as it is.
    times : float
        How often it is made for the whole recipe (8 for "One box" of a recipe that makes 8 boxes).
    measured : Interval or None
        The weight that the cook measured [g].
    """

    part: str
    added: tuple[LedgerEntry, ...]
    stages: tuple[Stage, ...]
    kept: Mixture
    pieces: Count | None = None
    used: float = 1.0
    times: float = 1.0
    measured: Interval | None = None

    @property
    def left_over(self) -> float:
        """Weight made that nothing takes, in the best estimate [g]."""
        return max(0.0, 1.0 - self.used) * float(self.kept.total_mass[0])

    @property
    def grams(self) -> Interval:
        """Weight of the part as made [g]."""
        return interval_of(self.kept.total_mass)

    @property
    def streams(self) -> tuple[LedgerEntry, ...]:
        """Everything that left, in the order it left."""
        return tuple(entry for stage in self.stages for entry in stage.streams)


@dataclass(frozen=True, slots=True)
class Dish:
    """What is served.

    Parameters
    ----------
    servings : Servings or None
        From the head; None where it says nothing.
    mix : Mixture
        The whole batch as served, best estimate (one draw).
    spread : Mixture or None
        The same over the draws asked for; None for none.
    ledgers : tuple of Ledger
        One per part, in the order of the recipe.
    served : tuple of str
        Titles of the parts that are served: those that no other part takes.
    problems : tuple of Problem
        What the kitchen could not read or had to assume.
    """

    servings: Servings | None
    mix: Mixture
    spread: Mixture | None
    ledgers: tuple[Ledger, ...]
    served: tuple[str, ...]
    problems: tuple[Problem, ...]
    yields: Mapping[str, Interval] = field(default_factory=lambda: MappingProxyType({}))
    """Weight of each part as made [g], by title."""
    inputs: Mapping[DrawKey, Array] = field(default_factory=lambda: MappingProxyType({}))
    """Standard normals that the spread was made from, by key; row 0 is the best estimate, the rest go with `spread`."""
    flow: Flow | None = None
    """What entered where and what left, as the method was read."""
    carried: tuple[Carried, ...] = ()
    """What each arrow of the flow carried."""
    others: tuple[Dish, ...] = ()
    """The dish, as a best estimate, as each other way to read the method makes it, whether it moves a figure or not."""
    guards: tuple[Guard, ...] = ()
    """What is told of the flow: foods that leave, portions that never come back, foods that no step takes."""

    @property
    def sold_g(self) -> float:
        """Weight as it is sold, with the brine that lies around it in the jar and is not eaten [g]."""
        beside = (entry for ledger in self.ledgers for entry in ledger.streams if entry.in_jar)
        return float(self.mix.total_mass[0]) + sum(float(entry.mix.total_mass[0]) for entry in beside)
