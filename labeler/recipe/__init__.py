"""The recipe room: what the cook wrote, taken apart but not yet understood."""

from labeler.recipe.document import read_recipe
from labeler.recipe.line import read_line
from labeler.recipe.model import Amount, Handling, Line, Part, Pin, Recipe

__all__ = ["Amount", "Handling", "Line", "Part", "Pin", "Recipe", "read_line", "read_recipe"]
