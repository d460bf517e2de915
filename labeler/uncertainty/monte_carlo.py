"""A mix over draws with everything that is uncertain about it: weights and handling, which food it was, what is in it.

The kitchen's draws carry the first. To each draw comes, for every line whose words may mean several foods, one of them,
and then the deviations of the foods' composition. Only the interval rests on this; best estimates never do.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, cached_property, lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from labeler.cooking.serving import Portion
from labeler.cooking.state.ledger import Dish
from labeler.cooking.state.mixture import CONSTITUENTS, KEYS, Array, Mixture
from labeler.cooking.state.normal_quantiles import normal_quantile
from labeler.cooking.state.sampling import Cause, DrawKey, Sampler
from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.name_words import words
from labeler.foods.model import WeighedRecipe
from labeler.types import Interval
from labeler.uncertainty.food_identity import Candidates, plausible
from labeler.uncertainty.intervals import (
    BasisFunction,
    Fitter,
    Reals,
    Term,
    chosen,
    functions_for,
    percentiles,
    piecewise,
)
from labeler.uncertainty.linear_effects import projection
from labeler.uncertainty.mixture_spread import MixSpread, composition_normals, mix_spread, with_tied
from labeler.uncertainty.portioning import division

__all__ = [
    "Choice",
    "Choices",
    "Drawn",
    "Inputs",
    "Propagated",
    "chosen_food",
    "draw_dish",
    "inverse",
    "propagate",
]

_SOLIDS = CONSTITUENTS.index("solids")


class Choice(NamedTuple):
    """The foods that a line may mean.

    Parameters
    ----------
    key : DrawKey
        Of the draw that chooses among them: the food that the line is taken for, and its words.
    foods : Candidates
    """

    key: DrawKey
    foods: Candidates


Choices = Mapping[tuple[str, int, str], Choice]
"""What may be meant, by part title, line number and the food that the line is taken for."""


def choices_of(weighed: WeighedRecipe) -> Choices:
    """The plausible foods of every line that has more than one."""
    found = {}
    for part in weighed.parts:
        for line in part.lines:
            for one in (line, *line.also):
                foods = plausible(one)
                if foods and one.match is not None and one.match.food is not None:
                    tokens = words(f"{one.line.name} {one.line.preparation}")
                    key = DrawKey(Cause.FOOD, (one.match.food, *tokens))
                    found[part.title, one.line.number, one.match.food] = Choice(key, foods)
    return found


@dataclass(frozen=True)
class Inputs:
    """Everything that is drawn, as independent standard normals.

    Parameters
    ----------
    keys : tuple of DrawKey
        What each row is: weights and handling, then choices of foods, then the division.
    normals : array (inputs, draws)
    order : array of int (draws,)
        The order in which composition is drawn, which has nothing to do with the rest.
    whole : int
        How many draws there were before some were left out.
    choices : tuple of Choice
        What choices of foods are among.
    """

    keys: tuple[DrawKey, ...]
    normals: Reals
    order: NDArray[np.intp]
    whole: int
    choices: tuple[Choice, ...] = ()

    @property
    def draws(self) -> int:
        """How many draws there are."""
        return len(self.order)

    def every(self, step: int) -> Inputs:
        """One draw of every `step` only."""
        normals = np.ascontiguousarray(self.normals[:, ::step])
        return Inputs(self.keys, normals, self.order[::step], self.whole, self.choices)

    @cached_property
    def projection(self) -> Reals:
        """Array (draws, inputs) that takes totals to the linear effects of the inputs on them."""
        return projection(self.normals)

    @cached_property
    def basis(self) -> BasisFunction | None:
        """Functions of each input alone; None where there are too few draws to fit any."""
        among = {choice.key: choice for choice in self.choices}
        found = functions_for(
            self.draws,
            inputs=len(self.keys) - len(among),
            choices=len(among),
            values=sum(len(choice.foods) - 1 for choice in self.choices),
        )
        if found is None:
            return None
        terms: list[Term] = []
        for key, normals in zip(self.keys, self.normals, strict=True):
            choice = among.get(key)
            if choice is None or not found.values:
                terms.append(piecewise(normals, found.bends))
            else:
                places = chosen_food(str(key.of[0]), choice.foods, normals)
                terms.append(chosen(places, [weight for _, weight in choice.foods]))
        return BasisFunction(terms, self.draws)

    def linear(self, totals: Reals) -> Reals:
        """Linear effects of the inputs on some totals (totals, draws), shape (totals, inputs), in the totals' units."""
        effects: Reals = totals @ self.projection
        return effects


