"""What a panel does not give, lent by the table food that the larder food is like.

Lent values are scaled by what carries them: fatty acids and what dissolves in fat with the fat, the parts of a vitamin
with the vitamin, sugars and fibre with the carbohydrate, the rest with protein and carbohydrate. They are `imputed`,
with bounds of half and twice (common practice, no source), or of nothing and three times where the like is in doubt.
Water is what is left of 100 g.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from labeler.foods.composition.food_table import load_table
from labeler.foods.user_foods import OwnValue
from labeler.larder.nearest import Like
from labeler.types import Interval, Status

__all__ = ["LENT_WITHIN", "completed"]

SALT_PER_SODIUM = 2.542  # g NaCl per g Na: 58.44 / 22.99
# Share of fat that is fatty acids: the rest is glycerol and what else dissolves (Weihrauch et al. 1977, J Am Oil Chem
# Soc 54:36, factor of most fats 0.956, as quoted by Greenfield and Southgate 2003, table 5.4; second-hand).
FATTY_ACIDS_IN_FAT = 0.956
LENT_WITHIN = 2.0
"""A lent value is taken to be right within this factor."""
_DOUBTED_WITHIN = 3.0
_MOST_SCALED = 5.0

_SATURATED = "F4D0 F6D0 F8D0 F10D0 F12D0 F14D0 F16D0 F18D0".split()
_MONO = "F16D1 F18D1 F20D1 F22D1".split()
_POLY = "F18D2 F18D3 F18D4 F20D4 F20D5 F22D5 F22D6".split()
# Parts that go with a whole that the panel may give.
_PARTS = {
    "FASAT": _SATURATED, "FAMS": _MONO, "FAPU": _POLY,
    "VITA_RAE": ["RETOL", "CARTB", "CARTA", "CRYPX"], "FOLDFE": ["FOL", "FOLAC", "FOLFD"],
    "TOCPHA": ["TOCPHA_ADDED"], "VITB12": ["VITB12_ADDED"],
}  # fmt: skip
_WITH_FAT = frozenset(
    "FASAT FAMS FAPU FATRN CHOLE RETOL VITA_RAE CARTB CARTA CRYPX LYCPN LUT+ZEA TOCPHA TOCPHA_ADDED VITD VITK1".split()
) | frozenset((*_SATURATED, *_MONO, *_POLY))
_WITH_CARBOHYDRATE = frozenset({"SUGAR", "FIBTG"})
_BALANCE = frozenset({"WATER", "ASH"})
_OTHER_UNITS = frozenset({"ENERC_KJ", "VITA_IU", "VITD_IU"})


def completed(values: Mapping[str, Interval], opened: frozenset[str], like: Like | None) -> dict[str, OwnValue]:
    """Every nutrient of a food per 100 g.

    Parameters
    ----------
    values : mapping
        What the panel gives, by tagname.
    opened : frozenset of str
        Tagnames whose best value is open within its bounds: the like's own figure settles it where it lies there.
    like : Like or None
        None leaves everything that the panel does not give missing, but for water.
    """
    found = {key: OwnValue(one.best, one.low, one.high, Status.CALCULATED) for key, one in values.items()}
    if like is None:
        if all(key in found for key in ("FAT", "CHOCDF", "PROCNT")):
            _balance(found, 0.0, 0.0)
        return found
    lent = _values_of(like.food)
    whole = _ratio(found, lent, "ENERC_KCAL")
    for key in ("FAT", "CHOCDF", "PROCNT"):
        if key not in found and key in lent:
            _lend(found, key, lent[key] * (1.0 if whole is None else whole))
    ratio = {"fat": _ratio(found, lent, "FAT"), "carbohydrate": _ratio(found, lent, "CHOCDF")}
    solids = [sum(side.get(key, 0.0) for key in ("CHOCDF", "PROCNT")) for side in (_best(found), lent)]
    rest = min(solids[0] / solids[1], _MOST_SCALED) if solids[1] > 0.5 else (whole or 1.0)
    _settle_open(found, lent, opened, ratio["fat"])
    _fatty_acids(found, lent, ratio["fat"])
    scales = {**ratio, "": rest, "whole": 1.0 if whole is None else whole}
    for key in [key for key in lent if key not in found and key not in _BALANCE | _OTHER_UNITS]:
        _lend(found, key, lent[key] * _scale(found, lent, key, scales))
    _inside(found)
    salt = SALT_PER_SODIUM * lent.get("NA", 0.0) / 1000.0
    _balance(found, max(lent.get("ASH", 0.0) - salt, 0.0) * rest, lent.get("ALC", 0.0))
    _energy(found)
    if like.doubtful:
        _doubt(found)
    return found


def _values_of(food: str) -> dict[str, float]:
    """What the table knows of a food per 100 g."""
    table = load_table()
    values = {nutrient.key: table.value(food, nutrient.key) for nutrient in table.nutrients}
    return {key: value for key, value in values.items() if not math.isnan(value)}


def _settle_open(
    found: dict[str, OwnValue], lent: Mapping[str, float], opened: frozenset[str], fat: float | None
) -> None:
    """The best value of what the panel leaves open within its bounds is the like's, where that lies in them."""
    for key in opened & lent.keys() & found.keys():
        guess = lent[key] * (fat or 1.0 if key in _WITH_FAT else 1.0)
        if found[key].low <= guess <= found[key].high:
            found[key] = replace(found[key], best=guess)


