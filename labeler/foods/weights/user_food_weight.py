"""A line that names one of the cook's own foods: weighed by what the package says, else as the food it is like."""

from __future__ import annotations

from dataclasses import replace

from labeler.foods.model import Match, WeighedLine
from labeler.foods.user_foods import UserFood, own_weight, with_net_weight
from labeler.foods.weights.line_weight import grams
from labeler.parsing.model import Line
from labeler.parsing.units import grams_per
from labeler.types import Interval, Problem

__all__ = ["weigh_own"]


def weigh_own(line: Line, own: UserFood, *, market: str) -> WeighedLine:
    """A line of an own food with its grams.

    Parameters
    ----------
    line : Line
        Whose name means the food.
    own : UserFood
    market : str
        Whose cups and spoons.
    """
    found = Match(own.like, own.name, 1.0, "one of your own foods, from the larder", own=own)
    problems = [*line.problems, *(replace(problem, line=line.number) for problem in own.problems)]
    weight = own_weight(line, own, market=market)
    if weight is None and own.like is not None:
        weight, more = grams(with_net_weight(line, own), own.like, market=market)
        problems += more
    elif weight is None:
        weight = _packages(with_net_weight(line, own))
        if weight is None:
            text = f"What “{line.text.strip()[:60]}” weighs is not known: “{own.name}” of the larder does not say it."
            mend = "Write the grams, or give it a net weight or a measure in the larder."
            problems.append(Problem("no-weight", f"{text} {mend}", line.number))
    return WeighedLine(line, found, weight, problems=tuple(problems))


def _packages(line: Line) -> Interval | None:
    """Packages of a stated weight, where there is no like that says what is poured off or not eaten of them."""
    if len(line.amounts) != 2 or line.amounts[1].role != "each":
        return None
    count, size = line.amounts
    one = grams_per(size.unit)
    if one is None:
        return None
    low, high = count.low * size.low * one, count.high * size.high * one
    return Interval((low + high) / 2, low, high, f"{size.low:g} {size.unit} each")
