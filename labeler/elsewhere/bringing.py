"""Any file that holds a recipe, ours or from elsewhere, as a `Recipe` with the larder that stands beside it."""

from __future__ import annotations

from dataclasses import replace

from labeler.elsewhere.reading import carry, form_of
from labeler.files import as_text, read_bytes
from labeler.knowledge import Problem
from labeler.larder.find import find_larder
from labeler.recipe import Recipe, read_recipe

__all__ = ["read_any"]


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
        text = as_text(data, source)
    else:
        from labeler.elsewhere.write import recipe_text

        found = carry(data, form, name)
        text, problems = recipe_text(found), found.problems
    recipe = read_recipe(text, source=name)
    larder = find_larder(source)
    unread = larder.problems if larder is not None else ()
    return replace(recipe, larder=larder, problems=(*unread, *problems, *recipe.problems))
