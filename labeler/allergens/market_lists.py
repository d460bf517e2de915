"""What a market wants declared of what was found.

Findings are the same everywhere; a market only sorts them. What its law does not list stays with the assessment
as `Assessment.elsewhere`, so that a cook who sells in two markets, or a buyer who asks, still gets the answer.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import Enum
from functools import cache

from labeler.allergens.model import Assessment, Finding
from labeler.allergens.vocabulary import allergen_names, rows
from labeler.markets import MARKETS
from labeler.types import LabelerError

__all__ = ["EVERY_MARKET", "MARKETS", "Duty", "check_market", "duty", "for_market"]

EVERY_MARKET = "every"
"""In the place of a market: what any market lists, unsorted, for whoever sorts it later."""
UNNAMED_NUTS = "tree_nuts"
"""The class that "mixed nuts" speaks of: no law lists it, each lists its own nuts."""
# Exemptions that rest on what the name does not say: how the oil was refined, what the isinglass is used for.
OPEN_EXEMPTIONS = {
    "perhaps-refined-oil": ("refined-oil", "highly refined it is exempt in {market} ({law}): the pack must say"),
    "fining": ("fining", "exempt in {market} only as a fining agent of beer and wine ({law}): the use must say"),
}
NOT_LISTED_BUT_SHOWN = {
    ("us", "molluscs"): "US law does not list molluscs as a major allergen; shown because they are one"
}


@dataclass(frozen=True, slots=True)
class Duty:
    """What one market asks for one allergen: a level, and the species it is about or leaves out."""

    level: str
    only: frozenset[str] = frozenset()
    but: frozenset[str] = frozenset()

    def covers(self, name: str) -> bool:
        """True where the duty is about the food of this name."""
        return name not in self.but and (not self.only or any(word in name for word in self.only))


def _duty(cell: str) -> Duty:
    level, mark, species = cell.partition(":")
    if mark:
        return Duty(level, only=frozenset(species.split("|")))
    level, mark, species = cell.partition("!")
    return Duty(level, but=frozenset(species.split("|")) if mark else frozenset())


@cache
def duties() -> dict[tuple[str, str], Duty]:
    """The duty of each market and allergen."""
    return {(market, row["allergen"]): _duty(row[market]) for row in rows("markets.csv") for market in MARKETS}


@cache
def exemptions() -> dict[tuple[str, str, str], str]:
    """The source of each exemption by its kind, market and allergen."""
    return {
        (row["exemption"], market, allergen): row["source"]
        for row in rows("exemptions.csv")
        for market in row["markets"].split(";")
        for allergen in row["allergens"].split(";")
    }


def check_market(market: str) -> str:
    """The market itself; raises LabelerError where it is none of `MARKETS`."""
    if market not in MARKETS:
        raise LabelerError(f"unknown market {market!r}; the markets are {', '.join(MARKETS)}")
    return market


def duty(market: str, allergen: str) -> Duty:
    """What a market asks for an allergen."""
    return duties()[market, allergen]


def _asked(finding: Finding, market: str) -> Finding | None:
    """The finding as the market wants it declared; None where the market does not list it."""
    asked = duty(market, finding.allergen)
    if asked.level in ("required", "recommended"):
        named = tuple(name for name in finding.names if asked.covers(name))
        if not named:
            return None
        kept = replace(finding, names=named)
        if asked.level == "recommended":
            kept = replace(kept, reason=f"{kept.reason}; recommended, not required, in {market}")
        return kept
    if asked.level == "ingredient" and finding.certainty == "possible":
        return replace(finding, reason=f"{finding.reason}; in {market} as an ingredient, not as an allergen")
    shown = NOT_LISTED_BUT_SHOWN.get((market, finding.allergen))
    return replace(finding, reason=f"{finding.reason}; {shown}") if shown else None


@cache
def nuts(market: str) -> tuple[str, ...]:
    """The tree nuts that a market lists, one by one."""
    return tuple(
        row["allergen"]
        for row in rows("allergens.csv")
        if row["class"] == "tree_nuts" and row["allergen"] != UNNAMED_NUTS
        and duty(market, row["allergen"]).level in ("required", "recommended")
    )  # fmt: skip


def _each_nut(finding: Finding, market: str, asked: Iterable[Finding]) -> list[Finding]:
    """A question for each nut that an unnamed one may be; none where those that are usual in it are asked already."""
    listed = nuts(market)
    if any(other.allergen in listed and other.from_ == finding.from_ for other in asked):
        return []
    reason = f"{finding.reason}, and of which kind it does not say: name the nut"
    return [
        replace(finding, allergen=nut, names=(allergen_names()[nut],), reason=reason, certainty="possible",
                rule="unnamed-nut")
        for nut in listed
    ]  # fmt: skip


class _Place(Enum):
    """Where a market wants a finding: declared, asked of the package, told elsewhere, or its nut named first."""

    CONTAINS = 1
    PACKAGE = 2
    ELSEWHERE = 3
    UNNAMED = 4


def _place_of(finding: Finding, market: str) -> tuple[_Place, Finding]:
    """Where something that the food contains goes in a market, as the market wants it."""
    asked = _asked(finding, market)
    exemption, why = OPEN_EXEMPTIONS.get(finding.exemption, (finding.exemption, ""))
    law = exemptions().get((exemption, market, finding.allergen))
    if asked is None:
        return _Place.ELSEWHERE, finding
    if law and why:
        reason = f"{asked.reason}; {why.format(market=market, law=law)}"
        return _Place.PACKAGE, replace(asked, reason=reason, certainty="possible", rule="read-the-package")
    if law:
        return _Place.ELSEWHERE, replace(finding, reason=f"{finding.reason}; exempt in {market} ({law})")
    return (_Place.UNNAMED if finding.allergen == UNNAMED_NUTS else _Place.CONTAINS), asked


def _open_questions(findings: tuple[Finding, ...], market: str) -> Iterator[Finding]:
    """What packages must be read for in a market."""
    for finding in findings:
        if (finding.exemption, market, finding.allergen) in exemptions():
            continue
        if finding.allergen == UNNAMED_NUTS:
            yield from _each_nut(finding, market, findings)
        elif (asked := _asked(finding, market)) is not None:
            yield asked


def for_market(assessment: Assessment, market: str) -> Assessment:
    """The assessment as one market wants it: `contains` and `read_the_package` hold what it asks for.

    Nuts without a name go to `unnamed`, and each nut that the market lists is asked about.

    Raises
    ------
    LabelerError
        For a market that is none of `MARKETS`.
    ValueError
        For an assessment that was already sorted for another market: what that one dropped is no longer there.
    """
    check_market(market)
    if assessment.market == market:
        return assessment
    if assessment.market:
        raise ValueError(f"sorted for {assessment.market} already; assess again for {market}")
    sorted_into: dict[_Place, list[Finding]] = {place: [] for place in _Place}
    for finding in assessment.contains:
        place, stated = _place_of(finding, market)
        sorted_into[place].append(stated)
    package = [*sorted_into[_Place.PACKAGE], *_open_questions(assessment.read_the_package, market)]
    for finding in sorted_into[_Place.UNNAMED]:
        package += _each_nut(finding, market, package)
    return replace(
        assessment,
        contains=tuple(sorted_into[_Place.CONTAINS]),
        read_the_package=tuple(package),
        elsewhere=tuple(sorted_into[_Place.ELSEWHERE]),
        unnamed=tuple(sorted_into[_Place.UNNAMED]),
        market=market,
    )