def inputs_of(dish: Dish, choices: Choices, *, divided: Interval, seed: int) -> tuple[Inputs, Array]:
    """The inputs of a dish, and the draws of its division.

    Parameters
    ----------
    dish : Dish
        Cooked with draws; ValueError for one that was not.
    choices : Choices
    divided : Interval
        One serving over what it is taken to be.
    seed : int
        Of the dish.
    """
    if dish.spread is None:
        raise ValueError("the dish was cooked without draws")
    count = dish.spread.draws
    draws = Sampler(count, seed=seed)
    for choice in choices.values():
        draws.normal(choice.key.cause, *choice.key.of)
    share = draws.draw(divided, Cause.DIVISION)[1:]
    columns = {key: normals[1:] for key, normals in {**dish.inputs, **draws.named}.items()}
    normals = np.array(list(columns.values())).reshape(-1, count)
    order = draws.order(Cause.COMPOSITION)
    among = {choice.key: choice for choice in choices.values()}
    return Inputs(tuple(columns), normals, order, count, tuple(among.values())), share


@dataclass(frozen=True)
class Propagated:
    """A mix over draws with everything that is uncertain about it, each nutrient when it is first asked for.

    Which others are asked for with it changes nothing but the last digits of a sum (about 1e-14 of it).

    Parameters
    ----------
    best : Mixture
        One draw, the best estimate.
    spread : Mixture
        The same over the draws of `inputs`.
    inputs : Inputs
    choices : Choices
    composition : MixSpread
        Where the deviations of composition come from.
    """

    best: Mixture
    spread: Mixture
    inputs: Inputs
    choices: Choices
    composition: MixSpread
    _found: dict[int, tuple[Reals, Reals]] = field(default_factory=dict, repr=False)
    _fitters: dict[tuple[int, ...], tuple[Fitter, Reals]] = field(default_factory=dict, repr=False)

    def totals(self, rows: Sequence[int]) -> Reals:
        """Amounts of some nutrients in the whole, by their places in `KEYS`, shape (rows, draws)."""
        self._draw(rows)
        return np.array([self._found[row][0] for row in rows])

    def own(self, rows: Sequence[int]) -> Reals:
        """Standard normals behind the deviations of composition of some nutrients, shape (rows, draws)."""
        self._draw(rows)
        return np.array([self._found[row][1] for row in rows])

    def _draw(self, rows: Sequence[int]) -> None:
        new = [row for row in with_tied(rows) if row not in self._found]
        if not new:
            return
        drawn = self.spread.total_of(new) + _other_foods(self.best, self.spread, self.inputs, self.choices, new)
        inputs, composition = self.inputs, self.composition
        normals, deviations = composition_normals(composition, inputs.order, of=inputs.whole, rows=new)
        # A deviation is of so much per gram: it grows and shrinks with what is there.
        known = self.best.total_of(new)
        deviations *= np.divide(drawn, known, out=np.ones_like(drawn), where=known > 0.0)
        self._found.update(zip(new, zip(np.maximum(drawn + deviations, 0.0), normals, strict=True), strict=True))

    def interval(self, divisor: Array, rows: Sequence[int]) -> tuple[Reals, Reals]:
        """Ends of the 95 % intervals over a divisor (draws,) of the totals in some rows.

        A draw whose divisor is 0, of a dish that it leaves empty, counts as nothing.
        """
        totals = self.totals(rows) * inverse(divisor)
        if self.inputs.basis is None:
            return percentiles(totals)
        fitter, scales = self._fitted(self.inputs.basis, tuple(rows))
        return fitter.ends(totals, scales)

    def _fitted(self, basis: BasisFunction, rows: tuple[int, ...]) -> tuple[Fitter, Reals]:
        """What fits sums to the totals of some rows, and on which scales; the same over every divisor."""
        if rows not in self._fitters:
            fitter = Fitter(self.own(rows), basis)
            self._fitters[rows] = fitter, fitter.scales(self.totals(rows))
        return self._fitters[rows]


