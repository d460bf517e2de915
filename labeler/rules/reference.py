"""Which reference amount a food falls under: named by the recipe, or proposed from its title and its foods.

A proposal is a guess with a reason and a confidence, for the cook to confirm; only a name settles it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from labeler.knowledge import LabelerError
from labeler.rules.loader import nearest
from labeler.rules.market import Market, load_market
from labeler.rules.model import Rule
from labeler.rules.stems import find_phrase, head_and_aside, stems

__all__ = ["Proposal", "named_reference", "propose_reference"]

SERVING = "serving"
_HEAD_LONG, _HEAD_END, _HEAD_INSIDE, _ASIDE_ONLY = 0.9, 0.8, 0.55, 0.3


@dataclass(frozen=True, slots=True)
class Proposal:
    """A reference amount that a food may fall under, with a confidence in [0, 1] and the reason in words."""

    rule: Rule
    confidence: float
    reason: str


@cache
def _phrases(market: Market) -> tuple[tuple[tuple[str, ...], Rule], ...]:
    """The words of every reference amount, longest phrases first."""
    rules = [rule for rule in market.rules(SERVING).values() if rule.kind == "reference amounts"]
    pairs = [(stems(words), rule) for rule in rules for words in rule.data["words"]]
    return tuple(sorted(pairs, key=lambda pair: -len(pair[0])))


def named_reference(name: str, market: str | Path | Market = "us") -> Rule:
    """The reference amount that a recipe names by its id ("relishes") or by one of its words ("pickle relish").

    Raises
    ------
    LabelerError
        Where the market has none of that name, with the nearest that it has.
    """
    place = load_market(market)
    rules = {key: rule for key, rule in place.rules(SERVING).items() if rule.kind == "reference amounts"}
    for key, rule in rules.items():
        if name in (key, rule.data["id"]):
            return rule
    tokens = stems(name)
    for phrase, rule in _phrases(place):
        if phrase == tokens:
            return rule
    raise LabelerError(
        f"market {place.id} has no reference amount '{name}'"
        + nearest(name, [rule.data["id"] for rule in rules.values()] or ["none"])
    )


def propose_reference(
    title: str, foods: Iterable[str] = (), market: str | Path | Market = "us"
) -> tuple[Proposal, ...]:
    """The reference amounts that a food may fall under, the likeliest first; empty where nothing speaks for any.

    Parameters
    ----------
    title : str
        Name of the food; its last words before "with", "in" and the like count most ("cod cakes with relish" are
        cakes of fish).
    foods : iterable of str
        Names of its ingredients, which are asked only where the title says nothing.
    """
    place = load_market(market)
    found: dict[str, Proposal] = {}
    head, rest = (stems(part) for part in head_and_aside(title))
    for phrase, rule in _phrases(place):
        end = find_phrase(phrase, head)
        if end is not None:
            confidence = _HEAD_INSIDE
            if end == len(head):
                confidence = _HEAD_LONG if len(phrase) > 1 else _HEAD_END
        elif find_phrase(phrase, rest) is not None:
            confidence = _ASIDE_ONLY
        else:
            continue
        words = " ".join(phrase)
        if rule.id not in found or found[rule.id].confidence < confidence:
            found[rule.id] = Proposal(rule, confidence, f"the title says '{words}'")
    if not found:
        found = {proposal.rule.id: proposal for proposal in _by_foods(foods, place)}
    return tuple(sorted(found.values(), key=lambda proposal: -proposal.confidence))


def _by_foods(foods: Iterable[str], market: Market) -> list[Proposal]:
    names = [stems(food) for food in foods]

    def present(words: Sequence[str]) -> str | None:
        return next((word for word in words if any(find_phrase(stems(word), name) is not None for name in names)), None)

    found: list[Proposal] = []
    for rule in market.rules(SERVING).values():
        for hint in rule.data.get("proposals", ()) if rule.kind == "proposals" else ():
            seen = [present(words) for words in hint["all"]]
            if all(seen) and not present(hint.get("none", ())):
                reason = "its foods include " + ", ".join(word for word in seen if word)
                reference = market.rule(SERVING, hint["reference"])
                found.append(Proposal(reference, float(hint["confidence"]), reason))
    return found
