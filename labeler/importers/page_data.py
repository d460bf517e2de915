"""A saved web page: the data that its author put in for programs, JSON-LD first, then microdata and RDFa.

lxml reads the page as browsers do, from bytes in whatever encoding the page says, without fetching anything that the
page names. extruct was tried in its place: of the 17 pages of ``tests/importer_shapes.py`` it reads 11, for one script
that is broken, wrapped in a comment or followed by a sign too many hides every recipe of the page, RDFa comes out
without its order, and it brings an RDF library with it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from importlib import import_module
from typing import Any

from labeler.importers.schema_org import recipes_in

__all__ = ["data_of_page", "document_of", "loads"]

_WRAPPED = re.compile(
    r"^\s*(?:<!--|/\*\s*<!\[CDATA\[\s*\*/|//\s*<!\[CDATA\[|<!\[CDATA\[)|"
    r"(?:-->|/\*\s*\]\]>\s*\*/|//\s*\]\]>|\]\]>)\s*$"
)
_TRAILING_COMMA = re.compile(r",(\s*[}\]])")
_BLOCKS = frozenset("li p div br tr h1 h2 h3 h4 h5 h6 dt dd section article".split())
_HIDDEN = frozenset("script style template noscript".split())
_FROM_ATTRIBUTE = {
    "meta": "content", "a": "href", "link": "href", "img": "src", "time": "datetime", "data": "value", "meter": "value",
}  # fmt: skip
_SCOPES = (("itemscope", "itemtype", "itemprop"), ("typeof", "typeof", "property"))
# Properties whose value is everything in them.
_WHOLE = frozenset({"recipeInstructions", "recipeIngredient", "ingredients", "instructions"})
_DEEPEST = 200


def loads(text: str) -> Any:
    """JSON as pages have it: wrapped in comments, line breaks inside texts, several values in a row, commas too many.

    Raises ValueError where it is no JSON even so.
    """
    stated = text.strip().lstrip("\ufeff")
    for _ in range(2):
        stated = _WRAPPED.sub("", stated).strip()
    stated = stated.rstrip(";").strip()
    decoder = json.JSONDecoder(strict=False)
    for attempt in (stated, _TRAILING_COMMA.sub(r"\1", stated)):
        values: list[Any] = []
        at = 0
        try:
            while at < len(attempt):
                value, at = decoder.raw_decode(attempt, at)
                values.append(value)
                while at < len(attempt) and attempt[at] in " \t\r\n,;":
                    at += 1
        except (ValueError, RecursionError) as error:
            failure = error
            continue
        if values:
            return values[0] if len(values) == 1 else values
    raise ValueError(str(failure) if stated else "it is empty")


def document_of(data: bytes) -> Any:
    """A page as lxml reads it, without fetching anything that it names; None where it holds no mark-up."""
    etree, html = import_module("lxml.etree"), import_module("lxml.html")
    parser = html.HTMLParser(no_network=True, recover=True, remove_comments=True, encoding=_stated_encoding(data))
    try:
        return html.document_fromstring(data, parser=parser)
    except (etree.LxmlError, ValueError, AssertionError):
        return None


def data_of_page(data: bytes) -> tuple[list[Any], list[str]]:
    """The data of a page that hold a recipe, and what is wrong with those that could not be read.

    Parameters
    ----------
    data : bytes
        The page as saved.
    """
    root = document_of(data)
    if root is None:
        return [], ["the page holds no mark-up that can be read"]
    found: list[Any] = []
    broken: list[str] = []
    for script in root.iter("script"):
        kind = (script.get("type") or "").split(";")[0].strip().lower()
        if kind not in ("application/ld+json", "application/json+ld"):
            continue
        try:
            value = loads(script.text or "")
        except ValueError as error:
            broken.append(str(error))
            continue
        if recipes_in(value):
            found.append(value)
    if not found:
        for scope, kind, prop in _SCOPES:
            found.extend(_scoped(root, scope, kind, prop))
            if found:
                break
    return found, broken


def _stated_encoding(data: bytes) -> str | None:
    """UTF-8 where the bytes are that, as most pages without a statement are; else what the page itself says."""
    try:
        data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return None
    return "utf-8"


def _scoped(root: Any, scope: str, kind: str, prop: str) -> Iterator[dict[str, Any]]:
    """Recipes in microdata or RDFa, in the shape that JSON-LD has."""
    for element in root.iter():
        if isinstance(element.tag, str) and element.get(scope) is not None:
            types = [one.rsplit("/", 1)[-1].rsplit(":", 1)[-1] for one in (element.get(kind) or "").split()]
            if "Recipe" in types:
                yield _item(element, scope, kind, prop, types, 0)


def _item(element: Any, scope: str, kind: str, prop: str, types: list[str], depth: int) -> dict[str, Any]:
    found: dict[str, Any] = {"@type": types}
    for name, value in _properties(element, scope, kind, prop, depth):
        name = name.rsplit("/", 1)[-1].rsplit(":", 1)[-1]
        held = found.get(name)
        if held is None:
            found[name] = value
        elif isinstance(held, list):
            held.append(value)
        else:
            found[name] = [held, value]
    return found


def _properties(element: Any, scope: str, kind: str, prop: str, depth: int) -> Iterator[tuple[str, Any]]:
    if depth > _DEEPEST:
        return
    for child in element:
        if not isinstance(child.tag, str):
            continue
        names = (child.get(prop) or "").split()
        if names and child.get(scope) is not None:
            types = [one.rsplit("/", 1)[-1].rsplit(":", 1)[-1] for one in (child.get(kind) or "").split()]
            value = _item(child, scope, kind, prop, types, depth + 1)
            if not {"text", "name", "itemListElement"} & set(value):
                value = {"text": _text_of(child)}
            for name in names:
                yield name, value
            continue
        for name in names:
            yield name, _value(child, prop)
        if not set(names) & _WHOLE:
            yield from _properties(child, scope, kind, prop, depth + 1)


def _value(element: Any, prop: str) -> str:
    """The value of a property: an attribute where the element has one for it, else its text, one row a block."""
    attribute = _FROM_ATTRIBUTE.get(element.tag)
    if element.get("content") is not None and (element.tag == "meta" or prop == "property"):
        return str(element.get("content"))
    if (
        attribute is not None
        and element.get(attribute) is not None
        and element.tag in ("meta", "time", "data", "meter")
    ):
        return str(element.get(attribute))
    if attribute is not None and element.tag in ("a", "link", "img") and not "".join(element.itertext()).strip():
        return str(element.get(attribute) or "")
    return _text_of(element)


def _text_of(element: Any) -> str:
    """The text that a person sees, with a line break at each block; white space of the source is only space."""
    pieces: list[str] = []

    def walk(node: Any, depth: int) -> None:
        if not isinstance(node.tag, str) or node.tag in _HIDDEN:
            return
        block = node.tag in _BLOCKS
        if block:
            pieces.append("\n")
        pieces.append(
            " ".join((node.text or "").split())
            if not (node.text or "")[:1].isspace()
            else f" {(node.text or '').strip()}"
        )
        if depth < _DEEPEST:
            for child in node:
                walk(child, depth + 1)
                tail = child.tail or ""
                pieces.append(re.sub(r"\s+", " ", tail))
        if block:
            pieces.append("\n")

    walk(element, 0)
    rows = (" ".join(row.split()) for row in "".join(pieces).split("\n"))
    return "\n".join(row for row in rows if row)
