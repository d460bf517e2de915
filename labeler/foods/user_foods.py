"""The cook's own foods, as the other packages see them: a package with its own panel and its own ingredient list.

An `UserFood` stands on a food of the table, its *like*, and lays what the package says over it: composition, what a
can or a spoon of it weighs, what it is made of. Everything that a panel never tells (how it takes up salt, what its
fat does in the pan, how it fills a cup) is that of the like, so that no package needs to know a second kind of food:
where one wants composition, weight or ingredients it asks the match for its `own` first. The foods themselves are kept
elsewhere; `OwnFoods` is all that is asked of whoever keeps them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Protocol

from labeler.foods.weights.measure_fullness import fullness
from labeler.parsing.model import Amount
from labeler.parsing.units import grams_per, kind, millilitres_per
from labeler.types import Interval, Problem, Status

if TYPE_CHECKING:
    from labeler.parsing.model import Line

__all__ = ["OwnFoods", "OwnValue", "PackIngredient", "UserFood", "own_weight", "with_net_weight"]

PACKAGES = frozenset("can jar bottle package packet envelope box bag carton container tub tube pouch punnet".split())
"""Units that are the whole package, whose weight is the net weight."""

# How well a written figure is met, as in `measure`: a scale 2 %, "about" 15 %. Common practice, no source.
_SCALE, _ABOUT = 0.02, 0.15


@dataclass(frozen=True, slots=True)
class OwnValue:
    """One nutrient per 100 g, in the table's unit: best value, bounds, and what stands behind it."""

    best: float
    low: float
    high: float
    status: Status


@dataclass(frozen=True, slots=True)
class PackIngredient:
    """One entry of a package's ingredient list: its name, its stated share [%], and what stands in its brackets."""

    name: str
    percent: float | None = None
    components: tuple[PackIngredient, ...] = ()


@dataclass(frozen=True, eq=False)
class UserFood:
    """A food of the cook's own.

    Parameters
    ----------
    id : str
        ``"larder:"`` and the name in plain letters; never an id of the table.
    name : str
        As the cook calls it.
    like : str or None
        Table id of the food whose kind it shares; None where none is known, and then what the package does not say is
        missing.
    per_100g : mapping
        INFOODS tagname → value. A tagname that is not there is missing.
    added_share : Interval or None
        Share of its sugars that was added, where the package says so.
    ingredients : tuple of PackIngredient
        The package's list, in its order; empty where it is not known.
    contains, may_contain : str
        Allergens that the package states, and those that it warns of; empty where it says nothing.
    measures : mapping
        Grams of one unit of the kitchen registry ("can", "tablespoon") [g].
    per_ml : Interval or None
        Grams of one millilitre, where the package tells it.
    basis : str
        Where its figures come from, in words.
    problems : tuple of Problem
        What is contradictory or had to be completed.
    """

    id: str
    name: str
    like: str | None = None
    per_100g: Mapping[str, OwnValue] = field(default_factory=dict)
    added_share: Interval | None = None
    ingredients: tuple[PackIngredient, ...] = ()
    contains: str = ""
    may_contain: str = ""
    measures: Mapping[str, Interval] = field(default_factory=dict)
    per_ml: Interval | None = None
    basis: str = ""
    problems: tuple[Problem, ...] = ()

    @property
    def listed(self) -> tuple[PackIngredient, ...]:
        """Every entry of its list, compounds and what they are made of, in order."""
        return tuple(_through(self.ingredients))


def _through(ingredients: tuple[PackIngredient, ...]) -> Iterator[PackIngredient]:
    for one in ingredients:
        yield one
        yield from _through(one.components)


class OwnFoods(Protocol):
    """Whoever keeps the cook's own foods."""

    def named(self, name: str) -> UserFood | None:
        """The own food that a name means, or None."""


def own_weight(line: Line, own: UserFood, *, market: str) -> Interval | None:
    """Grams of a line by what the package says of itself.

    Parameters
    ----------
    line : Line
    own : UserFood
    market : str
        Whose cups and spoons.

    Returns
    -------
    Interval or None
        None where the package does not tell, so that its like must: also where the line gives a size beside its
        amount.
    """
    if line.pin and line.pin.grams is not None:
        return Interval(line.pin.grams, line.pin.grams, line.pin.grams, f"{line.pin.grams:g} g, pinned in the line")
    plain = [amount for amount in line.amounts if amount.role in ("main", "plus")]
    if not plain or any(amount.role == "each" for amount in line.amounts):
        return None
    total: Interval | None = None
    for amount in plain:
        one = _one(amount.unit, own, market)
        if one is None:
            return None
        term = _times(amount, one)
        total = term if total is None else Interval(
            total.best + term.best, total.low + term.low, total.high + term.high, f"{total.basis}; plus {term.basis}"
        )  # fmt: skip
    return total


def _one(unit: str | None, own: UserFood, market: str) -> Interval | None:
    """Grams of one unit of an own food."""
    mass = grams_per(unit)
    if mass is not None:
        return Interval(mass, mass * (1 - _SCALE), mass * (1 + _SCALE), f"{unit} in the line")
    stated = own.measures.get(unit or "piece")
    if stated is not None and unit not in PACKAGES:
        return stated
    volume = millilitres_per(unit, market=market) if unit is not None and kind(unit) == "volume" else None
    if volume is not None and own.per_ml is not None:
        return own.per_ml.scaled(volume)
    return None


def _times(amount: Amount, one: Interval) -> Interval:
    low, high = sorted((max(amount.low, 0.0), max(amount.high, 0.0)))
    if amount.filling:
        share, least, most = fullness(amount)
        return Interval((low + high) / 2 * share * one.best, low * least * one.low, high * most * one.high, one.basis)
    loose = _ABOUT if amount.about else 0.0
    return Interval((low + high) / 2 * one.best, low * (1 - loose) * one.low, high * (1 + loose) * one.high, one.basis)


def with_net_weight(line: Line, own: UserFood) -> Line:
    """The line with the net weight beside each package that it counts, so that draining and the like apply to it.

    The same line where it counts no package, says a weight itself, or the net weight is not known.
    """
    if not line.amounts or line.amounts[0].unit not in PACKAGES or len(line.amounts) > 1:
        return line
    net = own.measures.get(line.amounts[0].unit or "")
    if net is None:
        return line
    return replace(line, amounts=(*line.amounts, Amount(net.best, net.best, "gram", "each")))
