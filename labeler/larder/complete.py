"""From a larder food as printed to an `OwnFood` per 100 g: the panel first, the rest scaled from the food it is like.

What the panel gives is kept as it is, with the bounds of its rounding. What it does not give is the like's, scaled by
what carries it: fatty acids and what dissolves in fat with the fat, the parts of a vitamin with the vitamin, the rest
with protein and carbohydrate. Such values are `imputed`, with bounds of half and twice (common practice, no
source). Water is what is left of 100 g.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from labeler.foods.added_sugars import added_sugar_share
from labeler.foods.density import volume_weight
from labeler.foods.own import PACKAGES, OwnFood, OwnValue
from labeler.foods.table import load_table
from labeler.foods.words import words
from labeler.knowledge import Interval, Problem, Status
from labeler.larder.ingredients import read_list
from labeler.larder.model import LarderFood
from labeler.larder.nearest import Like, nearest_food
from labeler.larder.panel import PanelBasis, PanelLine, read_basis, read_panel
from labeler.recipe.units import canonical_unit, kind, millilitres_per

__all__ = ["complete", "printed_values"]

SALT_PER_SODIUM = 2.542  # g NaCl per g Na: 58.44 / 22.99
# Share of fat that is fatty acids: the rest is glycerol and what else dissolves (Weihrauch et al. 1977, J Am Oil Chem
# Soc 54:36, factor of most fats 0.956, as quoted by Greenfield and Southgate 2003, table 5.4; second-hand).
FATTY_ACIDS_IN_FAT = 0.956
_WIDE = 2.0
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


def printed_values(food: LarderFood) -> tuple[dict[str, Interval], frozenset[str], PanelBasis | None, list[Problem]]:
    """What a panel gives for what it is of (a serving, 100 g), by tagname.

    Returns
    -------
    dict of str to Interval
        Bounds and best value in the table's unit; a sum over several tagnames is left out here.
    frozenset of str
        Tagnames whose best value is open within its bounds ("0 g", "<1 g").
    PanelBasis or None
        What the panel is of; None where `per` does not say.
    list of Problem
    """
    lines, problems = read_panel(food)
    values, opened = _single(lines)
    values = _sums(lines, values, None)
    basis = read_basis(food.per)
    found = list(problems)
    if basis is None and lines:
        said = f"says “{food.per}”" if food.per else "does not say"
        found.append(
            _problem("panel-basis", food, f"{said} what its panel is of; write per = “100 g” or “1 slice (28 g)”")
        )
    return values, opened, basis, found


def _problem(code: str, food: LarderFood, what: str) -> Problem:
    return Problem(code, f"“{food.name}” of the larder {what}.")


def _single(lines: tuple[PanelLine, ...]) -> tuple[dict[str, Interval], frozenset[str]]:
    """Lines of one tagname, energy in kcal; where two lines give the same the narrower one counts."""
    values: dict[str, Interval] = {}
    opened: set[str] = set()
    for line in lines:
        if line.is_energy:
            line, key, factor = line.kilocalories, "ENERC_KCAL", 1.0
        elif len(line.take) == 1:
            key, weight = next(iter(line.take.items()))
            factor = 1 / float(weight)
        else:
            continue
        best = (line.low + line.high) / 2 if line.best is None else line.best
        best = min(max(best, line.low), line.high)
        value = Interval(best, line.low, line.high, f"{line.printed} on the package").scaled(factor)
        known = values.get(key)
        if known is None or value.high - value.low < known.high - known.low:
            values[key] = value
            (opened.add if line.best is None else opened.discard)(key)
    return values, frozenset(opened)


def _sums(
    lines: tuple[PanelLine, ...], values: Mapping[str, Interval], lent: Mapping[str, float] | None
) -> dict[str, Interval]:
    """Lines that are sums ("carbohydrate" without fibre) solved for their first tagname.

    The other terms are the panel's own, else lent with bounds of half and twice; where `lent` is None only lines
    whose other terms are all printed are solved.
    """
    solved = dict(values)
    for line in lines:
        if line.is_energy or len(line.take) < 2:
            continue
        (key, weight), *rest = line.take.items()
        if key in solved or weight <= 0 or (lent is None and any(other not in values for other, _ in rest)):
            continue
        best = (line.low + line.high) / 2 if line.best is None else line.best
        low, high = line.low, line.high
        for other, factor in rest:
            guess = (lent or {}).get(other, 0.0)
            part = values.get(other, Interval(guess, guess / _WIDE, guess * _WIDE))
            ends = sorted((part.low * float(factor), part.high * float(factor)))
            best, low, high = best - part.best * float(factor), low - ends[1], high - ends[0]
        low, high = max(low, 0.0), max(high, 0.0)
        value = Interval(min(max(best, low), high), low, high, f"{line.printed} on the package")
        solved[key] = value.scaled(1 / float(weight))
    return solved


def complete(food: LarderFood) -> OwnFood:
    """A larder food per 100 g, with everything that its package says of itself.

    Parameters
    ----------
    food : LarderFood

    Raises
    ------
    LabelerError
        For a market or a like that does not exist.
    """
    lines, _ = read_panel(food)
    printed, opened, basis, problems = printed_values(food)
    pack = read_list(food.ingredients)
    if pack.broken:
        problems.append(_problem("list-brackets", food, "has an ingredient list whose brackets do not match"))
    rough = _per_100g(_sums(lines, printed, {}), _in_grams(basis, food, None))
    like = nearest_food(food, rough)
    per_ml = _per_ml(food, basis, like)
    grams = _in_grams(basis, food, per_ml)
    lent: dict[str, float] = {}
    if like is not None and grams is not None:
        fibre = load_table().value(like.food, "FIBTG")
        lent = {} if math.isnan(fibre) else {"FIBTG": fibre * grams.best / 100}
    values = _per_100g(_sums(lines, printed, lent), grams)
    if like is not None:
        if like.doubtful:
            what = f"is completed from {like.food} ({load_table().describe(like.food)}), {like.reason}"
            problems.append(_problem("larder-like", food, f"{what}; if that is wrong write like = “...”"))
    elif values:
        problems.append(
            _problem("larder-alone", food, "resembles no food of the table, so what its panel lacks is missing")
        )
    problems += _contradictions(food, values)
    added = _added_share(values)
    values.pop("SUGAR_ADDED", None)
    measures = _measures(food, basis, grams, per_ml, problems)
    basis_words = f"its package, read {food.read_on:%d %B %Y}" if food.read_on else "its package"
    return OwnFood(
        id=food.id,
        name=food.name,
        like=like.food if like else None,
        per_100g=_completed(values, opened, like),
        added_share=added if added is not None or like is None else added_sugar_share(like.food),
        ingredients=pack.ingredients,
        contains="; ".join(filter(None, (food.contains, pack.contains))),
        may_contain="; ".join(filter(None, (food.may_contain, pack.may_contain))),
        measures=measures,
        per_ml=per_ml if food.density or _tells_density(food, basis) else None,
        basis=food.source or basis_words,
        problems=tuple(problems),
    )


def _tells_density(food: LarderFood, basis: PanelBasis | None) -> bool:
    return bool(food.density) or (basis is not None and bool(basis.household) and not basis.volume)


def _per_ml(food: LarderFood, basis: PanelBasis | None, like: Like | None) -> Interval | None:
    """Grams of a millilitre: as stated, by the spoon that the panel is of, else as the like fills a cup."""
    if food.density:
        return Interval(food.density, food.density * 0.99, food.density * 1.01, "density in the larder")
    if basis is not None and basis.household and not basis.volume:
        one = _household(basis)
        volume = millilitres_per(one[1]) if one is not None and kind(one[1]) == "volume" else None
        if one is not None and volume:
            # US labels hold a tablespoon for 15 mL, a teaspoon for 5 mL, a cup for 240 mL (21 CFR 101.9(b)(5)(viii)).
            volume = {"tablespoon": 15.0, "teaspoon": 5.0, "cup": 240.0}.get(one[1], volume)
            return replace(basis.amount.scaled(1 / (one[0] * volume)), basis=f"{food.per} on the package")
    if like is not None:
        return volume_weight(like.food, 100.0, frozenset(), words(food.name)).per_ml
    return None


def _household(basis: PanelBasis) -> tuple[float, str] | None:
    """How many of which unit a serving is, from its household words ("2 tablespoons")."""
    from labeler.recipe.numbers import read_quantity

    quantity = read_quantity(basis.household)
    count = (quantity.low + quantity.high) / 2 if quantity is not None else 1.0
    rest = basis.household[quantity.end :] if quantity is not None else basis.household
    for word in rest.replace(",", " ").split():
        unit = canonical_unit(word.strip("."))
        if unit is not None and count > 0:
            return count, unit
    return None


def _in_grams(basis: PanelBasis | None, food: LarderFood, per_ml: Interval | None) -> Interval | None:
    """Grams of what the panel is of; a volume needs a density, 1 g/mL before one is known."""
    if basis is None:
        return None
    if not basis.volume:
        return basis.amount
    one = per_ml or Interval(food.density or 1.0, food.density or 0.8, food.density or 1.4)
    amount = basis.amount
    return Interval(amount.best * one.best, amount.low * one.low, amount.high * one.high, amount.basis)


def _per_100g(values: Mapping[str, Interval], grams: Interval | None) -> dict[str, Interval]:
    if grams is None or grams.low <= 0:
        return {}
    return {
        key: Interval(
            100 * value.best / grams.best, 100 * value.low / grams.high, 100 * value.high / grams.low, value.basis
        )
        for key, value in values.items()
    }


def _added_share(values: Mapping[str, Interval]) -> Interval | None:
    """Share of the sugars that was added, where the panel gives both."""
    added, sugar = values.get("SUGAR_ADDED"), values.get("SUGAR")
    if added is None or sugar is None:
        return None
    if sugar.high <= 0:
        return Interval(0.0, 0.0, 0.0, added.basis)
    low = min(added.low / sugar.high, 1.0)
    high = min(added.high / sugar.low, 1.0) if sugar.low > 0 else 1.0
    best = min(max(added.best / sugar.best if sugar.best > 0 else 0.0, low), high)
    return Interval(best, low, max(high, low), added.basis)


def _contradictions(food: LarderFood, values: Mapping[str, Interval]) -> list[Problem]:
    """Figures of a panel that cannot stand together whatever their rounding."""
    found: list[Problem] = []
    nothing = Interval(0.0, 0.0, 0.0)
    fat, carbohydrate = values.get("FAT"), values.get("CHOCDF")
    for part, whole, words_of in (
        ("FASAT", fat, "more saturated fat than fat"), ("FATRN", fat, "more trans fat than fat"),
        ("SUGAR", carbohydrate, "more sugars than carbohydrate"),
        ("FIBTG", carbohydrate, "more fibre than carbohydrate"),
        ("SUGAR_ADDED", values.get("SUGAR"), "more added sugars than sugars"),
    ):  # fmt: skip
        if whole is not None and part in values and values[part].low > whole.high + 0.05:
            found.append(_problem("panel-contradiction", food, f"has {words_of} on its panel"))
    macros = [values.get(key, nothing) for key in ("FAT", "CHOCDF", "PROCNT")]
    if sum(one.low for one in macros) > 101.0:
        found.append(_problem("panel-contradiction", food, "has more than 100 g in 100 g; check what its panel is of"))
    energy = values.get("ENERC_KCAL")
    if energy is not None and all(key in values for key in ("FAT", "CHOCDF", "PROCNT")):
        low = 9 * macros[0].low + 4 * max(macros[1].low - values.get("FIBTG", macros[1]).high, 0.0) + 4 * macros[2].low
        high = 9 * macros[0].high + 4 * (macros[1].high + macros[2].high)
        # Specific factors run from 2.4 to 4.3 kcal/g (Merrill and Watt 1973, table 13), so a fifth each way is open.
        if energy.high < 0.8 * low - 5 or energy.low > 1.2 * high + 5:
            what = f"prints {energy.best:.0f} kcal in 100 g where its fat, carbohydrate and protein make {high:.0f}"
            found.append(_problem("panel-contradiction", food, what))
    return found


def _measures(
    food: LarderFood, basis: PanelBasis | None, grams: Interval | None, per_ml: Interval | None, problems: list[Problem]
) -> dict[str, Interval]:
    """Grams of one of each unit that the package tells."""
    found: dict[str, Interval] = {}
    if food.net:
        net = read_basis(food.net)
        weight = _in_grams(net, food, per_ml)
        if weight is None:
            problems.append(
                _problem("larder-net", food, f"has the net weight “{food.net}”, which is no weight such as “400 g”")
            )
        else:
            found |= {unit: replace(weight, basis=f"net weight {food.net}") for unit in sorted(PACKAGES)}
    if basis is not None and grams is not None and basis.household:
        one = _household(basis)
        if one is not None:
            found[one[1]] = replace(grams.scaled(1 / one[0]), basis=f"{food.per} on the package")
    for word, said in food.measures.items():
        unit = canonical_unit(word) or ("piece" if word in ("piece", "one", "each") else None)
        one_of = read_basis(str(said))
        if unit is None or one_of is None or one_of.volume:
            problems.append(
                _problem("larder-measure", food, f"has the measure {word} = “{said}”; write such as can = “400 g”")
            )
        else:
            found[unit] = replace(one_of.amount, basis=f"{word} of {said} in the larder")
    return found


def _completed(values: Mapping[str, Interval], opened: frozenset[str], like: Like | None) -> dict[str, OwnValue]:
    """Every nutrient: the printed ones with their bounds, the others scaled from the like."""
    found = {key: OwnValue(one.best, one.low, one.high, Status.CALCULATED) for key, one in values.items()}
    if like is None:
        if all(key in found for key in ("FAT", "CHOCDF", "PROCNT")):
            _balance(found, 0.0, 0.0)
        return found
    table = load_table()
    lent = {nutrient.key: table.value(like.food, nutrient.key) for nutrient in table.nutrients}
    lent = {key: value for key, value in lent.items() if not math.isnan(value)}
    whole = _ratio(found, lent, "ENERC_KCAL")
    for key in ("FAT", "CHOCDF", "PROCNT"):
        if key not in found and key in lent:
            _lend(found, key, lent[key] * (1.0 if whole is None else whole))
    ratio = {"fat": _ratio(found, lent, "FAT"), "carbohydrate": _ratio(found, lent, "CHOCDF")}
    solids = [sum(side.get(key, 0.0) for key in ("CHOCDF", "PROCNT")) for side in (_best(found), lent)]
    rest = min(solids[0] / solids[1], _MOST_SCALED) if solids[1] > 0.5 else (whole or 1.0)
    for key in opened:
        if key in lent and key in found:
            guess = lent[key] * (ratio["fat"] or 1.0 if key in _WITH_FAT else 1.0)
            if found[key].low <= guess <= found[key].high:
                found[key] = replace(found[key], best=guess)
    _fatty_acids(found, lent, ratio["fat"])
    for key, value in lent.items():
        if key in found or key in _BALANCE or key in ("ENERC_KJ", "VITA_IU", "VITD_IU"):
            continue
        parent = next((name for name, parts in _PARTS.items() if key in parts and name in found), None)
        scale = _ratio(found, lent, parent) if parent else None
        if scale is None:
            carried = "fat" if key in _WITH_FAT else "carbohydrate" if key in _WITH_CARBOHYDRATE else ""
            scale = ratio.get(carried) if carried else rest
        if scale is None:
            scale = whole if whole is not None else 1.0
        _lend(found, key, value * scale)
    _inside(found)
    salt = SALT_PER_SODIUM * lent.get("NA", 0.0) / 1000.0
    _balance(found, max(lent.get("ASH", 0.0) - salt, 0.0) * rest, lent.get("ALC", 0.0))
    if "ENERC_KCAL" not in found:
        energy = sum(4.0 * found[key].best for key in ("PROCNT", "CHOCDF") if key in found)
        _lend(found, "ENERC_KCAL", energy + (9.0 * found["FAT"].best if "FAT" in found else 0.0))
    return found


def _best(found: Mapping[str, OwnValue]) -> dict[str, float]:
    return {key: one.best for key, one in found.items()}


def _lend(found: dict[str, OwnValue], key: str, value: float) -> None:
    found[key] = OwnValue(value, value / _WIDE, value * _WIDE, Status.IMPUTED if value > 0 else Status.ASSUMED_ZERO)


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
