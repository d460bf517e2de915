"""The kitchen's account by ingredient: what of each food was put in, what each step took, what is in the dish.

The ledgers of the parts say the same part by part. Here every amount is for the whole batch: a part that is made
eight times counts eight times, and a stream that another part uses again is not lost.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np

from labeler.cooking.state.ledger import Dish, Ledger, LedgerEntry
from labeler.cooking.state.mixture import Array, Item, Mixture, column
from labeler.foods.composition.added_sugars import added_sugar_share
from labeler.foods.composition.food_table import load_table
from labeler.types import Status
from labeler.worksheet.model import Amounts, Balance, FoodRow, IngredientRow, Left, StepRow

__all__ = ["WEIGHT", "balances", "food_rows", "ingredient_rows", "step_rows"]

WEIGHT = "g"
"""The tag that stands for weight among the balances."""

ADDED_SUGARS = "SUGAR_ADDED"
# What arithmetic leaves of nothing [g or the table's unit].
_DUST = 1e-9

Key = tuple[str, int, str | None, str]


def _food(item: Item) -> str | None:
    """Id of the food: the cook's own before the table's food that it is like."""
    return item.own.id if item.own is not None else item.food


def _share(item: Item) -> float:
    """Share of an item's sugars that was added, in its best estimate."""
    if item.own is not None and item.own.added_share is not None:
        return item.own.added_share.best
    return added_sugar_share(item.food).best if item.food is not None else 0.0


def item_amounts(mix: Mixture, tags: Sequence[str]) -> Array:
    """Best estimate of each nutrient in each item of a mix, in the table's units, shape (items, tags)."""
    first = mix.rows(0, 1)
    sources = ["SUGAR" if tag == ADDED_SUGARS else tag for tag in tags]
    found = np.stack([first.of(key)[0] for key in sources], axis=1) if tags else np.zeros((len(mix.items), 0))
    if ADDED_SUGARS in tags:
        shares = np.array([_share(item) for item in mix.items])
        found[:, tags.index(ADDED_SUGARS)] *= shares
    return found


def _unknown(mix: Mixture, tags: Sequence[str]) -> np.ndarray:
    """Where a figure of an item is missing, shape (items, tags)."""
    at = [column("SUGAR" if tag == ADDED_SUGARS else tag) for tag in tags]
    missing: np.ndarray = mix.status[:, at] == Status.MISSING
    return missing


def _key(item: Item) -> Key:
    return item.part, item.line, _food(item), item.name


def _new(ledger: Ledger) -> Iterator[LedgerEntry]:
    """What goes into a part and comes from no other part."""
    for entry in ledger.added:
        if all(item.part == ledger.part for item in entry.mix.items):
            yield entry


def _as_amounts(tags: Sequence[str], values: Array, unknown: np.ndarray | None = None) -> Amounts:
    gaps = np.zeros(len(tags), dtype=bool) if unknown is None else unknown
    return {tag: None if gap else float(value) for tag, value, gap in zip(tags, values, gaps, strict=True)}


@dataclass
class _Ingredient:
    """What is gathered of one ingredient."""

    weighed: bool
    put_in_g: float = 0.0
    in_dish_g: float = 0.0
    put_in: Array = field(default_factory=lambda: np.zeros(0))
    in_dish: Array = field(default_factory=lambda: np.zeros(0))
    unknown: np.ndarray = field(default_factory=lambda: np.zeros(0, dtype=bool))
    left: list[Left] = field(default_factory=list)


