"""How much of each ingredient is in the dish: the share of its dry matter and salt that is there when it is served.

An ingredient is recognised by the part and the line that it was written on, so it is followed through every part that
takes it: what counts is the dish as served. Dry matter and salt is all but water and alcohol; what is nothing but water
(and a spirit that leaves nothing behind when it boils off) is followed by its whole mass.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from labeler.cooking.account import Carried
from labeler.cooking.state.ledger import Dish, interval_of
from labeler.cooking.state.mixture import Array, Item, Mixture
from labeler.flow.model import Flow, FromLine, FromUnlisted
from labeler.foods.model import WeighedRecipe
from labeler.types import Interval

__all__ = ["Place", "dry_matter", "kept_shares", "part_taken", "times_of"]

ALL_WATER = 0.99
"""Share of water in an ingredient's mass from which its dry matter and salt says nothing of where it went."""

_NOTHING = 1e-9


@dataclass(frozen=True, slots=True)
class Place:
    """Where an ingredient stands: place of its part in the flow, and of its line or of its unlisted food there."""

    part: int
    index: int
    listed: bool = True


def dry_matter(mix: Mixture) -> Array:
    """Mass of each item without its water and alcohol [g], shape (draws, items)."""
    dry: Array = mix.mass - mix.constituent("water") - mix.constituent("alcohol")
    return dry


def water_in(mix: Mixture) -> Array:
    """Water of each item [g], shape (draws, items)."""
    held: Array = mix.constituent("water")
    return held


def times_of(dish: Dish, title: str) -> float:
    """How often a part is made for the whole recipe; 1 where nothing says it."""
    return next((ledger.times for ledger in dish.ledgers if ledger.part == title), 1.0)


def part_taken(weighed: WeighedRecipe, flow: Flow, part: int, index: int, mixes: Sequence[Mixture]) -> str | None:
    """Title of the part that a line takes from, the part as made or a liquid kept of it; None for an ingredient.

    A part that only the method takes has no line in `weighed`; it is known by what it brought (`mixes`).
    """
    lines = weighed.parts[part].lines
    if index < len(lines):
        kept = lines[index].kept
        return kept.part if kept is not None else lines[index].part
    titles = {one.title for one in flow.parts}
    return next((item.part for mix in mixes for item in mix.items if item.part in titles), None)


def kept_shares(
    weighed: WeighedRecipe, dish: Dish, flow: Flow, carried: Iterable[Carried]
) -> dict[Place, Interval | None]:  # fmt: skip
    """Share of each ingredient's dry matter and salt that is in the dish, 0 to 1, over the draws.

    Parameters
    ----------
    weighed : WeighedRecipe
    dish : Dish
    flow : Flow
        Of the same recipe, its parts in the order of `weighed`.
    carried : iterable of Carried
        What the arrows of the flow carried.

    Returns
    -------
    dict
        By place, for each ingredient that an arrow takes from. None where nobody can say: it was not weighed, and
        some of it is in the dish and some is not. A line that takes from another part has the share of all that such
        lines take of that part.
    """
    arrows = tuple(carried)
    entered: dict[Place, list[Mixture]] = {}
    for one in arrows:
        if isinstance(one.source, FromLine | FromUnlisted):
            place = Place(one.part, one.source.index, isinstance(one.source, FromLine))
            entered.setdefault(place, []).append(one.mix)
    gone = [one.mix for one in arrows if one.node is None and not one.in_dish]
    other_part = {
        place: part_taken(weighed, flow, place.part, place.index, mixes) if place.listed else None
        for place, mixes in entered.items()
    }
    found: dict[Place, Interval | None] = {}
    for place, mixes in entered.items():
        other = other_part[place]
        if other is None:
            found[place] = _kept(mixes, times_of(dish, flow.parts[place.part].title), place.listed, dish, gone)
        else:
            alike = [
                mix.scaled(times_of(dish, flow.parts[one.part].title))
                for one, taken in entered.items()
                if other_part[one] == other
                for mix in taken
            ]
            found[place] = _kept(alike, 1.0, True, dish, gone)
    return found


def _kept(mixes: list[Mixture], times: float, listed: bool, dish: Dish, gone: list[Mixture]) -> Interval | None:
    keys = {_key(item, listed) for mix in mixes for item in mix.items}

    def amount(mix: Mixture, of: Callable[[Mixture], Array]) -> Array:
        at = [place for place, item in enumerate(mix.items) if _key(item, listed) in keys]
        summed: Array = of(mix)[:, at].sum(axis=1)
        return summed

    def whole(mix: Mixture) -> Array:
        return mix.mass

    mass = times * sum((amount(mix, whole)[0] for mix in mixes), start=0.0)
    if mass <= _NOTHING:
        return _unweighed(keys, listed, dish, gone)
    dry = times * sum((amount(mix, dry_matter)[0] for mix in mixes), start=0.0)
    water = times * sum((amount(mix, water_in)[0] for mix in mixes), start=0.0)
    of = whole if water > ALL_WATER * mass or dry <= _NOTHING * mass else dry_matter
    put_in = times * np.sum([amount(mix, of) for mix in mixes], axis=0)
    served = [dish.mix] if dish.spread is None else [dish.mix, dish.spread]
    there = np.concatenate([amount(mix, of) for mix in served])
    if len(there) != len(put_in):
        there, put_in = there[:1], put_in[:1]
    return interval_of(np.clip(there / np.maximum(put_in, _NOTHING), 0.0, 1.0))


def _unweighed(
    keys: set[tuple[str, int, str]], listed: bool, dish: Dish, gone: list[Mixture]
) -> Interval | None:  # fmt: skip
    """What can be said of an ingredient without a weight: all of it is in the dish, or none."""
    served = any(_key(item, listed) in keys for item in dish.mix.items)
    left = any(_key(item, listed) in keys for mix in gone for item in mix.items)
    if served == left:
        return None
    return Interval(1.0, 1.0, 1.0) if served else Interval(0.0, 0.0, 0.0)


def _key(item: Item, listed: bool) -> tuple[str, int, str]:
    """What an item is recognised by; a food that only the method names shares its line with others."""
    return item.part, item.line, "" if listed else item.name
