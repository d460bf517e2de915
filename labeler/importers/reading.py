"""Which form a file has, and from its bytes to a `Recipe`: a page, JSON, a table, or text of any kind."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from labeler.files import MAX_RECIPE, as_text, check_is_text
from labeler.parsing import Recipe
from labeler.parsing.document import read_recipes, recipe_of_rows
from labeler.parsing.headings import opens_what
from labeler.parsing.model import NoteKind
from labeler.parsing.own_form import own_form
from labeler.parsing.text_repair import mend
from labeler.types import LabelerError, Problem

if TYPE_CHECKING:
    from labeler.importers.model import ImportedRecipe

__all__ = ["FORMS", "as_recipe_file", "form_of", "import_recipe", "import_recipes"]

FORMS = ("page", "json", "text", "table")
_ENDINGS = {
    ".html": "page", ".htm": "page", ".xhtml": "page", ".mhtml": "archive", ".mht": "archive", ".json": "json",
    ".jsonld": "json", ".csv": "table", ".tsv": "table",
}  # fmt: skip


def form_of(data: bytes, source: str) -> str:
    """The form of a file, by its ending and its first signs: one of `FORMS`."""
    check_is_text(data, source)
    ending = source[source.rfind(".") :].lower() if "." in source else ""
    known = _ENDINGS.get(ending)
    if known == "archive":
        raise LabelerError(f"{source}: is a web archive; save the page as HTML only")
    if known is not None:
        return known
    first = data[:400].lstrip(b"\xef\xbb\xbf \t\r\n")
    if first[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return "page" if data[:400].decode("utf-16", "ignore").lstrip().startswith("<") else "text"
    if first[:1] == b"<" and not first.startswith(b"<!-- "):
        return "page"
    if first[:1] == b"{" or (first[:1] == b"[" and first[1:].lstrip()[:1] in (b"{", b"[")):
        return "json"
    return "text"


def import_recipe(data: bytes, form: str, source: str, *, which: int | None = None) -> Recipe:
    """The recipe of a file whose bytes are at hand; `read_recipe_file` opens a file and finds its form.

    Parameters
    ----------
    data : bytes
        As `labeler.files.read_bytes` gives it.
    form : str
        One of `FORMS`: "page" (HTML), "json" (schema.org), "text" (Markdown or pasted text), "table" (CSV).
    source : str
        The file's name, for messages and for a title where there is none.
    which : int or None
        Of several recipes in the file, from 1; None takes the one with the most ingredients and says so.

    Returns
    -------
    Recipe
        What the recipe model has no place for is kept among its notes.

    Raises
    ------
    LabelerError
        Where it holds no recipe that can be read; the message says what was looked for and what is wrong.

    Source: https://schema.org/Recipe for pages and JSON.

    Examples
    --------
    >>> page = b'{"@type": "Recipe", "name": "Slaw", "recipeIngredient": ["1 cabbage", "salt"]}'
    >>> labeler.import_recipe(page, "json", "slaw.json").title
    'Slaw'
    """
    found = import_recipes(data, form, source)
    if which is not None:
        if not 1 <= which <= len(found):
            raise LabelerError(
                f"{source}: holds {len(found)} recipe{'s' * (len(found) != 1)}; --which {which} is none of them"
            )
        return found[which - 1]
    best = max(found, key=lambda one: sum(len(part.lines) for part in one.parts))
    titles = list(dict.fromkeys(one.title for one in found))
    if len(titles) > 1:
        told = "; ".join(f"{at} {one.title or 'without a title'}" for at, one in enumerate(found, start=1))
        message = (
            f"The file holds several recipes ({told[:400]}); --which N takes another, and “labeler import --which N” "
        )
        problem = Problem("several-recipes", f"{message}writes it as a file of its own.")
        return replace(best, problems=(problem, *best.problems))
    return best


def as_recipe_file(data: bytes, form: str, recipe: Recipe) -> str:
    """The text of a recipe file for what `import_recipe` read; one that is a recipe file already stays as it stands."""
    if form == "text":
        text = as_text(data, recipe.source, most=MAX_RECIPE)
        text, _ = mend(text.replace("\r\n", "\n").replace("\r", "\n"), recipe.source)
        if hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest() == recipe.digest:
            return text
    return own_form(recipe)


def import_recipes(data: bytes, form: str, source: str) -> list[Recipe]:
    """Every recipe of a file, at least one; raises as `import_recipe`."""
    if form == "text":
        text = as_text(data, source, most=MAX_RECIPE)
        return read_recipes(text, source=source, names_food=_names_food)
    carried = _carried(data, form, source)
    found = [_of_carried(one, source) for one in carried if one.size]
    if not found and form == "page" and not carried:
        found = [_of_page(data, source)]
    if not found:
        raise LabelerError(
            f"{source}: holds a recipe without ingredients; write them one a line, such as “- 2 cups flour”"
        )
    return found


def _names_food(words: str) -> bool:
    """Whether a few words may be a food: they open with a state ("toasted"), or the table has something they mean."""
    from labeler.foods.matching.match import match_food
    from labeler.parsing.ingredient.line import read_line
    from labeler.parsing.ingredient.name import only_describes

    name = read_line(words).name
    if words.split()[0].lower().endswith("ed") or name != words or only_describes(words.split()[0]):
        return True
    return match_food(name).food is not None


def _stamped(recipe: Recipe) -> Recipe:
    text = own_form(recipe)
    return replace(recipe, digest=hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest())


def _of_carried(found: ImportedRecipe, source: str) -> Recipe:
    from labeler.importers.carried import head_of, rows_of_carried

    recipe, _ = recipe_of_rows(rows_of_carried(found), head=head_of(found), source=source)
    return _stamped(replace(recipe, problems=(*found.problems, *recipe.problems)))


def _of_page(data: bytes, source: str) -> Recipe:
    """A page without data for programs, read as a person sees it."""
    from labeler.importers.web_page import rows_of_page, title_of_page
    from labeler.parsing.markup import Mark

    rows = rows_of_page(data)
    titled = any(row.mark is Mark.HEADING and row.level == 1 for row in rows)
    head = {} if titled or not title_of_page(data) else {"title": title_of_page(data)}
    try:
        recipe, _ = recipe_of_rows(rows, head=head, source=source)
        if not any(line.amounts for part in recipe.parts for line in part.lines):
            raise LabelerError("no amount of anything")
    except LabelerError:
        from labeler.importers.page_data import data_of_page

        _, broken = data_of_page(data)
        what = f"; its data cannot be read ({broken[0][:80]})" if broken else ""
        raise LabelerError(
            f"{source}: the page holds no schema.org recipe and no list of ingredients{what}; copy the recipe's text "
            "into a file instead"
        ) from None
    return _stamped(recipe)


def _carried(data: bytes, form: str, source: str) -> list[ImportedRecipe]:
    from labeler.importers.schema_org import carried, plain_recipes_in, recipes_in

    if form == "page":
        from labeler.importers.page_data import data_of_page

        pieces, _ = data_of_page(data)
        found = [carried(node, piece) for piece in pieces for node in recipes_in(piece)]
        beside = _beside(data, found) if found else ()
        return [replace(one, notes=(*one.notes, *beside)) for one in found]
    if form == "json":
        value = _json(data, source)
        nodes = recipes_in(value)
        nodes = nodes or plain_recipes_in(value)
        if not nodes:
            raise LabelerError(
                f"{source}: is JSON without a recipe: nothing in it has “@type”: “Recipe” or a list of “ingredients”"
            )
        return [carried(node, value) for node in nodes]
    from labeler.importers.table import read_tables

    return read_tables(as_text(data, source, most=MAX_RECIPE), source)


def _beside(data: bytes, found: list[ImportedRecipe]) -> tuple[tuple[NoteKind, str], ...]:
    """What a page shows and its data do not say: kept as notes, so that a tip of the page outlives the import."""
    from labeler.importers.web_page import rows_of_page
    from labeler.parsing.headings import prefix_kind
    from labeler.parsing.row_shapes import is_storage

    def plain(text: str) -> str:
        return "".join(sign for sign in text.casefold() if sign.isalnum())

    told = [one.title for one in found] + [one.makes for one in found]
    told += [
        row for one in found for section in (*one.ingredients, *one.steps) for row in (section.title, *section.rows)
    ]
    whole = plain(" ".join(told + [text for one in found for _, text in one.notes]))
    notes: dict[str, NoteKind] = {}
    for row in rows_of_page(data):
        stated = plain(row.text)
        if stated and stated not in whole and opens_what(row.text) not in ("ingredients", "steps"):
            kind = prefix_kind(row.text) or (NoteKind.STORAGE if is_storage(row.text) else NoteKind.COMMENT)
            notes.setdefault(row.text, kind)
    return tuple((kind, text) for text, kind in notes.items())


def _json(data: bytes, source: str) -> Any:
    import json

    from labeler.importers.page_data import loads

    try:
        return loads(data.decode(json.detect_encoding(data), "strict"))
    except UnicodeDecodeError:
        raise LabelerError(f"{source}: is not UTF-8; save the file as UTF-8 text") from None
    except ValueError as error:
        raise LabelerError(f"{source}: is no JSON ({error}); save the page or the recipe again") from None