@dataclass(frozen=True, slots=True)
class Drawn:
    """A dish over draws, with what its figures are divided by.

    Parameters
    ----------
    inputs : Inputs
    choices : Choices
    propagated : Propagated
    mass : array (draws,)
        Weight of the batch [g].
    servings : array (draws,)
        Servings in the batch.
    divided : Interval
        One serving over what it is taken to be.
    """

    inputs: Inputs
    choices: Choices
    propagated: Propagated
    mass: Array
    servings: Array
    divided: Interval


def draw_dish(weighed: WeighedRecipe, dish: Dish, divided: Portion, *, seed: int = 0) -> Drawn | None:
    """Everything that is uncertain about a dish, drawn; None for a dish that was cooked without draws.

    `seed` is that of the dish.
    """
    if dish.spread is None:
        return None
    share = division(divided, weighed.recipe.head)
    choices = choices_of(weighed)
    inputs, serving = inputs_of(dish, choices, divided=share, seed=seed)
    mass = dish.spread.total_mass
    servings = mass / divided.grams if divided.by_weight else np.full(len(mass), divided.count)
    servings = np.divide(servings, serving, out=np.ones_like(serving), where=serving > 0.0)
    propagated = propagate(dish.mix, dish.spread, inputs, choices)
    return Drawn(inputs, choices, propagated, mass, servings, share)


def propagate(best: Mixture, spread: Mixture, inputs: Inputs, choices: Choices) -> Propagated:
    """Draw everything that is uncertain about a mix, given as its best estimate and over the draws of `inputs`."""
    return Propagated(best, spread, inputs, choices, mix_spread(best))


def inverse(divisor: Array) -> Array:
    """One over a divisor, 0 where that is 0."""
    return np.divide(1.0, divisor, out=np.zeros_like(divisor), where=divisor > 0.0)


@cache
def _per_gram(food: str) -> Array:
    """The table's figures per gram in the order of `KEYS`, NaN where missing."""
    table = load_table()
    per_gram: Array = table.values[table.position[food], [table.column[key] for key in KEYS]] / 100.0
    return per_gram


@lru_cache(maxsize=2048)
def _choice(food: str, foods: Candidates) -> tuple[Array, Array]:
    """Where a standard normal passes from one candidate to the next, and what each has more than the matched food.

    Bounds (candidates - 1,), differences per gram (candidates, nutrients); 0 where either lacks data.
    """
    upto = np.clip(np.cumsum([weight for _, weight in foods])[:-1], 1e-9, 1.0 - 1e-9)
    differences = np.nan_to_num(np.stack([_per_gram(other) for other, _ in foods]) - _per_gram(food))
    return normal_quantile(upto), differences


def chosen_food(food: str, foods: Candidates, normals: Reals) -> NDArray[np.intp]:
    """Which candidate each draw means, by place in `foods`, from the standard normals of the choice (draws,)."""
    return np.searchsorted(_choice(food, foods)[0], normals)


def _other_foods(best: Mixture, spread: Mixture, inputs: Inputs, choices: Choices, rows: Sequence[int]) -> Reals:
    """What the totals of some nutrients change because a line meant another food, shape (rows, draws).

    A food's nutrients keep the share that handling left of the matched food's; what the other lacks data of stays.
    """
    groups: dict[tuple[str, Choice], list[int]] = {}
    for at, item in enumerate(best.items):
        if item.food is not None:
            choice = choices.get((item.part, item.line, item.food))
            if choice is not None:
                groups.setdefault((item.food, choice), []).append(at)
    place = {key: at for at, key in enumerate(inputs.keys)}
    draws = np.arange(spread.draws)
    changes: list[Array] = []
    weights = np.zeros((sum(len(choice.foods) for _, choice in groups), spread.draws))
    for (food, choice), items in groups.items():
        row = place.get(choice.key)
        grams = best.held[0][items, _SOLIDS].sum()
        if row is None or grams <= 0.0:
            continue
        differences = _choice(food, choice.foods)[1][:, rows]
        own = _per_gram(food)[rows]
        amount = np.einsum("ik,ikn->n", best.held[0][items], best.composition[items][:, :, rows])
        standing = np.divide(amount, own, out=np.full(len(rows), grams), where=own > 0.0)
        chosen = len(changes) + chosen_food(food, choice.foods, inputs.normals[row])
        weights[chosen, draws] = spread.held[:, items, _SOLIDS].sum(axis=1) / grams
        changes.extend(standing * differences)
    if not changes:
        return np.zeros((len(rows), 1))
    return np.asarray(np.stack(changes, axis=1) @ weights[: len(changes)])
