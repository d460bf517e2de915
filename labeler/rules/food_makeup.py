"""What a recipe's food is made of, as the rules ask about it: shares of what went in, figures of what came out, and
what a cup of it weighs where it lies in pieces or grains.
"""

from __future__ import annotations

from collections.abc import Iterator

from labeler.foods.composition.food_table import load_table
from labeler.foods.food_class import LIQUOR, kind_of
from labeler.foods.makeup_class import makeup_classes_of
from labeler.foods.matching.name_words import words
from labeler.foods.model import WeighedLine
from labeler.foods.weights.household_measures import CUP_ML, forms_in
from labeler.foods.weights.volume_density import volume_weight
from labeler.nutrition.analysis import Nutrition
from labeler.nutrition.ingredient_weights import ingoing
from labeler.rules.makeup import MAKEUP_FIGURES, Makeup

__all__ = ["loose_density", "makeup_of"]


def makeup_of(nutrition: Nutrition) -> Makeup:
    """Shares by class of the weight that went in and stayed, and the figures of 100 g of the finished food."""
    shares: dict[str, float] = {}
    total = 0.0
    for line, grams in _uses(nutrition):
        total += grams
        food = line.match.food if line is not None and line.match is not None else None
        for name in makeup_classes_of(food) if food is not None and food in load_table() else ():
            shares[name] = shares.get(name, 0.0) + grams
    figures = {
        name: nutrition.per_100g[tag].best
        for name, tag in MAKEUP_FIGURES.items()
        if tag in nutrition.per_100g and nutrition.per_100g[tag].best is not None
    }
    return Makeup({name: 100.0 * grams / total for name, grams in shares.items()} if total > 0.0 else {}, figures)


def loose_density(nutrition: Nutrition) -> float | None:
    """What a millilitre of a food in pieces or grains weighs with the air between them [g/mL]; None where not known.

    The volumes that its ingredients fill by cups add up (their household measures in SR28); liquids and fats count with
    what the gaps between the pieces do not take. What it lost in the oven it lost in weight and not in volume. An
    estimate to be weighed; common practice, no source.
    """
    solid = fluid = room = grams_all = 0.0
    for line, grams in _uses(nutrition):
        food = line.match.food if line is not None and line.match is not None else None
        if line is None or food is None or food not in load_table():
            continue
        forms = forms_in(f"{line.line.name} {line.line.preparation}")
        millilitres = grams / volume_weight(food, CUP_ML, forms, words(line.line.name)).per_ml.best
        grams_all += grams
        if kind_of(food) in LIQUOR | {"fat"}:
            fluid += millilitres
        else:
            solid += millilitres
            room += max(0.0, millilitres - grams / _DENSE)
    millilitres = solid + max(0.0, fluid - room)
    finished = float(nutrition.dish.mix.total_mass[0])
    if millilitres <= 0.0 or finished <= 0.0 or grams_all <= 0.0:
        return None
    return min(1.0, finished / grams_all) * grams_all / millilitres


_DENSE = 1.1
"""About what a piece of food without air weighs [g/mL]."""


def _uses(nutrition: Nutrition) -> Iterator[tuple[WeighedLine | None, float]]:
    """Every use of an ingredient with its grams as it went in; None for what no line names."""
    lines = {
        (one.line.number, one.line.name or one.line.text): one
        for part in nutrition.weighed.parts
        for line in part.lines
        for one in (line, *line.also)
    }
    for place, grams in ingoing(nutrition.weighed, nutrition.dish).items():
        if len(place) > 1 and isinstance(place[-1], str) and grams > 0.0:
            yield lines.get((int(place[-2]), place[-1])), grams
