"""Which form a file from elsewhere has, and from its bytes to a recipe of ours."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from labeler.elsewhere.plain import is_pasted
from labeler.files import MAX_RECIPE, as_text
from labeler.knowledge import LabelerError, Problem

if TYPE_CHECKING:
    from labeler.elsewhere.model import Carried

__all__ = ["FORMS", "carry", "form_of"]

FORMS = ("page", "json", "text", "table")
_ENDINGS = {
    ".html": "page", ".htm": "page", ".xhtml": "page", ".mhtml": "archive", ".mht": "archive", ".json": "json",
    ".jsonld": "json", ".csv": "table", ".tsv": "table",
}  # fmt: skip


def form_of(data: bytes, source: str) -> str | None:
    """The form of a file from elsewhere, by its ending and its first signs; None for a recipe file of ours.

    Pasted text is told from a recipe file and from a bare list by `labeler.elsewhere.plain.is_pasted`.
    """
    ending = source[source.rfind(".") :].lower() if "." in source else ""
    known = _ENDINGS.get(ending)
    if known == "archive":
        raise LabelerError(f"{source}: is a web archive; save the page as HTML only")
    if known is not None:
        return known
    first = data[:400].lstrip(b"\xef\xbb\xbf \t\r\n")
    if first[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return "page" if data[:400].decode("utf-16", "ignore").lstrip().startswith("<") else None
    if first[:1] == b"<" and not first.startswith(b"<!-- "):
        return "page"
    if first[:1] == b"{" or (first[:1] == b"[" and first[1:].lstrip()[:1] in (b"{", b"[")):
        return "json"
    if len(data) > MAX_RECIPE:
        return None
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return None
    return "text" if "\0" not in text and is_pasted(text.replace("\r\n", "\n").replace("\r", "\n")) else None


def carry(data: bytes, form: str, source: str, *, which: int | None = None) -> Carried:
    """The recipe of a file from elsewhere.

    Parameters
    ----------
    data : bytes
        As `labeler.files.read_bytes` gives it.
    form : str
        One of `FORMS`.
    source : str
        The file's name, for messages and for a title where there is none.
    which : int or None
        Of several recipes in the file, from 1; None takes the one with the most ingredients and says so.

    Raises
    ------
    LabelerError
        Where it holds no recipe that can be read; the message says what was looked for and what is wrong.
    """
    found = _all(data, form, source)
    found = [one for one in found if one.size]
    if not found:
        raise LabelerError(
            f"{source}: holds a recipe without ingredients; write them one a line, such as “- 2 cups flour”"
        )
    if which is not None:
        if not 1 <= which <= len(found):
            raise LabelerError(
                f"{source}: holds {len(found)} recipe{'s' * (len(found) != 1)}; --which {which} is none of them"
            )
        return found[which - 1]
    best = max(found, key=lambda one: one.size)
    titles = list(dict.fromkeys(one.title for one in found))
    if len(titles) > 1:
        told = "; ".join(f"{at} {one.title or 'without a title'}" for at, one in enumerate(found, start=1))
        problem = Problem("several-recipes", f"The file holds several recipes ({told[:400]}); --which N takes another.")
        return replace(best, problems=(problem, *best.problems))
    return best


def _all(data: bytes, form: str, source: str) -> list[Carried]:
    from labeler.elsewhere.linked import carried, recipes_in

    if form == "page":
        from labeler.elsewhere.page import data_of_page

        pieces, broken = data_of_page(data)
        if not pieces:
            what = f"; its data cannot be read ({broken[0][:80]})" if broken else ""
            raise LabelerError(
                f"{source}: the page holds no schema.org recipe{what}; copy the recipe's text into a file instead"
            )
        return [carried(node, piece) for piece in pieces for node in recipes_in(piece)]
    if form == "json":
        value = _json(data, source)
        nodes = recipes_in(value)
        if not nodes and isinstance(value, dict) and ({"recipeIngredient", "ingredients"} & set(value)):
            nodes = [value]
        if not nodes:
            raise LabelerError(f"{source}: is JSON without a schema.org recipe: nothing in it has “@type”: “Recipe”")
        return [carried(node, value) for node in nodes]
    text = as_text(data, source, most=MAX_RECIPE)
    if form == "table":
        from labeler.elsewhere.table import read_table

        return [read_table(text, source)]
    from labeler.elsewhere.plain import read_plain

    return [read_plain(text)]


def _json(data: bytes, source: str) -> Any:
    import json

    from labeler.elsewhere.page import loads

    try:
        return loads(data.decode(json.detect_encoding(data), "strict"))
    except UnicodeDecodeError:
        raise LabelerError(f"{source}: is not UTF-8; save the file as UTF-8 text") from None
    except ValueError as error:
        raise LabelerError(f"{source}: is no JSON ({error}); save the page or the recipe again") from None
