"""What bones, shells and meat that are thrown away have given to the stock they were boiled in.

Nobody can calculate it from raw bones; the stocks of the table (SR28 06170 beef, 06172 chicken, 06174 fish, all home-
prepared) say what there is in one. Bones give what so much stock of the table holds beside its water; meat gives its
juice and fat as other steps say, so that only protein and what else is no juice comes from here. "Only analysis is
right; next best the database row for stock" (foodandnutrition.org, Nov-Dec 2015).
"""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import numpy as np

from labeler.cooking.state.constituents import mix_of_foods
from labeler.cooking.state.mixture import Item, Mixture, Origin, blank, join
from labeler.cooking.state.phases import SOLIDS, WATER, sort_pot
from labeler.cooking.state.sampling import Cause, Sampler
from labeler.foods.food_class import FLESH, kind_of
from labeler.parsing.ingredient.facts import Animal
from labeler.parsing.instructions.actions import Trait, has
from labeler.types import Interval, Problem, Status

__all__ = ["EXTRACT", "Extract", "stock_extract"]

EXTRACT = "extract of "
"""How what bones and meat have given to a stock is named, before the name of what gave it."""

# Stock like the table's that bones or meat make [g/g]: 1 kg makes 1 to 1.5 litres, from a thin second boiling to a
# strong reduction. Common practice, no source.
_STOCK_PER_GRAM = Interval(1.2, 0.3, 2.2)
_STOCKS = {Animal.FISH: "06174", Animal.MAMMAL: "06170", Animal.OTHER: "06172"}


class Extract(NamedTuple):
    """What a stock has got from bones and meat, and the problem that says how little is known of it."""

    mix: Mixture
    problem: Problem


def stock_extract(before: Mixture, thrown: Mixture, *, simmered: bool, part: str, draws: Sampler) -> Extract | None:
    """What bones and flesh that are taken out of a liquor have given to it beside their juice.

    Parameters
    ----------
    before : Mixture
        The pot before they left.
    thrown : Mixture
        What is taken out.
    simmered : bool
        True where the pot has boiled or simmered, whatever cooked the items themselves.
    part : str
        Title that the extract is counted to.
    draws : Sampler

    Returns
    -------
    Extract or None
        None without a liquor, or without bones or flesh that were boiled in it.
    """
    if not thrown.items or not sort_pot(before).liquor.any():
        return None
    mass = thrown.mass
    items: list[Mixture] = []
    names: list[str] = []
    for at, item in enumerate(thrown.items):
        boiled = not item.phase and (has(item.cooked, Trait.IN_LIQUID) or (bool(item.cooked) and simmered))
        if not boiled or not (item.facts.bones or kind_of(item.food) in FLESH):
            continue
        stock = _STOCKS[item.facts.animal]
        grams = draws.draw(_STOCK_PER_GRAM, Cause.STOCK) * mass[:, at]
        named = Item(part, item.line, f"{EXTRACT}{item.name}", stock, facts=item.facts, origin=Origin.EXTRACT)
        given = mix_of_foods([named], grams[:, None])
        fraction = blank(draws.rows, 1, fill=1.0)
        if item.food is None:
            fraction[:, :, WATER] = 0.0
        else:
            fraction[:] = 0.0
            fraction[:, :, SOLIDS] = 1.0
        given = given.part(fraction)
        guessed = np.where(given.status == Status.MISSING, given.status, np.uint8(Status.IMPUTED))
        items.append(replace(given, status=guessed, items=(replace(given.items[0], phase="dissolved"),)))
        names.append(item.name)
    if not items:
        return None
    message = (
        f"what {', '.join(dict.fromkeys(names))} give to a stock is not well known; it is taken from the stocks of the "
        "table, and the intervals are wide. A stock of the table in its place, such as {food 06172}, or a laboratory "
        "is surer."
    )
    return Extract(join(items), Problem("stock-uncertain", message))