def ingredient_rows(dish: Dish, tags: Sequence[str]) -> tuple[IngredientRow, ...]:
    """Every ingredient of the batch with what was put in, what each step took of it, and what is in the dish.

    Parameters
    ----------
    dish : Dish
    tags : sequence of str
        Nutrients to follow; each a key of the kitchen or ``"SUGAR_ADDED"``.
    """
    found: dict[Key, _Ingredient] = {}

    def of(item: Item, unknown: np.ndarray) -> _Ingredient:
        blank = _Ingredient(item.weighed, put_in=np.zeros(len(tags)), in_dish=np.zeros(len(tags)), unknown=unknown)
        return found.setdefault(_key(item), blank)

    for ledger in dish.ledgers:
        for entry in _new(ledger):
            grams, amounts, unknown = entry.mix.mass[0], item_amounts(entry.mix, tags), _unknown(entry.mix, tags)
            for at, item in enumerate(entry.mix.items):
                one = of(item, unknown[at])
                one.put_in_g += float(grams[at]) * ledger.times
                one.put_in = one.put_in + amounts[at] * ledger.times
    for ledger in dish.ledgers:
        for left, item, unknown_here in _taken(ledger, tags):
            of(item, unknown_here).left.append(left)
    grams, amounts, unknown = dish.mix.mass[0], item_amounts(dish.mix, tags), _unknown(dish.mix, tags)
    for at, item in enumerate(dish.mix.items):
        one = of(item, unknown[at])
        one.in_dish_g += float(grams[at])
        one.in_dish = one.in_dish + amounts[at]
    return tuple(
        IngredientRow(
            line=line,
            part=part,
            name=name,
            food=food,
            put_in_g=one.put_in_g if one.weighed else None,
            in_dish_g=one.in_dish_g,
            put_in=_as_amounts(tags, one.put_in, one.unknown),
            in_dish=_as_amounts(tags, one.in_dish, one.unknown),
            left=tuple(one.left),
        )
        for (part, line, food, name), one in found.items()
    )


def _taken(ledger: Ledger, tags: Sequence[str]) -> Iterator[tuple[Left, Item, np.ndarray]]:
    """What each step of a part took of each ingredient, the phases of one ingredient together."""
    for stage in ledger.stages:
        for entry in stage.streams:
            lost = ledger.times * (1.0 - entry.reused)
            grams, amounts, unknown = entry.mix.mass[0], item_amounts(entry.mix, tags), _unknown(entry.mix, tags)
            places: dict[Key, list[int]] = {}
            for at, item in enumerate(entry.mix.items):
                places.setdefault(_key(item), []).append(at)
            for same in places.values():
                weight, values = float(grams[same].sum()) * lost, amounts[same].sum(axis=0) * lost
                item, open_here = entry.mix.items[same[0]], unknown[same[0]]
                if abs(weight) > _DUST or (np.abs(values) > _DUST).any():
                    gone = _as_amounts(tags, values, open_here)
                    yield Left(ledger.part, stage.line, stage.text, entry.stream, weight, gone), item, open_here


def step_rows(dish: Dish, tags: Sequence[str]) -> tuple[StepRow, ...]:
    """The account of every part: each food put in, what was taken from other parts, what left by which step, the rest.

    Parameters
    ----------
    dish : Dish
    tags : sequence of str
        As for `ingredient_rows`.
    """
    return tuple(row for ledger in dish.ledgers for row in _part_rows(ledger, tags))


def _part_rows(ledger: Ledger, tags: Sequence[str]) -> Iterator[StepRow]:
    new = {id(entry) for entry in _new(ledger)}
    for entry in ledger.added:
        if id(entry) in new:
            for at, item in enumerate(entry.mix.items):
                one = entry.mix.select([at])
                yield _row(ledger, LedgerEntry("put in", one, item.name), tags, way="in", line=item.line)
        else:
            yield _row(ledger, LedgerEntry("from another part", entry.mix, entry.name), tags, way="in", line=None)
    for stage in ledger.stages:
        for entry in stage.streams:
            yield _row(ledger, entry, tags, way="out", line=stage.line, step=stage.text, method=stage.method)
        if not stage.streams:
            nothing = LedgerEntry("nothing leaves", ledger.kept.scaled(0.0))
            yield _row(ledger, nothing, tags, way="out", line=stage.line, step=stage.text, method=stage.method)
    method = ledger.measured.basis if ledger.measured else ""
    if ledger.times != 1.0:
        method = "; ".join(filter(None, (method, f"made {ledger.times:g} times, all of them counted")))
    yield _row(ledger, LedgerEntry("kept", ledger.kept), tags, way="kept", line=None, method=method)


