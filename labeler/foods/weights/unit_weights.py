"""Counts to weight: what one onion, one clove, one bunch, one can of a food weighs.

In order: the kitchen figures of ``data/pieces.csv`` that name the food; the food's own pieces in SR28 by size and
noun; the figures for any food. A recipe that says no size means medium, of eggs large.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.name_words import words
from labeler.foods.weights.household_measures import Household, households, own_basis
from labeler.foods.weights.reference_weights import ReferenceWeight, ReferenceWeights, best_figure, load_figures
from labeler.types import Interval

__all__ = ["PieceWeight", "piece_weight", "taken_weight"]

# Weight of a size by that of the medium one, where a source has only one size: from SR28's own vegetables and
# fruits, whose small ones weigh some 0.7 and large ones some 1.4 of the medium.
_SIZE_FACTOR = {"extra small": 0.5, "small": 0.7, "medium": 1.0, "large": 1.35, "extra large": 1.7, "jumbo": 2.0}
_SPREAD = 0.25
"""How far one piece of a size differs from the next: common practice, no source."""

_FLAT, _ROUND, _LONG = 2.0, 3.0, 1.4
_BAKED = 1800
_AS_LONG = 0.15
"""A piece is of a stated length where SR28's differs from it by no more than this."""

# SR28's own words for a whole one of a food.
_WHOLES = frozenset(
    "fruit whole piece each item unit bulb root vegetable bird fish fillet head plant melon squash berry nut kernel "
    "round".split()
)
# One unit of the kitchen registry under the names that SR28 uses for it.
_ALSO = {
    "rib": ("stalk", "rib"),
    "stalk": ("stalk", "spear", "shoot"),
    "package": ("package", "container", "box", "pouch", "bag"),
    "packet": ("packet", "package", "envelope"),
    "envelope": ("envelope", "packet"),
    "bag": ("bag", "package"),
    "box": ("box", "package"),
    "container": ("container", "package"),
    "carton": ("carton", "container"),
    "can": ("can",),
    "bulb": ("bulb", "head"),
    "head": ("head", "bulb"),
    "leaf": ("leaf",),
    "strip": ("strip", "slice"),
    "cube": ("cube",),
    "floret": ("floweret",),
    "segment": ("segment", "section", "wedge"),
    "wedge": ("wedge",),
    "link": ("link", "sausage"),
}


# "lime juice" counted in limes: what is taken is no part of what is counted.
_TAKEN = frozenset(words("juice zest peel rind kernel yolk white"))


# Pieces whose figures stand under another name.
_LIKE = {
    "branch": "sprig",
    "twist": "strip",
    "segment": "wedge",
    "bulb": "head",
    "packet": "envelope",
    "tub": "container",
}


class PieceWeight(NamedTuple):
    """Grams of one piece with its basis; `default` where no figure names this food."""

    grams: Interval
    default: bool


def _sized(figure: ReferenceWeight, size: str | None) -> Interval:
    """The figure for the size asked: as it stands where it is of that size, else scaled from medium."""
    factor = _SIZE_FACTOR[size] if size and not figure.size else 1.0
    return figure.value if factor == 1.0 else figure.value.scaled(factor)


@lru_cache(maxsize=16384)
def piece_weight(
    food: str, piece: str, size: str | None, name: tuple[str, ...], inches: float | None = None
) -> PieceWeight | None:
    """What one piece of a food weighs, edible part.

    Parameters
    ----------
    food : str
        Table id.
    piece : str
        Unit of the kitchen registry, or ``"whole"`` for a bare count.
    size : str or None
        "small", "medium", "large", "extra large" as the line says.
    name : tuple of str
        Normal words of the food in the cook's words.
    inches : float or None
        Length or diameter of the piece [in]; SR28's piece of that size wins.

    Returns
    -------
    PieceWeight or None
        None where nothing is known of such a piece.
    """
    table = load_table()
    row = table.position[food]
    group = int(table.group_codes[row])
    figures = load_figures("pieces.csv")
    rows = figures.get(piece, ReferenceWeights())
    if piece in _LIKE:
        rows = ReferenceWeights((*rows, *figures.get(_LIKE[piece], ())))
    egg = "egg" in name and group == 100
    figure = best_figure(rows, name, group, size)
    measures = households(food)
    if inches and piece == "whole":
        sized = _by_length(measures, frozenset(name), figure, inches, group)
        if sized is not None:
            return PieceWeight(sized, False)
    own = _own(measures, piece, size, frozenset(name))
    if figure and figure.wanted and (egg or not own or not _is_of_a_relative(figure, food, own[0].best)):
        if own and size and not figure.size and own[1] == size and not egg and figure.wanted <= _described(food):
            return PieceWeight(own[0], False)
        return PieceWeight(_egg(figure, size) if egg else _sized(figure, size), False)
    if own:
        return PieceWeight(own[0], False)
    by_description = best_figure(rows, words(" ".join(table.descriptions[row].split(",")[:2])), group, size)
    if by_description and by_description.wanted:
        return PieceWeight(_sized(by_description, size), False)
    if figure:
        return PieceWeight(_sized(figure, size), True)
    return None


_CLAIM = re.compile(r"= ([\d.]+) g[^(]*\(SR28 ([\d, ]+)\)")


