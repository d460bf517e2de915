"""The allergens of a name, a line and a recipe.

Nothing washes off: every line of every part counts, whatever the handling pours away, drains, skims or fries in,
and so does a food that only a handling sentence or a preparation names.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from labeler.allergens.detect import CRUDE, NUTS, SEAFOOD, assess_text
from labeler.allergens.evidence import assess_food
from labeler.allergens.markets import for_market
from labeler.allergens.model import Assessment, Finding, merge
from labeler.allergens.packaged import assess_own
from labeler.allergens.vocabulary import allergen_names
from labeler.allergens.words import tokens
from labeler.foods.model import WeighedLine, WeighedRecipe

__all__ = ["assess", "assess_line", "assess_name"]

SURE = 0.8
"""Confidence from which the table food may speak for a name that the vocabulary does not know."""
QUALIFIERS = frozenset({"free", "vegan", "vegetarian", "refined", *CRUDE})
"""Words of a preparation or a note that say what the food of the name is made of."""
NOT_IN_IT = re.compile(
    r"\b(?:serve[ds]?|serving|eat|eaten|accompan\w+)\b[^.;]*?\bwith\b[^.;]*|"
    r"\b(?:resembl\w+|looks? like|consistency of|thickness of|texture of|(?:as )?thick as|size of|like)\s+"
    r"(?:[\w-]+\s*){1,3}",
    re.IGNORECASE,
)
"""What a handling sentence compares with, or says to eat beside the food: it is not in the food."""


def _from_food(name: str, food: str, pinned: bool) -> Assessment:
    """What the table food adds to the words of the name."""
    words = assess_text(name)
    evidence = assess_food(food)
    if pinned or words.unassessed:
        named = {finding.allergen for finding in words.contains}
        merged = merge(name, (words, replace(evidence, contains=tuple(
            finding for finding in evidence.contains if finding.allergen not in named
        ))))  # fmt: skip
        return replace(merged, text=name, unassessed=())
    agreed = {finding.allergen for finding in evidence.contains}
    return replace(
        words,
        contains=tuple(
            replace(finding, reason=f"{finding.reason}; the table food {food} agrees") if finding.allergen in agreed
            else finding
            for finding in words.contains
        ),
    )  # fmt: skip


def _name(name: str, food: str | None, *, pinned: bool = False) -> Assessment:
    return assess_text(name) if food is None else _from_food(name, food, pinned)


def _sorted(assessment: Assessment, market: str | None) -> Assessment:
    return assessment if market is None else for_market(assessment, market)


def assess_name(name: str, *, food: str | None = None, market: str | None = "us") -> Assessment:
    """The allergens of one ingredient name.

    Parameters
    ----------
    name : str
        In a cook's or a label's words.
    food : str or None
        Table id where the name was matched with confidence: its scientific name and LanguaL codes are evidence too.
        Raises KeyError for one that is not in the table.
    market : str or None
        One of `labeler.allergens.markets.MARKETS`; None keeps everything that any market lists.
    """
    return _sorted(_name(name, food), market)


def _place(finding: Finding, text: str) -> Finding:
    return replace(finding, from_=text if finding.from_ == text else f"{text}: {finding.from_}")


def _line(weighed: WeighedLine) -> Assessment:
    """Everything that one line names, market apart."""
    line = weighed.line
    if weighed.part is not None:
        return Assessment(line.text)
    match = weighed.match
    pinned = line.pin is not None and line.pin.food is not None
    food = line.pin.food if line.pin is not None else None
    if food is None and match is not None and match.confidence >= SURE:
        food = match.food
    name = line.name or line.text
    asides = [aside for aside in (line.preparation, line.note) if aside]
    for aside in asides:
        if not QUALIFIERS.isdisjoint(tokens(aside)):
            name = f"{name}, {aside}"
    own = match.own if match is not None else None
    found = [_name(name, food, pinned=pinned) if own is None else assess_own(own)]
    found.extend(assess_text(other) for other in line.alternatives)
    found.extend(replace(assess_text(aside, aside=True), unassessed=()) for aside in asides if aside not in name)
    found.extend(_line(other) for other in weighed.also)
    text = line.text.strip()
    whole = merge(line.text, found)
    return replace(
        whole,
        contains=tuple(_place(finding, text) for finding in whole.contains),
        read_the_package=tuple(_place(finding, text) for finding in whole.read_the_package),
    )


def assess_line(weighed: WeighedLine, *, market: str | None = "us") -> Assessment:
    """The allergens of one ingredient line: its name, its alternatives, its preparation and its note.

    A line that names another part of its recipe brings nothing here: `assess` counts that part's own lines.
    """
    return _sorted(_line(weighed), market)


def _said(weighed: WeighedRecipe, lines: Assessment) -> Iterator[Finding]:
    """What the handling sentences name beside the foods of the lines."""
    named = frozenset(word for part in weighed.parts for line in part.lines for word in tokens(line.line.text))
    known = {(finding.allergen, name) for finding in lines.contains for name in finding.names}
    known |= {(finding.allergen, allergen_names()[finding.allergen]) for finding in lines.contains}
    if not SEAFOOD.isdisjoint(lines.allergens):
        known |= {(allergen, allergen_names()[allergen]) for allergen in SEAFOOD}
    if not NUTS.isdisjoint(lines.allergens):
        known.add(("tree_nuts", allergen_names()["tree_nuts"]))
    titles = "|".join(re.escape(part.title) for part in weighed.parts if part.title)
    for part in weighed.recipe.parts:
        for sentence in part.handling:
            text = NOT_IN_IT.sub(" ", sentence.text)
            if titles:
                text = re.sub(rf"\b(?:{titles})\b", " ", text, flags=re.IGNORECASE)
            for finding in assess_text(text, aside=True, named=named).contains:
                if not all((finding.allergen, name) in known for name in finding.names):
                    yield replace(finding, reason=f"the handling says so: {finding.reason}", from_=sentence.text)


def assess(weighed: WeighedRecipe, *, market: str | None = "us") -> Assessment:
    """The allergens of a recipe: every line of every part and every further food that a handling sentence names.

    Parameters
    ----------
    weighed : WeighedRecipe
    market : str or None
        As `assess_name` takes it.
    """
    title = weighed.recipe.title
    lines = merge(title, (_line(line) for part in weighed.parts for line in part.lines))
    return _sorted(merge(title, (lines, Assessment(title, tuple(_said(weighed, lines))))), market)
