"""Nutrient content claims: which of them a food would meet, how surely, and what making one brings with it.

A claim is offered only where every value behind it is known, is no guess from a similar food, and keeps the limit
with its whole interval. Whether to make it is the seller's decision: a claim ends exemptions and may need words
beside it, and those consequences are part of every answer.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path
from typing import Any

from labeler.rules.declaration import NUTRIENTS, quantities
from labeler.rules.market import Market, load_market
from labeler.rules.model import Rule
from labeler.rules.rounding import exact, plain
from labeler.rules.unrounded_amounts import DeclarableQuantity
from labeler.types import LabelerError, Status

__all__ = ["Claim", "Claims", "claims"]

CLAIMS = "claims"
_HUNDRED = Decimal(100)
_ENERGY_IDS = ("calories", "energy_kcal", "energy")


@dataclass(frozen=True, slots=True)
class Claim:
    """One claim that a food meets, or seems to meet.

    Parameters
    ----------
    words : str
        The claim ("low fat").
    offered : bool
        True where its values keep every limit with their whole intervals and none is imputed or missing.
    because : tuple of str
        The figures that keep the limits; where it is withheld, why.
    asks : tuple of str
        Conditions that figures do not settle, for the seller to check.
    rule : Rule
        Its paragraph and limits.
    """

    words: str
    offered: bool
    because: tuple[str, ...]
    asks: tuple[str, ...]
    rule: Rule


@dataclass(frozen=True, slots=True)
class Claims:
    """What may be claimed of a food.

    Parameters
    ----------
    offered : tuple of Claim
        Claims that the figures support.
    withheld : tuple of Claim
        Claims whose best figures would meet the limits, but not surely enough.
    disclosure : str
        The statement that every claim on this food needs; empty where no level is passed.
    consequences : tuple of Rule
        What making any claim brings with it.
    other : tuple of Rule
        Claims that a recipe cannot settle, and those that there are not.
    """

    offered: tuple[Claim, ...]
    withheld: tuple[Claim, ...]
    disclosure: str
    consequences: tuple[Rule, ...]
    other: tuple[Rule, ...]


@dataclass(frozen=True, slots=True)
class _Case:
    """A food before the claims: its amounts per 100 g and the weights that limits are tested on."""

    amounts: Mapping[str, DeclarableQuantity]
    weights: Mapping[str, Decimal]
    market: Market
    energy: DeclarableQuantity


def claims(
    per_100g: Mapping[str, Any],
    *,
    market: str | Path | Market = "us",
    reference_g: float | None = None,
    serving_g: float | None = None,
    reference_ml: float | None = None,
    liquid: bool = False,
    density: float | None = None,
    dish: str = "single food",
    reference: str = "",
) -> Claims:
    """The nutrient content claims that a food would meet.

    Parameters
    ----------
    per_100g : mapping
        INFOODS tagname → amount per 100 g, in the forms of `declare`.
    market : str or Path
        Market id, or a folder of rule files.
    reference_g, reference_ml : float or None
        Reference amount [g], and in mL where the market gives it so; None where it is not known.
    serving_g : float or None
        Labelled serving [g].
    liquid : bool
        True for liquids, which some markets judge per 100 mL.
    density : float or None
        g per mL, needed for those.
    dish : str
        "single food", "main dish" or "meal".
    reference : str
        Rule id of the reference amount ("ra.fish-plain"), for claims that only some foods may make.

    Raises
    ------
    LabelerError
        For an unknown market or one whose claims are not held.
    ValueError
        For a weight that is not above zero.

    Limits that need a weight which is not given cannot be kept, so their claims are not in the answer.
    """
    place = load_market(market)
    rules = place.rules(CLAIMS)
    if not rules:
        raise LabelerError(f"market {place.id}: claims are not held; see what is missing in its rules")
    small = rules.get("claim-small-reference")
    weights: dict[str, Decimal] = {"100 g": _HUNDRED}
    for name, value in (("reference amount", reference_g), ("serving", serving_g)):
        if value is not None:
            if value <= 0:
                raise ValueError(f"the {name} is above zero, not {value}")
            weights[name] = exact(float(value))
    if liquid:
        if density is not None:
            weights["100 mL of a liquid"] = _HUNDRED * exact(float(density))
    else:
        weights["100 g of a solid"] = _HUNDRED
    is_small = small is not None and (
        (reference_g is not None and exact(float(reference_g)) <= small.data["grams"])
        or (reference_ml is not None and exact(float(reference_ml)) <= small.data["millilitres"])
    )
    if is_small and small is not None:
        weights["small reference"] = small.data["tested_on_g"]
    amounts = quantities(per_100g, place)
    energy = next(
        (amounts[key] for key in _ENERGY_IDS if key in amounts), DeclarableQuantity(None, status=Status.MISSING)
    )
    case = _Case(amounts, weights, place, energy)
    may = [rule for rule in rules.values() if rule.kind == "claim" and reference in rule.data.get("only", (reference,))]
    found = [claim for rule in may for claim in _judge(rule, case, dish, liquid)]
    disclosure = rules.get("claim-disclosure")
    return Claims(
        offered=tuple(claim for claim in found if claim.offered),
        withheld=tuple(claim for claim in found if not claim.offered),
        disclosure=_disclosure(disclosure, case, dish) if disclosure else "",
        consequences=tuple(rule for rule in rules.values() if rule.kind == "consequence"),
        other=tuple(rule for rule in rules.values() if rule.kind == "words"),
    )


def _judge(rule: Rule, case: _Case, dish: str, liquid: bool) -> Iterator[Claim]:
    limits = rule.data["limits"]
    if dish != "single food" and "dish_limits" in rule.data:
        limits = rule.data["dish_limits"]
    other = "100 g of a solid" if liquid else "100 mL of a liquid"
    limits = [limit for limit in limits if limit["per"] != other]
    if "small reference" not in case.weights:
        limits = [limit for limit in limits if limit["per"] != "small reference"]
    for nutrient in rule.data.get("each_of", ("",)):
        own = [_for_nutrient(limit, nutrient) for limit in limits]
        claim = _claim(rule, own, case, nutrient)
        if claim is not None:
            yield claim


def _for_nutrient(limit: Mapping[str, Any], nutrient: str) -> Mapping[str, Any]:
    """A limit that is of each of several nutrients, for one of them."""
    return {**limit, "of": nutrient} if limit["of"] == "each" else limit


def _claim(rule: Rule, limits: Sequence[Mapping[str, Any]], case: _Case, nutrient: str) -> Claim | None:
    """The claim where its best figures keep every limit; None where they do not or where a weight is missing."""
    because: list[str] = []
    doubts: list[str] = []
    for limit in limits:
        tested = _tested(limit, case)
        if tested is None or not _keeps(limit, tested.best, case):
            return None
        label = case.market.rule(NUTRIENTS, limit["of"]).data["label"].replace("{amount} ", "")
        worst = tested.high if "at_most" in limit or "below" in limit or "below_percent" in limit else tested.low
        if tested.status is Status.MISSING:
            doubts.append(f"{label}: not all of it is known")
        elif tested.status in (Status.IMPUTED, Status.BOUNDED):
            doubts.append(f"{label}: a value behind it was taken from a similar food, or only bounded")
        elif not _keeps(limit, worst, case):
            doubts.append(f"{label}: its interval reaches {_figure(worst, limit, case)}, over the limit")
        else:
            because.append(f"{label} {_figure(tested.best, limit, case)}")
    label = case.market.rule(NUTRIENTS, nutrient).data["label"] if nutrient else ""
    words = rule.data["claim"].format(nutrient=label[:1].lower() + label[1:] if " " not in label else label)
    return Claim(words, not doubts, tuple(doubts or because), rule.data.get("asks", ()), rule)


def _figure(number: Decimal | None, limit: Mapping[str, Any], case: _Case) -> str:
    """An amount with what it is per, in words."""
    short = "not known" if number is None else plain(Decimal(format(float(number), ".3g")))
    if limit["per"] == "energy":
        return f"{short} % of the energy"
    unit = case.market.rule(NUTRIENTS, limit["of"]).data["unit"]
    per = f"{plain(case.weights[limit['per']])} g" if limit["per"] == "small reference" else limit["per"]
    return f"{short} {unit} per {per}".replace("  ", " ")


def _tested(limit: Mapping[str, Any], case: _Case) -> DeclarableQuantity | None:
    """The amount that a limit is on: per a weight, or as a share of the energy [%]."""
    amount = case.amounts.get(limit["of"])
    if amount is None or amount.best is None:
        return None
    if limit["per"] != "energy":
        weight = case.weights.get(limit["per"])
        return None if weight is None else _scaled(amount, weight / _HUNDRED)
    energy, each = case.energy, limit["kcal_each"] * _HUNDRED
    if not energy.best or not energy.low or not energy.high:
        return None
    return DeclarableQuantity(
        amount.best * each / energy.best,
        (amount.low or Decimal(0)) * each / energy.high,
        (amount.high or Decimal(0)) * each / energy.low,
        max(amount.status, energy.status),
    )


def _scaled(amount: DeclarableQuantity, factor: Decimal) -> DeclarableQuantity:
    ends = {key: value * factor for key in ("best", "low", "high") if (value := getattr(amount, key)) is not None}
    return replace(amount, **ends)


def _keeps(limit: Mapping[str, Any], amount: Decimal | None, case: _Case) -> bool:
    if amount is None:
        return False
    share: Decimal | None = None
    if "at_least_percent" in limit or "below_percent" in limit:
        percent = case.market.rule(NUTRIENTS, limit["of"]).data["percent"]["of"]
        reference: Decimal | None = case.market.rule(NUTRIENTS, percent).data["amount"]
        if not reference:
            return False
        share = amount * _HUNDRED / reference
    return (
        ("below" not in limit or amount < limit["below"])
        and ("at_most" not in limit or amount <= limit["at_most"])
        and ("at_least" not in limit or amount >= limit["at_least"])
        and ("at_least_percent" not in limit or (share is not None and share >= limit["at_least_percent"]))
        and ("below_percent" not in limit or (share is not None and share < limit["below_percent"]))
    )


def _disclosure(rule: Rule, case: _Case, dish: str) -> str:
    """The statement that names every nutrient whose level may be passed; the high end of the interval counts."""
    levels = rule.data["levels"].get(dish)
    if levels is None:
        return ""
    weights = [
        case.weights[name] for name in ("reference amount", "serving", "small reference") if name in case.weights
    ]
    over = []
    for nutrient, level in levels.items():
        amount = case.amounts[nutrient]
        most = amount.high if amount.high is not None else amount.best
        if most is not None and any(most * weight / _HUNDRED > level for weight in weights):
            over.append(case.market.rule(NUTRIENTS, nutrient).data["label"].casefold())
    words = f"{', '.join(over[:-1])} and {over[-1]}" if len(over) > 1 else "".join(over)
    return str(rule.data["statement"]).format(nutrients=words) if over else ""
