"""From a panel as printed to the amounts that each figure may stand for.

The lines are those of the market's own ``nutrients.yaml``: what a line is made of, its unit and its ladder are read
there, and the ladder is run backwards (`labeler.rules.rounding_intervals`). A line of another market ("salt" on a US
panel) is understood too, but then only its last digit says how it was rounded; so is any nutrient of the food table by
its tagname.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache

from labeler.foods.composition.food_table import load_table
from labeler.larder.model import LarderFood
from labeler.rules.loading.reader import nearest
from labeler.rules.market import load_market, market_ids
from labeler.rules.model import Rule
from labeler.rules.rounding_intervals import PanelFigure, behind, last_digit, read_figure
from labeler.types import Interval, Problem

__all__ = ["PanelBasis", "PanelLine", "known_lines", "read_basis", "read_panel"]

NUTRIENTS = "nutrients"
NO_RULE = "none"

_MASS = {"kg": Decimal(1000), "g": Decimal(1), "mg": Decimal("1e-3"), "µg": Decimal("1e-6")}
_UNIT_WORDS = {
    "gram": "g", "grams": "g", "gr": "g", "milligram": "mg", "milligrams": "mg", "mcg": "µg", "ug": "µg", "μg": "µg",
    "microgram": "µg", "micrograms": "µg", "calorie": "kcal", "calories": "kcal", "cal": "kcal", "cals": "kcal",
    "kilocalories": "kcal", "kcals": "kcal", "kilojoules": "kj", "% dv": "%", "%dv": "%", "% daily value": "%",
    "% ri": "%", "% nrv": "%", "mcg rae": "µg", "µg rae": "µg", "mcg dfe": "µg", "µg dfe": "µg",
}  # fmt: skip
# A gram of protein or carbohydrate has 17 kJ or 4 kcal, one of fat 37 kJ or 9 kcal (Regulation (EU) No 1169/2011,
# Annex XIV), so kJ over kcal lies between; one thermochemical kcal is 4.184 kJ.
_KJ_PER_KCAL = (Decimal("4.184"), Decimal("4.111"), Decimal("4.25"))
# 40 IU of vitamin D are a microgram (21 CFR 101.9(c)(8)(iv), footnote).
_UG_PER_IU = {"VITD": Decimal("0.025")}
_ENERGY = re.compile(r"(\d[\d ,.]*)\s*(kcal|cal\b|calories|kj)", re.IGNORECASE)

# A figure behind a minus sign is none; a dash between words and figure is one.
_BASIS = re.compile(
    r"(?<![\d.,])(?<!^[-−])(?<![\s(][-−])(\d+(?:[.,]\d+)?)\s*(kg|g|mg|ml|cl|dl|l|grams?|fl\.? ?oz|oz|lb)\b",
    re.IGNORECASE,
)
_BASIS_UNITS = {
    "kg": (1000.0, False), "g": (1.0, False), "gram": (1.0, False), "grams": (1.0, False), "mg": (0.001, False),
    "oz": (28.35, False), "lb": (453.6, False),
    "ml": (1.0, True), "cl": (10.0, True), "dl": (100.0, True), "l": (1000.0, True), "fl oz": (29.57, True),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class PanelLine:
    """One line of a panel read backwards.

    Parameters
    ----------
    key : str
        As the larder has it.
    printed : str
        The figure as printed.
    formula : mapping
        What the line is a sum of: tagname, or another line's id → factor.
    low, high : float
        Bounds of that sum, in the unit of the market's line, for what the panel is of.
    best : float or None
        The printed number; None for "0" and "less than" forms, which leave it open within the bounds.
    unit : str
        Unit of the three.
    by_rule : bool
        True where the market's ladder gave the bounds; False where only the last digit did.
    """

    key: str
    printed: str
    formula: Mapping[str, Decimal]
    low: float
    high: float
    best: float | None
    unit: str
    by_rule: bool

    @property
    def is_energy(self) -> bool:
        """True for energy, in whichever of its units."""
        return self.unit in ("kcal", "kj")

    @property
    def kilocalories(self) -> PanelLine:
        """The same line in kcal."""
        if self.unit != "kj":
            return self
        best, low, high = (float(factor) for factor in _KJ_PER_KCAL)
        return replace(
            self,
            low=self.low / high,
            high=self.high / low,
            best=None if self.best is None else self.best / best,
            unit="kcal",
        )


@dataclass(frozen=True, slots=True)
class PanelBasis:
    """What a panel is of: an amount with its bounds, in grams or in millilitres, and the household words before it."""

    amount: Interval
    volume: bool
    household: str


def read_basis(per: str) -> PanelBasis | None:
    """What a panel is of, from words such as ``"1 tablespoon (14 g)"`` or ``"100 ml"``; None where they tell nothing.

    Where grams and millilitres stand side by side the grams count. The last digit gives the bounds, but a plain 100
    is exactly that.
    """
    found = [(match, *_BASIS_UNITS[re.sub(r"[. ]+", " ", match[2].lower())]) for match in _BASIS.finditer(per)]
    if not found:
        return None
    weights = [one for one in found if not one[2]]
    metric = [one for one in weights if one[0][2].lower() not in ("oz", "lb")]
    match, factor, volume = (metric or weights or found)[0]
    figure = read_figure(match[1])
    if figure is None or figure.number <= 0:
        return None
    best = float(figure.number) * factor
    low, high = (float(end) * factor for end in last_digit(figure))
    words = " ".join(re.sub(r"\([^)]*\)|[()]", " ", per.replace(match[0], " ")).split()).strip(" ,;:-")
    if best == 100.0 and not words:
        low = high = best
    return PanelBasis(Interval(best, max(low, best * 0.5), high, per), volume, words)


def _plain(words: str) -> str:
    stated = re.sub(r"\{amount\}|\bof which\b|\bincludes\b", " ", words.lower())
    return " ".join(re.sub(r"[^a-zµ0-9%]+", " ", stated).split())


@cache
def _lines(market: str) -> Mapping[str, Rule]:
    """The lines of a market's panel by id, by label and by tagname; an id wins over a label, a label over a tagname."""
    found: dict[str, Rule] = {}
    lines = [rule for rule in load_market(market).rules(NUTRIENTS).values() if rule.kind == "nutrient"]
    for rule in lines:
        found.setdefault(_plain(rule.id), rule)
    for rule in lines:
        found.setdefault(_plain(rule.data["label"]), rule)
    for rule in lines:
        formula = rule.data["formula"]
        if len(formula) == 1 and next(iter(formula.values())) == 1:
            found.setdefault(_plain(next(iter(formula))), rule)
    return found