def _row(
    ledger: Ledger,
    entry: LedgerEntry,
    tags: Sequence[str],
    *,
    way: str,
    line: int | None,
    step: str = "",
    method: str = "",
) -> StepRow:
    grams = entry.grams.scaled(ledger.times) if entry.stream != "nothing leaves" else None
    best = grams.best if grams else 0.0
    amounts = item_amounts(entry.mix, tags).sum(axis=0) * ledger.times
    return StepRow(
        part=ledger.part,
        line=line,
        step=step,
        stream=entry.stream,
        name=entry.name,
        grams_in=best if way == "in" else None,
        grams_out=best if way == "out" else None,
        grams_kept=best if way == "kept" else None,
        low=grams.low if grams else None,
        high=grams.high if grams else None,
        reused=entry.reused or None,
        method=method,
        amounts=_as_amounts(tags, amounts),
    )


def balances(dish: Dish, tags: Sequence[str]) -> tuple[Balance, ...]:
    """Where the weight and each nutrient of everything put in has gone.

    Parameters
    ----------
    dish : Dish
    tags : sequence of str
        As for `ingredient_rows`; the weight comes first, under the tag `WEIGHT`.

    ``put_in = in_dish + left_over + sum(streams)``: what the kitchen conserves part by part holds for the batch.
    """
    put_in = _sum((entry.mix.scaled(ledger.times) for ledger in dish.ledgers for entry in _new(ledger)), tags)
    streams: dict[str, Array] = {}
    for ledger in dish.ledgers:
        for entry in ledger.streams:
            lost = _whole(entry.mix, tags) * ledger.times * (1.0 - entry.reused)
            streams[entry.stream] = streams.get(entry.stream, 0.0) + lost
    left_over = np.zeros(len(tags) + 1)
    for ledger in dish.ledgers:
        if ledger.part not in dish.served:
            left_over = left_over + _whole(ledger.kept, tags) * ledger.times * (1.0 - ledger.used)
    in_dish = _whole(dish.mix, tags)
    return tuple(
        Balance(
            tag=tag,
            put_in=float(put_in[at]),
            streams={name: float(lost[at]) for name, lost in streams.items() if abs(lost[at]) > _DUST},
            left_over=float(left_over[at]) if abs(left_over[at]) > _DUST else 0.0,
            in_dish=float(in_dish[at]),
        )
        for at, tag in enumerate((WEIGHT, *tags))
    )


def _whole(mix: Mixture, tags: Sequence[str]) -> Array:
    """Weight [g] and nutrients of a mix in its best estimate, shape (1 + tags,)."""
    whole: Array = np.append(mix.total_mass[0], item_amounts(mix, tags).sum(axis=0))
    return whole


def _sum(mixes: Iterable[Mixture], tags: Sequence[str]) -> Array:
    total = np.zeros(len(tags) + 1)
    for mix in mixes:
        total = total + _whole(mix, tags)
    return total


def food_rows(dish: Dish, tags: Sequence[str]) -> tuple[FoodRow, ...]:
    """What each food of the batch holds per 100 g as it goes in, each food once.

    Parameters
    ----------
    dish : Dish
    tags : sequence of str
        As for `ingredient_rows`.
    """
    rows: dict[str, FoodRow] = {}
    for ledger in dish.ledgers:
        for entry in _new(ledger):
            sources = [column("SUGAR" if tag == ADDED_SUGARS else tag) for tag in tags]
            per_100g, unknown = entry.mix.composition.sum(axis=1)[:, sources] * 100.0, _unknown(entry.mix, tags)
            for at, item in enumerate(entry.mix.items):
                food = _food(item)
                if food is None or food in rows:
                    continue
                values = [
                    value * (_share(item) if tag == ADDED_SUGARS else 1.0)
                    for tag, value in zip(tags, per_100g[at], strict=True)
                ]
                status = {
                    tag: Status(int(entry.mix.status[at, place])).words
                    for tag, place in zip(tags, sources, strict=True)
                }
                amounts = _as_amounts(tags, np.array(values), unknown[at])
                rows[food] = FoodRow(food, _described(item), amounts, status)
    return tuple(rows.values())


def _described(item: Item) -> str:
    table = load_table()
    like = table.describe(item.food) if item.food is not None and item.food in table else ""
    if item.own is None:
        return like
    return f"{item.own.name}: {item.own.basis}" + (f"; for the rest like {like}" if like else "")
