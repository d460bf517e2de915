"""Making any text printable without guessing in silence: what cannot be printed is seen, and is reported.

Text comes from recipes and from elsewhere. Line ends and tabs become spaces; control characters become a visible
replacement mark; marks that turn the direction of writing are taken out, since they could make a label read
otherwise than its data; a letter that the type family lacks is written with its compatibility form or without its
accent, and failing that as the replacement mark.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import fields, replace
from functools import lru_cache

from labeler.label.content import LabelContent, NutritionRow, Run
from labeler.types import Problem

__all__ = ["REPLACEMENT", "plain_content", "plain_text"]

REPLACEMENT = "\ufffd"

Has = Callable[[str], bool]


def _simpler(char: str, has: Has) -> str:
    """The compatibility form or the bare letter of a character that the face lacks, else the replacement mark."""
    for form in ("NFKC", "NFKD"):
        text = unicodedata.normalize(form, char)
        bare = "".join(c for c in text if not unicodedata.combining(c))
        for candidate in (text, bare):
            if candidate and candidate != char and all(has(c) for c in candidate):
                return candidate
    return REPLACEMENT


def plain_text(text: str, has: Has) -> tuple[str, frozenset[str]]:
    """The printable form of `text`, and the characters that were replaced or taken out.

    Parameters
    ----------
    text : str
        Any text at all.
    has : callable
        Says whether the type family can print a character.
    """
    changed: set[str] = set()
    kept: list[str] = []
    for char in unicodedata.normalize("NFC", text):
        kind = unicodedata.category(char)
        if char in "\n\r\t\v\f" or kind in {"Zl", "Zp"}:
            kept.append(" ")
        elif kind == "Zs":
            kept.append("\u00a0" if char in "\u00a0\u202f\u2007" else " ")
        elif kind == "Cf":
            if char not in "\u00ad\ufeff":  # a soft hyphen and a byte order mark say nothing to a reader
                changed.add(char)
        elif kind in {"Cc", "Cs", "Co", "Cn"}:
            changed.add(char)
            kept.append(REPLACEMENT)
        elif has(char):
            kept.append(char)
        else:
            changed.add(char)
            kept.append("" if unicodedata.combining(char) else _simpler(char, has))
    return re.sub(" +", " ", "".join(kept)).strip(" "), frozenset(changed)


def _name(char: str) -> str:
    return f"U+{ord(char):04X} {unicodedata.name(char, 'control character').lower()}"


@lru_cache(maxsize=64)
def plain_content(content: LabelContent, has: Has) -> tuple[LabelContent, tuple[Problem, ...]]:
    """`content` with every text made printable, and one problem for each field in which something was replaced."""
    problems: list[Problem] = []

    def clean(text: str, where: str, edges: bool = False) -> str:
        result, changed = plain_text(text, has)
        if edges:  # runs are joined as they stand, so a space at their edge counts
            result = " " * text[:1].isspace() + result + " " * (text[-1:].isspace() and bool(result))
        if changed:
            listed = ", ".join(sorted(map(_name, changed))[:5])
            problems.append(Problem("cannot-print", f"{where}: not printable as written and replaced: {listed}"))
        return result

    def runs(value: tuple[Run, ...], where: str) -> tuple[Run, ...]:
        return tuple(replace(run, text=clean(run.text, where, True)) for run in value)

    def row(value: NutritionRow) -> NutritionRow:
        return replace(
            value,
            name=clean(value.name, "nutrition"),
            per_serving=clean(value.per_serving, "nutrition"),
            per_100g=clean(value.per_100g, "nutrition"),
            percent=clean(value.percent, "nutrition"),
        )

    changes: dict[str, object] = {}
    for item in fields(content):
        value = getattr(content, item.name)
        if item.name == "nutrition":
            changes[item.name] = tuple(row(one) for one in value)
        elif item.name in {"ingredients", "allergens", "sign_allergens"}:
            changes[item.name] = runs(value, item.name.replace("_", " "))
        elif item.name == "panel":
            if value is not None:
                serving = clean(value.serving, "serving")
                changes[item.name] = replace(value, serving=serving, servings=clean(value.servings, "servings"))
        elif isinstance(value, tuple):
            changes[item.name] = tuple(clean(one, item.name) for one in value)
        elif item.name not in {"language", "decimal", "symbol"}:
            changes[item.name] = clean(value, item.name.replace("_", " "))
    return replace(content, **changes), tuple(problems)  # type: ignore[arg-type]
