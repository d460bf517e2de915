"""Declared values: from unrounded amounts to the figures that a nutrition panel prints.

A market's ``nutrients.yaml`` says what each line of its panel is made of (`formula`, sums over INFOODS tagnames, so
that carbohydrate without fibre or salt from sodium are data), which ladder rounds it and what its percentage is
of. `labeler.rules.panel_plan` reads the lines as a plan, and this module runs the plan; neither knows a market.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from labeler.rules.bounded_amounts import settle
from labeler.rules.loading.reader import nearest
from labeler.rules.market import Market, load_market
from labeler.rules.model import Rule
from labeler.rules.panel_plan import NUTRIENTS, PanelPlan, plan_of
from labeler.rules.rounding import Rounded
from labeler.rules.unrounded_amounts import TAGNAME, Amounts, DeclarableQuantity
from labeler.types import Problem, Status

__all__ = ["NUTRIENTS", "Declaration", "DeclaredValue", "bounded", "declare", "quantities"]

_HUNDRED = Decimal(100)


@dataclass(frozen=True, slots=True)
class DeclaredValue:
    """One line of the panel.

    Parameters
    ----------
    id : str
        The line's rule id, such as ``"total_fat"``.
    tagname : str
        INFOODS tagname of the amount, or the line's id where it is made of several.
    label : str
        The words of the line; ``{amount}`` in them stands for `text`, which is then not printed apart.
    amount, low, high : float or None
        Unrounded amount and its bounds [`unit`]; None where not known.
    unit : str
        Unit as printed; empty for calories.
    text : str
        What is printed for the amount, with its unit ("<1 g"), or the market's words for an unknown value.
    value : Decimal or None
        The number printed; None for "less than" forms and unknown values.
    percent : str or None
        What is printed for the percentage ("10%"); None where there is none or it is not known.
    indent : int
        Depth under the line above.
    requirement : str
        "mandatory" or "voluntary".
    status : Status
        What stands behind the amount.
    rule, paragraph : str
        The rule that rounds it, and where that stands in the law.
    also : tuple of str
        Other texts that the law lets the maker print.
    insignificant : bool
        True where the amount is below the level that the market calls insignificant.
    same_line_as : str
        Id of the line on whose line this one is printed (kJ and kcal), or empty.
    display : str
        "amount and percent", "amount" or "percent".
    note : str
        What a reader should know.
    """

    id: str
    tagname: str
    label: str
    amount: float | None
    unit: str
    text: str
    value: Decimal | None
    percent: str | None
    indent: int
    requirement: str
    status: Status
    rule: str
    paragraph: str
    low: float | None = None
    high: float | None = None
    also: tuple[str, ...] = ()
    insignificant: bool = False
    same_line_as: str = ""
    display: str = "amount and percent"
    note: str = ""

    @property
    def known(self) -> bool:
        """True where the printed text is a declared value and not the words for an unknown one."""
        return self.amount is not None and self.status is not Status.MISSING

    @property
    def words(self) -> str:
        """The label with its amount filled in where the words hold a place for it and the amount is known."""
        return self.label.format(amount=self.text) if self.known else self.label.replace("{amount} ", "")


@dataclass(frozen=True, slots=True)
class Declaration:
    """The declared values of one food for one market, in the order of its panel.

    Parameters
    ----------
    market : str
        Market id.
    basis : str
        What the amounts are of, in words ("per serving").
    lines : tuple of DeclaredValue
        Every mandatory line, and the voluntary ones whose amount is known.
    problems : tuple of Problem
        Mandatory values that are not known, and why.
    missing : tuple of str
        Facts of this market that the rule files do not hold.
    """

    market: str
    basis: str
    lines: tuple[DeclaredValue, ...]
    problems: tuple[Problem, ...] = ()
    missing: tuple[str, ...] = ()

    def __getitem__(self, id: str) -> DeclaredValue:
        return next(line for line in self.lines if line.id == id or line.tagname == id)

    def __iter__(self) -> Iterator[DeclaredValue]:
        return iter(self.lines)

    def __contains__(self, id: object) -> bool:
        return any(id in (line.id, line.tagname) for line in self.lines)

    @property
    def mandatory(self) -> tuple[DeclaredValue, ...]:
        """The lines that a panel of this market must carry."""
        return tuple(line for line in self.lines if line.requirement == "mandatory")

    @property
    def insignificant(self) -> tuple[DeclaredValue, ...]:
        """Mandatory lines whose amount the market calls insignificant."""
        return tuple(line for line in self.mandatory if line.insignificant)


def quantities(values: Mapping[str, Any], market: str | Path | Market = "us") -> Mapping[str, DeclarableQuantity]:
    """The unrounded amount of every line of a market's panel: what the claims and tolerances are judged on."""
    plan = plan_of(load_market(market))
    amounts = Amounts(values, plan.rules)
    return {rule.id: amounts.of(rule.id) for rule in plan.lines}


