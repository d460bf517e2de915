"""What each ingredient weighs where it is used: the weights that an ingredient list is ordered by.

The law orders by the weight that goes in. A food counts with what was weighed of it, less what was poured off or
discarded with the liquid it was in; water that only boils away still went in. A part counts with what its line takes
of it, and so do the foods within it: a sauce of which half goes into one salad and half into another is half in each.
"""

from __future__ import annotations

from collections.abc import Mapping

from labeler.cooking.models.stock_extraction import EXTRACT
from labeler.cooking.state.ledger import Dish, Ledger
from labeler.cooking.state.mixture import CONSTITUENTS, Mixture, Origin
from labeler.foods.model import WeighedRecipe

__all__ = ["ingoing"]

# Constituents of an ingredient of which less than this share of its weight is made say nothing about what stayed.
TRACE = 0.005
# A food with so large a share of solids is where its solids are; what a bay leaf that is taken out has left behind
# weighs what it weighs, and the leaf is still an ingredient.
SOLID = 0.15
_SOLIDS = CONSTITUENTS.index("solids")

Place = tuple[int | str, ...]


def ingoing(weighed: WeighedRecipe, dish: Dish) -> dict[Place, float]:
    """Grams of every use of every ingredient in the finished batch.

    Parameters
    ----------
    weighed : WeighedRecipe
    dish : Dish
        Of the same recipe.

    Returns
    -------
    dict
        By place: the line numbers of the parts it is used through, then its own line number and, for a food, its
        name. A food of which nothing is left in the dish weighs 0.
    """
    ledgers = {ledger.part: ledger for ledger in dish.ledgers}
    served = {(item.part, item.line, item.name.removeprefix(EXTRACT)) for item in dish.mix.items}
    found: dict[Place, float] = {}
    for title in dish.served:
        if title in ledgers:
            _use(ledgers, weighed, served, ledgers[title], ledgers[title].times, (), found)
    return found


def _use(
    ledgers: Mapping[str, Ledger],
    weighed: WeighedRecipe,
    served: set[tuple[str, int, str]],
    ledger: Ledger,
    scale: float,
    through: tuple[int, ...],
    found: dict[Place, float],
) -> None:
    stayed = _stayed(ledger.kept)
    part = next(part for part in weighed.parts if part.title == ledger.part)
    poured = {line.line.number: line.kept for line in part.lines if line.kept is not None}
    for line in part.lines:
        if line.part is None and line.kept is None:
            for one in (line, *line.also):
                name = one.line.name or one.line.text
                here = (ledger.part, one.line.number, name)
                grams = stayed.get(here, 0.0) if here in served else 0.0
                found[(*through, line.line.number, name)] = grams * scale
    for entry in ledger.added:
        if entry.line in poured:
            found[(*through, entry.line)] = float(entry.mix.total_mass[0]) * scale
            within = _stayed(entry.mix)
            for (_, number, name), grams in within.items():
                found[(*through, entry.line, number, name)] = grams * scale
        elif entry.line and entry.name in ledgers and entry.line not in through:
            own = ledgers[entry.name]
            made = float(own.kept.total_mass[0])
            taken = float(entry.mix.total_mass[0])
            found[(*through, entry.line)] = taken * scale
            if made > 0:
                _use(ledgers, weighed, served, own, scale * taken / made, (*through, entry.line), found)


def _stayed(mix: Mixture) -> dict[tuple[str, int, str], float]:
    """Grams as weighed of each ingredient that are still in a mix, whatever water has left it."""
    found: dict[tuple[str, int, str], float] = {}
    for at, item in enumerate(mix.items):
        counts = mix.weight[at] > TRACE
        if counts.any():
            key = (item.part, item.line, item.name.removeprefix(EXTRACT))
            weight = float(mix.held[0, at][counts].max())
            if item.origin is Origin.EXTRACT:
                weight = float(mix.held[0, at] @ mix.weight[at])
            elif mix.weight[at, _SOLIDS] > SOLID:
                weight = float(mix.held[0, at, _SOLIDS]) or float(mix.held[0, at] @ mix.weight[at])
            found[key] = found.get(key, 0.0) + weight
    return found
