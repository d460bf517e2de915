"""The lines of a market's panel: what each is made of and refers to, read from ``nutrients.yaml`` and checked."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from functools import cache, cached_property
from typing import Any

from labeler.rules.loading.reader import Where, nearest
from labeler.rules.market import Market
from labeler.rules.model import Rule
from labeler.rules.unrounded_amounts import TAGNAME

__all__ = ["NUTRIENTS", "PanelPlan", "plan_of"]

NUTRIENTS = "nutrients"


def _references(data: Mapping[str, Any]) -> Iterator[tuple[str, str, str]]:
    """The rules that a line refers to: the key that does, the rule's id, and of which kind it must be."""
    yield "rounding", data["rounding"], "rounding"
    if percent := data.get("percent"):
        yield "percent.of", percent["of"], "reference values"
        yield "percent.rounding", percent["rounding"], "rounding"
    for limit in data.get("zero_if", ()):
        yield "zero_if", limit["of"], "nutrient"
    if "same_line_as" in data:
        yield "same_line_as", data["same_line_as"], "nutrient"


class PanelPlan:
    """The lines of a market's panel with every rule they refer to, checked once.

    Parameters
    ----------
    market : Market

    Raises
    ------
    LabelerError
        For a name that is no rule of the file, naming file and key.
    """

    def __init__(self, market: Market) -> None:
        self.market = market
        self.rules = market.rules(NUTRIENTS)
        where = Where(market.folder / f"{NUTRIENTS}.yaml")
        for rule in self.rules.values():
            self._check(rule, where.at(rule.id))
        for rule in self.lines:
            self._sums(rule, (), where.at(rule.id))

    @cached_property
    def lines(self) -> tuple[Rule, ...]:
        """The rules of the lines, in the order of the panel."""
        return tuple(rule for rule in self.rules.values() if rule.kind == "nutrient")

    def together_with(self, tagnames: Collection[str]) -> frozenset[str]:
        """Some tagnames, and all others of which a line of the panel is made together with one of them."""
        behind = [self._tagnames(rule) for rule in self.lines]
        return frozenset(tagnames).union(*(of for of in behind if not of.isdisjoint(tagnames)))

    def _tagnames(self, rule: Rule) -> frozenset[str]:
        """All tagnames that a sum is made of, those of its parts included."""
        found: set[str] = set()
        for name in rule.data["formula"]:
            other = self.rules.get(name)
            found |= self._tagnames(other) if other is not None and "formula" in other.data else {name}
        return frozenset(found)

    def _check(self, rule: Rule, where: Where) -> None:
        self._check_formula(rule.data, where)
        if rule.kind == "nutrient":
            for key, name, kind in _references(rule.data):
                self._refers(name, kind, where.at(key))
            if "significant_from_percent" in rule.data and "percent" not in rule.data:
                where.at("significant_from_percent").fail("a significant share needs a percent to be a share of")

    def _check_formula(self, data: Mapping[str, Any], where: Where) -> None:
        """A formula is made of tagnames and quantities of the file, and assumes none of nothing else."""
        for name in data.get("formula", ()):
            if name not in self.rules and not TAGNAME.fullmatch(name):
                where.at("formula").fail(
                    f"'{name}' is no tagname and no quantity of this file{nearest(name, self.rules)}"
                )
        for name in data.get("assume_none", ()):
            if name not in data["formula"]:
                where.at("assume_none").fail(f"'{name}' is not in formula")

    def _sums(self, rule: Rule, above: tuple[str, ...], where: Where) -> None:
        """A line may be made of other lines, and not of itself by any way round."""
        if rule.id in above:
            where.at("formula").fail(f"a sum of itself: {' of '.join((*above, rule.id))}")
        for name in rule.data["formula"]:
            other = self.rules.get(name)
            if other is not None and "formula" in other.data:
                self._sums(other, (*above, rule.id), where)

    def _refers(self, name: str, kind: str, where: Where) -> None:
        if name not in self.rules or self.rules[name].kind != kind:
            same = [key for key, rule in self.rules.items() if rule.kind == kind]
            where.fail(f"no rule '{name}' of kind '{kind}' in this market{nearest(name, same)}")


@cache
def plan_of(market: Market) -> PanelPlan:
    """The plan of a market, read once."""
    return PanelPlan(market)
