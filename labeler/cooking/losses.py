"""What leaves a recipe once its flow is executed, and how much of each food goes with it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from labeler.cooking.account import Carried
from labeler.cooking.kept import dry_matter, times_of
from labeler.cooking.state.ledger import Dish
from labeler.cooking.state.mixture import Item, Mixture, Origin
from labeler.flow.guards import BATH_KINDS, Guard, Leaving, Loss, guards
from labeler.flow.model import Departure, Flow, FromLine, Source
from labeler.foods.composition.food_table import load_table
from labeler.foods.food_class import MEAT, is_raw, kind_of
from labeler.foods.model import WeighedRecipe

__all__ = ["Key", "PutIn", "body_of", "goes_on", "guards_of", "leaves_by_trade"]

Key = tuple[str, int]
"""An ingredient: title of its part, number of its line."""

_VEGETABLES = 1100  # SR28 food group: canned in their juice they are no bath
HARDLY_ANY = 0.01
"""Share of an ingredient's mass below which its dry matter and salt says nothing of where it went."""

_NOTHING = 1e-6  # g
_COAT = "left on the plate"


@dataclass(frozen=True, slots=True)
class PutIn:
    """Each ingredient as it was put in [g]: its dry matter and salt, of that what does not dissolve, and its weight.

    `foods` are the weights of those alone that are no part of a bath.
    """

    dry: dict[Key, float] = field(default_factory=dict)
    body: dict[Key, float] = field(default_factory=dict)
    foods: dict[Key, float] = field(default_factory=dict)

    def add(self, mix: Mixture) -> None:
        """Count the ingredients of a mixture."""
        for item, dry, body, grams in zip(mix.items, dry_matter(mix)[0], body_of(mix), mix.mass[0], strict=True):
            key = (item.part, item.line)
            if not leaves_by_trade(item):
                self.foods[key] = self.foods.get(key, 0.0) + float(grams)
            self.dry[key] = self.dry.get(key, 0.0) + float(dry)
            self.body[key] = self.body.get(key, 0.0) + body


def body_of(mix: Mixture) -> list[float]:
    """Solids and fat of each item: what does not dissolve [g]."""
    return [float(one) for one in (mix.constituent("solids") + mix.constituent("fat"))[0]]


def leaves_by_trade(item: Item) -> bool:
    """Whether an ingredient is bones, or what a bath, a marinade, a dressing or a frying fat is made of."""
    if item.food is None or item.facts.bones:
        return item.facts.bones
    table = load_table()
    vegetable = int(table.group_codes[table.position[item.food]]) == _VEGETABLES
    return kind_of(item.food) in BATH_KINDS and not vegetable


def goes_on(weighed: WeighedRecipe, flow: Flow, at: int, one: Departure) -> int | None:
    """Place of the part that takes what leaves here; None where none does."""
    titles = [part.title for part in flow.parts]
    if one.into:
        place = next((place for place, title in enumerate(titles) if title.casefold() == one.into.casefold()), None)
        if place is not None:
            return place
    for place, part in enumerate(weighed.parts):
        for line in part.lines:
            if line.kept is not None and line.kept.part == titles[at] and one.name and line.kept.name == one.name:
                return place
    return None


def guards_of(weighed: WeighedRecipe, dish: Dish) -> tuple[Guard, ...]:
    """What is to be told of the flow of a dish (`labeler.flow.guards`).

    Parameters
    ----------
    weighed : WeighedRecipe
    dish : Dish
        Of the same recipe; `flow` and `carried` are read.
    """
    return () if dish.flow is None else _Account(weighed, dish, dish.flow).guards()


_Food = tuple[int, FromLine]


