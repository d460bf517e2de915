"""In what order the parts of a recipe are made, and how much of one goes into another."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import NamedTuple

import numpy as np

from labeler.cooking.state.density import density
from labeler.cooking.state.mixture import Array, Mixture
from labeler.cooking.state.sampling import Sampler
from labeler.foods.model import WeighedLine, WeighedRecipe
from labeler.parsing.declared_servings import Count
from labeler.parsing.line_words import CONTAINERS, HELPINGS
from labeler.parsing.units import canonical_unit, grams_per, millilitres_per, plural
from labeler.types import Interval, Problem

__all__ = ["Use", "amount_taken", "making_order", "served_titles"]


class Use(NamedTuple):
    """What one line takes of another part.

    Parameters
    ----------
    share : array (draws,) or None
        Of the part as made; None for everything that the other lines leave.
    problems : tuple of Problem
    """

    share: Array | None
    problems: tuple[Problem, ...] = ()


def making_order(recipe: WeighedRecipe, extra: Mapping[int, Sequence[int]]) -> tuple[list[int], list[Problem]]:
    """Places of the parts, each after those that it takes from, else in the order of the file.

    Parameters
    ----------
    recipe : WeighedRecipe
    extra : mapping
        For a part's place, further places that must come before it (a stream that it uses comes from there).

    Returns
    -------
    order : list of int
    problems : list of Problem
        One for each part that takes part in a circle; it is made in file order as if the circle were not there.
    """
    place = {part.title: at for at, part in enumerate(recipe.parts)}
    needs: dict[int, list[int]] = {}
    for at, part in enumerate(recipe.parts):
        named = [place[line.part] for line in part.lines if line.part in place]
        needs[at] = [need for need in [*named, *extra.get(at, ())] if need != at]
    order: list[int] = []
    problems: list[Problem] = []
    waiting = list(needs)
    while waiting:
        ready = next((at for at in waiting if all(need in order for need in needs[at])), None)
        if ready is None:
            ready = waiting[0]
            title = recipe.parts[ready].title
            problems.append(
                Problem(
                    "part-in-circle",
                    f"“{title}” takes from a part that takes from “{title}” itself; that amount is left out. "
                    "Take one of the two lines away.",
                    recipe.recipe.parts[ready].number,
                )
            )
        order.append(ready)
        waiting.remove(ready)
    return order, problems


def _mass(line: WeighedLine) -> Interval | None:
    """Grams of the part that the line itself states, by pin or unit of weight."""
    if line.line.pin is not None and line.line.pin.grams is not None:
        return Interval(line.line.pin.grams, line.line.pin.grams, line.line.pin.grams, "stated in braces")
    return _stated(line, _grams)


def _grams(unit: str | None) -> float | None:
    """Grams in one unit, None for a unit that is not of weight or not in the registry."""
    try:
        return grams_per(unit)
    except KeyError:
        return None


def _stated(line: WeighedLine, factor_of: Callable[[str | None], float | None]) -> Interval | None:
    """The line's main amount (and what it adds to it) in the unit that `factor_of` converts to."""
    low = high = 0.0
    found = False
    count = (1.0, 1.0)
    for amount in line.line.amounts:
        factor = factor_of(amount.unit)
        if amount.role == "main" and factor is None:
            count = (amount.low, amount.high)
        if factor is None or (amount.role == "same" and found):
            continue
        times = count if amount.role == "each" else (1.0, 1.0)
        low, high, found = low + amount.low * factor * times[0], high + amount.high * factor * times[1], True
    return Interval((low + high) / 2.0, low, high, "stated") if found else None


def amount_taken(line: WeighedLine, made: Mixture, *, pieces: Count | None, draws: Sampler, market: str) -> Use:
    """What share of a part one line takes.

    In this order: a weight, a volume (by the part's own density), a share in words ("half of"), batches, pieces of the
    kind that the part is made in; a line that states no amount takes all that is left.

    Parameters
    ----------
    line : WeighedLine
        A line that names the part.
    made : Mixture
        The part as made.
    pieces : Count or None
        How many pieces it makes, and what one is called.
    draws : Sampler
    market : str
        Whose cups and spoons.
    """
    total = made.total_mass

    def by_grams(grams: Array) -> Use:
        return Use(np.divide(grams, total, out=np.zeros_like(total), where=total > 0.0))

    mass = _mass(line)
    if mass is not None:
        return by_grams(draws.draw(mass))
    volume = _stated(line, lambda unit: _millilitres(unit, market))
    if volume is not None:
        return by_grams(draws.draw(volume) * np.nan_to_num(density(made)))
    if line.taken is not None and line.taken.share is not None:
        return Use(draws.draw(line.taken.share))
    counts = [amount for amount in line.line.amounts if amount.role == "main"]
    if line.taken is not None or not counts:
        return Use(None)
    number = Interval((counts[0].low + counts[0].high) / 2.0, counts[0].low, counts[0].high)
    unit = counts[0].unit
    if unit == "batch" or (unit is None and pieces is None):
        return Use(draws.draw(number))
    if pieces is not None and _is_piece(unit, pieces.unit):
        return Use(draws.draw(number) / pieces.number)
    return Use(None, (_pieces_unknown(line, plural(unit or "piece"), pieces),))


def _is_piece(unit: str | None, made: str) -> bool:
    """Whether one `unit` of a line is one of what a part is made in ("3 pieces" of 30 cakes; not of 4 jars)."""
    noun = canonical_unit(made) or made
    return unit is None or unit == noun or (unit == "piece" and noun not in CONTAINERS | HELPINGS)


def _pieces_unknown(line: WeighedLine, units: str, pieces: Count | None) -> Problem:
    text = f"“{line.line.text}” takes {units} of “{line.part}”, but nothing says how many {units} it makes"
    if pieces is not None:
        text += f", only that it makes {pieces.number:g} {plural(pieces.unit)}"
    return Problem(
        "pieces-unknown",
        f"{text}, so all that is left of it is taken. Write “> makes 12 {units}” under its heading, take what "
        "it is made in, or give the amount as a weight.",
        line.line.number,
    )


def _millilitres(unit: str | None, market: str) -> float | None:
    try:
        return millilitres_per(unit, market=market)
    except KeyError:
        return None


def served_titles(weighed: WeighedRecipe) -> list[str]:
    """Titles of the parts that no other part takes; the last one where they go round in a ring."""
    named = {line.part for part in weighed.parts for line in part.lines}
    titles = [part.title for part in weighed.parts]
    return [title for title in titles if title not in named] or titles[-1:]
