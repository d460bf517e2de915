"""In what form a food is measured: what the line says before its name was done before, what it says behind it after.

"1 cup sifted flour" is a cup of what was sifted, "1 cup flour, sifted" a cup of flour. That holds as far as a cup can
be filled with the thing as it stands: nuts, berries and leaves can, so "1 cup walnuts, chopped" is a cup of halves;
an onion cannot, so "1 cup onion, chopped" is a cup of pieces.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from labeler.foods.composition.food_table import load_table
from labeler.foods.weights.household_measures import CUP_ML, forms_in, households
from labeler.foods.weights.reference_weights import best_figure, load_figures
from labeler.parsing.model import Line

__all__ = ["Forms", "around_name", "fills_whole", "forms_of"]

# Forms that hold wherever they stand, and actions that never precede the measuring when they stand behind the name.
_ANYWHERE = frozenset("packed unpacked drained cooked thawed prepared leaves sprigs whole balls".split())
_DONE_LATER = frozenset("whipped sifted ground crushed melted crumbs".split())
_AS_IT_STANDS = frozenset(["whole", "halves", "leaves"])
# SR28 groups whose foods are small enough to fill a cup as they stand: nuts and seeds, cereals, snacks.
_SMALL_GROUPS = frozenset([800, 1200, 2500])
# Sold in this form: behind the name it says which to buy.
_SOLD = {"almond": frozenset(["sliced", "slivered"])}
_ONE_WORD = frozenset(["whole", "half", "kernel", "nut", "berry", "leaf"])


class Forms(NamedTuple):
    """The forms that a food is measured in, and those that it may be measured in by a cook who reads it loosely."""

    sure: frozenset[str]
    loose: frozenset[str]


def around_name(line: Line) -> tuple[str, str]:
    """The line's text up to and with the name, and behind it, in lower case."""
    text, name = line.text.lower(), line.name.lower()
    last = name.rsplit(None, 1)[-1] if name.strip() else ""
    at = text.find(last)
    if not last or at < 0:
        return name, line.preparation.lower()
    end = at + len(last)
    return f"{text[:end]} {name}", text[end:]


@lru_cache(maxsize=16384)
def forms_of(before: str, after: str, food: str, name: tuple[str, ...]) -> Forms:
    """The forms of a line that says so much before and behind the name of a food of the table."""
    first, later = forms_in(before), forms_in(after)
    kept = first | (later & _ANYWHERE)
    if "rinsed" in after and "canned" in name:
        kept |= {"drained"}
    for word in name:
        kept |= later & _SOLD.get(word, frozenset())
    if first - _ANYWHERE or not later - kept:
        return Forms(kept, kept)
    cut = kept | (later - _DONE_LATER)
    if fills_whole(food, name):
        return Forms(kept | {"whole"}, cut)
    return Forms(cut, cut)


@lru_cache(maxsize=8192)
def fills_whole(food: str, name: tuple[str, ...]) -> bool:
    """Whether a cup can be filled with a food as it stands, by the group it is in and the cups that SR28 weighed."""
    table = load_table()
    group = int(table.group_codes[table.position[food]])
    if group in _SMALL_GROUPS and "coconut" not in name:
        return True
    if best_figure(load_figures("volumes.csv").get("leaves", ()), name, group) is not None:
        return True
    stated = frozenset(name) | _ONE_WORD
    return any(
        measure.millilitres is not None
        and measure.millilitres > CUP_ML / 5
        and measure.noun <= stated
        and (not measure.forms or bool(measure.forms & _AS_IT_STANDS))
        for measure in households(food)
    )