def bounded(values: Mapping[str, Any], market: str | Path | Market = "us") -> frozenset[str]:
    """Tagnames that lack something which changes no line that a market prints of them.

    Parameters
    ----------
    values : mapping
        As for `declare`, of one serving or of 100 g.
    market : str or Path

    Returns
    -------
    frozenset of str
        Their figures are lower bounds, and yet the label prints them.
    """
    plan = plan_of(load_market(market))
    amounts = Amounts(values, plan.rules)
    settled: set[str] = set()
    open_: set[str] = set()
    for rule in plan.lines:
        quantity = amounts.of(rule.id)
        if not quantity.known:
            known = settle(rule, quantity, plan.rules).known
            (settled if known else open_).update(quantity.missing)
    return frozenset(settled - open_)


def declare(values: Mapping[str, Any], *, market: str | Path | Market = "us", basis: str | None = None) -> Declaration:
    """The values that a market's nutrition panel prints for one food.

    Each amount is rounded once, from its unrounded value, in exact decimal arithmetic (see `labeler.rules.rounding`). A
    value of status missing is printed as unknown; where the amount is a lower bound, as "at least" the next printable
    figure under it; and as any other where nothing that is missing could change what is printed. Percentages come
    from the unrounded or the declared amount as the market's file says.

    Parameters
    ----------
    values : mapping
        INFOODS tagname → amount in the food table's unit (g, mg, µg, kcal), for one serving or 100 g as `basis`
        says. An amount is a number, or something with best, low, high and status; see
        `labeler.rules.unrounded_amounts`. A tagname that is not there is unknown, not zero.
    market : str or Path
        Whose rules round, by id, or a folder of rule files. There is no recipe here whose head could say it: us where
        none is given.
    basis : str or None
        What the amounts are of; one of the market's bases, None for its first.

    Returns
    -------
    Declaration
        The lines of the panel in its order, each with its printed text, per cent, rule and paragraph.

    Raises
    ------
    ValueError
        For a negative amount or a basis that the market does not have.
    LabelerError
        For an unknown market or a broken rule file.

    Source: the paragraph of each line, read in what ``labeler/rules/data/<market>/market.yaml`` lists.

    Examples
    --------
    >>> sodium = next(line for line in labeler.declare({"NA": 143.0}, market="us").lines if line.id == "sodium")
    >>> sodium.text, sodium.percent, sodium.paragraph  # 143 mg: to the nearest 10 above 140
    ('140 mg', '6%', '21 CFR 101.9(c)(4)')
    """
    place = load_market(market)
    plan = plan_of(place)
    bases = place.setting("bases") or ("per serving",)
    if basis is not None and basis not in bases:
        raise ValueError(f"market {place.id} has no basis '{basis}'{nearest(basis, bases)}")
    amounts = Amounts(values, plan.rules)
    lines: list[DeclaredValue] = []
    problems: list[Problem] = []
    for rule in plan.lines:
        quantity = settle(rule, amounts.of(rule.id), plan.rules)
        if rule.data["requirement"] == "voluntary" and not _worth_declaring(rule, quantity, plan):
            continue
        line = _line(rule, quantity, amounts, plan)
        lines.append(line)
        if line.requirement == "mandatory" and not quantity.known:
            problems.append(_unknown(line, quantity))
    return Declaration(place.id, basis or bases[0], tuple(lines), tuple(problems), tuple(place.setting("missing")))


