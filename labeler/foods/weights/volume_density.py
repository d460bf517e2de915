"""Volume to weight: what a cup or a spoon of a food weighs.

In order: a kitchen figure for foods that SR28 weighs in no useful way (salt by type, flour by habit, loose herbs);
the food's own household measures, in the form that the line gives; those of the closest relative in the table; the
usual weight of its food group. The further down, the wider the interval.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from typing import NamedTuple

from labeler.foods.composition.food_table import load_table
from labeler.foods.weights.household_measures import CUP_ML, Household, households, own_basis
from labeler.foods.weights.reference_weights import best_figure, load_figures
from labeler.parsing.model import Line
from labeler.parsing.units import millilitres_per
from labeler.types import Interval

__all__ = ["VolumeWeight", "most_of_volume", "volume_weight"]

# How alike two forms of a food fill a cup; 0 is alike, 1 is like saying nothing. Common practice, no source.
_NEAR: Mapping[frozenset[str], float] = {
    frozenset(pair.split()): cost
    for pair, cost in {
        "chopped sliced": 0.5,
        "chopped grated": 0.6,
        "chopped halves": 0.5,
        "chopped quartered": 0.2,
        "chopped whole": 0.9,
        "chopped crumbled": 0.4,
        "chopped balls": 0.2,
        "chopped slivered": 0.4,
        "chopped crushed": 0.6,
        "chopped leaves": 0.8,
        "chopped drained": 0.5,
        "sliced halves": 0.4,
        "sliced quartered": 0.3,
        "sliced slivered": 0.3,
        "sliced grated": 0.5,
        "sliced flakes": 0.3,
        "halves whole": 0.4,
        "halves quartered": 0.3,
        "mashed ground": 0.8,
        "mashed crushed": 0.5,
        "mashed melted": 0.4,
        "ground crumbs": 0.5,
        "ground crushed": 0.5,
        "ground grated": 0.7,
        "crumbs crushed": 0.2,
        "crumbled grated": 0.5,
        "crumbled crushed": 0.3,
        "leaves whole": 0.2,
        "leaves sprigs": 0.3,
        "grated flakes": 0.3,
        "grated slivered": 0.4,
    }.items()
}
# Forms that a food is not in unless the line says so, and how far off that is.
_UNSTATED = {
    "melted": 3.0,
    "whipped": 3.0,
    "sifted": 1.5,
    "mashed": 1.5,
    "ground": 1.0,
    "thawed": 1.0,
    "cooked": 2.0,
    "prepared": 3.0,
    "crumbs": 2.0,
    "crushed": 0.8,
    "balls": 0.6,
    "packed": 0.3,
    "unpacked": 0.2,
    "drained": 0.1,
    "chopped": 0.2,
    "grated": 0.3,
    "sliced": 0.35,
    "halves": 0.15,
    "whole": 0.3,
    "quartered": 0.4,
    "slivered": 0.6,
    "leaves": 0.2,
    "sprigs": 0.5,
    "crumbled": 0.2,
    "flakes": 0.2,
}
_SAYS_NOTHING, _SAYS_LITTLE_OF_WHOLE = 0.9, 0.1
"""A cup of which SR28 says no form: of what is cut it may hold anything, of the whole thing it most likely is one."""
_SMALL = CUP_ML / 8
"""Smaller units are spoons [mL]."""

_ANOTHER_STATE = frozenset({"prepared", "cooked", "melted", "whipped"})
"""A cup of the cooked, whipped or melted thing says nothing of it as it stands."""

_NUTS = 1200
_PULP = frozenset(["mashed"])
"""Has no air between its pieces, so that a cup of pieces tells nothing of it."""
_NO_AIR = frozenset(["mashed", "ground", "crushed", "melted"])
_CUT = frozenset(["chopped", "sliced", "grated", "slivered", "mashed", "ground"])
_LEAVES = frozenset(["leaves", "sprigs"])

_WITHIN = 0.45
"""Measures this close in cost to the best one are as plausible, and set the interval."""

# How far one cook's cup or spoon is from the next one's. Common practice, no source; recipe lines that give a weight
# beside the measure bear it out (reference/score_weights.py).
_POURED, _HEAPED, _SPOONED = 0.05, 0.15, 0.20


class VolumeWeight(NamedTuple):
    """Grams per millilitre with its basis; `default` where it does not rest on the food's own measures."""

    per_ml: Interval
    default: bool


