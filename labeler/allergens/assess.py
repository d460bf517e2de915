"""The allergens of a name, a line and a recipe.

Nothing washes off: every line of every part counts, whatever the handling pours away, drains, skims or fries in,
and so does a food that only a handling sentence or a preparation names.
"""

from __future__ import annotations

from dataclasses import replace

from labeler.allergens.detect import assess_text
from labeler.allergens.evidence import assess_food
from labeler.allergens.markets import for_market
from labeler.allergens.model import Assessment, Finding, merge
from labeler.foods.model import WeighedLine, WeighedRecipe

__all__ = ["assess", "assess_line", "assess_name"]

SURE = 0.8
"""Confidence from which the table food may speak for a name that the vocabulary does not know."""


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
    food = match.food if match is not None and match.food is not None else None
    if food is not None and not pinned and match is not None and match.confidence < SURE:
        food = None
    found = [_name(line.name or line.text, food, pinned=pinned)]
    found.extend(assess_text(other) for other in line.alternatives)
    for aside in (line.preparation, line.note):
        if aside:
            found.append(replace(assess_text(aside), unassessed=()))
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


def assess(weighed: WeighedRecipe, *, market: str | None = "us") -> Assessment:
    """The allergens of a recipe: every line of every part and every food that a handling sentence names."""
    found = [_line(line) for part in weighed.parts for line in part.lines]
    for part in weighed.recipe.parts:
        for sentence in part.handling:
            said = assess_text(sentence.text)
            found.append(
                replace(
                    said,
                    contains=tuple(replace(f, reason=f"the handling says so: {f.reason}") for f in said.contains),
                    read_the_package=(),
                    unassessed=(),
                )
            )
    return _sorted(merge(weighed.recipe.title, found), market)
