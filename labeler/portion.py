"""How the batch is divided: into servings by number or by weight, and into the packs that are sold."""

from __future__ import annotations

from dataclasses import dataclass

from labeler.kitchen.density import density
from labeler.kitchen.ledger import Dish
from labeler.knowledge import Problem
from labeler.plurals import singular_phrase
from labeler.recipe import read_line
from labeler.recipe.model import Recipe
from labeler.recipe.units import grams_per, millilitres_per

__all__ = ["Portion", "portion"]


@dataclass(frozen=True, slots=True)
class Portion:
    """What one serving is.

    Parameters
    ----------
    count : float
        Servings in the batch, above 0.
    grams : float
        Weight of one [g].
    basis : str
        Where that comes from, in words.
    by_weight : bool
        True where the serving is an amount and the count follows; False where the count is given.
    household : str
        The serving in the cook's own measure ("1 tablespoon", "1 box"); empty where there is none.
    packs : float or None
        How many packs the batch fills, where the recipe says so ("makes: 7 jars").
    pack_g : float or None
        What one pack holds [g]: the head's `net`, else the batch over the packs.
    problems : tuple of Problem
    """

    count: float
    grams: float
    basis: str
    by_weight: bool
    household: str = ""
    packs: float | None = None
    pack_g: float | None = None
    problems: tuple[Problem, ...] = ()


def _grams_of(text: str, dish: Dish, market: str) -> float | None:
    """Grams of the dish that a serving text means ("30 g", "1 tablespoon", "2 cakes"); None where it is unclear."""
    line = read_line(text)
    for amount in line.amounts:
        middle = (amount.low + amount.high) / 2
        mass = grams_per(amount.unit)
        if mass is not None:
            return middle * mass
    for amount in line.amounts:
        middle = (amount.low + amount.high) / 2
        volume = millilitres_per(amount.unit, market=market)
        if volume is not None:
            return middle * volume * float(density(dish.mix)[0])
    if line.amounts and dish.servings is not None:
        # "2 cakes" of a batch that makes 12 cakes.
        return (line.amounts[0].low + line.amounts[0].high) / 2 * float(dish.mix.total_mass[0]) / dish.servings.count
    return None


def _one(servings_unit: str) -> str:
    return f"1 {singular_phrase(servings_unit)}" if servings_unit else ""


def portion(recipe: Recipe, dish: Dish, *, market: str = "us") -> Portion:
    """Divide the dish as the recipe's head asks.

    A `serving` in grams, spoons or pieces settles the weight of one and the count follows from the batch; else
    `makes` or `serves` settles the count. A recipe that says neither is one serving, and that is a problem.
    """
    mass = float(dish.mix.total_mass[0])
    problems: list[Problem] = []
    named = dish.servings
    net = recipe.head.get("net")
    pack_g = _grams_of(str(net), dish, market) if net is not None else None
    if net is not None and pack_g is None:
        problems.append(Problem("net-unread", f"net: “{net}” is not a weight or a volume; write it as “net: 190 g”"))
    serving = recipe.head.get("serving")
    if serving is not None and mass > 0:
        grams = _grams_of(str(serving), dish, market)
        if grams:
            packs = (named.packs or named.count) if named else None
            if pack_g is None and packs:
                pack_g = mass / packs
            return Portion(
                mass / grams, grams, f"serving: {serving}", True, str(serving), packs, pack_g, tuple(problems)
            )
        problems.append(
            Problem("serving-unread", f"serving: “{serving}” is not an amount; write it as “serving: 30 g” or “1 cup”")
        )
    if named is not None:
        return Portion(
            named.count,
            mass / named.count,
            f"the batch over “{named.text}”",
            False,
            _one(named.unit),
            named.packs or (named.count if named.unit else None),
            pack_g or (mass / (named.packs or named.count) if named.packs or named.unit else None),
            tuple(problems),
        )
    problems.append(
        Problem(
            "no-servings",
            "the recipe does not say how many it makes, so the whole batch counts as one serving; "
            "add “makes: 8 boxes” or “serves: 4” to its head",
        )
    )
    return Portion(
        1.0, mass, "the whole batch, as the recipe names no servings", False, "", None, pack_g, tuple(problems)
    )
