"""The recipe room: what the cook wrote, taken apart but not yet understood."""

from labeler.parsing.document import read_recipe
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.model import Amount, Handling, Line, Part, Pin, Recipe

__all__ = ["Amount", "Handling", "Line", "Part", "Pin", "Recipe", "read_line", "read_recipe"]
