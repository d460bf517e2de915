"""The catalogue of a market's rules: all of them, one by its id, and any of them as text for people."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

from labeler.rules.household_measures import mixed
from labeler.rules.loading.cross_references import check_market
from labeler.rules.loading.reader import nearest
from labeler.rules.market import Market, load_market
from labeler.rules.model import Rule
from labeler.rules.rounding import Band, Ladder, plain
from labeler.types import LabelerError

__all__ = ["describe", "figures_of", "list_rules", "rule"]

_WIDTH = 100
# What `describe` shows in a row of its own, or what is of the file and not of the rule.
_SHOWN_ELSEWHERE = ("id", "paragraph", "status", "sources", "note", "file", "holds")


def list_rules(market: str | Path | Market = "us") -> tuple[Rule, ...]:
    """Every rule of a market, file by file, the rows of its tables included.

    Raises
    ------
    LabelerError
        For an unknown market, a broken rule file, or a rule that names another one that there is not.
    """
    place = load_market(market)
    check_market(place)
    return tuple(place.all_rules.values())


def rule(id: str, market: str | Path | Market = "us") -> Rule:
    """One rule of a market by its id ("total_fat", "dv.iron", "ra.soups").

    Raises
    ------
    LabelerError
        Where the market has no rule of that id, with the nearest.
    """
    place = load_market(market)
    rules = place.all_rules
    if id not in rules:
        within = [key for key in rules if id.casefold() in key.casefold()][:5]
        near = f"; near it: {', '.join(within)}" if within else nearest(id, rules)
        raise LabelerError(f"market {place.id} has no rule '{id}'{near if len(near) < 400 else ''}")
    return rules[id]


def describe(rule: Rule) -> str:
    """A rule as text: what it says, its figures, paragraph, date, status and sources."""
    lines = [f"{rule.id}  [{rule.market}, {rule.kind}]", *_wrapped(rule.summary)]
    if rule.quote:
        lines += _wrapped(f"Printed word for word: “{rule.quote}”")
    for words in figures_of(rule):
        lines += _wrapped(words)
    lines += _wrapped(f"Paragraph: {rule.paragraph}")
    lines += _wrapped(f"Date: {rule.dated}")
    lines += _wrapped(f"Status: {rule.reading}")
    lines += _wrapped(f"Read in: {rule.cited}")
    if rule.note:
        lines += _wrapped(f"Note: {rule.note}")
    return "\n".join(lines)


def _wrapped(words: str) -> list[str]:
    return textwrap.wrap(words, _WIDTH, initial_indent="  ", subsequent_indent="    ")


def figures_of(rule: Rule) -> Iterator[str]:
    """The figures of a rule, one a line: its values by their names, the bands of its ladder."""
    for key, value in rule.data.items():
        if key in _SHOWN_ELSEWHERE or value in ("", (), None):
            continue
        if isinstance(value, Ladder):
            yield from (f"- {_band(band)}" for band in value.bands)
        elif key == "bands" and isinstance(value[0], Band):
            yield from (f"- {_band(band)}" for band in value)
        else:
            yield f"{key.replace('_', ' ')}: {_plain(value)}"


def _band(band: Band) -> str:
    reach = "otherwise"
    if band.upper is not None:
        reach = f"{'up to' if band.inclusive else 'below'} {plain(band.upper)}"
    if band.step is not None:
        does = f"nearest {plain(band.step)}"
    elif band.figures is not None:
        does = f"{band.figures} significant figures"
    else:
        does = f"“{band.prints}”" if band.prints is not None else band.choose
    verb = f" ({band.verb})" if band.verb else ""
    also = f"; also lawful: {', '.join(f'“{other}”' for other in band.also)}" if band.also else ""
    return f"{reach}: {does}{verb}{also}"


def _plain(value: Any) -> str:
    if isinstance(value, Mapping):
        return ", ".join(f"{key.replace('_', ' ')} {_plain(item)}" for key, item in value.items())
    if isinstance(value, tuple):
        return "; ".join(_plain(item) for item in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Fraction):
        return mixed(value)
    return str(value)
