"""What data say of a recipe beside its title, yield, ingredients and steps: kept as notes, so that nothing is lost."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from labeler.importers.model import one_line
from labeler.parsing.front_matter import is_key_of
from labeler.parsing.model import NoteKind

__all__ = ["LINES", "NAMES", "STEPS", "YIELDS", "rest_of"]

NAMES = ("name", "headline", "alternateName")
LINES = ("recipeIngredient", "ingredients", "ingredient")
STEPS = ("recipeInstructions", "instructions", "steps", "directions", "method")
YIELDS = ("serves", "servings", "makes", "yield", "yields")
"""Keys of the head that say what a recipe makes."""

_KINDS = {
    "nutrition": NoteKind.NUTRITION, "preptime": NoteKind.TIME, "cooktime": NoteKind.TIME, "totaltime": NoteKind.TIME,
    "performtime": NoteKind.TIME, "image": NoteKind.IMAGE, "thumbnailurl": NoteKind.IMAGE, "photo": NoteKind.IMAGE,
    "description": NoteKind.DESCRIPTION, "notes": NoteKind.NOTE, "note": NoteKind.NOTE, "tips": NoteKind.TIP,
    "tool": NoteKind.EQUIPMENT, "tools": NoteKind.EQUIPMENT, "equipment": NoteKind.EQUIPMENT,
    "storage": NoteKind.STORAGE,
}  # fmt: skip
_WITHOUT_KEY = frozenset({NoteKind.IMAGE, NoteKind.DESCRIPTION, NoteKind.NOTE, NoteKind.TIP, NoteKind.STORAGE,
                          NoteKind.NUTRITION})  # fmt: skip
_TYPES = frozenset({"type", "id", "context"})
_DEEPEST = 8


def rest_of(node: Mapping[str, Any], known: Mapping[str, Any]) -> Iterator[tuple[NoteKind, str]]:
    """The other properties of a recipe, each as a note of its kind.

    Parameters
    ----------
    node : mapping
        The recipe.
    known : mapping
        Things that may be told by their ``@id``.
    """
    for key, value in node.items():
        read = key in (*LINES, *STEPS, "recipeYield") or any(is_key_of(key, one) for one in (*YIELDS, "title"))
        if read or key in (*NAMES[:1], *_TYPES) or key.startswith("@"):
            continue
        kind = _KINDS.get(key.casefold(), NoteKind.ABOUT)
        apart = value if isinstance(value, list) and kind is not NoteKind.ABOUT else [value]
        for one in apart:
            stated = _as_text(one, known, 0)
            if stated:
                yield kind, stated if kind in _WITHOUT_KEY else f"{one_line(key)}: {stated}"


def _as_text(value: Any, known: Mapping[str, Any], depth: int) -> str:
    """Everything that a value says, in one row."""
    if depth > _DEEPEST:
        return ""
    if isinstance(value, list):
        return ", ".join(filter(None, (_as_text(one, known, depth + 1) for one in value)))[:4000]
    if isinstance(value, Mapping):
        told = value.get("@id")
        if set(value) == {"@id"} and isinstance(told, str):
            return _as_text(known[told], known, depth + 4) if told in known else one_line(told)
        if "@value" in value:
            return _as_text(value["@value"], known, depth + 1)
        words = [
            (key, _as_text(inner, known, depth + 1))
            for key, inner in value.items()
            if not key.startswith("@") and key not in _TYPES
        ]
        return ", ".join(f"{key} {text}" for key, text in words if text)[:4000]
    return str(value).lower() if isinstance(value, bool) else one_line(value)
