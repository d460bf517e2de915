"""Making any text printable without guessing in silence: what cannot be printed is seen, and is reported.

Text comes from recipes and from elsewhere. Line ends and tabs become spaces; control characters become a visible
replacement mark; marks that turn the direction of writing are taken out, since they could make a label read
otherwise than its data; a letter that the type family lacks is written with its compatibility form or without its
accent, and failing that as the replacement mark.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import fields, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from labeler.label.content import LabelContent, NutritionRow, Run
from labeler.types import Problem

if TYPE_CHECKING:
    from labeler.label.panels.content import PanelContent

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


class _Cleaner:
    """Makes texts printable and keeps a problem for each field in which something was replaced."""

    def __init__(self, has: Has) -> None:
        self.has = has
        self.problems: list[Problem] = []

    def text(self, text: str, where: str, edges: bool = False) -> str:
        """One text; spaces at its edges are kept where it is joined to others."""
        result, changed = plain_text(text, self.has)
        if edges:  # runs are joined as they stand, so a space at their edge counts
            result = " " * text[:1].isspace() + result + " " * (text[-1:].isspace() and bool(result))
        if changed:
            listed = ", ".join(sorted(map(_name, changed))[:5])
            self.problems.append(Problem("cannot-print", f"{where}: not printable as written and replaced: {listed}"))
        return result

    def runs(self, value: tuple[Run, ...], where: str) -> tuple[Run, ...]:
        """Runs of one paragraph."""
        return tuple(replace(run, text=self.text(run.text, where, True)) for run in value)

    def rows(self, value: tuple[NutritionRow, ...], where: str) -> tuple[NutritionRow, ...]:
        """Rows of figures."""
        return tuple(
            replace(
                row,
                name=self.text(row.name, where),
                per_serving=self.text(row.per_serving, where),
                per_100g=self.text(row.per_100g, where),
                percent=self.text(row.percent, where),
            )
            for row in value
        )

    def panel(self, value: PanelContent | None, _where: str) -> PanelContent | None:
        """The serving of an official panel; its other words are the rule file's."""
        if value is None:
            return None
        serving = self.text(value.serving, "serving")
        return replace(value, serving=serving, servings=self.text(value.servings, "servings"))

    def as_it_is(self, value: object, _where: str) -> object:
        """What is no text to print."""
        return value

    def field(self, value: str | tuple[str, ...], where: str) -> str | tuple[str, ...]:
        """A text or several."""
        return self.text(value, where) if isinstance(value, str) else tuple(self.text(one, where) for one in value)


_FIELDS: Mapping[str, Callable[[_Cleaner, Any, str], object]] = {
    "nutrition": _Cleaner.rows,
    **dict.fromkeys(("ingredients", "allergens", "sign_allergens"), _Cleaner.runs),
    "panel": _Cleaner.panel,
    **dict.fromkeys(("language", "decimal", "symbol"), _Cleaner.as_it_is),
}
"""How a field of the content is made printable, where it is no text and no tuple of texts."""


@lru_cache(maxsize=64)
def plain_content(content: LabelContent, has: Has) -> tuple[LabelContent, tuple[Problem, ...]]:
    """`content` with every text made printable, and one problem for each field in which something was replaced."""
    cleaner = _Cleaner(has)
    changes: dict[str, Any] = {
        item.name: _FIELDS.get(item.name, _Cleaner.field)(
            cleaner, getattr(content, item.name), item.name.replace("_", " ")
        )
        for item in fields(content)
    }
    return replace(content, **changes), tuple(cleaner.problems)
