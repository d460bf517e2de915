"""Any file that holds a recipe, ours or from elsewhere, as a `Recipe` with the larder that stands beside it.

A file that is asked for its lines alone is a list of them, one a row, unless it is a recipe file.
"""

from __future__ import annotations

from dataclasses import replace

from labeler.elsewhere.reading import carry, form_of
from labeler.files import MAX_RECIPE, as_text, read_bytes, read_rows
from labeler.knowledge import Problem
from labeler.larder.find import find_larder
from labeler.parsing import Recipe, read_recipe
from labeler.parsing.document import has_marks

__all__ = ["read_any", "read_lines"]


def read_any(source: str) -> Recipe:
    """A recipe file, or a saved page, JSON, pasted text or a table that holds a recipe.

    Parameters
    ----------
    source : str
        Its path, or ``-`` for standard input.

    Raises
    ------
    LabelerError
        Where it cannot be read or holds no recipe. A larder that cannot be used is a problem of the recipe.
    """
    data, name = read_bytes(source), "standard input" if source == "-" else source
    form = form_of(data, source)
    problems: tuple[Problem, ...] = ()
    if form is None:
        text = as_text(data, source, most=MAX_RECIPE)
    else:
        from labeler.elsewhere.write import recipe_text

        found = carry(data, form, name)
        text, problems = recipe_text(found), found.problems
    recipe = read_recipe(text, source=name)
    larder = find_larder(source)
    unread = larder.problems if larder is not None else ()
    return replace(recipe, larder=larder, problems=(*unread, *problems, *recipe.problems))


def read_lines(source: str) -> list[tuple[int, str]]:
    """The ingredient lines of a file with their row numbers: every row of a list, blank ones too, or a recipe's lines.

    Parameters
    ----------
    source : str
        Its path, or ``-`` for standard input.

    Raises
    ------
    LabelerError
        Where it cannot be read, or is a recipe file that cannot be.
    """
    rows = read_rows(source)
    text = "\n".join(rows)
    if not has_marks(text):
        return list(enumerate(rows, start=1))
    recipe = read_recipe(text, source="standard input" if source == "-" else source)
    return [(line.number, line.text) for part in recipe.parts for line in part.lines]
