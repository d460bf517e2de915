"""Any file that holds a recipe as a `Recipe` with the larder that stands beside it; what every command reads with."""

from __future__ import annotations

from dataclasses import replace
from os import PathLike, fspath

from labeler.files import read_bytes, read_rows
from labeler.importers.reading import form_of, import_recipe
from labeler.larder.find import find_larder
from labeler.parsing import Recipe
from labeler.parsing.document import has_marks
from labeler.parsing.model import UserFoodLookup
from labeler.types import LabelerError

__all__ = ["read_any", "read_lines", "read_recipe_file"]


def read_recipe_file(
    path: str | PathLike[str], *, larder: UserFoodLookup | None = None, which: int | None = None
) -> Recipe:
    """The recipe of a file: a recipe file, a Markdown page, pasted text, a saved web page, JSON or a table.

    Parameters
    ----------
    path : path-like
    larder : Larder or None
        The cook's own packaged foods, which win over the food table by name; None takes ``larder.toml`` beside the
        file and the user's own.
    which : int or None
        Of several recipes in the file, from 1; None takes the one with the most ingredients and says so.

    Returns
    -------
    Recipe
        With the larder in it. A ``larder.toml`` that cannot be used is one of its problems.

    Raises
    ------
    LabelerError
        Where it cannot be read or holds no recipe; the message says what was looked for.

    Examples
    --------
    >>> recipe = labeler.read_recipe_file("demo/beetroot-relish.md")
    >>> recipe.title, recipe.head["market"]
    ('Beetroot and apple relish', 'uk')
    """
    source = fspath(path)
    if larder is None:
        return read_any(source, which=which)
    data = read_bytes(source)
    return replace(import_recipe(data, form_of(data, source), source, which=which), larder=larder)


def read_any(source: str, *, which: int | None = None) -> Recipe:
    """The recipe of a file of any form.

    Parameters
    ----------
    source : str
        Its path, or ``-`` for standard input.
    which : int or None
        Of several recipes in it, from 1.

    Raises
    ------
    LabelerError
        Where it cannot be read or holds no recipe. A larder that cannot be used is a problem of the recipe.
    """
    data, name = read_bytes(source), "standard input" if source == "-" else source
    recipe = import_recipe(data, form_of(data, source), name, which=which)
    larder = find_larder(source)
    unread = larder.problems if larder is not None else ()
    return replace(recipe, larder=larder, problems=(*unread, *recipe.problems))


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
    if source != "-" and form_of(b"", source) != "text":
        recipe = read_any(source)
    else:
        rows = read_rows(source)
        text = "\n".join(rows)
        if not has_marks(text) and not _is_pasted(text):
            return list(enumerate(rows, start=1))
        recipe = import_recipe(text.encode(), "text", "standard input" if source == "-" else source)
    return [(line.number, line.text) for part in recipe.parts for line in part.lines]


def _is_pasted(text: str) -> bool:
    """Whether a text without marks is a recipe and no list: a title above its lines, apart from them, and steps below.

    A list of lines stays one, answer for row, whatever single rows of it look like.
    """
    rows = text.strip().split("\n")
    if "" not in (row.strip() for row in rows):
        return False
    try:
        recipe = import_recipe(text.encode(), "text", "-")
    except LabelerError:
        return False
    lines = [line for part in recipe.parts for line in part.lines]
    steps = [step for part in recipe.parts for step in part.handling]
    titled = lines[0].text != " ".join(rows[0].split()) and recipe.parts[0].title != ""
    return titled and bool(steps) and steps[0].number > lines[-1].number and len(lines) >= 2
