"""What is in a serving, in 100 g and in the batch, and how sure that is.

The kitchen says what ended up in the dish; here it is added up and divided. Best estimates come from that alone;
intervals from the same over draws, to which the doubt about foods, their composition and the division is added.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import asdict, dataclass, field, replace
from functools import cached_property, partial
from typing import Any

import numpy as np

from labeler.cooking.pipeline import cook
from labeler.cooking.serving import Portion, portion
from labeler.cooking.state.ledger import Dish, Ledger
from labeler.cooking.state.mixture import Array
from labeler.cooking.step_summaries import in_short
from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.foods.resolve import weigh
from labeler.markets import market_of
from labeler.nutrition.totals import FIGURE_KEYS, Figure, energy_by_general_factors, figures, missing_bound
from labeler.parsing.model import Recipe
from labeler.types import Problem
from labeler.uncertainty.amount_rounding import with_rounding
from labeler.uncertainty.monte_carlo import Drawn, Inputs, draw_dish, propagate

__all__ = ["Figure", "LedgerRow", "Nutrition", "PartFigures", "analyse", "missing_bound"]

DRAWS = 2000
# Of a part's draws one in so many is enough: the linear part carries its interval.
PART_DRAWS = 4


LEFT_OVER = 0.02  # share of a part below which nothing worth naming is left of it


@dataclass(frozen=True, slots=True)
class LedgerRow:
    """One line of a part's account: the step, what became of it, how many grams, and how that was worked out.

    `basis` is the full account, `short` one sentence of it in the trade's words.
    """

    step: str
    stream: str
    grams: float
    basis: str
    short: str = ""

    @property
    def in_short(self) -> str:
        """The short sentence, or the account itself where it has none."""
        return self.short or self.basis


@dataclass(frozen=True)
class PartFigures:
    """One part: grams in, grams kept, the account between them, and its composition per 100 g when asked for."""

    title: str
    grams_in: float
    grams_kept: float
    ledger: tuple[LedgerRow, ...]
    _composition: Callable[[], dict[str, Figure]] = field(repr=False, compare=False)

    @cached_property
    def per_100g(self) -> dict[str, Figure]:
        """Nutrients of 100 g of the part; empty where nothing of it is left."""
        return self._composition()


@dataclass(frozen=True)
class Nutrition:
    """The nutrition of a recipe.

    Parameters
    ----------
    title : str
    servings : float
        How many servings the batch makes.
    serving_g : float
        Weight of one [g].
    serving_basis : str
        Where the division comes from, in words.
    per_serving : dict of str to Figure
        By INFOODS tagname, in the table's units.
    energy_check : float
        Energy of a serving by the general factors 4, 4, 9 and 7 kcal/g [kcal].
    lines : tuple of (part title, WeighedLine)
    problems : tuple of Problem
    portion : Portion
        How the batch is divided.
    weighed, dish : WeighedRecipe, Dish
        What the figures come from.
    market : str
        Whose cups and spoons.
    nutrients : frozenset of str
        What there are figures of.
    drawn : Drawn or None
        The draws behind the intervals; None where there are none.
    """

    title: str
    servings: float
    serving_g: float
    serving_basis: str
    per_serving: dict[str, Figure]
    energy_check: float
    lines: tuple[tuple[str, WeighedLine], ...]
    problems: tuple[Problem, ...]
    portion: Portion
    weighed: WeighedRecipe
    dish: Dish
    market: str
    nutrients: frozenset[str]
    drawn: Drawn | None = None

    @cached_property
    def per_100g(self) -> dict[str, Figure]:
        """Nutrients of 100 g of what is served, as `per_serving`; worked out when first asked for."""
        mass = float(self.dish.mix.total_mass[0])
        if mass > 0:
            hundreds = None if self.drawn is None else self.drawn.mass / 100.0
            return _figures(self.dish, self.drawn, mass / 100.0, hundreds, self.nutrients)
        # Of nothing there are no 100 g: what is open stays open.
        return {
            key: replace(figure.scaled(0.0), missing=np.inf if figure.lower_bound else 0.0)
            for key, figure in self.batch.items()
        }

    @cached_property
    def batch(self) -> dict[str, Figure]:
        """Nutrients of all that was made, as `per_serving`; worked out when first asked for."""
        return _figures(self.dish, self.drawn, 1.0, None, self.nutrients)

    @cached_property
    def parts(self) -> tuple[PartFigures, ...]:
        """Each part of the recipe, in its order, with its account; worked out when first asked for."""
        # A part that alone is served is the dish: its 100 g are the dish's, and are worked out once.
        whole = self.dish.served[0] if len(self.dish.served) == 1 else None
        return tuple(
            _part_figures(ledger, partial(self._composition, ledger, is_dish=ledger.part == whole))
            for ledger in self.dish.ledgers
        )

    def _composition(self, ledger: Ledger, *, is_dish: bool) -> dict[str, Figure]:
        """Nutrients of 100 g of a part."""
        kept = ledger.grams.best
        if kept <= 0:
            return {}
        if is_dish:
            return self.per_100g
        best = ledger.kept.rows(0, 1)
        if self._few is None or self.drawn is None:
            return figures(best, kept / 100.0, nutrients=self.nutrients)
        spread = replace(ledger.kept, held=ledger.kept.held[1::PART_DRAWS])
        drawn = propagate(best, spread, self._few, self.drawn.choices)
        hundreds = spread.total_mass / 100.0
        return figures(
            best, kept / 100.0, spread=spread, drawn=drawn, divisor_spread=hundreds, nutrients=self.nutrients
        )

    @cached_property
    def _few(self) -> Inputs | None:
        """The draws that the intervals of parts are taken from."""
        return None if self.drawn is None else self.drawn.inputs.every(PART_DRAWS)

    @cached_property
    def weigh_next(self) -> tuple[Mapping[str, Any], ...]:
        """What to measure for surer figures, the most useful first.

        One to three objects with `measure` (what to do), `type` (what to type), `nutrient` (tagname of the figure that
        gains most), `removes` (share of its interval per serving, 0 to 1) and `message`; none without draws. Worked
        out when first asked for, as it runs the recipe again.
        """
        if self.drawn is None:
            return ()
        from labeler.uncertainty.next_measurement import weigh_next

        found = weigh_next(self.weighed, self.dish, self.portion, self.drawn, market=self.market)
        return tuple(asdict(advice) for advice in found)


def _part_figures(ledger: Ledger, composition: Callable[[], dict[str, Figure]]) -> PartFigures:
    rows = [LedgerRow("in", entry.name or entry.stream, entry.grams.best, "as weighed") for entry in ledger.added]
    for stage in ledger.stages:
        short = in_short(stage.action, stage.account)
        rows.extend(
            LedgerRow(stage.text, entry.stream, entry.grams.best, stage.method, short) for entry in stage.streams
        )
        if not stage.streams:
            rows.append(LedgerRow(stage.text, "nothing leaves", 0.0, stage.method, short))
    kept = ledger.grams.best
    told = "what is left" if ledger.measured is None else ledger.measured.basis or "as measured"
    rows.append(LedgerRow("kept", "in the part", kept, told))
    if ledger.left_over > LEFT_OVER * kept:
        rows.append(LedgerRow("kept", "of that, left over", ledger.left_over, "taken by no other part, in no figure"))
    return PartFigures(ledger.part, sum(entry.grams.best for entry in ledger.added), kept, tuple(rows), composition)


def _figures(
    dish: Dish, drawn: Drawn | None, divisor: float, divisor_spread: Array | None, nutrients: Collection[str]
) -> dict[str, Figure]:
    """Figures of the dish over one divisor; without the divisor's draws, as it is."""
    if drawn is None:
        return figures(dish.mix, divisor, nutrients=nutrients)
    if divisor_spread is None:
        divisor_spread = np.full(drawn.inputs.draws, divisor)
    return figures(
        dish.mix,
        divisor,
        spread=dish.spread,
        drawn=drawn.propagated,
        divisor_spread=divisor_spread,
        nutrients=nutrients,
    )


