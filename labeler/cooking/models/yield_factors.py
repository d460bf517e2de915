"""How much is left of a food when it is cooked: cooked weight per raw weight.

In order of preference: what the cook weighed or said; the table's own cooked entry of the same food and method, with a
yield derived from the two entries; the spread of such yields over foods of the kind; a prior for the kind.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from labeler.cooking.state.reckoning import Ground
from labeler.data_files import data_folder, data_rows
from labeler.foods.composition.food_table import load_table
from labeler.foods.food_class import FLESH, WATER_TAKERS, kind_of, traits_of
from labeler.parsing.ingredient.facts import Trait
from labeler.parsing.instructions.actions import action
from labeler.types import Interval

__all__ = ["CookedEntry", "Prior", "conserved_yield", "conserved_yields", "cooked_entries", "cooked_entry", "prior"]

DATA = data_folder("labeler.cooking")

# Fitted by reference/build_yields.py to the yields of muscle meat that SR28's weight table states.
ZINC_WEIGHT = 0.22
LN_BIAS = {True: 0.025, False: -0.006}
LN_HALF_WIDTH = 0.10
# Wider where no stated yield tells how good the ratio is: organs, fish, sausage; and what takes up water.
LN_HALF_WIDTH_OTHER = 0.15
_BEEF_AND_PORK = frozenset({1000, 1300})
# Organs: the 22 that SR28 states give 13 % less than their protein says, with 30 % either way.
LN_BIAS_ORGAN = -0.135
LN_HALF_WIDTH_ORGAN = 0.30


def conserved_yields(raw: str, cooked: str) -> tuple[float, float]:
    """Cooked per raw weight if protein, and if zinc, is conserved; NaN where the table does not have it.

    Raises KeyError for an id that is not in the table.
    """
    table = load_table()

    def ratio(key: str) -> float:
        before, after = table.value(raw, key), table.value(cooked, key)
        return before / after if before > 0.0 and after > 0.0 else math.nan

    protein, zinc = ratio("PROCNT"), ratio("ZN")
    return protein, zinc if 0.5 < zinc / protein < 2.0 else protein


def conserved_yield(raw: str, cooked: str) -> Interval | None:
    """Cooked per raw weight of a pair of table entries, derived from what the two hold.

    Flesh: protein hardly leaves meat, nor does zinc; ln y = ln(protein ratio) + 0.22 ln(zinc ratio / protein ratio) +
    bias, where the bias (+2.5 % for beef and pork, whose drip carries some protein) and the 95 % interval come
    from the yields of muscle meat that SR28 states. What takes up water (grain, pasta, dry legumes, dried fruit)
    keeps its dry matter. None where the table does not have what it takes, or the ratio is outside 0.3 to 8.

    Raises KeyError for an id that is not in the table.
    """
    table = load_table()
    kind = kind_of(raw)
    if kind in FLESH or kind == "egg":
        protein, zinc = conserved_yields(raw, cooked)
        group = int(table.group_codes[table.position[raw]])
        bias = LN_BIAS_ORGAN if kind == "organ" else LN_BIAS[group in _BEEF_AND_PORK]
        log = math.log(protein) + ZINC_WEIGHT * math.log(zinc / protein) + bias
        basis = "SR28 raw and cooked entries, protein and zinc conserved"
    elif kind in WATER_TAKERS or kind == "flour":
        dry_raw, dry_cooked = 100.0 - table.value(raw, "WATER"), 100.0 - table.value(cooked, "WATER")
        log = math.log(dry_raw / dry_cooked) if dry_cooked > 0.0 else math.nan
        basis = "SR28 raw and cooked entries, dry matter conserved"
    else:
        return None
    if math.isnan(log) or not 0.3 < (best := math.exp(log)) < 8.0:
        return None
    firm = kind in FLESH and kind not in ("organ", "sausage", "fish", "shellfish", "bacon")
    width = LN_HALF_WIDTH if firm else LN_HALF_WIDTH_ORGAN if kind == "organ" else LN_HALF_WIDTH_OTHER
    return Interval(best, best * math.exp(-width), best * math.exp(width), basis)


_OTHER_METHOD = 1.3  # times the half-width of the interval where another method's entry stands for it


class CookedEntry(NamedTuple):
    """The table's own entry of a food cooked, and how much of it the raw food gives."""

    food: str
    method: str
    weight: Interval


class Prior(NamedTuple):
    """Cooked per raw weight of a kind, the share of its fat that stays, where both come from and on what ground."""

    weight: Interval
    fat: Interval
    source: str = ""
    ground: Ground = Ground.PLAIN


def _rows(name: str) -> Iterable[dict[str, str]]:
    yield from data_rows(DATA / name)


@cache
def _pairs() -> dict[str, list[dict[str, str]]]:
    found: dict[str, list[dict[str, str]]] = {}
    for row in _rows("cooked_entries_sr28.csv"):
        found.setdefault(row["raw"], []).append(row)
    return found


@cache
def cooked_entry(food: str, method: str, *, traits: frozenset[Trait] = frozenset()) -> CookedEntry | None:
    """The cooked entry of a raw table food for a method, or None where the table has none that could stand for it.

    Parameters
    ----------
    food : str
        Table id of the raw food.
    method : str
        An action of cooking ("roast", "simmer").
    traits : frozenset of Trait
        What chooses among several.
    """
    table = load_table()
    rows = _pairs().get(food, ())
    for rank, name in enumerate(action(method).entries):
        fitting = [row for row in rows if row["method"] == name]
        if not fitting:
            continue
        best = max(fitting, key=lambda row: len(traits & traits_of(row["cooked"])))
        low, middle, high = (float(best[column]) for column in ("low", "derived", "high"))
        if best["stated"]:
            # SR28's own figure is one laboratory's; what cooks do varies as before.
            scale = float(best["stated"]) / middle
            low, middle, high = low * scale, middle * scale, high * scale
        wide = _OTHER_METHOD if rank else 1.0
        low, high = middle * (low / middle) ** wide, middle * (high / middle) ** wide
        source = "stated by SR28" if best["stated"] else "from its raw and cooked entries"
        basis = f"SR28 {best['cooked']}, {table.describe(best['cooked'])}; yield {source}"
        return CookedEntry(best["cooked"], name, Interval(middle, low, high, basis))
    return None


def cooked_entries(food: str) -> list[tuple[str, str]]:
    """Every cooked entry that the table has of a raw food, each with its method."""
    return [(row["cooked"], row["method"]) for row in _pairs().get(food, ())]


_GROUNDS = {"published": Ground.PUBLISHED, "usual": Ground.USUAL}


@cache
def _priors() -> dict[tuple[str, str], Prior]:
    return {
        (row["kind"], row["method"]): Prior(
            Interval(float(row["best"]), float(row["low"]), float(row["high"]), f"{row['kind']}: {row['source']}"),
            Interval(float(row["fat"]), float(row["fat_low"]), float(row["fat_high"]), row["source"]),
            row["source"],
            _GROUNDS[row["ground"]],
        )
        for row in _rows("yield_priors.csv")
    }


def prior(kind: str, method_class: str) -> Prior | None:
    """Yield of a kitchen kind under "dry", "moist" or "fried" heat, None where nothing is known to leave it."""
    return _priors().get((kind, method_class))
