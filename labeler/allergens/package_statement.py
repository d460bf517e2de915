"""The allergens of one of the cook's own foods: what its package's list and its statement say.

The list is read name by name, compounds and what they are made of; the statement says the rest; a warning of traces is
something that only the maker can settle. Where list and statement are both there, what a name of the list often hides
is settled by the statement, which must be whole; what a word of the statement leaves open ("nuts": which, and peanuts
among them?) stays a question. Where the food's own name speaks of an allergen that neither holds,
the more careful one wins.
"""

from __future__ import annotations

import re
from dataclasses import replace

from labeler.allergens.detect import assess_text
from labeler.allergens.model import Assessment, Finding, merge
from labeler.foods.user_foods import UserFood

__all__ = ["assess_own"]

PACKAGE = "the package as read into the larder"
_APART = re.compile(r"\s*(?:[,;/&]|\band\b|\bor\b)\s*", re.IGNORECASE)
_MAY = re.compile(
    r"\b(?:may|traces?|(?:made|produced|processed|packed|prepared|manufactured)\s+(?:in|on|where)|not\s+suitable)\b",
    re.IGNORECASE,
)
_WARNING = re.compile(
    r"^.*?\b(?:contain|present|handles?|process(?:es)?|uses?|with|suitable for people with|where)\b|"
    r"\b(?:may|also|contains?|traces? of|amounts? of|small|allerg(?:y|ies|ic)|to|suitable|people|with|not|for)\b",
    re.IGNORECASE,
)


def assess_own(own: UserFood) -> Assessment:
    """The allergens of one of the cook's own foods.

    Parameters
    ----------
    own : UserFood
        Without a list and a statement its name is assessed as any other.
    """
    by_name = assess_text(own.name)
    listed = [_at(assess_text(name), f"ingredients of {own.name}: {name}", "the package lists it: ")
              for name in dict.fromkeys(one.name for one in own.listed)]  # fmt: skip
    states, warns = _states_and_warns(own.contains)
    warns = "; ".join(filter(None, (warns, own.may_contain)))
    stated = [_at(assess_text(name), f"statement on {own.name}: {name}", "the package states it: ")
              for name in _several(states)]  # fmt: skip
    warned = [_at(_perhaps(assess_text(name)), f"warning on {own.name}: {warns}", "the package warns of it: ")
              for sentence in warns.split(";") for name in _several(_WARNING.sub(" ", sentence))]  # fmt: skip
    if not listed and not stated:
        return merge(own.name, (by_name, *(replace(one, unassessed=()) for one in warned)))
    of_list = merge(own.name, listed)
    of_statement = merge(own.name, stated)
    further = tuple(finding for finding in of_statement.contains if finding.allergen not in of_list.allergens)
    found = merge(own.name, (of_list, replace(of_statement, contains=further)))
    hidden = of_statement.read_the_package if listed and stated else found.read_the_package
    open_ = [finding for one in warned for finding in one.read_the_package if finding.allergen not in found.allergens]
    doubted = [
        replace(
            finding, certainty="possible", reason=f"the name speaks of it and the package does not: {finding.reason}"
        )
        for finding in by_name.contains
        if finding.allergen not in found.allergens
    ]
    unread = of_statement.unassessed if stated else found.unassessed
    return Assessment(own.name, found.contains, (*hidden, *doubted, *open_), unread)


def _states_and_warns(text: str) -> tuple[str, str]:
    """What a statement says is in the food, and what from its words of warning on may be."""
    states, warns = [], []
    for sentence in re.split(r"[.;\n]", text):
        begins = _MAY.search(sentence)
        states.append(sentence[: begins.start()] if begins else sentence)
        warns.append(sentence[begins.start() :] if begins else "")
    return "; ".join(filter(str.strip, states)), "; ".join(filter(str.strip, warns))


def _several(text: str) -> list[str]:
    return [" ".join(name.split()).strip(" .:") for name in _APART.split(text) if name.strip(" .:")]


def _perhaps(found: Assessment) -> Assessment:
    """What a warning names may be in the food."""
    doubtful = tuple(replace(finding, certainty="possible") for finding in found.contains)
    return replace(found, contains=(), read_the_package=(*doubtful, *found.read_the_package), unassessed=())


def _at(found: Assessment, place: str, why: str) -> Assessment:
    def placed(finding: Finding) -> Finding:
        return replace(finding, reason=f"{why}{finding.reason}", from_=place, source=PACKAGE)

    return replace(
        found,
        contains=tuple(placed(finding) for finding in found.contains),
        read_the_package=tuple(placed(finding) for finding in found.read_the_package),
    )