def analyse(
    recipe: Recipe,
    *,
    market: str | None = None,
    draws: int = DRAWS,
    seed: int = 0,
    nutrients: Collection[str] | None = None,
) -> Nutrition:
    """The nutrition of a recipe, from its text alone.

    Parameters
    ----------
    recipe : Recipe
        As `labeler.read_recipe` gives it.
    market : str or None
        Whose cups and spoons the recipe means; None takes the head's `market`, else us.
    draws : int
        Draws for the intervals; 0 for best estimates alone. Best estimates do not depend on it.
    seed : int
        Settles the draws: the same text and seed give the same intervals.
    nutrients : collection of str or None
        INFOODS tagnames to have figures of; None for all that the table follows. Fewer take less time.

    Returns
    -------
    Nutrition
        Figures by INFOODS tagname in the food table's units (kcal, g, mg, µg), per serving, per 100 g and per batch,
        with intervals that hold 95 % of the draws. What could not be read, found or weighed is among its problems, and
        the figures are then lower bounds.

    Source: recipe calculation after FAO/INFOODS: weights × composition × yield and retention factors.

    Examples
    --------
    >>> recipe = labeler.read_recipe("---\\nserves: 4\\n---\\n# Icing\\n- 200 g butter\\n- 400 g icing sugar\\n")
    >>> fat = labeler.analyse(recipe).per_serving["FAT"]  # g; 50 g of butter with about 81 % fat
    >>> round(fat.best), fat.low < fat.best < fat.high
    (41, True)
    """
    place = market_of(recipe, market)
    weighed = weigh(recipe, market=place)
    dish = cook(with_rounding(weighed), draws=draws, seed=seed)
    divided = portion(recipe, dish, market=place)
    drawn = draw_dish(weighed, dish, divided, seed=seed)
    wanted = frozenset(FIGURE_KEYS if nutrients is None else nutrients)
    mass = float(dish.mix.total_mass[0])
    by_weight = divided.by_weight and mass > 0
    count = mass / divided.grams if by_weight else divided.count
    per_serving = _figures(dish, drawn, count, None if drawn is None else drawn.servings, wanted)
    lines = tuple((part.title, line) for part in weighed.parts for line in part.lines)
    problems = dict.fromkeys(
        (
            *weighed.problems,
            *(problem for _, line in lines for problem in line.problems),
            *dish.problems,
            *divided.problems,
        )
    )
    return Nutrition(
        title=recipe.title,
        servings=divided.count,
        serving_g=divided.grams,
        serving_basis=divided.basis,
        per_serving=per_serving,
        energy_check=energy_by_general_factors(dish.mix, count),
        lines=lines,
        problems=tuple(problems),
        portion=divided,
        weighed=weighed,
        dish=dish,
        market=place,
        nutrients=wanted,
        drawn=drawn,
    )
