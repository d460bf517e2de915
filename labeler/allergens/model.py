"""What `labeler.allergens` hands on: findings with their evidence, and the assessment that gathers them.

Knowledge is three-valued. `Assessment.contains` is what is in the food; `Assessment.read_the_package` is what
foods of that kind often hide, so that only the pack's own list can settle it; a name that means nothing to the
vocabulary stands in `Assessment.unassessed`. That an allergen is in none of the three means that nothing was
found, never that the food is without it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from labeler.types import Problem

__all__ = ["HANDLING", "NOTED", "SERVED", "Assessment", "Finding", "merge"]

HANDLING = "handling"
"""The rule of a finding that only a handling sentence gives: no ingredient line names the food."""
SERVED = "served-beside"
"""The rule of a finding that is served beside the food."""
NOTED = "noted"
"""The rule of a finding that only a note of the recipe names."""
CERTAINTIES = ("certain", "likely", "possible")


@dataclass(frozen=True, slots=True)
class Finding:
    """One allergen found in one place, with the evidence for it.

    Parameters
    ----------
    allergen : str
        Id, such as ``"fish"``; the same in every market.
    names : tuple of str
        What to call it: the species of a fish, crustacean, mollusc or nut, the animal of an egg or a milk that is
        not the hen's or the cow's.
    reason : str
        Why it was found, in a sentence.
    from_ : str
        Where: the words of the name, and the line or the table food they stand in.
    certainty : str
        ``"certain"`` (the name says so, or a standard of identity does), ``"likely"`` (common composition) or
        ``"possible"`` (the pack must say).
    rule : str
        Short name of the rule that found it, such as ``"species"`` or ``"standard-of-identity"``.
    source : str
        Authority of the rule; "common practice, no source" where there is none.
    exemption : str
        Kind of derivative that some markets exempt (``"refined-oil"``, ``"perhaps-refined-oil"``,
        ``"glucose-syrup"``, ``"lactitol"``, ``"fining"``); empty where no market does.
    """

    allergen: str
    names: tuple[str, ...]
    reason: str
    from_: str
    certainty: str
    rule: str
    source: str
    exemption: str = ""


@dataclass(frozen=True, slots=True)
class Assessment:
    """What was found in one name, one line or one recipe.

    Parameters
    ----------
    text : str
        What was assessed, as written.
    contains, read_the_package : tuple of Finding
        What is in the food, and what only the package can settle. At most one finding for each allergen and place; an
        allergen may stand in both.
    unassessed : tuple of str
        Names that the vocabulary does not know at all.
    elsewhere : tuple of Finding
        Contained, but not declarable in the market that the assessment was made for, or exempt there.
    unnamed : tuple of Finding
        Tree nuts of a kind that the name does not tell ("mixed nuts"). Laws list each nut by its own name, so that
        only a name can be declared: each nut that the market lists stands in `read_the_package` as well.
    market : str
        The market that the assessment was sorted for; empty where it holds everything that any market lists.
    problems : tuple of Problem
        What of the lines leaves open which food was assessed: a typo, a choice, a pin that names no food.
    """

    text: str
    contains: tuple[Finding, ...] = ()
    read_the_package: tuple[Finding, ...] = ()
    unassessed: tuple[str, ...] = ()
    elsewhere: tuple[Finding, ...] = ()
    unnamed: tuple[Finding, ...] = ()
    market: str = ""
    problems: tuple[Problem, ...] = ()

    @property
    def declared(self) -> tuple[Finding, ...]:
        """Everything that a label must name: what is contained, and the nuts whose kind is still to be named."""
        return self.contains + self.unnamed

    @property
    def allergens(self) -> frozenset[str]:
        """Ids of everything that the food contains."""
        return frozenset(finding.allergen for finding in self.contains)

    @property
    def possible(self) -> frozenset[str]:
        """Ids that only the package can settle, those that the food contains in any case left out."""
        return frozenset(finding.allergen for finding in self.read_the_package) - self.allergens


def merge(text: str, assessments: Iterable[Assessment]) -> Assessment:
    """Everything that several assessments found, as one; nothing that any of them found is lost."""
    contains: dict[tuple[str, str, str], Finding] = {}
    package: dict[tuple[str, str, str], Finding] = {}
    elsewhere: dict[tuple[str, str, str], Finding] = {}
    unnamed: dict[tuple[str, str, str], Finding] = {}
    unassessed: dict[str, None] = {}
    problems: dict[Problem, None] = {}
    for assessment in assessments:
        for kept, found in (
            (contains, assessment.contains),
            (package, assessment.read_the_package),
            (elsewhere, assessment.elsewhere),
            (unnamed, assessment.unnamed),
        ):
            for finding in found:
                key = (finding.allergen, finding.from_, finding.exemption)
                known = kept.get(key)
                if known is None:
                    kept[key] = finding
                elif not set(finding.names) <= set(known.names):
                    kept[key] = replace(known, names=tuple(dict.fromkeys((*known.names, *finding.names))))
        unassessed.update(dict.fromkeys(assessment.unassessed))
        problems.update(dict.fromkeys(assessment.problems))
    return Assessment(
        text,
        tuple(contains.values()),
        tuple(package.values()),
        tuple(unassessed),
        tuple(elsewhere.values()),
        tuple(unnamed.values()),
        problems=tuple(problems),
    )
