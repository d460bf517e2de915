"""Lines that count a fruit of which the method takes the juice alone: "- 1 orange" and "beat with the orange juice"."""

from __future__ import annotations

from dataclasses import replace

from labeler.foods.matching.match import match_food
from labeler.foods.matching.name_words import words
from labeler.foods.method_of_part import steps_about
from labeler.parsing.ingredient.extraction import derived_name
from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.model import Line, Part, Recipe

__all__ = ["as_taken"]

_FRUIT = "09"  # how the ids of SR28's fruits begin, juices among them
_PARTS = {"juice": "juice", "zest": "zest", "peel": "zest", "rind": "zest"}
_DESCRIBES = grammar("describes a juice")


def as_taken(line: Line, part: Part, recipe: Recipe, *, market: str) -> Line:
    """The line as the part of its fruit that the method takes; the line as it is where the method names the fruit too.

    Parameters
    ----------
    line : Line
    part : Part
        Where it stands; where this has no method, those of the whole recipe are read.
    recipe : Recipe
    market : str
        Whose cups and spoons the method speaks of.
    """
    counted = bool(line.amounts) and line.amounts[0].unit is None and line.derived is None and not line.preparation
    fruit = set(words(line.name))
    pinned = line.pin is not None
    if not counted or pinned or not fruit or not (match_food(line.name).food or "").startswith(_FRUIT):
        return line
    taken = set()
    for step in steps_about(part, recipe, market=market):
        for mention in step.mentions:
            named = set(words(mention.name))
            if not fruit & named:
                continue
            parts = {_PARTS[word] for word in named if word in _PARTS}
            if not parts or named - fruit - set(_PARTS) - _DESCRIBES:
                return line
            taken |= parts
    beside = [one for one in part.lines if one is not line and fruit & set(words(one.name))]
    if "juice" not in taken or beside:
        return line
    what = " and ".join(sorted(taken))
    note = "; ".join(filter(None, (line.note, f"the method takes its {what}")))
    return replace(line, derived=what, name=derived_name(line.name, what), note=note)