@lru_cache(maxsize=4096)
def _is_of_a_relative(figure: ReferenceWeight, food: str, own: float) -> bool:
    """Whether a figure is the table's weight of another food, where this one weighs something else [g] itself."""
    best = figure.value.best
    return abs(own / best - 1) > 0.05 and any(
        abs(float(claim[1]) - best) <= 0.03 * best and food not in claim[2]
        for claim in _CLAIM.finditer(figure.value.basis)
    )


def _by_length(
    measures: Iterable[Household], name: frozenset[str], figure: ReferenceWeight | None, inches: float, group: int
) -> Interval | None:
    """What a whole one of a stated length or diameter weighs: SR28's piece of that size, else one scaled to it.

    What is flat grows with the square of its diameter, what is round with its cube, what is long with somewhat more
    than its length, as it is thicker too. Common practice, no source; half to twice the size and no further.
    """
    whole = [
        measure for measure in measures
        if measure.inches and not measure.millilitres and (measure.noun <= _WHOLES or measure.noun & name)
    ]  # fmt: skip
    if figure and figure.wanted and figure.inches:
        ratio, base = inches / figure.inches, figure.value
        even = "loaf" in figure.key or "stick" in figure.key  # as thick when it is short
        power = 1.0 if even else _FLAT if group == _BAKED else _LONG
    elif whole:
        nearest = min(whole, key=lambda measure: abs(math.log((measure.inches or inches) / inches)))
        ratio = inches / (nearest.inches or inches)
        if abs(ratio - 1) <= _AS_LONG:
            return _by_size([nearest], nearest.size)[0]
        power = _FLAT if group == _BAKED else _ROUND if "dia" in nearest.text else _LONG
        base = Interval(nearest.grams, nearest.grams, nearest.grams, own_basis(nearest))
    else:
        return None
    if abs(ratio - 1) <= _AS_LONG:
        return base
    if not 0.3 <= ratio <= 2.2:
        return None
    factor = ratio**power
    low, high = base.low * factor * (1 - _SPREAD), base.high * factor * (1 + _SPREAD)
    return Interval(base.best * factor, low, high, f"{base.basis}, times {factor:.2g} for its {inches:g} inches")


@lru_cache(maxsize=4096)
def _described(food: str) -> frozenset[str]:
    return frozenset(words(load_table().describe(food)))


def _egg(figure: ReferenceWeight, size: str | None) -> Interval:
    """Eggs go by their grade: 38, 44, 50, 56 and 63 g from small to jumbo (SR28 01123); "large" is what is meant."""
    grade = {"small": 38, "medium": 44, "large": 50, "extra large": 56, "jumbo": 63}.get(size or "large", 50)
    return figure.value if grade == 50 else figure.value.scaled(grade / 50)


def _own(
    measures: Iterable[Household], piece: str, size: str | None, name: frozenset[str]
) -> tuple[Interval, str | None] | None:
    """The food's own piece in SR28, by noun, then by size; and the size that SR28 weighed."""
    nouns = _ALSO.get(piece, (piece,))
    fits: list[tuple[int, Household]] = []
    for measure in measures:
        if measure.millilitres:
            continue
        if piece == "whole":
            if not measure.noun:
                rank = 1
            elif measure.noun <= name or (measure.noun & name and measure.noun <= name | _WHOLES):
                rank = 0 if measure.noun - {"whole"} else 1
            elif measure.noun <= _WHOLES:
                rank = 1
            else:
                continue
        elif measure.noun & frozenset(nouns):
            rank = next(at for at, noun in enumerate(nouns) if noun in measure.noun)
            # "wedge" of "lemon wedge" or a stranger's brand name in "jar Gerber"
            rank += 0 if measure.noun <= name | frozenset(nouns) else 2
        else:
            continue
        fits.append((rank, measure))
    if not fits:
        return None
    first = min(rank for rank, _ in fits)
    best = [measure for rank, measure in fits if rank == first]
    return _by_size(best, size)


def _by_size(measures: list[Household], size: str | None) -> tuple[Interval, str | None]:
    sizes = {measure.size: measure for measure in reversed(measures)}
    wanted = size or "medium"
    chosen = sizes.get(wanted)
    factor = 1.0
    if chosen is None:
        near = sizes.get(None) or sizes.get("medium") or sizes.get("small") or sizes.get("large") or measures[0]
        chosen = near
        factor = _SIZE_FACTOR[wanted] / _SIZE_FACTOR[near.size or "medium"]
    best = chosen.grams * factor
    weights = [measure.grams for measure in measures]
    low, high = best * (1 - _SPREAD), best * (1 + _SPREAD)
    if size is None:
        low, high = min(low, *weights, best), max(high, *weights, best)
    basis = own_basis(chosen)
    if factor != 1.0:
        basis += f", times {factor:.2g} for size"
    return Interval(best, low, high, basis), chosen.size


def taken_weight(taken: str, piece: str, food: str, name: tuple[str, ...]) -> PieceWeight | None:
    """What is taken of one fruit, ear or bunch: juice, zest, kernels, leaves [g]; None where nothing is known."""
    group = int(load_table().group_codes[load_table().position[food]])
    if piece in ("whole", "ear"):
        source = tuple(word for word in name if word not in _TAKEN)
        figure = best_figure(load_figures("yields.csv").get(taken, ()), source, group)
        if figure:
            return PieceWeight(figure.value, not figure.wanted)
    found = piece_weight(food, piece, None, name)
    if found and taken == "leaves" and piece == "bunch":
        # What the figures hold is leaves and fine stems; the leaves alone are some two thirds of it.
        return PieceWeight(found.grams.scaled(0.7), True)
    return found