def _form_cost(measure: Household, wanted: frozenset[str], preferred: frozenset[str]) -> float:
    have = measure.forms
    if wanted:
        if have & wanted:
            return 0.0 if not (have - wanted - {"leaves", "whole"}) else 0.1
        if not have:
            return _SAYS_LITTLE_OF_WHOLE if wanted == {"whole"} else _SAYS_NOTHING
        return min(_NEAR.get(frozenset((one, other)), 2.0) for one in wanted for other in have)
    if have & preferred:
        return -0.1
    return max((_UNSTATED.get(form, 0.5) for form in have), default=0.0)


def _noun_cost(measure: Household, name: frozenset[str]) -> float:
    if not measure.noun:
        return 0.0
    if measure.noun <= name and len(measure.noun) > 1:
        return -1.0
    return -0.6 if measure.noun & name else 0.25


def _own(
    measures: Sequence[Household], unit_ml: float, wanted: frozenset[str], name: frozenset[str], group: int
) -> tuple[Interval, Household] | None:
    preferred = _preferred(name, group)
    ranked = []
    for at, measure in enumerate(measures):
        if not measure.millilitres:
            continue
        far = 0.12 * abs(math.log2(measure.millilitres / unit_ml))
        if "pint" in measure.text and abs(measure.millilitres / unit_ml - 1) > 0.01:
            continue
        ranked.append((_form_cost(measure, wanted, preferred) + _noun_cost(measure, name) + far, at, measure))
    if not ranked:
        return None
    ranked.sort(key=lambda entry: entry[:2])
    cost, _, chosen = ranked[0]
    if chosen.forms & _ANOTHER_STATE - wanted or (_PULP & wanted and chosen.forms and not chosen.forms & _NO_AIR):
        return None
    best = chosen.grams / _ml(chosen)
    alike = [other.grams / _ml(other) for near, _, other in ranked if near <= cost + _WITHIN]
    if wanted and not chosen.forms & wanted and len(ranked) > 1:
        alike = [other.grams / _ml(other) for near, _, other in ranked if near <= cost + 1.0]
    spread = _POURED if best > 0.9 and not chosen.forms else _SPOONED if unit_ml < _SMALL else _HEAPED
    low, high = min([*alike, best]) * (1 - spread), max([*alike, best]) * (1 + spread)
    return Interval(best, low, high, own_basis(chosen)), chosen


def _preferred(name: frozenset[str], group: int) -> frozenset[str]:
    """The form that a recipe means where it says none: packed brown sugar, shredded cheese, ground spices."""
    if "brown" in name and "sugar" in name:
        return frozenset({"packed"})
    if group == 200 and not name & {"seed", "whole", "peppercorn"}:
        return frozenset({"ground"}) if "pepper" in name or "powder" in name else frozenset({"leaves"})
    if group == _NUTS:
        return frozenset({"whole"})  # "1 cup hazelnuts, chopped" is measured before it is cut
    return frozenset({"grated"} if group == 100 else ())


def _ml(measure: Household) -> float:
    return measure.millilitres or CUP_ML


@cache
def _families() -> Mapping[str, tuple[int, ...]]:
    """Rows of the table by the first segment of their description."""
    families: dict[str, list[int]] = {}
    for row, description in enumerate(load_table().descriptions):
        families.setdefault(description.split(",", 1)[0].lower(), []).append(row)
    return {head: tuple(rows) for head, rows in families.items()}


_STATES = frozenset(
    "raw cooked boiled dried dry canned frozen powder ground prepared dehydrated roasted condensed oil whole".split()
)
_SAYS_LITTLE = _STATES | frozenset(
    "mixed species all types varieties plain regular with without salt added and or in from for the commercially made "
    "to of drained solids unprepared fresh light low fat reduced sodium not new includes ready-to-serve eat unsalted "
    "salted".split()
)
_WIDE = 30
_ALIKE = 2.1
"""Entries at least this alike are the same food but for a word, and fill a cup alike."""