class _Account:
    """What was put in of each food, and what left."""

    def __init__(self, weighed: WeighedRecipe, dish: Dish, flow: Flow) -> None:
        self.weighed, self.dish, self.flow = weighed, dish, flow
        self.times = [times_of(dish, part.title) for part in flow.parts]
        self.titles = {part.title: at for at, part in enumerate(flow.parts)}
        self.amounts: dict[_Food, tuple[float, float, float]] = {}
        self.kinds: dict[_Food, str] = {}
        for one in dish.carried:
            if isinstance(one.source, FromLine):
                self._put_in(one)
        foods = sum(mass for food, (mass, _, _) in self.amounts.items() if self.kinds[food] not in BATH_KINDS)
        self.whole = foods or sum(mass for mass, _, _ in self.amounts.values())

    def guards(self) -> tuple[Guard, ...]:
        weights = {food: self._of_batch(food) for food in self.amounts} | dict(self._untouched())
        other_parts = [
            (at, FromLine(index))
            for at, part in enumerate(self.weighed.parts)
            for index, line in enumerate(part.lines)
            if line.part in self.titles
        ]
        return guards(self.flow, self._leaving(), weights, other_parts, self._raw())

    def _raw(self) -> dict[_Food, float]:
        """Raw meat that no step has heated where something else of its part is, with its share of the dish's weight."""
        mix = self.dish.mix.rows(0, 1)
        whole = float(mix.total_mass[0])
        heated = {item.part for item in mix.items if item.cooked}
        found: dict[_Food, float] = {}
        for food, item, (mass, _, _) in self._measures(mix) if whole > 0.0 else ():
            if (
                item.part in heated
                and not item.cooked
                and not item.phase
                and kind_of(item.food) in MEAT
                and is_raw(item.food)
            ):
                found[food] = found.get(food, 0.0) + mass / whole
        return found

    def _untouched(self) -> Iterator[tuple[_Food, float]]:
        """Foods of the lines that no arrow takes from, and their share of the weight of all foods."""
        for at, part in enumerate(self.weighed.parts):
            for index, line in enumerate(part.lines):
                food = at, FromLine(index)
                plain = line.part is None and line.kept is None and not line.names_no_food
                if plain and line.grams is not None and food not in self.amounts and at < len(self.flow.parts):
                    grams = line.grams.best * self.times[at]
                    yield food, grams / (self.whole + grams) if grams > 0.0 else 0.0

    def _food(self, item: Item) -> _Food | None:
        """Where the food of an item stands; None for what no line lists."""
        at = self.titles.get(item.part)
        if at is None or item.place < 1 or item.place > len(self.weighed.parts[at].lines):
            return None
        line = self.weighed.parts[at].lines[item.place - 1]
        names = [one.line.name or one.line.text for one in (line, *line.also)]
        return at, FromLine(item.place - 1, names.index(item.name) if item.name in names else 0)

    def _measures(self, mix: Mixture) -> Iterator[tuple[_Food, Item, tuple[float, float, float]]]:
        """Of each food its weight, its dry matter, and its solids alone [g]."""
        mix = mix.rows(0, 1)
        masses, dry, solids = mix.mass[0], dry_matter(mix)[0], mix.constituent("solids")[0]
        for at, item in enumerate(mix.items):
            food = self._food(item)
            if food is not None:
                yield food, item, (float(masses[at]), float(dry[at]), float(solids[at]))

    def _put_in(self, one: Carried) -> None:
        for food, item, amounts in self._measures(one.mix):
            if food[0] == one.part:
                before = self.amounts.get(food, (0.0, 0.0, 0.0))
                self.amounts[food] = _sum(before, amounts, self.times[one.part])
                self.kinds[food] = kind_of(item.food) if leaves_by_trade(item) or _is_food(item) else "vegetable"

    def _of_batch(self, food: _Food) -> float:
        mass = self.amounts[food][0]
        own = mass if self.kinds[food] in BATH_KINDS else 0.0
        return mass / (self.whole + own) if self.whole + own > 0.0 else 0.0

    def _leaving(self) -> Iterator[Leaving]:
        leaving: dict[tuple[int, Source], list[Carried]] = {}
        for one in self.dish.carried:
            if one.node is None and not one.in_dish and one.source is not None:
                leaving.setdefault((one.part, one.source), []).append(one)
        for (at, outlet), arrows in leaving.items():
            departures = [one for one in self.flow.parts[at].leaves if one.source == outlet]
            if any(goes_on(self.weighed, self.flow, at, one) is not None for one in departures):
                continue
            taken: dict[_Food, tuple[float, float, float]] = {}
            bony: set[_Food] = set()
            for arrow in arrows:
                for food, item, amounts in self._measures(arrow.mix):
                    taken[food] = _sum(taken.get(food, (0.0, 0.0, 0.0)), amounts, self.times[at])
                    bony |= {food} if item.facts.bones else set()
            yield Leaving(
                at,
                outlet,
                sum(float(arrow.mix.rows(0, 1).total_mass[0]) for arrow in arrows),
                tuple(self._loss(food, amounts, food in bony) for food, amounts in taken.items()),
                coat=any(arrow.stream == _COAT for arrow in arrows),
                watered=any(_has_pot_water(arrow.mix) for arrow in arrows),
            )

    def _loss(self, food: _Food, amounts: tuple[float, float, float], bony: bool) -> Loss:
        whole, kind = self.amounts.get(food, (0.0, 0.0, 0.0)), self.kinds.get(food, "")
        share = 0.0
        if whole[0] > _NOTHING:
            measure = 1 if whole[1] > HARDLY_ANY * whole[0] else 0
            if kind not in BATH_KINDS and whole[2] > HARDLY_ANY * whole[0]:
                measure = 2
            share = min(1.0, amounts[measure] / whole[measure]) if whole[measure] > _NOTHING else 0.0
        of_batch = self._of_batch(food) if food in self.amounts else 0.0
        return Loss(food[0], food[1], share, of_batch, kind, bony)


def _sum(
    one: tuple[float, float, float], other: tuple[float, float, float], times: float
) -> tuple[float, float, float]:  # fmt: skip
    return one[0] + times * other[0], one[1] + times * other[1], one[2] + times * other[2]


def _is_food(item: Item) -> bool:
    return item.food is None or kind_of(item.food) not in BATH_KINDS


def _has_pot_water(mix: Mixture) -> bool:
    masses = zip(mix.items, mix.rows(0, 1).mass[0], strict=True)
    return any(item.origin is Origin.POT_WATER and grams > _NOTHING for item, grams in masses)
