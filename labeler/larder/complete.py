"""From a larder food as printed to an `UserFood` per 100 g: its panel, its list, what a can or a spoon of it weighs.

What the panel gives is kept as it is, with the bounds of its rounding; `labeler.larder.borrow` fills in the rest.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from labeler.foods.composition.added_sugars import added_sugar_share
from labeler.foods.composition.food_table import load_table
from labeler.foods.matching.name_words import words
from labeler.foods.user_foods import PACKAGES, UserFood
from labeler.foods.weights.volume_density import volume_weight
from labeler.larder.borrow import LENT_WITHIN, completed
from labeler.larder.ingredients import read_list
from labeler.larder.model import LarderFood
from labeler.larder.nearest import Like, nearest_food
from labeler.larder.panel import PanelBasis, PanelLine, read_basis, read_panel
from labeler.parsing.units import canonical_unit, kind, millilitres_per
from labeler.types import Interval, Problem

__all__ = ["complete", "printed_values"]

_GRAMS = {"g": 1.0, "mg": 1e-3, "µg": 1e-6}
# Pure fat has 902 kcal/100 g (SR28, 04053, olive oil and other fats: 884 to 902); a little more is left to rounding.
_MOST_KCAL = 910.0


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
    if basis is None and (lines or food.per):
        text = f"says “{food.per}” for what its panel is of" if food.per else "does not say what its panel is of"
        found.append(_problem("panel-basis", food, f"{text}; write per = “100 g” or “1 slice (28 g)”"))
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
        elif len(line.formula) == 1:
            key, weight = next(iter(line.formula.items()))
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
        if line.is_energy or len(line.formula) < 2:
            continue
        (key, weight), *rest = line.formula.items()
        if key in solved or weight <= 0 or (lent is None and any(other not in values for other, _ in rest)):
            continue
        best = (line.low + line.high) / 2 if line.best is None else line.best
        low, high = line.low, line.high
        for other, factor in rest:
            guess = (lent or {}).get(other, 0.0)
            part = values.get(other, Interval(guess, guess / LENT_WITHIN, guess * LENT_WITHIN))
            ends = sorted((part.low * float(factor), part.high * float(factor)))
            best, low, high = best - part.best * float(factor), low - ends[1], high - ends[0]
        low, high = max(low, 0.0), max(high, 0.0)
        value = Interval(min(max(best, low), high), low, high, f"{line.printed} on the package")
        solved[key] = value.scaled(1 / float(weight))
    return solved


def complete(food: LarderFood) -> UserFood:
    """A larder food per 100 g, with everything that its package says of itself.

    Parameters
    ----------
    food : LarderFood

    A market or a like that does not exist is a problem of the food, which goes on without it.
    """
    lines, _ = read_panel(food)
    printed, opened, basis, problems = printed_values(food)
    pack = read_list(food.ingredients)
    if pack.broken:
        problems.append(_problem("list-brackets", food, "has an ingredient list whose brackets do not match"))
    rough = _per_100g(_sums(lines, printed, {}), _in_grams(basis, food, None))
    like = nearest_food(food, rough)
    if food.like and (like is None or not like.named):
        problems.append(
            _problem(
                "larder-no-such-like",
                food,
                f"has like = “{food.like}”, which is no food of the table; give an id of five digits or a name that "
                "`labeler foods` finds",
            )
        )
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
    return UserFood(
        id=food.id,
        name=food.name,
        like=like.food if like else None,
        per_100g=completed(values, opened, like),
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
    from labeler.parsing.numbers import read_quantity

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
    table = load_table()
    alone = [
        key
        for key, one in values.items()
        if key in table.column and one.low * _GRAMS.get(table.nutrients[table.column[key]].unit, 0.0) > 101.0
    ]
    if sum(one.low for one in macros) > 101.0 or alone:
        found.append(_problem("panel-contradiction", food, "has more than 100 g in 100 g; check what its panel is of"))
    energy = values.get("ENERC_KCAL")
    if energy is not None and energy.low > _MOST_KCAL:
        what = f"has {energy.low:.0f} kcal or more in 100 g, and pure fat has 902; check what its panel is of"
        found.append(_problem("panel-contradiction", food, what))
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
    for word, stated in food.measures.items():
        unit = canonical_unit(word) or ("piece" if word in ("piece", "one", "each") else None)
        one_of = read_basis(str(stated))
        if unit is None or one_of is None or one_of.volume:
            problems.append(
                _problem("larder-measure", food, f"has the measure {word} = “{stated}”; write such as can = “400 g”")
            )
        else:
            found[unit] = replace(one_of.amount, basis=f"{word} of {stated} in the larder")
    return found
