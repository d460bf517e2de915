"""Reading recipes: what the cook wrote, taken apart but not yet understood."""

from labeler.parsing.document import read_recipe
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.model import Amount, Handling, Line, LineState, Note, NoteKind, Part, Pin, Purpose, Recipe

__all__ = [
    "Amount", "Handling", "Line", "LineState", "Note", "NoteKind", "Part", "Pin", "Purpose", "Recipe", "read_line",
    "read_recipe",
]  # fmt: skip
