"""Do the rule files of a market agree with each other? Every name that one rule uses must be a rule of the right kind.

The files are read one by one as they are needed; this check reads them all. It runs before rules are listed and in
the tests of every market.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from labeler.rules.claims import CLAIMS
from labeler.rules.declaration import NUTRIENTS, quantities
from labeler.rules.loading.reader import Where, nearest
from labeler.rules.market import Market
from labeler.rules.model import Rule
from labeler.rules.obligations import OBLIGATIONS
from labeler.rules.panel import PANEL
from labeler.rules.reference_amounts import SERVING
from labeler.rules.tolerance import TOLERANCE

__all__ = ["check_market"]

_Use = tuple[str, str, str]
"""Key inside the rule, the name used there, and the kind of rule it must be."""


def check_market(market: Market) -> None:
    """Read every file of a market and check each name that its rules use.

    Raises
    ------
    RuleFileError
        For a broken file, or a name that is no rule of the right kind, naming file and key.
    """
    rules = market.all_rules
    if market.rules(NUTRIENTS):
        quantities({}, market)
    for file, uses in (
        (SERVING, _serving),
        (CLAIMS, _claims),
        (TOLERANCE, _tolerance),
        (OBLIGATIONS, _obligations),
        (PANEL, _panel),
    ):
        for rule in market.rules(file).values():
            for key, name, kind in uses(rule):
                found = rules.get(name)
                if found is None or found.kind != kind:
                    where = Where(market.folder / f"{file}.yaml", f"{rule.id}.{key}")
                    where.fail(f"no rule '{name}' of kind '{kind}'{nearest(name, _of_kind(rules.values(), kind))}")
    for rule in market.rules(CLAIMS).values():
        _percents(rule, market)


def _of_kind(rules: Iterable[Rule], kind: str) -> list[str]:
    return [rule.id for rule in rules if rule.kind == kind]


def _serving(rule: Rule) -> Iterator[_Use]:
    for hint in rule.data.get("proposals", ()):
        yield "proposals.reference", hint["reference"], "reference amounts"
    if rule.kind == "reference makeup":
        yield "reference", f"ra.{rule.data['reference']}", "reference amounts"


def _limits(rule: Rule) -> Iterator[tuple[str, Any]]:
    for key in ("limits", "dish_limits"):
        for limit in rule.data.get(key, ()):
            yield key, limit


def _claims(rule: Rule) -> Iterator[_Use]:
    for key, limit in _limits(rule):
        if limit["of"] != "each" or "each_of" not in rule.data:
            yield f"{key}.of", limit["of"], "nutrient"
    for name in rule.data.get("each_of", ()):
        yield "each_of", name, "nutrient"
    for name in rule.data.get("only", ()):
        yield "only", name, "reference amounts"
    for levels in rule.data.get("levels", {}).values():
        for name in levels:
            yield "levels", name, "nutrient"


def _percents(rule: Rule, market: Market) -> None:
    """A limit in per cent is of a line that has a reference value; one of energy says how many kilocalories."""
    for key, limit in _limits(rule):
        where = Where(market.folder / f"{CLAIMS}.yaml", f"{rule.id}.{key}")
        if limit["per"] == "energy" and "kcal_each" not in limit:
            where.at("kcal_each").fail("missing: a share of the energy needs the kilocalories of one gram")
        if "at_least_percent" in limit or "below_percent" in limit:
            for name in rule.data.get("each_of", (limit["of"],)):
                if "percent" not in market.rule(NUTRIENTS, name).data:
                    where.fail(f"'{name}' has no reference value to be a percentage of")


def _tolerance(rule: Rule) -> Iterator[_Use]:
    for name in rule.data.get("of", ()):
        yield "of", name, "nutrient"


def _obligations(rule: Rule) -> Iterator[_Use]:
    for name in rule.data.get("from", ()):
        yield "from", name, "label elements"
    for condition in rule.data.get("when", ()):
        yield "when.fact", condition["fact"], "fact"
    for name in rule.data.get("lost_by", ()):
        yield "lost_by", name, "fact"


def _panel(rule: Rule) -> Iterator[_Use]:
    if "footnote" in rule.data:
        yield "footnote", rule.data["footnote"], "words"
