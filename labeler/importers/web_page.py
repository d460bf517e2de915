"""A web page as a person sees it: its headings, lists and paragraphs as the rows of a text.

lxml reads it as browsers do. What frames a page (navigation, forms, comments, advertisements) is left out where the
page says so; where it has an article, or one element that holds the list and the method, the rest is.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from labeler.importers.page_data import document_of
from labeler.parsing.markup import Mark, Row, table_row, without_marks
from labeler.parsing.row_shapes import opens_with_amount
from labeler.parsing.table_reader import TableReader
from labeler.parsing.text_repair import without_unseen

__all__ = ["rows_of_page", "title_of_page"]

_HIDDEN = frozenset(
    "script style template noscript head title svg button select option input textarea iframe object".split()
)
_FRAME = frozenset("nav footer aside form dialog menu".split())
_BLOCKS = frozenset(
    "p div li ul ol h1 h2 h3 h4 h5 h6 table tr td th dl dt dd section article main header blockquote pre hr figure "
    "figcaption address details summary label fieldset body html form nav footer aside center".split()
)
_STRONG = frozenset({"b", "strong", "th"})
_DEEPEST = 180


def title_of_page(data: bytes) -> str:
    """What the page calls itself, without the site's name behind it; empty where it says nothing."""
    root = document_of(data)
    if root is None:
        return ""
    for element in root.iter("title"):
        text = " ".join(without_unseen("".join(element.itertext())).split())
        return re.split(r"\s+[|–—·»-]\s+", text)[0][:200]
    return ""


def rows_of_page(data: bytes) -> list[Row]:
    """The rows that a page shows; none where it holds no mark-up that can be read."""
    root = document_of(data)
    if root is None:
        return []
    walk = _Walk()
    walk.element(_article(root), 0)
    walk.close()
    return walk.rows


def _article(root: Any) -> Any:
    """The element that holds the recipe: an article or main that is alone and has a list, else the whole page."""
    for tag in ("article", "main"):
        found = [one for one in root.iter(tag) if any(True for _ in one.iter("li", "p"))]
        if len(found) == 1 and any(True for _ in found[0].iter("h1", "h2")):
            return found[0]
    return root


def _lays_out(row: Any) -> bool:
    """Whether a row of a table holds lists, headings or tables: it only places pieces of the page."""
    return any(True for _ in row.iter("table", "ul", "ol", "dl", "h1", "h2", "h3", "h4"))


