"""Do I need it at all? What a seller must put on a food, what frees him from it, and what takes that freedom away.

A market's ``obligations.yaml`` names the facts that matter there (kind of sale, size of the business, units a
year), the requirements, and the exemptions with their conditions. A fact that is not given leaves an exemption open,
and its question is part of the answer. Allergens are never optional.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from labeler.rules.label_elements import Condition, Element
from labeler.rules.loading.reader import nearest
from labeler.rules.market import Market, load_market
from labeler.rules.model import Rule
from labeler.rules.rounding import exact
from labeler.types import LabelerError

__all__ = ["Deciding", "Exemption", "Obligations", "Requirement", "obligations", "questions"]

OBLIGATIONS = "obligations"


@dataclass(frozen=True, slots=True)
class Exemption:
    """An exemption as it stands for this seller.

    Parameters
    ----------
    rule : Rule
        Its words and paragraph.
    state : str
        "applies", "lost", "does not apply" or "open".
    because : str
        Which condition fails or is met, what it was lost by, or which facts are wanting.
    ended_by : tuple of str
        What would end it, in words.
    """

    rule: Rule
    state: str
    because: str
    ended_by: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Requirement:
    """One thing that may have to stand on the label.

    Parameters
    ----------
    what : Element
    state : str
        "mandatory", "optional", "told on request", "must be told", "not needed" (an exemption applies), "nothing",
        or "mandatory unless" (an exemption is open).
    because : str
        Why, with the paragraph.
    rule : Rule
    exemptions : tuple of Exemption
        Those from this requirement, whatever their state.
    """

    what: Element
    state: str
    because: str
    rule: Rule
    exemptions: tuple[Exemption, ...] = ()

    @property
    def condition(self) -> Condition | None:
        """On what of the food it depends whether the element is asked for; None where on nothing."""
        return Condition(self.rule.data["if"]) if self.rule.data["if"] else None


@dataclass(frozen=True, slots=True)
class Deciding:
    """The fact whose answer decides most.

    Parameters
    ----------
    fact : str
        Its name, as a key of the head has it.
    question : str
    elements : tuple of Element
        What its answer may free from.
    """

    fact: str
    question: str
    elements: tuple[Element, ...]


@dataclass(frozen=True, slots=True)
class Obligations:
    """What a seller must do in a market.

    Parameters
    ----------
    requirements : tuple of Requirement
    questions : tuple of str
        Facts that would settle what is open.
    deciding : Deciding or None
        The one of those that decides most; None where nothing is open.
    also : tuple of Rule
        What else to know.
    ask : Rule
        The authority to ask.
    """

    requirements: tuple[Requirement, ...]
    questions: tuple[str, ...]
    deciding: Deciding | None
    also: tuple[Rule, ...]
    ask: Rule

    def __getitem__(self, what: str) -> Requirement:
        return next(requirement for requirement in self.requirements if what in (requirement.what, requirement.rule.id))


def questions(market: str | Path | Market = "us") -> Mapping[str, Rule]:
    """The facts that a market asks for, by name, with their questions."""
    rules = load_market(market).rules(OBLIGATIONS)
    return {key: rule for key, rule in rules.items() if rule.kind == "fact"}


def obligations(facts: Mapping[str, Any], *, market: str | Path | Market = "us") -> Obligations:
    """What must, may and need not stand on a food, from what is known of the sale and the business.

    Parameters
    ----------
    facts : mapping
        Name of a fact → its value: ``sale`` as one of the six kinds, numbers in the unit that the fact's rule
        names, True or False. See `questions` for the facts of a market; whatever is not given is asked for.
    market : str or Path
        Market id, or a folder of rule files.

    Raises
    ------
    LabelerError
        For an unknown market, a market without these rules, a fact that it does not ask for, or a value of the wrong
        kind.
    """
    place = load_market(market)
    rules = place.rules(OBLIGATIONS)
    if not rules:
        raise LabelerError(f"market {place.id}: who must label what is not held; see what is missing in its rules")
    asked = questions(place)
    known = {name: _fact(name, value, asked) for name, value in facts.items() if value is not None}
    if "sale" not in known:
        raise LabelerError(f"say how it is sold: {asked['sale'].data['question']}")
    exemptions = [rule for rule in rules.values() if rule.kind == "exemption"]
    wanting: dict[str, None] = {}
    requirements = []
    for rule in rules.values():
        if rule.kind == "label elements":
            own = tuple(_exemption(other, known, asked) for other in exemptions if rule.id in other.data["from"])
            requirement = _requirement(rule, known, own)
            requirements.append(requirement)
            if requirement.state == "mandatory unless":
                wanting |= dict.fromkeys(_wanting(own, known))
    return Obligations(
        tuple(requirements),
        tuple(str(asked[name].data["question"]) for name in wanting),
        _deciding(requirements, known, asked),
        tuple(rule for rule in rules.values() if rule.kind == "words"),
        next(rule for rule in rules.values() if rule.kind == "authority"),
    )


def _fact(name: str, value: Any, asked: Mapping[str, Rule]) -> Any:
    if name not in asked:
        raise LabelerError(f"no such fact '{name}'{nearest(name, asked)}")
    answer = asked[name].data["answer"]
    if answer == "yes or no":
        if not isinstance(value, bool):
            raise LabelerError(f"{name} is yes or no (True or False), not {value!r}")
        return value
    if answer == "number":
        if isinstance(value, bool) or not isinstance(value, (int, float, Decimal)) or value < 0:
            raise LabelerError(f"{name} is a number, not {value!r}")
        return exact(value)
    from labeler.rules.loading.schema import SALES

    if value not in SALES:
        raise LabelerError(f"{name}: no such kind of sale as {value!r}{nearest(value, SALES)}")
    return value


def _holds(condition: Mapping[str, Any], known: Mapping[str, Any]) -> bool | None:
    """Whether a condition holds; None where its fact is not known."""
    value = known.get(condition["fact"])
    if value is None:
        return None
    if "is" in condition:
        return bool(value is (condition["is"] == "yes") if isinstance(value, bool) else value == condition["is"])
    if "one_of" in condition:
        return value in condition["one_of"]
    return ("below" not in condition or value < condition["below"]) and (
        "at_most" not in condition or value <= condition["at_most"]
    )


def _exemption(rule: Rule, known: Mapping[str, Any], asked: Mapping[str, Rule]) -> Exemption:
    held = [(condition["fact"], _holds(condition, known)) for condition in rule.data["when"]]
    ended_by = tuple(asked[name].summary for name in rule.data.get("lost_by", ()))
    failed = [f"{name.replace('_', ' ')} is {known[name]}" for name, holds in held if holds is False]
    if failed:
        return Exemption(rule, "does not apply", ", ".join(failed), ended_by)
    lost = [asked[name].summary for name in rule.data.get("lost_by", ()) if known.get(name)]
    if lost:
        return Exemption(rule, "lost", " ".join(lost), ended_by)
    if any(holds is None for _, holds in held):
        names = ", ".join(name for name, holds in held if holds is None)
        return Exemption(rule, "open", f"not known: {names}", ended_by)
    return Exemption(rule, "applies", rule.summary, ended_by)


def _wanting(exemptions: tuple[Exemption, ...], known: Mapping[str, Any]) -> list[str]:
    """Facts that open exemptions wait for."""
    opens = [exemption.rule for exemption in exemptions if exemption.state == "open"]
    return [condition["fact"] for rule in opens for condition in rule.data["when"] if condition["fact"] not in known]


def _deciding(requirements: list[Requirement], known: Mapping[str, Any], asked: Mapping[str, Rule]) -> Deciding | None:
    """The first open fact of the exemption that frees from most, of equal ones of that which the market names first."""
    freed: dict[str, list[Element]] = {}
    waiting: dict[str, list[str]] = {}
    for requirement in requirements:
        if requirement.state == "mandatory unless":
            for one in requirement.exemptions:
                if one.state == "open":
                    freed.setdefault(one.rule.id, []).append(requirement.what)
                    waiting[one.rule.id] = _wanting((one,), known)
    if not freed:
        return None
    best = max(freed, key=lambda rule: len(freed[rule]))
    fact = waiting[best][0]
    return Deciding(fact, str(asked[fact].data["question"]), tuple(freed[best]))


def _requirement(rule: Rule, known: Mapping[str, Any], exemptions: tuple[Exemption, ...]) -> Requirement:
    cited = f"{rule.summary} ({rule.paragraph}; {rule.reading})"
    what = Element(rule.data["element"])
    state = rule.data[known["sale"]]
    if state != "mandatory":
        return Requirement(what, state, cited, rule, exemptions)
    applies = [exemption for exemption in exemptions if exemption.state == "applies"]
    if applies:
        words = "; ".join(f"{each.rule.summary} ({each.rule.paragraph}; {each.rule.reading})" for each in applies)
        return Requirement(what, "not needed", words, rule, exemptions)
    if any(exemption.state == "open" for exemption in exemptions):
        return Requirement(what, "mandatory unless", cited, rule, exemptions)
    return Requirement(what, "mandatory", cited, rule, exemptions)
