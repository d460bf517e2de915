"""The steps that speak of the lines of a part."""

from __future__ import annotations

from labeler.parsing.instructions.model import Instruction
from labeler.parsing.instructions.parser import read_method
from labeler.parsing.model import Part, Recipe

__all__ = ["steps_about"]


def steps_about(part: Part, recipe: Recipe, *, market: str) -> list[Instruction]:
    """The instructions of a part; where it has no method, those of the whole recipe.

    Parameters
    ----------
    part : Part
    recipe : Recipe
        Which it is a part of.
    market : str
        Whose cups and spoons the method speaks of.
    """
    told = [part] if part.handling else list(recipe.parts)
    return [step for each in told for step in read_method(each, market=market).instructions]
