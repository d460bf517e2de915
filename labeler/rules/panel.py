"""The official panels as data: words, order of blocks, least type sizes, weights of rules, footnotes.

The lines with their order and indents come from `declare`; what a panel puts around them is in the market's
``panel.yaml``. Drawing is the work of `labeler.label`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from labeler.rules.loading.reader import nearest
from labeler.rules.market import Market, load_market
from labeler.rules.model import Rule
from labeler.types import LabelerError

__all__ = ["Panel", "panel", "panel_formats"]

PANEL = "panel"


@dataclass(frozen=True, slots=True)
class Panel:
    """One format of a market's panel.

    Parameters
    ----------
    market, format : str
    columns : int
        1, or 2 where the amounts stand per serving and per container.
    heading : str
        Its title.
    sequence : tuple of str
        Blocks and rules from top to bottom: "heading", "hairline", "thick bar", "nutrients", "vitamins", ...
    points : mapping
        Block → least type size [pt].
    leading : mapping
        Block → least leading [pt]; "other" for the rest.
    weights : mapping
        Rule → its weight [pt].
    bold : tuple of str
        Blocks and line ids that are bold; "percents" for the percentages of those lines.
    words : mapping
        Block → its words, with places in braces.
    short : mapping
        Words → their abbreviation, where the format may abbreviate.
    footnote : str
        Printed word for word; empty where there is none.
    rule : Rule
        Where it stands in the law.
    surface_up_to_cm2 : float or None
        The format is for packages with at most this surface for a label [cm²]; None for any.
    """

    market: str
    format: str
    columns: int
    heading: str
    sequence: tuple[str, ...]
    points: Mapping[str, float]
    leading: Mapping[str, float]
    weights: Mapping[str, float]
    bold: tuple[str, ...]
    words: Mapping[str, str]
    short: Mapping[str, str]
    footnote: str
    rule: Rule
    surface_up_to_cm2: float | None = None


def panel_formats(market: str | Path | Market = "us") -> tuple[str, ...]:
    """The panel formats that are held for a market, the standard one first; empty where none is."""
    rules = load_market(market).rules(PANEL)
    return tuple(rule.data["format"] for rule in rules.values() if rule.kind == "panel")


def panel(format: str | None = None, *, market: str | Path | Market = "us") -> Panel:
    """One format of a market's panel, the standard one where none is named.

    Raises
    ------
    LabelerError
        For an unknown market, or a format that is not held, with the nearest that is.
    """
    place = load_market(market)
    rules = place.rules(PANEL)
    formats = {rule.data["format"]: rule for rule in rules.values() if rule.kind == "panel"}
    if not formats:
        raise LabelerError(f"market {place.id}: its panel is not held; see what is missing in its rules")
    name = format or next(iter(formats))
    if name not in formats:
        raise LabelerError(f"market {place.id} has no panel format '{name}'{nearest(name, formats)}")
    rule = formats[name]
    data = rule.data
    footnote = data.get("footnote")
    surface = data.get("surface_up_to_cm2")
    return Panel(
        market=place.id,
        format=name,
        columns=data["columns"],
        heading=data["heading"],
        sequence=data["sequence"],
        points=_floats(data["points"]),
        leading=_floats(data.get("leading_points", {})),
        weights=_floats(data.get("weights_points", {})),
        bold=data.get("bold", ()),
        words=data["words"],
        short=data.get("short", {}),
        footnote=place.rule(PANEL, footnote).quote if footnote else "",
        rule=rule,
        surface_up_to_cm2=None if surface is None else float(surface),
    )


def _floats(numbers: Mapping[str, object]) -> Mapping[str, float]:
    return {key: float(str(value)) for key, value in numbers.items()}