class _Walk:
    """Turns elements into rows."""

    def __init__(self) -> None:
        self.rows: list[Row] = []
        self.text: list[str] = []
        self.plain: list[str] = []
        self.strong = 0
        self.mark, self.level, self.block = Mark.NONE, 0, 0
        self.lists: list[Mark] = []
        self.links: list[str] = []
        self.images: list[str] = []
        self.cells: list[str] | None = None
        self.bold: list[bool] = []
        self.table = TableReader()
        self.in_cell = False
        self.term: Row | None = None

    def element(self, node: Any, depth: int) -> None:
        """One element and everything in it."""
        tag = node.tag
        if not isinstance(tag, str) or tag in _HIDDEN or tag in _FRAME or depth > _DEEPEST:
            return
        if tag in _BLOCKS or tag == "br":
            self.close()
        before = (self.mark, self.level)
        opens = _OPENS.get(tag)
        if opens is not None and not (tag == "tr" and _lays_out(node)):
            opens(self, tag)
        self.strong += tag in _STRONG
        self.say(node.text)
        self.attributes(node)
        for child in node:
            self.element(child, depth + 1)
            self.say(child.tail)
        self.strong -= tag in _STRONG
        if tag in _BLOCKS:
            self.close()
        self.end(node)
        self.mark, self.level = before

    def open_list(self, tag: str) -> None:
        """A list; lists inside it are of the same block."""
        self.lists.append(Mark.BULLET if tag == "ul" else Mark.NUMBER)
        self.block += len(self.lists) == 1

    def open_item(self, _tag: str) -> None:
        """An item, at the depth of its list."""
        self.mark, self.level = (self.lists[-1] if self.lists else Mark.BULLET), max(len(self.lists), 1)

    def open_heading(self, tag: str) -> None:
        """A heading of level 1 to 6."""
        self.mark, self.level = Mark.HEADING, int(tag[1])
        self.block += 1

    def open_block(self, _tag: str) -> None:
        """What stands apart from the rows above it."""
        self.block += 1

    def open_table(self, _tag: str) -> None:
        """A table, whose head says what its columns hold."""
        self.open_paragraph(_tag)
        self.table = TableReader()

    def open_paragraph(self, _tag: str) -> None:
        """A paragraph stands apart, unless it belongs to an item of a list."""
        self.block += not self.lists

    def open_term(self, _tag: str) -> None:
        """A term of a list of terms."""
        self.end_term()
        self.mark = Mark.TERM

    def open_definition(self, _tag: str) -> None:
        """What is said of a term, also where the term was never closed."""
        self.mark = Mark.NONE

    def open_row(self, _tag: str) -> None:
        """A row of a table, whose cells are gathered."""
        self.cells = []

    def open_cell(self, _tag: str) -> None:
        """A cell, which counts although it is empty."""
        self.in_cell = True

    def attributes(self, node: Any) -> None:
        """What a picture and a link tell by themselves."""
        if node.tag == "img":
            self.images.append(" ".join(filter(None, (node.get("alt"), node.get("src"))))[:300])
        if node.tag == "a" and (node.get("href") or "").startswith(("http", "/")):
            self.links.append(str(node.get("href"))[:300])

    def end(self, node: Any) -> None:
        """What the end of an element settles."""
        if node.tag in ("ul", "ol"):
            self.lists.pop()
        elif node.tag == "dl":
            self.end_term()
        elif node.tag == "table" and (untold := self.table.end()):
            self.rows.append(Row(untold, len(self.rows) + 1, Mark.COMMENT, block=self.block))
        elif node.tag == "tr" and self.cells is not None:
            cells, bold, self.cells, self.bold = self.cells, self.bold, None, []
            self.table_row(cells, bold, heads=any(child.tag == "th" for child in node))

    def table_row(self, cells: list[str], bold: list[bool], *, heads: bool) -> None:
        """A row of a table as a line, in the order of a line where its head names the columns."""
        for kind, text in self.table.rows(cells, is_head=heads, bold=bold):
            self.rows.append(table_row(kind, text, len(self.rows) + 1, self.block, cells))

    def end_term(self) -> None:
        """A term that is no ingredient: what stands under it is told by itself."""
        if self.term is not None:
            self.rows.append(replace(self.term, number=len(self.rows) + 1))
            self.term = None

    def say(self, text: str | None) -> None:
        """Add text of the page to the open row."""
        if text:
            self.text.append(text)
            if not self.strong:
                self.plain.append(text)

    def close(self) -> None:
        """End the open row."""
        text = (
            " ".join(without_unseen("".join(self.text)).split())
            .replace("{", "(")
            .replace("}", ")")
            .replace("](", "] (")
        )
        plain = "".join(self.plain).strip(" :\n\t\xa0*")
        links, images = tuple(filter(None, self.links)), tuple(filter(None, self.images))
        self.text, self.plain, self.links, self.images = [], [], [], []
        if self.cells is not None:
            if text or self.in_cell:
                self.cells.append(text)
                self.bold.append(bool(text) and not plain)
            self.in_cell = False
            return
        if not text and not images:
            return
        if self.mark is Mark.TERM and text:
            self.end_term()
            self.term = Row(text, 0, Mark.NONE, block=self.block, bold=True, links=links, images=images)
            return
        if self.term is not None and text and opens_with_amount(text) != opens_with_amount(self.term.text):
            line = f"{text} {self.term.text}" if opens_with_amount(text) else f"{self.term.text}, {text}"
            links, images, self.term = (*self.term.links, *links), (*self.term.images, *images), None
            self.rows.append(Row(line, len(self.rows) + 1, Mark.TERM, block=self.block, links=links, images=images))
            return
        self.end_term()
        bare = without_marks(text) if self.mark is not Mark.HEADING else text
        mark = Mark.BULLET if bare != text and self.mark is Mark.NONE else self.mark
        self.rows.append(
            Row(bare, len(self.rows) + 1, mark, self.level, self.block, False, bool(text) and not plain, links, images)
        )
        if self.mark in (Mark.BULLET, Mark.NUMBER):
            self.mark = Mark.NONE  # a second paragraph of the same item


_OPENS: dict[str, Callable[[_Walk, str], None]] = {
    **dict.fromkeys(("ul", "ol"), _Walk.open_list),
    "li": _Walk.open_item,
    **dict.fromkeys(("h1", "h2", "h3", "h4", "h5", "h6"), _Walk.open_heading),
    **dict.fromkeys(("blockquote", "dl"), _Walk.open_block),
    **dict.fromkeys(("p", "div", "section"), _Walk.open_paragraph),
    "table": _Walk.open_table,
    "dt": _Walk.open_term,
    "dd": _Walk.open_definition,
    "tr": _Walk.open_row,
    **dict.fromkeys(("td", "th"), _Walk.open_cell),
}
"""What an element does to the rows when it opens."""
