"""The rows of an inline token of Markdown: what each source row of a paragraph shows, its links and its emphasis."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from markdown_it.token import Token

__all__ = ["Piece", "pieces_of"]

_BREAK = re.compile(r"<br\b", re.IGNORECASE)
_BLOCK = re.compile(
    r"</?(?:li|ul|ol|dl|dt|dd|p|div|table|tr|td|th|h[1-6]|section|article|body|head|title)\b", re.IGNORECASE
)
"""Tags that end a row on a page: the words on both sides of one are not one word."""


@dataclass(slots=True)
class Piece:
    """What one source row of a paragraph shows."""

    down: int
    text: str = ""
    plain: str = ""
    upright: str = ""
    linked: str = ""
    links: tuple[str, ...] = ()
    images: tuple[str, ...] = ()

    @property
    def bold(self) -> bool:
        return bool(self.text) and not self.plain.strip(" :*_")

    @property
    def italic(self) -> bool:
        """Whether the whole row is in italics."""
        return bool(self.text) and not self.upright.strip(" :*_")


def pieces_of(token: Token) -> Iterator[Piece]:
    """The rows of an inline token, in order."""
    piece, strong, slanted, struck, down = Piece(0), 0, 0, 0, 0
    for child in token.children or ():
        kind = child.type
        if kind in ("softbreak", "hardbreak"):
            yield _closed(piece)
            down += 1
            piece = Piece(down)
        elif kind == "strong_open":
            strong += 1
        elif kind == "strong_close":
            strong -= 1
        elif kind in ("em_open", "em_close"):
            slanted += 1 if kind == "em_open" else -1
        elif kind == "s_open":
            struck += 1
        elif kind == "s_close":
            struck -= 1
        elif struck and kind in ("text", "code_inline"):
            piece.images = (*piece.images, child.content)  # struck out: kept beside the row
        elif kind in ("text", "code_inline", "text_special"):
            piece.text += child.content
            piece.linked += child.content
            piece.plain += "" if strong else child.content
            piece.upright += "" if slanted else child.content
        elif kind == "link_open":
            piece.links = (*piece.links, str(child.attrs.get("href", "")))
            piece.linked += "["
        elif kind == "link_close":
            piece.linked += f"]({piece.links[-1] if piece.links else ''})"
        elif kind == "image":
            piece.images = (*piece.images, f"{child.content} {child.attrs.get('src', '')}".strip())
        elif kind == "html_inline":
            down += child.content.count("\n")
            if child.content.startswith("<!--"):
                piece.images = (*piece.images, child.content[4:].removesuffix("-->").strip())
            elif re.match(r"<br\b", child.content, re.IGNORECASE) or (
                _BLOCK.match(child.content) and piece.text.strip()
            ):
                yield _closed(piece)
                piece = Piece(down)
    yield _closed(piece)


def _closed(piece: Piece) -> Piece:
    piece.text, piece.linked = " ".join(piece.text.split()), " ".join(piece.linked.split())
    return piece