def _scale(
    found: Mapping[str, OwnValue], lent: Mapping[str, float], key: str, scales: Mapping[str, float | None]
) -> float:
    """How much more of a nutrient the food has than its like: by the whole that the nutrient is part of, by the fat or
    the carbohydrate that carries it, else by the other solids."""
    parent = next((name for name, parts in _PARTS.items() if key in parts and name in found), None)
    carried = "fat" if key in _WITH_FAT else "carbohydrate" if key in _WITH_CARBOHYDRATE else ""
    known = (scale for scale in (_ratio(found, lent, parent), scales[carried], scales["whole"]) if scale is not None)
    return next(known)


def _energy(found: dict[str, OwnValue]) -> None:
    """Energy by 4-4-9, where nothing gives it."""
    if "ENERC_KCAL" not in found:
        energy = sum(4.0 * found[key].best for key in ("PROCNT", "CHOCDF") if key in found)
        _lend(found, "ENERC_KCAL", energy + (9.0 * found["FAT"].best if "FAT" in found else 0.0))


def _doubt(found: dict[str, OwnValue]) -> None:
    """What is lent by a food that may be unlike this one may be nothing, or much more."""
    for key, one in found.items():
        if one.status == Status.IMPUTED and key != "WATER":
            found[key] = replace(one, low=0.0, high=_DOUBTED_WITHIN * one.best)


def _best(found: Mapping[str, OwnValue]) -> dict[str, float]:
    return {key: one.best for key, one in found.items()}


def _lend(found: dict[str, OwnValue], key: str, value: float) -> None:
    found[key] = OwnValue(
        value, value / LENT_WITHIN, value * LENT_WITHIN, Status.IMPUTED if value > 0 else Status.ASSUMED_ZERO
    )


def _ratio(found: Mapping[str, OwnValue], lent: Mapping[str, float], key: str | None) -> float | None:
    """The own value over the like's; None where either is not known or the like has next to nothing of it."""
    if key is None or key not in found or lent.get(key, 0.0) <= 0.05:
        return None
    return min(found[key].best / lent[key], _MOST_SCALED)


def _fatty_acids(found: dict[str, OwnValue], lent: Mapping[str, float], fat: float | None) -> None:
    """Fatty acid classes that the panel lacks: what the printed ones leave of the fat, divided as in the like."""
    classes = ("FASAT", "FAMS", "FAPU")
    if "FAT" not in found:
        return
    missing = [key for key in classes if key not in found and key in lent]
    known = sum(found[key].best for key in classes if key in found)
    lent_sum = sum(lent[key] for key in missing)
    if not missing or lent_sum <= 0:
        return
    share = fat if fat is not None else 0.0
    room = max(FATTY_ACIDS_IN_FAT * found["FAT"].best - known, 0.0)
    scale = room / lent_sum if any(key in found for key in classes) else min(share, room / lent_sum)
    for key in missing:
        _lend(found, key, lent[key] * scale)


def _inside(found: dict[str, OwnValue]) -> None:
    """No lent part is more than its whole leaves for it."""
    for part, whole, beside in (("SUGAR", "CHOCDF", "FIBTG"), ("FIBTG", "CHOCDF", "SUGAR"), ("FATRN", "FAT", "")):
        if part in found and whole in found and found[part].status >= Status.ASSUMED_ZERO:
            other = found[beside].best if beside in found and found[beside].status < Status.ASSUMED_ZERO else 0.0
            most = max(found[whole].best - other, 0.0)
            if found[part].best > most:
                _lend(found, part, most)


def _balance(found: dict[str, OwnValue], ash_without_salt: float, alcohol: float) -> None:
    """Ash from the salt and what the like has besides; water is what is left."""
    sodium = found["NA"].best if "NA" in found else 0.0
    if "ASH" not in found:
        _lend(found, "ASH", ash_without_salt + SALT_PER_SODIUM * sodium / 1000.0)
    if "ALC" not in found:
        _lend(found, "ALC", alcohol)
    if "WATER" not in found:
        solid = sum(found[key].best for key in ("FAT", "CHOCDF", "PROCNT", "ASH", "ALC") if key in found)
        water = max(100.0 - solid, 0.0)
        found["WATER"] = OwnValue(water, max(water - 5.0, 0.0), min(water + 5.0, 100.0), Status.IMPUTED)
