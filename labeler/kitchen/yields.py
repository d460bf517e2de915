"""How much is left of a food when it is cooked: cooked weight per raw weight.

In order of preference: what the cook weighed or said; the table's own cooked entry of the same food and method, with a
yield derived from the two entries; the spread of such yields over foods of the kind; a prior for the kind.
"""

from __future__ import annotations

import math
from pathlib import Path

from labeler.foods.table import load_table
from labeler.kitchen.kinds import FLESH, WATER_TAKERS, kind_of
from labeler.knowledge import Interval

__all__ = ["conserved_yield", "conserved_yields"]

PAIRS_FILE = Path(__file__).with_name("data") / "cooked_entries_sr28.csv"

# Fitted by reference/build_yields.py to the yields of muscle meat that SR28's weight table states.
ZINC_WEIGHT = 0.22
LN_BIAS = {True: 0.025, False: -0.006}
LN_HALF_WIDTH = 0.10
# Wider where no stated yield tells how good the ratio is: organs, fish, sausage; and what takes up water.
LN_HALF_WIDTH_OTHER = 0.15
_BEEF_AND_PORK = frozenset({1000, 1300})


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
        log = math.log(protein) + ZINC_WEIGHT * math.log(zinc / protein) + LN_BIAS[group in _BEEF_AND_PORK]
        basis = "SR28 raw and cooked entries, protein and zinc conserved"
    elif kind in WATER_TAKERS or kind == "flour":
        dry_raw, dry_cooked = 100.0 - table.value(raw, "WATER"), 100.0 - table.value(cooked, "WATER")
        log = math.log(dry_raw / dry_cooked) if dry_cooked > 0.0 else math.nan
        basis = "SR28 raw and cooked entries, dry matter conserved"
    else:
        return None
    if not 0.3 < (best := math.exp(log)) < 8.0:
        return None
    firm = kind in FLESH and kind not in ("organ", "sausage", "fish", "shellfish", "bacon")
    width = LN_HALF_WIDTH if firm else LN_HALF_WIDTH_OTHER
    return Interval(best, best * math.exp(-width), best * math.exp(width), basis)