def _worth_declaring(rule: Rule, quantity: DeclarableQuantity, plan: PanelPlan) -> bool:
    """A voluntary line needs an amount, and where the market says so a significant one."""
    least = rule.data.get("significant_from_percent")
    if quantity.best is None or least is None:
        return quantity.best is not None
    reference: Decimal | None = plan.rules[rule.data["percent"]["of"]].data["amount"]
    return reference is not None and quantity.best * _HUNDRED >= least * reference


def _unknown(line: DeclaredValue, quantity: DeclarableQuantity) -> Problem:
    why = ", ".join(dict.fromkeys(quantity.missing)) or line.tagname
    name = line.label.replace("{amount} ", "")
    return Problem(
        "value-not-known",
        f"{name} is printed as {line.text!r}: no full figure for {why}. A panel needs it; give the value of the "
        "ingredient that lacks it, or leave the panel off where the rules allow.",
    )


def _line(rule: Rule, quantity: DeclarableQuantity, amounts: Amounts, plan: PanelPlan) -> DeclaredValue:
    data = rule.data
    unit = data["unit"]
    rounded = _round(rule, quantity, amounts, plan)
    words = plan.market.setting("words") or {"unknown": "not known", "at_least": "at least {text}"}
    if rounded is None:
        text = words["unknown"]
    else:
        text = f"{rounded.text} {unit}".rstrip()
        if not quantity.known:
            text = words["at_least"].format(text=text)
    ladder = plan.rules[data["rounding"]]
    below = data.get("insignificant_below")
    formula = tuple(data["formula"])
    return DeclaredValue(
        id=rule.id,
        tagname=formula[0] if len(formula) == 1 and TAGNAME.fullmatch(formula[0]) else rule.id,
        label=data["label"],
        amount=None if quantity.best is None else float(quantity.best),
        low=None if quantity.low is None else float(quantity.low),
        high=None if quantity.high is None else float(quantity.high),
        unit=unit,
        text=text,
        value=rounded.value if rounded and quantity.known else None,
        percent=_percent(rule, quantity, rounded, plan) if quantity.known else None,
        indent=data.get("indent", 0),
        requirement=data["requirement"],
        status=quantity.status,
        rule=ladder.id,
        paragraph=ladder.paragraph,
        also=tuple(f"{other} {unit}".rstrip() if _ends_in_figure(other) else other for other in rounded.also)
        if rounded
        else (),
        insignificant=bool(
            below is not None and quantity.known and quantity.best is not None and quantity.best < below
        ),
        same_line_as=data.get("same_line_as", ""),
        display=data.get("display", "amount and percent"),
        note=rule.note,
    )


def _ends_in_figure(text: str) -> bool:
    return text[-1:].isdigit()


def _round(rule: Rule, quantity: DeclarableQuantity, amounts: Amounts, plan: PanelPlan) -> Rounded | None:
    if quantity.best is None:
        return None
    ladder = plan.rules[rule.data["rounding"]].data["ladder"]
    if not quantity.known:
        floor: Rounded | None = ladder.floor(quantity.best)
        return floor
    limits = rule.data.get("zero_if", ())
    if limits and all(_under(amounts.of(limit["of"]), limit["below"]) for limit in limits):
        return Rounded("0", Decimal(0), "shall")
    found: Rounded = ladder.apply(quantity.best)
    return found


def _under(quantity: DeclarableQuantity, limit: Decimal) -> bool:
    return quantity.known and quantity.best is not None and quantity.best < limit


def _percent(rule: Rule, quantity: DeclarableQuantity, rounded: Rounded | None, plan: PanelPlan) -> str | None:
    percent = rule.data.get("percent")
    if percent is None or rounded is None or quantity.best is None:
        return None
    if percent.get("zero_with_amount") and rounded.is_zero:
        return "0%"
    reference: Decimal | None = plan.rules[percent["of"]].data["amount"]
    if reference is None:
        return None
    amount = quantity.best
    if percent["from"] == "declared" and rounded.value is not None:
        amount = rounded.value
    return f"{plan.rules[percent['rounding']].data['ladder'].apply(amount * _HUNDRED / reference).text}%"
