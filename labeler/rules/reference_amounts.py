"""Which reference amount a food falls under: named by the recipe, or proposed from its title and what it is made of.

A proposal is a guess with a reason and a confidence, for the cook to confirm; only a name settles it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from labeler.rules.loading.reader import nearest
from labeler.rules.makeup import Makeup
from labeler.rules.market import Market, load_market
from labeler.rules.model import Rule
from labeler.text.stems import find_phrase, head_and_aside, stems
from labeler.types import LabelerError

__all__ = ["Proposal", "named_reference", "propose_reference"]

SERVING = "serving"
_HEAD_LONG, _HEAD_END, _HEAD_INSIDE, _ASIDE_ONLY = 0.9, 0.8, 0.55, 0.3
# What a composition does to a name that it fits, and to one that it does not. A judgement of this project, no source.
_FITS, _CONFIRMED, _REFUSED = 0.12, 0.96, 0.3
_FLOOR = 0.25


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
    title: str, foods: Iterable[str] = (), market: str | Path | Market = "us", makeup: Makeup | None = None
) -> tuple[Proposal, ...]:
    """The reference amounts that a food may fall under, the likeliest first; empty where nothing speaks for any.

    Parameters
    ----------
    title : str
        Name of the food; its last words before "with", "in" and the like count most ("cod cakes with relish" are
        cakes of fish).
    foods : iterable of str
        Names of its ingredients, which are asked only where neither title nor composition says anything.
    makeup : Makeup or None
        What it is made of: confirms or refuses what its name says ("rhubarb butter" is no fat, "barley sugar drops" no
        grain), and speaks where the name says nothing; None judges by name alone.
    """
    place = load_market(market)
    found: dict[str, Proposal] = {}
    for proposal in (*_by_name(title, place), *_by_makeup(title, place, makeup)):
        judged = _judged(proposal, place, makeup)
        if proposal.rule.id not in found or found[proposal.rule.id].confidence < judged.confidence:
            found[proposal.rule.id] = judged
    if not found or max(one.confidence for one in found.values()) < _FLOOR:
        for proposal in _by_foods(foods, place):
            found.setdefault(proposal.rule.id, _judged(proposal, place, makeup))
    sure = [one for one in found.values() if one.confidence >= _FLOOR]
    return tuple(sorted(sure, key=lambda proposal: -proposal.confidence))


def _by_name(title: str, market: Market) -> Iterator[Proposal]:
    """What the words of a title say, each reference amount by its longest words."""
    head, rest = (stems(part) for part in head_and_aside(title))
    for phrase, rule in _phrases(market):
        end = find_phrase(phrase, head)
        if end is not None:
            confidence = _HEAD_INSIDE
            if end == len(head):
                confidence = _HEAD_LONG if len(phrase) > 1 else _HEAD_END
        elif find_phrase(phrase, rest) is not None:
            confidence = _ASIDE_ONLY
        else:
            continue
        yield Proposal(rule, confidence, f"the title says '{' '.join(phrase)}'")


def _makeups(market: Market, role: str) -> Iterator[Rule]:
    return (
        rule for rule in market.rules(SERVING).values() if rule.kind == "reference makeup" and rule.data["role"] == role
    )


def _meets(rule: Rule, makeup: Makeup) -> bool:
    return all(condition.holds(makeup) for condition in rule.data["fits"])


def _by_makeup(title: str, market: Market, makeup: Makeup | None) -> Iterator[Proposal]:
    """What a title's last word means for a food so made, and what the composition says by itself."""
    if makeup is None:
        return
    head = stems(head_and_aside(title)[0])
    for role in ("name", "composition"):
        for rule in _makeups(market, role):
            ends = [words for words in rule.data["ends"] if find_phrase(stems(words), head) == len(head)]
            if (role == "composition" or ends) and _meets(rule, makeup):
                reference = market.rule(SERVING, f"ra.{rule.data['reference']}")
                named = f"its name ends in '{ends[0]}' and " if ends else ""
                yield Proposal(reference, float(rule.data["confidence"]), f"{named}it is {rule.data['summary']}")


def _judged(proposal: Proposal, market: Market, makeup: Makeup | None) -> Proposal:
    """A proposal by what its reference amount needs: surer where the food has it, hardly possible where it has not."""
    if makeup is None:
        return proposal
    needs = [rule for rule in _makeups(market, "needs") if f"ra.{rule.data['reference']}" == proposal.rule.id]
    if not needs:
        return proposal
    if not all(_meets(rule, makeup) for rule in needs):
        return replace(proposal, confidence=proposal.confidence * _REFUSED)
    says = f"{proposal.reason}, and its composition fits"
    return Proposal(proposal.rule, min(_CONFIRMED, proposal.confidence + _FITS), says)


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
