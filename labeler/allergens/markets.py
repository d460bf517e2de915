"""What a market wants declared of what was found.

Findings are the same everywhere; a market only sorts them. What its law does not list stays with the assessment
as `Assessment.elsewhere`, so that a cook who sells in two markets, or a buyer who asks, still gets the answer.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

from labeler.allergens.model import Assessment, Finding
from labeler.allergens.vocabulary import rows
from labeler.knowledge import LabelerError

__all__ = ["MARKETS", "Duty", "check_market", "duty", "for_market"]

PERHAPS_REFINED = "perhaps-refined-oil"
MARKETS = ("us", "eu", "uk", "ca", "anz", "codex", "jp")
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


def for_market(assessment: Assessment, market: str) -> Assessment:
    """The assessment as one market wants it: `contains` and `read_the_package` hold what it asks for.

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
    contains: list[Finding] = []
    package: list[Finding] = []
    aside: list[Finding] = []
    for finding in assessment.contains:
        asked = _asked(finding, market)
        perhaps = finding.exemption == PERHAPS_REFINED
        exempt = exemptions().get(("refined-oil" if perhaps else finding.exemption, market, finding.allergen))
        if asked is None:
            aside.append(finding)
        elif exempt and perhaps:
            reason = f"{asked.reason}; highly refined it is exempt in {market} ({exempt}): the pack must say"
            package.append(replace(asked, reason=reason, certainty="possible", rule="read-the-package"))
        elif exempt:
            aside.append(replace(finding, reason=f"{finding.reason}; exempt in {market} ({exempt})"))
        else:
            contains.append(asked)
    package += [asked for finding in assessment.read_the_package if (asked := _asked(finding, market)) is not None]
    return replace(
        assessment, contains=tuple(contains), read_the_package=tuple(package), elsewhere=tuple(aside), market=market
    )
