"""Text made harmless for each form of a post, so that whatever the cook wrote is read as text and as nothing else.

A form's escape is laid over the whole content at once (`over`), before a template sees it: no template has to remember
it. Characters that no page may hold (controls, halves of a pair) become the replacement mark; marks that change the
direction of writing stay, written as character references where the form has them, so that the source reads in order.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from html import escape
from typing import Any, TypeVar

__all__ = ["for_html", "for_markdown", "for_text", "over"]

Content = TypeVar("Content")

_SPACE = re.compile("[ \t\n\r\f\v\x1c-\x1f\x85\u2028\u2029]+")
_NEVER = frozenset(chr(code) for code in range(0xFDD0, 0xFDF0))
_DIRECTION = re.compile("[\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069\ufeff]")
# Signs that mean something anywhere in a line; a colon that may open an address or a picture's name; doubled signs.
_MARKDOWN = re.compile(r"[\\`*_\[\]{}|~#$^@]|:(?=\S)|(?<=\bwww)\.|(?<=([=+]))\1|([=+])(?=\2)", re.IGNORECASE)
# What opens a list, a rule or the underline of a heading at the start of a line.
_BLOCK = re.compile(r"^[-+=]|^\d{1,9}(?=[.)](?:\s|$))")


def over(content: Content, escaped: Callable[[str], str]) -> Content:
    """The content with `escaped` laid over every text in it, however deep.

    Parameters
    ----------
    content : dataclass
    escaped : callable
        From a text to what stands for it.
    """

    def each(value: Any) -> Any:
        if isinstance(value, str):
            return escaped(value)
        if isinstance(value, tuple):
            return tuple(each(item) for item in value)
        if is_dataclass(value) and not isinstance(value, type):
            return replace(value, **{field.name: each(getattr(value, field.name)) for field in fields(value)})
        return value

    result: Content = each(content)
    return result


def _is_text(char: str) -> bool:
    return unicodedata.category(char) not in ("Cc", "Cs") and ord(char) & 0xFFFE != 0xFFFE and char not in _NEVER


def for_text(text: str) -> str:
    """A text on one line, with a replacement mark for every character that is not text."""
    return "".join(char if _is_text(char) else "\ufffd" for char in _SPACE.sub(" ", text))


def _references(text: str) -> str:
    return _DIRECTION.sub(lambda found: f"&#x{ord(found[0]):04X};", text)


def for_html(text: str) -> str:
    """A text for the inside of an element or of a quoted attribute."""
    return _references(escape(for_text(text), quote=True))


def for_markdown(text: str) -> str:
    """A text for a paragraph, a heading or a cell of Markdown, of whatever dialect: no mark-up, link, mention or HTML.

    Signs that only ever open HTML are written as character references, which every dialect reads; the others get a
    backslash.
    """
    edge = for_text(text)
    line = edge.strip(" ")
    line = _MARKDOWN.sub(lambda found: "\\" + found[0], line)
    line = _BLOCK.sub(lambda found: found[0] + "\\" if found[0].isdigit() else "\\" + found[0], line)
    line = line.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    # A run of a list keeps the space at its edges.
    spaced = " " * edge.startswith(" ") + line + " " * (edge.endswith(" ") and bool(line))
    return _references(spaced)