@lru_cache(maxsize=4096)
def _relative(food: str) -> tuple[str, float] | None:
    """The most alike other entry that has a volume measure, and how alike; None where nothing is alike."""
    table = load_table()
    row = table.position[food]
    segments = [segment.strip() for segment in table.descriptions[row].lower().split(",")]
    own_words = frozenset(" ".join(segments).replace("(", " ").replace(")", " ").split())
    family = _families()[segments[0]]
    # "Fish" and "Candies" hold what is not alike at all: there more than the first word must be shared.
    telling = own_words - _SAYS_LITTLE - (frozenset(segments[0].split()) if len(family) > _WIDE else frozenset())
    best, best_score = None, 1.0
    for other in family:
        if other == row or table.group_codes[other] != table.group_codes[row]:
            continue
        theirs = [segment.strip() for segment in table.descriptions[other].lower().split(",")]
        shared = 0
        for one, two in zip(segments, theirs, strict=False):
            if one != two:
                break
            shared += 1
        their_words = frozenset(" ".join(theirs).replace("(", " ").replace(")", " ").split())
        if not telling & their_words:
            continue
        alike = len(own_words & their_words) / len(own_words | their_words)
        score = shared + 2 * alike - 0.7 * len((own_words ^ their_words) & _STATES)
        if score > best_score and any(measure.millilitres for measure in households(table.ids[other])):
            best, best_score = table.ids[other], score
    return (best, best_score) if best else None


@lru_cache(maxsize=32768)
def volume_weight(food: str, unit_ml: float, wanted: frozenset[str], name: tuple[str, ...]) -> VolumeWeight:
    """What a volume of a food weighs.

    Parameters
    ----------
    food : str
        Table id.
    unit_ml : float
        The unit the line uses [mL]: spoons look for spoon measures first, cups for cup measures.
    wanted : frozenset of str
        Forms that the line gives, as `household.form_of` names them.
    name : tuple of str
        Normal words of the food in the cook's words.

    Returns
    -------
    VolumeWeight
        Grams per millilitre; it does not depend on the amount, so weight is linear in it.
    """
    table = load_table()
    row = table.position[food]
    group = int(table.group_codes[row])
    if wanted & _CUT:
        wanted -= _LEAVES  # "chopped basil leaves" fill a spoon as chopped basil does
    figure = _figure(name, wanted, group, unit_ml)
    if figure:
        return VolumeWeight(_per_ml(figure), False)
    own = _own(households(food), unit_ml, wanted, frozenset(name), group)
    if own:
        return VolumeWeight(own[0], False)
    relative = _relative(food)
    if relative:
        kin, alike = relative
        found = _own(households(kin), unit_ml, wanted, frozenset(name), group)
        if found:
            per_ml = found[0]
            basis = f"{found[1].text} of the like food {kin}, {table.describe(kin)} (SR28), as this one has no volume"
            return VolumeWeight(Interval(per_ml.best, per_ml.low * 0.85, per_ml.high * 1.15, basis), alike < _ALIKE)
    rows = load_figures("volume_defaults.csv")
    form = next((form for form in sorted(wanted) if form in rows and best_figure(rows[form], (), group)), "any")
    default = best_figure(rows.get(form, ()), (), group) or best_figure(rows["any"], (), None)
    assert default is not None  # the file ends with a row for any group, which its test holds
    return VolumeWeight(_per_ml(default.value), True)


def _figure(name: tuple[str, ...], wanted: frozenset[str], group: int, unit_ml: float) -> Interval | None:
    rows = load_figures("volumes.csv")
    spoon = "spoon" if unit_ml < _SMALL else "cup"
    best, words = None, -1
    for form in (*sorted(wanted), spoon, "any"):
        found = best_figure(rows.get(form, ()), name, group)
        if found and len(found.wanted) > words:
            best, words = found.value, len(found.wanted)
    return best


def _per_ml(cup: Interval) -> Interval:
    return Interval(cup.best / CUP_ML, cup.low / CUP_ML, cup.high / CUP_ML, cup.basis)


# Nothing that is eaten is heavier than solid salt [g/mL] (halite, CRC Handbook of Chemistry and Physics).
_DENSEST = 2.17


def most_of_volume(line: Line, *, market: str) -> float:
    """What a line that nobody could weigh may weigh at most [g], by its volume; infinite where it gives none."""
    amounts = [amount for amount in line.amounts if amount.role in ("main", "plus")]
    volumes = [millilitres_per(amount.unit, market=market) for amount in amounts]
    if not amounts or None in volumes:
        return math.inf
    return _DENSEST * sum(amount.high * (volume or 0.0) for amount, volume in zip(amounts, volumes, strict=True))