@cache
def _named(key: str, market: str) -> tuple[Rule, str] | None:
    """The line that a key means and the market that has it: the panel's own first, then any other."""
    others = (other for other in ("us", "eu", *market_ids()) if other != market)
    for place in (market, *others) if market != NO_RULE else others:
        rule = _lines(place).get(_plain(key))
        if rule is not None:
            if place != market and market != NO_RULE:
                same = next(
                    (own for own in _lines(market).values() if own.data["formula"] == rule.data["formula"]), None
                )
                if same is not None:
                    return same, market
            return rule, place
    return None


def _of_the_table(tag: str, printed: str) -> PanelLine | None:
    """A nutrient that no panel prints, by its tagname and in the food table's unit; its last digit gives the bounds."""
    table, figure = load_table(), read_figure(printed)
    unit = _unit(table.nutrients[table.column[tag]].unit)
    factor = None if figure is None else _factor(_unit(figure.unit) or unit, unit, {tag: Decimal(1)})
    if figure is None or factor is None:
        return None
    low, high = last_digit(figure)
    best = None if figure.less or figure.number == 0 else float(figure.number * factor[0])
    return PanelLine(
        tag, printed, {tag: Decimal(1)}, float(low * factor[1]), float(high * factor[2]), best, unit, by_rule=False
    )


def _in_kcal(printed: str, rule: Rule, place: str) -> tuple[Rule, str]:
    """The market's line of energy in kcal where a panel prints both and its line is the one in kJ."""
    if _unit(rule.data["unit"]) == "kj" and any(_unit(match[2]) == "kcal" for match in _ENERGY.finditer(printed)):
        lines = _lines(place).values()
        return next((other for other in lines if _unit(other.data["unit"]) == "kcal"), rule), place
    return rule, place


def known_lines(market: str) -> tuple[str, ...]:
    """Ids of the panel lines of a market ("none" has those of the us), in the order of the panel."""
    place = "us" if market == NO_RULE else market
    return tuple(rule.id for rule in load_market(place).rules(NUTRIENTS).values() if rule.kind == "nutrient")


def read_panel(food: LarderFood) -> tuple[tuple[PanelLine, ...], tuple[Problem, ...]]:
    """The lines of a food's panel read backwards, with what could not be read.

    A market that is not known is a problem, and then only the last digit says how a figure was rounded.
    """
    lines: list[PanelLine] = []
    problems: list[Problem] = []
    market = food.rounded_under
    if market != NO_RULE and market not in market_ids():
        what = f"has rounded_under = “{market}”, which is no market; give “none” or one of {', '.join(market_ids())}"
        problems.append(_problem("panel-market", food, what))
        market = NO_RULE
    for key, printed in food.panel.items():
        found = _named(key, market)
        if found is None and key.upper() in load_table().column:
            one = _of_the_table(key.upper(), printed)
            if one is None:
                problems.append(_problem("panel-figure", food, f"has “{printed}” for {key}, which is no figure"))
            else:
                lines.append(one)
            continue
        if found is None:
            hint = nearest(key, known_lines(market))
            problems.append(_problem("panel-line", food, f"has a line “{key}” that no panel has{hint}"))
            continue
        rule, place = _in_kcal(printed, *found)
        one = _read_line(key, printed, rule, place, food, problems)
        if one is not None:
            lines.append(one)
    return tuple(lines), tuple(problems)


