"""Tolerance: how likely an analysis would find a declared value wrong, and which value would be safer.

Regulators allow an analysis to differ from the label, upwards or downwards by the kind of nutrient. With the
interval of an amount the risk can be worked out before anything is printed.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from math import erf, inf, sqrt
from pathlib import Path
from statistics import NormalDist
from typing import Any

from labeler.rules.declaration import NUTRIENTS, DeclaredValue, declare, quantities
from labeler.rules.market import Market, load_market
from labeler.rules.model import Rule
from labeler.rules.rounding import Ladder, exact
from labeler.rules.unrounded_amounts import DeclarableQuantity
from labeler.types import LabelerError

__all__ = ["ACCEPTED_RISK", "Tolerance", "tolerance"]

TOLERANCE = "tolerance"
ACCEPTED_RISK = 0.05
_Z95 = NormalDist().inv_cdf(0.975)
_MOST_STEPS = 2000


@dataclass(frozen=True, slots=True)
class Tolerance:
    """One declared value against what an analysis may find.

    Parameters
    ----------
    id, label : str
        The line of the panel.
    declared : str
        Its text as printed.
    least, most : float
        What an analysis may find at the least and at the most, in the line's unit; 0 and infinity where that side is
        free.
    risk : float
        Probability that an analysis falls outside, from the amount's interval.
    safer : str
        The printable value nearest to the best estimate that keeps the risk under 5 %; empty where the printed one
        does already, or where none does.
    rule : Rule
        The class that it falls in.
    """

    id: str
    label: str
    declared: str
    least: float
    most: float
    risk: float
    safer: str
    rule: Rule


def tolerance(
    values: Mapping[str, Any],
    *,
    market: str | Path | Market = "us",
    basis: str | None = None,
    added: Collection[str] = (),
) -> tuple[Tolerance, ...]:
    """The risk of every declared value that the market sets a tolerance for.

    Parameters
    ----------
    values : mapping
        As for `declare`; amounts with low and high, the bounds of a 95 % interval.
    market, basis
        As for `declare`.
    added : collection of str
        Line ids of nutrients that an ingredient adds as such (a fortified flour's iron), judged more strictly in the
        us.

    Raises
    ------
    LabelerError
        For an unknown market or one whose tolerances are not held.

    The amount is taken as two half-normal curves that meet at the best estimate, each with 1.96 standard deviations
    to its bound; so the best estimate is the median and skewed intervals stay skewed. An amount that would be printed
    in the same words ("0 g", "<1 g") counts as inside. A value without an interval is certain, which it rarely is.
    """
    place = load_market(market)
    rules = [rule for rule in place.rules(TOLERANCE).values() if rule.kind == "tolerance"]
    if not rules:
        raise LabelerError(f"market {place.id}: tolerances are not held; see what is missing in its rules")
    amounts = quantities(values, place)
    return tuple(_judged(declare(values, market=place, basis=basis), amounts, rules, place, frozenset(added)))


def _judged(
    lines: Any, amounts: Mapping[str, DeclarableQuantity], rules: list[Rule], market: Market, added: frozenset[str]
) -> Iterator[Tolerance]:
    for line in lines:
        if not line.known:
            continue
        source = "added" if line.id in added else "natural"
        for rule in rules:
            if line.id in rule.data["of"] and rule.data["source"] in ("any", source):
                yield _judge(line, amounts[line.id], rule, market)
                break


def _judge(line: DeclaredValue, amount: DeclarableQuantity, rule: Rule, market: Market) -> Tolerance:
    ladder = market.ladder(NUTRIENTS, line.rule)
    spread = _Spread(amount)
    declared = exact(line.amount or 0.0)
    least, most = _room(ladder, declared, rule)
    risk = spread.outside(least, most)
    safer = ""
    if risk > ACCEPTED_RISK:
        safer = _safer(ladder, declared, spread, rule, f" {line.unit}".rstrip())
    return Tolerance(line.id, line.label.replace("{amount} ", ""), line.text, least, most, risk, safer, rule)


def _room(ladder: Ladder, amount: Decimal, rule: Rule) -> tuple[float, float]:
    """What an analysis may find where this amount is printed."""
    rounded = ladder.apply(amount)
    band = ladder.band(amount)
    printed = rounded.value
    if printed is None:  # "less than" a figure: judged as that figure
        printed = band.upper if band.upper is not None else amount
    allowed = next(
        band
        for band in rule.data["bands"]
        if ("below" not in band or printed < band["below"]) and ("up_to" not in band or printed <= band["up_to"])
    )
    least, most = 0.0, inf
    if "minus" in allowed or "minus_percent" in allowed:
        less = allowed.get("minus", printed * allowed.get("minus_percent", Decimal(0)) / 100)
        least = max(0.0, float(printed - less)) if rounded.value is not None else 0.0
    if "plus" in allowed or "plus_percent" in allowed:
        more = allowed.get("plus", printed * allowed.get("plus_percent", Decimal(0)) / 100)
        most = float(printed + more)
        if band.prints is not None and band.upper is not None:
            most = max(most, float(band.upper))
    return least, most


class _Spread:
    """An amount as two half-normal curves that meet at its best estimate."""

    def __init__(self, amount: DeclarableQuantity) -> None:
        self.best = float(amount.best or 0)
        self.low = float(self.best if amount.low is None else amount.low)
        self.high = float(self.best if amount.high is None else amount.high)

    def below(self, limit: float) -> float:
        """Probability of an amount below a limit."""
        spread = (self.best - self.low if limit < self.best else self.high - self.best) / _Z95
        if limit == inf:
            return 1.0
        if spread <= 0:
            # A computed limit a hair's breadth from a certain amount is that amount.
            near = abs(limit - self.best) <= 1e-9 * max(1.0, abs(self.best))
            return 0.0 if near or limit < self.best else 1.0
        return 0.5 * (1.0 + erf((limit - self.best) / (spread * sqrt(2.0))))

    def outside(self, least: float, most: float) -> float:
        """Probability of an amount outside two limits."""
        under = self.below(least) if least > 0 else 0.0
        if most == inf:
            return under
        spread = self.high - self.best
        if spread <= 0 and most >= self.best - 1e-9 * max(1.0, abs(self.best)):
            return under
        return under + 1.0 - self.below(most)


def _safer(ladder: Ladder, start: Decimal, spread: _Spread, rule: Rule, unit: str) -> str:
    """The printable value closest to an amount whose risk is accepted, searched both ways step by step."""
    up = down = start
    for _ in range(_MOST_STEPS):
        up = _step(ladder, up, 1)
        down = _step(ladder, down, -1)
        for amount in sorted({up, down}, key=lambda at: abs(at - start)):
            if amount >= 0 and spread.outside(*_room(ladder, amount, rule)) <= ACCEPTED_RISK:
                return f"{ladder.apply(amount).text}{unit}"
        if float(up) > 4 * spread.high + 1 and down <= 0:
            break
    return ""


def _step(ladder: Ladder, amount: Decimal, way: int) -> Decimal:
    band = ladder.band(amount)
    step = band.step or (band.upper if band.upper is not None else None) or Decimal("0.1")
    if band.figures:
        step = Decimal(1).scaleb(amount.adjusted() - band.figures + 1) if amount else Decimal("0.1")
    return max(Decimal(0), amount + way * step)
