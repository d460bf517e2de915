"""How much of a day's reference value one serving holds, as an interval: what the chart and the picture of it show."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from labeler.rules.declaration import declare
from labeler.rules.market import load_market
from labeler.worksheet.model import DeclaredFor, Worksheet
from labeler.worksheet.names import nutrient

__all__ = ["ShareBand", "bands_of", "bands_of_worksheet", "line_name", "scale_for"]

# Voluntary lines that are shown beside the mandatory ones: what most readers look for.
_SHOWN_TOO = frozenset({"FIBTG", "VITD", "CA", "FE", "K"})
_SCALES = (10.0, 20.0, 50.0, 100.0, 150.0, 200.0)


@dataclass(frozen=True, slots=True)
class ShareBand:
    """One figure of a serving against the market's reference value of a day.

    Parameters
    ----------
    name : str
    best, low, high : float
        Per cent of the reference value: best estimate and 95 % interval.
    at_least : bool
        True where a value behind it is missing, so that the best estimate is the least that it can be.
    reference : str
        The reference value with its unit.
    """

    name: str
    best: float
    low: float
    high: float
    at_least: bool
    reference: str


def line_name(label: str, made_of: Mapping[str, float]) -> str:
    """What to call a line of a panel: the nutrient where it is one as it stands, else the market's words."""
    if len(made_of) == 1 and set(made_of.values()) == {1.0}:
        return nutrient(next(iter(made_of))).name
    return label.replace("{amount}", "").strip().removeprefix("of which ").capitalize()


def bands_of(per_serving: Mapping[str, Any], *, market: str) -> tuple[ShareBand, ...]:
    """The lines of a market's panel that have a reference value, for one serving.

    Parameters
    ----------
    per_serving : mapping
        INFOODS tagname → figure with best, low, high and status.
    market : str
        LabelerError for one that is not known.
    """
    rules = load_market(market).rules("nutrients")
    lines = declare(per_serving, market=market)
    joined = {line.same_line_as for line in lines if line.same_line_as}
    found = []
    for line in lines:
        percent = rules[line.id].data.get("percent")
        day = rules[percent["of"]].data["amount"] if percent else None
        shown = line.requirement == "mandatory" or line.tagname in _SHOWN_TOO
        if day is None or line.amount is None or not shown or line.id in joined:
            continue
        formula = {tag: float(factor) for tag, factor in rules[line.id].data["formula"].items()}
        name = line_name(line.label, formula)
        found.append(_band(name, line.amount, line.low, line.high, float(day), line.unit, line.known))
    return tuple(found)


def bands_of_worksheet(found: Worksheet) -> tuple[ShareBand, ...]:
    """The same from a worksheet: the lines of one serving that its label's table or `_SHOWN_TOO` names."""
    bands: dict[tuple[str, ...], ShareBand] = {}
    for row in found.declared:
        tags = tuple(sorted(term.tag for term in row.made_of))
        shown = row.requirement == "mandatory" or set(tags) <= _SHOWN_TOO
        if row.basis is not DeclaredFor.SERVING or row.reference is None or row.amount is None or not shown:
            continue
        name = line_name(row.label, {term.tag: term.factor for term in row.made_of})
        # The later line of energy in two units is the one in kcal.
        bands[tags] = _band(name, row.amount, row.low, row.high, row.reference, row.unit, row.status != "missing")
    return tuple(bands.values())


def _band(
    name: str, amount: float, low: float | None, high: float | None, day: float, unit: str, known: bool
) -> ShareBand:  # fmt: skip
    def share(value: float | None) -> float:
        return 100.0 * (amount if value is None else value) / day

    return ShareBand(name, share(amount), share(low), share(high), not known, f"{day:g} {unit}".strip())


def scale_for(bands: Iterable[ShareBand]) -> float:
    """The end of a scale [%] that holds the bands: at most 200, and no longer for a figure that nobody fully knows."""
    most = max((band.best if band.at_least else band.high for band in bands), default=0.0)
    return next((end for end in _SCALES if most <= end), _SCALES[-1])