def _problem(code: str, food: LarderFood, what: str) -> Problem:
    where = f" ({food.file}, line {food.line})" if food.file and food.line else ""
    return Problem(code, f"“{food.name}” of the larder{where} {what}.")


def _read_line(
    key: str, printed: str, rule: Rule, place: str, food: LarderFood, problems: list[Problem]
) -> PanelLine | None:
    formula: Mapping[str, Decimal] = rule.data["formula"]
    unit = _unit(rule.data["unit"]) or "kcal"
    figure = next(_figures(printed, unit), None)
    if figure is None:
        problems.append(_problem("panel-figure", food, f"has “{printed}” for {key}, which is no figure such as “7 g”"))
        return None
    rules = load_market(place).rules(NUTRIENTS)
    own = place == food.rounded_under
    stated = _unit(figure.unit) or unit
    if stated == "%":
        return _from_percent(key, printed, figure, rule, rules, food, problems)
    factor = _factor(stated, unit, formula)
    if factor is None:
        problems.append(_problem("panel-unit", food, f"has “{printed}” for {key}, which is given in {unit}"))
        return None
    in_unit = PanelFigure(figure.number * factor[0], figure.less, unit, figure.places)
    bounds = behind(rules[rule.data["rounding"]].data["ladder"], in_unit) if own and stated == unit else None
    by_rule = bounds is not None
    if own and stated == unit and bounds is None:
        what = (
            f"has “{printed}” for {key}, which rounding under {food.rounded_under} never prints; its last digit counts"
        )
        problems.append(_problem("panel-rounding", food, what))
    if bounds is None:
        low, high = last_digit(figure)
        bounds = low * factor[1], high * factor[2]
    limit = _zero_limit(rule) if own and figure.number == 0 else None
    low, high = bounds[0], max(bounds[1], limit) if limit is not None else bounds[1]
    opened = figure.less or figure.number == 0
    best = None if opened else min(max(in_unit.number, low), high)
    return PanelLine(
        key, printed, formula, float(low), float(high), None if best is None else float(best), unit, by_rule
    )


def _zero_limit(rule: Rule) -> Decimal | None:
    """The amount under which a market prints 0 whatever the ladder says; None where it has no such limit."""
    limits = rule.data.get("zero_if", ())
    own = [limit["below"] for limit in limits if limit["of"] == rule.id]
    if own:
        return Decimal(own[0])
    return sum((Decimal(limit["below"]) for limit in limits), Decimal(0)) if limits else None


def _unit(words: str) -> str:
    text = words.lower().strip()
    return _UNIT_WORDS.get(text, text)


def _figures(printed: str, unit: str) -> Iterator[PanelFigure]:
    """The figures of a printed text; of energy that is given twice the one in the line's own unit first."""
    if unit in ("kcal", "kj"):
        twice = [(match[1].strip(), _unit(match[2])) for match in _ENERGY.finditer(printed)]
        if len(twice) > 1:
            for number, stated in sorted(twice, key=lambda one: one[1] != unit):
                figure = read_figure(f"{number} {stated}")
                if figure is not None:
                    yield figure
    figure = read_figure(printed)
    if figure is not None:
        yield figure


def _factor(text: str, unit: str, formula: Mapping[str, Decimal]) -> tuple[Decimal, Decimal, Decimal] | None:
    """What a figure is multiplied by to be in the line's unit: best, least, most; None where it cannot be."""
    if text == unit:
        return Decimal(1), Decimal(1), Decimal(1)
    if text in _MASS and unit in _MASS:
        factor = _MASS[text] / _MASS[unit]
        return factor, factor, factor
    best, low, high = _KJ_PER_KCAL
    if (text, unit) == ("kj", "kcal"):
        return 1 / best, 1 / high, 1 / low
    if (text, unit) == ("kcal", "kj"):
        return best, low, high
    if text == "iu" and len(formula) == 1 and next(iter(formula)) in _UG_PER_IU and unit == "µg":
        factor = _UG_PER_IU[next(iter(formula))]
        return factor, factor, factor
    return None


def _from_percent(
    key: str,
    printed: str,
    figure: PanelFigure,
    rule: Rule,
    rules: Mapping[str, Rule],
    food: LarderFood,
    problems: list[Problem],
) -> PanelLine | None:
    """A line that gives only a percentage, by the market's reference value and its percentage ladder."""
    percent = rule.data.get("percent")
    reference = rules[percent["of"]].data["amount"] if percent else None
    if percent is None or reference is None:
        problems.append(_problem("panel-percent", food, f"gives {key} in per cent, for which there is no reference"))
        return None
    bounds = behind(rules[percent["rounding"]].data["ladder"], figure)
    by_rule = bounds is not None
    low, high = bounds if bounds is not None else last_digit(figure)
    share = reference / 100
    best = None if figure.less or figure.number == 0 else float(figure.number * share)
    formula, unit = rule.data["formula"], _unit(rule.data["unit"])
    return PanelLine(key, printed, formula, float(low * share), float(high * share), best, unit, by_rule)
