"""schema.org recipes in data: JSON-LD in any of the shapes of the wild, and what a page's microdata come to.

A recipe may stand alone, in a list, under ``@graph``, as the ``mainEntity`` of a page or anywhere inside; its type may
be a word, an address or a list of both. Its ingredients are texts, one long text, or things with a name and an amount;
its instructions texts, one text with line breaks or mark-up, steps, lists of steps, sections of steps. All of that is
read; what is not text where text should be is passed over and said. (schema.org/Recipe, HowToSection, HowToStep.)
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from labeler.importers.model import ImportedRecipe, ImportedSection, one_line, without_bullet
from labeler.importers.rest import LINES, NAMES, STEPS, YIELDS, rest_of
from labeler.parsing.front_matter import is_key_of
from labeler.parsing.model import NoteKind
from labeler.types import Problem

__all__ = ["carried", "plain_recipes_in", "recipes_in"]

_DEEPEST = 24
_MOST_NODES = 200_000
_BREAKS = re.compile(r"<\s*(?:br|/p|/li|/div|/h\d|/tr)\b[^<>]{0,200}>|[\r\n\u2028\u2029]+", re.IGNORECASE)
_NUMBERED = re.compile(r"(?:^|\s)(?:step\s*)?\d{1,2}[.):]\s+(?=[A-Z])", re.IGNORECASE)
_HEADING = re.compile(
    r"^(?:for (?:the |an? )?|to (?:make|serve|finish)\b).{2,60}$|^[^\d½¼¾⅓⅔⅛,]{2,60}:$", re.IGNORECASE
)
GROUPS = ("name", "title", "group", "section", "part", "heading", "component")
"""Keys of a list of ingredients that say what they are for."""
_BY = ("author", "publisher", "creator")


def recipes_in(data: Any) -> list[Mapping[str, Any]]:
    """Every recipe node in a piece of JSON, each once, in the order of the text."""
    found: list[Mapping[str, Any]] = []
    seen: set[int] = set()
    budget = [_MOST_NODES]
    for node in _nodes(data, 0, budget):
        if _is_a(node, "Recipe") and id(node) not in seen:
            seen.add(id(node))
            found.append(node)
    return found


def plain_recipes_in(data: Any) -> list[Mapping[str, Any]]:
    """Every object in a piece of JSON that has a list of ingredients without saying that it is a recipe."""
    found: list[Mapping[str, Any]] = []
    for node in _nodes(data, 0, [_MOST_NODES]):
        inside = any(node is other for one in found for other in _nodes(one, 0, [_MOST_NODES]))
        if not inside and any(isinstance(node.get(key), (list, str, dict)) and node[key] for key in LINES):
            found.append(node)
    return found


def _nodes(value: Any, depth: int, budget: list[int]) -> Iterator[Mapping[str, Any]]:
    budget[0] -= 1
    if depth > _DEEPEST or budget[0] < 0:
        return
    if isinstance(value, dict):
        yield value
        for inner in value.values():
            if isinstance(inner, (dict, list)):
                yield from _nodes(inner, depth + 1, budget)
    elif isinstance(value, list):
        for inner in value:
            if isinstance(inner, (dict, list)):
                yield from _nodes(inner, depth + 1, budget)


def _is_a(node: Mapping[str, Any], kind: str) -> bool:
    types = node.get("@type", node.get("type"))
    for one in types if isinstance(types, list) else [types]:
        if isinstance(one, str) and one.rsplit("/", 1)[-1].rsplit(":", 1)[-1].lower() == kind.lower():
            return True
    return False


def carried(node: Mapping[str, Any], graph: Any = None) -> ImportedRecipe:
    """A recipe node as a `ImportedRecipe`.

    Parameters
    ----------
    node : mapping
        As `recipes_in` finds it.
    graph : any
        The data that it stands in, where steps may be told by their ``@id``.
    """
    known = {item["@id"]: item for item in _nodes(graph, 0, [_MOST_NODES]) if isinstance(item.get("@id"), str)}
    problems: list[Problem] = []
    notes: list[tuple[NoteKind, str]] = []
    ingredients = _ingredients(node, problems)
    steps = _Steps(known, notes, problems).read(next((node[key] for key in STEPS if node.get(key)), None))
    return ImportedRecipe(
        title=_name(node),
        ingredients=ingredients,
        steps=steps,
        makes=_makes(node),
        source=_source(node),
        notes=(*notes, *rest_of(node, known)),
        problems=tuple(problems),
    )


def _name(node: Mapping[str, Any]) -> str:
    named = [*NAMES, *(key for key in node if is_key_of(key, "title") and key not in NAMES)]
    for key in named:
        for value in _listed(node.get(key)):
            found = one_line(_text(value), 200)
            if found:
                return found
    return ""


def _listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [] if value is None else [value]


def _text(value: Any) -> Any:
    """The text of a value that may be wrapped: ``{"@language": "en", "@value": "x"}``, ``["x"]``."""
    for _ in range(4):
        if isinstance(value, list) and len(value) == 1:
            value = value[0]
        elif isinstance(value, dict) and "@value" in value:
            value = value["@value"]
        else:
            break
    return value


def _source(node: Mapping[str, Any]) -> str:
    """Where it comes from: its address, else who made it."""
    page = node.get("mainEntityOfPage")
    for value in (node.get("url"), page.get("@id") if isinstance(page, dict) else page, node.get("@id")):
        found = one_line(_text(value), 300)
        if found.startswith(("http://", "https://")) and " " not in found:
            return found
    for key in _BY:
        for value in _listed(node.get(key)):
            found = one_line(value.get("name") if isinstance(value, dict) else value, 120)
            if found:
                return found
    return ""


def _makes(node: Mapping[str, Any]) -> str:
    """What a recipe says of its yield; a bare number as its key means it ("serves 4")."""
    for key, value in node.items():
        word = "" if key == "recipeYield" else next((word for word in YIELDS if is_key_of(key, word)), None)
        text = _fullest(value) if word is not None else ""
        if text:
            return f"{word} {text}" if word and text.replace(".", "", 1).isdigit() else text
    return ""


def _fullest(value: Any) -> str:
    """What a yield says, the fullest of its tellings: "24 cookies" before 24."""
    tellings = []
    for one in _listed(value):
        one = _text(one)
        if isinstance(one, dict):
            number = one_line(_text(one.get("value", one.get("minValue", one.get("amount")))), 40)
            unit = one_line(_text(one.get("unitText", one.get("name", one.get("unitCode")))), 40)
            one = f"{number} {unit}".strip()
        text = one_line(one, 120)
        if text and any(sign.isalnum() for sign in text):
            tellings.append(text)
    with_words = [text for text in tellings if any(sign.isdigit() for sign in text) and any(map(str.isalpha, text))]
    numbers = [text for text in tellings if any(sign.isdigit() for sign in text)]
    return (with_words or numbers or tellings or [""])[0]


def _ingredients(node: Mapping[str, Any], problems: list[Problem]) -> tuple[ImportedSection, ...]:
    rows: list[str] = []
    for one in (one for key in LINES for one in _listed(node.get(key))):
        rows.extend(_ingredient_rows(one, problems, 0))
    return grouped(rows)


def _ingredient_rows(value: Any, problems: list[Problem], depth: int) -> Iterator[str]:
    value = _text(value)
    if isinstance(value, str):
        yield from filter(None, (without_bullet(one_line(row)) for row in _BREAKS.split(value)))
    elif isinstance(value, list) and depth < _DEEPEST:
        for one in value:
            yield from _ingredient_rows(one, problems, depth + 1)
    elif isinstance(value, dict) and depth < _DEEPEST and (inner := _list_in(value)) is not None:
        title = next(filter(None, (one_line(_text(value.get(key)), 80) for key in GROUPS)), "")
        if title:
            yield f"{title.rstrip(':')}:"
        yield from _ingredient_rows(inner, problems, depth + 1)
    elif isinstance(value, dict) and depth < _DEEPEST and (text := _of_thing(value)):
        yield text
    elif value not in (None, "", [], {}):
        problems.append(Problem("not-an-ingredient", "An ingredient of the data is no text; it is left out."))


def _list_in(value: Mapping[str, Any]) -> Any:
    """The list that a thing holds instead of being an ingredient; None where it holds none."""
    keys = ("itemListElement", "item", "items", "recipeIngredient", "ingredients")
    return next((value[key] for key in keys if value.get(key)), None)


def _of_thing(value: Mapping[str, Any]) -> str:
    """An ingredient told as a thing: its amount, its unit, its name, what is done to it."""
    parts: list[str] = []
    for keys in (("amount", "quantity", "value", "requiredQuantity"), ("unitText", "unit", "unitCode"),
                 ("name", "ingredient", "text", "food"), ("preparation", "note", "notes", "description")):  # fmt: skip
        inner = next((value[key] for key in keys if value.get(key) not in (None, "")), None)
        if isinstance(inner, dict):
            inner = " ".join(one_line(_text(inner.get(key)), 40) for key in ("value", "unitText", "unit", "name"))
        text = one_line(_text(inner), 300)
        if text and parts and keys[0] == "preparation":
            text = f"({text})" if not text.startswith("(") else text
        parts.append(text)
    return " ".join(filter(None, parts)) if parts[2] else ""


def grouped(rows: list[str]) -> tuple[ImportedSection, ...]:
    """Ingredient rows by the headings among them ("For the sauce:"); one without rows behind it is an ingredient."""
    sections: list[tuple[str, list[str]]] = [("", [])]
    for at, row in enumerate(rows):
        heading = _HEADING.match(row) is not None and at + 1 < len(rows) and _HEADING.match(rows[at + 1]) is None
        if heading and (row.endswith(":") or len(row.split()) <= 5):
            sections.append((row.strip(" :"), []))
        else:
            sections[-1][1].append(row.rstrip(":") if row.endswith(":") else row)
    return tuple(ImportedSection(title, tuple(found)) for title, found in sections if found)


class _Steps:
    """Reads instructions of any shape into sections."""

    def __init__(self, known: Mapping[str, Any], notes: list[tuple[NoteKind, str]], problems: list[Problem]) -> None:
        self.known = known
        self.notes = notes
        self.problems = problems
        self.sections: list[tuple[str, list[str]]] = [("", [])]

    def read(self, value: Any) -> tuple[ImportedSection, ...]:
        """The sections of some instructions."""
        self._take(value, 0)
        return tuple(ImportedSection(title, tuple(rows)) for title, rows in self.sections if rows)

    def _take(self, value: Any, depth: int) -> None:
        value = _text(value)
        if value is None or depth > _DEEPEST:
            return
        if isinstance(value, (str, int, float)) and not isinstance(value, bool):
            self._rows(str(value))
        elif isinstance(value, list):
            for one in value:
                self._take(one, depth + 1)
        elif isinstance(value, dict):
            self._thing(value, depth)
        else:
            self.problems.append(Problem("not-a-step", "A step of the data is no text; it is left out."))

    def _thing(self, value: Mapping[str, Any], depth: int) -> None:
        told = value.get("@id")
        if set(value) == {"@id"} and isinstance(told, str) and told in self.known:
            value = self.known[told]
        inner = next((value[key] for key in ("itemListElement", "steps", "step", "item") if value.get(key)), None)
        name, text = (one_line(_text(value.get(key))) for key in ("name", "text"))
        if _is_a(value, "HowToTip"):
            if text or name:
                self.notes.append((NoteKind.TIP, text or name))
            return
        if _is_a(value, "HowToSection") or (inner is not None and name and not text and not _is_a(value, "HowToStep")):
            self.sections.append((name.strip(" :"), []))
            self._take(inner if inner is not None else value.get("text"), depth + 1)
            self.sections.append(("", []))
            return
        if inner is not None:
            if text:
                self._rows(str(_text(value.get("text"))))
            self._take(inner, depth + 1)
            return
        raw = _text(value.get("text", value.get("description", value.get("name", ""))))
        if isinstance(raw, str) and raw.strip():
            self._rows(raw)
        elif value:
            self.problems.append(Problem("not-a-step", "A step of the data has no text; it is left out."))

    def _rows(self, text: str) -> None:
        """One row a step: by line breaks and mark-up, else by the numbers in the text."""
        rows: list[str] = []
        for row in filter(None, map(one_line, _BREAKS.split(text))):
            if rows and row[0].islower() and not rows[-1].endswith((".", "!", "?")):
                rows[-1] = f"{rows[-1]} {row}"  # a line break inside a sentence
            else:
                rows.append(row)
        if len(rows) == 1:
            numbered = [row.strip() for row in _NUMBERED.split(rows[0]) if row.strip()]
            rows = numbered if len(numbered) > 1 else rows
        for row in rows:
            stated = without_bullet(re.sub(r"^step\s*\d+\s*[:.)-]?\s*", "", row, flags=re.IGNORECASE))
            if stated:
                self.sections[-1][1].append(stated)
