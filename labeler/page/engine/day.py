"""Saturday morning: the text of today's batch with what was made and weighed, its label, and the packages it used."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from labeler.markets import market_of
from labeler.page.edits import with_count, with_head, with_weight
from labeler.page.engine.paper import paper
from labeler.page.engine.reading import Object, Text, recipe_of
from labeler.types import LabelerError

__all__ = ["day_label", "packages", "todays_text"]

AGREES = 0.02
"""Share by which a batch may differ from what the scale said of it."""


def todays_text(given: Text, *, packs: int, grams: float, made: str, best_before: str, lot: str) -> str:
    """The recipe's text as it holds for today's batch.

    Parameters
    ----------
    given : Text
    packs : int
        How many were filled; 0 leaves what the recipe says.
    grams : float
        What the whole batch weighed [g]; 0 leaves it as calculated.
    made, best_before, lot : str
        For the head; empty leaves what stands there.

    Raises
    ------
    LabelerError
        Where a weight was given that the recipe cannot have.
    """
    text = given.text
    for key, value in (("lot", lot), ("made", made), ("best before", best_before)):
        if value:
            text = with_head(text, key, value)
    if packs:
        text = with_head(text, "makes", with_count(str(recipe_of(given).head.get("makes", "")), packs))
    if not grams:
        return text
    # The last part may be the batch or one of its pieces: the weight stands where the batch then weighs what it did.
    tries = [with_weight(text, grams)] + ([with_weight(text, round(grams / packs, 1))] if packs > 1 else [])
    weights = [_mass(replace(given, text=one)) for one in tries]
    for tried, found in zip(tries, weights, strict=True):
        if abs(found - grams) <= AGREES * grams:
            return tried
    told = _mass(replace(given, text=text))
    raise LabelerError(
        f"the batch cannot be made to weigh {grams:g} g: by the recipe it weighs {told:.0f} g; "
        "write “> weighs …” under the part that was weighed instead"
    )


def _mass(given: Text) -> float:
    """What a batch weighs by its text [g]."""
    from labeler.nutrition.analysis import analyse

    return float(analyse(recipe_of(given), market=given.market or None, draws=0).dish.mix.total_mass[0])


def packages(given: Text) -> list[Object]:
    """The packages of the larder that a recipe's lines take, each with the day on which it was read."""
    from labeler.foods.resolve import weigh

    recipe = recipe_of(given)
    weighed = weigh(recipe, market=market_of(recipe, given.market))
    found: dict[str, Object] = {}
    for part in weighed.parts:
        for line in part.lines:
            for one in (line, *line.also):
                own = one.match.own if one.match is not None else None
                if own is None:
                    continue
                entry = getattr(recipe.larder, "entry", lambda name: None)(own.name)
                found[own.id] = {
                    "name": own.name,
                    "contains": own.contains,
                    "may_contain": own.may_contain,
                    "ingredients": getattr(entry, "ingredients", ""),
                    "read_on": entry.read_on.isoformat() if entry is not None and entry.read_on else "",
                }
    return list(found.values())


def day_label(given: Text, batch: Mapping[str, Any], wish: Mapping[str, Any]) -> Object:
    """Today's label: the text that it is made of, the file, a picture, what it declares, and the packages used."""
    text = todays_text(given, **batch)
    today = replace(given, text=text)
    return paper(today, wish) | {"text": text, "packages": packages(today)}
