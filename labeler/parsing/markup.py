"""A text as rows: what each row of a Markdown page, a pasted text or a recipe file says, and the mark it carries.

markdown-it reads the structure: headings, lists and their nesting, quotes, tables, definition lists, comments, links.
Every row of the source stays a row of its own, with its number, as cooks mean their line ends. What Markdown
does not know is added here: the bullets of word processors, "Step 3:", and rows that a lazy list would swallow.

Left out of Markdown: code blocks by indentation (a pasted list is indented) and link definitions (they would vanish).
The front matter plugin is not used: it passes over a head that never ends, and tells no line of what is wrong in one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import cache
from typing import TYPE_CHECKING

from labeler.parsing.columns import cells_beyond, names_columns, piped_line
from labeler.parsing.headings import Opens, read_heading
from labeler.parsing.inline import Piece, pieces_of
from labeler.parsing.table_reader import TableReader, TableRowKind

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token

__all__ = ["Mark", "Row", "rows_of", "table_row", "without_marks"]

_BULLET = re.compile(
    r"(?:[-*+—‒−]\s+|[–—](?=[\d½¼¾⅓⅔⅛])|–\s+|[•·●○◦▪■□▢☐☑✓✔‣⁃∙➢►✅🔸🔹◾◽⚫⚪🔘◆◇❖]\ufe0f?\s*|\[[ xX]?\]\s+)+(?=\S)"
)  # fmt: skip
_NUMBER = re.compile(
    r"(?:(?:\d\ufe0f?\u20e3)+[.):]?\s*|[①-⑳❶-❿⓵-⓾➀-➓🔟][.):]?\s*|step\s*\d{1,2}\s*[.):\-–]*\s+|\d{1,2}\s*[.)](?:\s+|(?=[A-Z]))|\(\d{1,2}\)\s+(?![\d½¼¾⅓⅔⅛]))(?=\S)",
    re.IGNORECASE,
)
_TAG = re.compile(r"<(?P<end>/)?(?P<name>[a-zA-Z][a-zA-Z0-9]*)\b[^<>]*>|<!--.*?-->|<[?!][^<>]*>", re.DOTALL)
_RULE = re.compile(r"([-*_=~])(?:\s*\1){2,}\s*")
_ASIDE = re.compile(r"\[//\]: ?#.*|</?[^\W\d][^<>]*>")
"""A comment as a link definition, and a tag that is none of HTML's."""
_COMMENT_OPENS = re.compile(r"(?<!\\)<!--")
_CHECKBOX = re.compile(r"^\[[ xX]?\]\s+")
_TIGHT_HEADING = re.compile(r"^(?:(#{2,6})(?=[^\s#])|(#)(?=[A-ZÀ-Þ][^#]*$))")
_TIGHT_BULLET = re.compile(r"\s*([-+•])(?=[\w½¼¾⅓⅔⅛\"“(])")
_FAR_NUMBER = re.compile(r"(\s*\d{3,9})(?=[.)](?:\s|$))")
_ATTRIBUTES = re.compile(r"\s*\{[#.][^{}]*\}$")
"""What some writers of Markdown put behind a heading for the page: "Method {#method}"."""
_QUOTED = re.compile(r"^\s*(?:>\s?)+")
_FEWEST_QUOTED = 3


class Mark(Enum):
    """What a row begins with."""

    NONE = "none"
    BULLET = "bullet"
    NUMBER = "number"
    QUOTE = "quote"
    HEADING = "heading"
    TABLE = "table"
    TERM = "term"
    COMMENT = "comment"
    RULE = "rule"


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a text.

    Parameters
    ----------
    text : str
        What is seen of it: without its mark and without mark-up.
    number : int
        Line number in the file, from 1.
    mark : Mark
        What it begins with.
    level : int
        Of a heading 1 to 6; of a list item how deep it is nested, from 1; else 0.
    block : int
        Which paragraph, list or table it belongs to; rows with a blank row between them are of different ones.
    goes_on : bool
        True for a further row of the same list item, indented below its text.
    bold, italic : bool
        True where the whole row is in bold letters, in italics.
    links, images : tuple of str
        Addresses that it holds.
    cells : tuple of str
        Of a row of a table.
    linked : str
        The text with its links as Markdown has them; empty where it has none.
    """

    text: str
    number: int
    mark: Mark = Mark.NONE
    level: int = 0
    block: int = 0
    goes_on: bool = False
    bold: bool = False
    links: tuple[str, ...] = ()
    images: tuple[str, ...] = ()
    cells: tuple[str, ...] = ()
    linked: str = ""
    italic: bool = False


@cache
def _markdown() -> MarkdownIt:
    from markdown_it import MarkdownIt
    from mdit_py_plugins.deflist import deflist_plugin
    from mdit_py_plugins.tasklists import tasklists_plugin

    reader = MarkdownIt("commonmark", {"html": True, "maxNesting": 40})
    return (
        reader.enable(["table", "strikethrough"])
        .disable(["code", "reference"])
        .use(deflist_plugin)
        .use(tasklists_plugin)
    )


def without_marks(text: str) -> str:
    """A row without the bullets and the number that it begins with."""
    stated = text.strip()
    for pattern in (_BULLET, _NUMBER, _CHECKBOX):
        found = pattern.match(stated)
        stated = stated[found.end() :] if found is not None else stated
    return stated


def rows_of(source: Sequence[str], first: int = 0) -> list[Row]:
    """The rows of a text.

    Parameters
    ----------
    source : sequence of str
        Its rows as written.
    first : int
        How many rows of the file stand above them.
    """
    text = "\n".join(_spaced(_unquoted(source)))
    opened = list(_COMMENT_OPENS.finditer(text))
    if opened and "-->" not in text[opened[-1].start() :]:
        at = opened[-1].start()  # one that is never closed would swallow the rest
        text = f"{text[:at]}\\{text[at:]}"
    return list(_Walk(text.split("\n"), first).rows())


def _unquoted(source: Sequence[str]) -> Sequence[str]:
    """A letter that quotes a whole recipe without its marks: in a recipe file of ours only handling is quoted."""
    quoted = [row for row in source if _QUOTED.match(row)]
    amounts = sum(_opens_with_figure(_QUOTED.sub("", row, count=1)) for row in quoted)
    others = any(_BULLET.match(row.strip()) or _opens_with_figure(row.strip()) for row in source if row not in quoted)
    if amounts < _FEWEST_QUOTED or others:
        return source
    return [_QUOTED.sub("", row, count=1) for row in source]


def _spaced(source: Sequence[str]) -> list[str]:
    """Rows with the blank that Markdown asks for behind its marks: "##Method", and "-2 eggs" where a second such row
    shows that the sign is no minus."""
    found = [_TIGHT_HEADING.sub(lambda mark: f"{mark[0]} ", row, count=1) if row[:1] == "#" else row for row in source]
    for at, row in enumerate(source):
        far = _FAR_NUMBER.match(row)
        if far is not None:  # no recipe counts its steps so far: "815. g flour"
            found[at] = f"{far[1]}\\{row[far.end(1) :]}"
        mark = _TIGHT_BULLET.match(row)
        if mark is None:
            continue
        beside = [_TIGHT_BULLET.match(source[other]) for other in (at - 1, at + 1) if 0 <= other < len(source)]
        if any(one is not None and one[1] == mark[1] for one in beside):
            found[at] = f"{row[: mark.end()]} {row[mark.end() :]}"
    return found


class _Walk:
    """Goes through the tokens of a text."""

    def __init__(self, source: list[str], first: int) -> None:
        self.source = source
        self.first = first
        self.lists: list[Mark] = []
        self.item_rows: list[int] = []
        self.quotes = 0
        self.block = 0
        self.cells: list[str] | None = None
        self.beside: list[str] = []
        self.cell_links: list[str] = []
        self.bold: list[bool] = []
        self.table = TableReader()
        self.cell_row = 0
        self.term: tuple[str, int] | None = None
        self.under: Opens | None = None

    def rows(self) -> Iterator[Row]:
        """Every row, in order."""
        tokens = _markdown().parse("\n".join(self.source))
        for at, token in enumerate(tokens):
            kind = token.type
            if kind in ("bullet_list_open", "ordered_list_open"):
                self.lists.append(Mark.BULLET if kind[0] == "b" else Mark.NUMBER)
                self.block += len(self.lists) == 1
            elif kind in ("bullet_list_close", "ordered_list_close"):
                self.lists.pop()
            elif kind == "list_item_open":
                self.item_rows.append(token.map[0] if token.map else 0)
            elif kind == "list_item_close":
                self.item_rows.pop()
            elif kind == "blockquote_open":
                self.quotes += 1
                self.block += 1
            elif kind == "blockquote_close":
                self.quotes -= 1
            elif kind == "tr_open":
                self.cells, self.cell_row = [], token.map[0] if token.map else self.cell_row + 1
            elif kind == "tr_close":
                yield from self.table_row(tokens[at - 1].type == "th_close")
            elif kind == "dl_close":
                if self.term is not None:
                    yield Row(self.term[0], self.number(self.term[1]), Mark.TERM, block=self.block)
                self.term = self.under = None
            elif kind == "table_open":
                self.block, self.table = self.block + 1, TableReader()
            elif kind == "table_close" and (untold := self.table.end()):
                yield Row(untold, self.number(self.cell_row), Mark.COMMENT, block=self.block)
            elif kind == "hr":
                yield Row("", self.number(token.map[0] if token.map else 0), Mark.RULE)
            elif kind == "inline":
                yield from self.inline(token, tokens[at - 1])
            elif kind == "html_block":
                yield from self.html(token)
            elif kind == "fence":
                yield from self.fence(token)

    def number(self, at: int) -> int:
        """The line number in the file of a row of the source."""
        return self.first + at + 1

    def inline(self, token: Token, opened: Token) -> Iterator[Row]:
        """The rows of a paragraph, a heading or a cell."""
        pieces = list(pieces_of(token))
        start = (token.map or opened.map or [self.cell_row])[0]
        if self.cells is not None:
            self.cells.append(" ".join(filter(None, (piece.text for piece in pieces))))
            self.bold.append(all(piece.bold for piece in pieces if piece.text))
            self.beside += [written for piece in pieces for written in piece.images]
            self.cell_links += [link for piece in pieces for link in piece.links]
            return
        if opened.type == "dt_open":
            if self.term is not None:
                yield Row(self.term[0], self.number(self.term[1]), Mark.TERM, block=self.block)
            self.term = (" ".join(piece.text for piece in pieces), start)
            self.under = read_heading(self.term[0]).opens
            if self.under is not None:  # "Ingredients" with a definition for each of them
                yield Row(self.term[0], self.number(start), block=self.block, bold=True)
                self.term = None
            return
        if self.term is not None and pieces[0].text:
            (term, at), stated = self.term, pieces[0].text
            self.term, self.block = None, self.block + 1
            line = f"{stated} {term}" if _opens_with_figure(stated) else f"{term}, {stated}"
            yield Row(line, self.number(at), Mark.TERM, block=self.block)
            pieces = pieces[1:]
        if not self.lists and not self.quotes and self.under is not Opens.INGREDIENTS:
            self.block += 1
        if opened.type == "heading_open" and not self.quotes:
            yield from self.heading(pieces, start, opened)
            return
        for row, piece in enumerate(pieces):
            yield from self.row(piece, start + piece.down, first=row == 0)

    def table_row(self, is_head: bool) -> Iterator[Row]:
        """A row of a table as a line, its cells in the order of a line where the head names the columns."""
        cells, self.cells, beside, self.beside = self.cells or [], None, self.beside, []
        links, self.cell_links = tuple(self.cell_links), []
        bold, self.bold = self.bold, []
        if links:
            yield Row("", self.number(self.cell_row), block=self.block, links=links)
        beyond = cells_beyond("".join(self.source[self.cell_row : self.cell_row + 1]), len(cells))
        yield from (Row(one, self.number(self.cell_row), Mark.COMMENT, block=self.block) for one in beside)
        for kind, text in self.table.rows(cells, is_head=is_head, bold=bold, beyond=beyond):
            yield table_row(kind, text, self.number(self.cell_row), self.block, cells)

    def heading(self, pieces: list[Piece], start: int, opened: Token) -> Iterator[Row]:
        level = int(opened.tag[1:])
        if opened.markup in ("=", "-") and (len(pieces) > 1 or (level == 2 and _opens_with_figure(pieces[0].text))):
            for piece in pieces:  # rows above a rule of dashes, not a title
                yield from self.row(piece, start + piece.down, first=True)
            return
        text = _ATTRIBUTES.sub("", " ".join(filter(None, (piece.text for piece in pieces))).strip())
        links = tuple(link for piece in pieces for link in piece.links)
        images = tuple(image for piece in pieces for image in piece.images)
        yield Row(text, self.number(start), Mark.HEADING, level=level, block=self.block, links=links, images=images)

    def row(self, piece: Piece, at: int, *, first: bool) -> Iterator[Row]:
        """A row of a paragraph, with the mark that it has by its place or by its own first sign."""
        raw = self.source[at] if at < len(self.source) else ""
        text, bold = piece.text, piece.bold
        if text[:1] == "|" and "\\|" not in raw:
            text = piped_line(text)
        linked = _CHECKBOX.sub("", piece.linked.strip()) if piece.links else ""
        unboxed = text if "\\[" in raw else _CHECKBOX.sub("", text)
        found = Row(text, self.number(at), block=self.block, bold=bold, italic=piece.italic, links=piece.links,
                    images=piece.images, linked=linked)  # fmt: skip
        if self.quotes and raw.lstrip().startswith(">"):
            yield replace(found, mark=Mark.QUOTE, text=unboxed)
        elif self.lists and first and self.item_rows and at == self.item_rows[-1]:
            yield replace(found, mark=self.lists[-1], level=len(self.lists), text=unboxed)
        elif self.lists and not self.quotes and raw[:1].isspace() and not _BULLET.match(text):
            yield replace(found, level=len(self.lists), goes_on=True)
        elif _RULE.fullmatch(text):
            yield Row("", found.number, Mark.RULE)
        elif _ASIDE.fullmatch(text) or ("|" in text and not self.lists and names_columns(text)):
            yield replace(found, mark=Mark.COMMENT)
        elif (bullet := _BULLET.match(text)) is not None:
            deep = 1 + (len(raw) - len(raw.lstrip())) // 4 if not self.lists else len(self.lists)
            yield replace(found, mark=Mark.BULLET, level=deep, text=text[bullet.end() :])
        elif (step := _NUMBER.match(text)) is not None:
            yield replace(found, mark=Mark.NUMBER, level=1, text=text[step.end() :])
        elif self.under is Opens.INGREDIENTS and text:
            yield replace(found, mark=Mark.BULLET, level=1)
        elif text or piece.images:
            yield found

    def html(self, token: Token) -> Iterator[Row]:
        """Comments as they are, the text of any other mark-up as rows."""
        start = token.map[0] if token.map else 0
        stated = token.content
        if stated.lstrip().startswith("<!--"):
            self.block += 1
            end = stated.find("-->")
            inner = stated[stated.index("<!--") + 4 : end if end >= 0 else len(stated)]
            yield Row(" ".join(inner.split()), self.number(start), Mark.COMMENT, block=self.block)
            behind = stated[end + 3 :] if end >= 0 else ""
            start += stated[: end + 3].count("\n") if end >= 0 else 0
        elif re.match(r"\s*<(?:script|style)\b", stated, re.IGNORECASE):
            yield Row(" ".join(_TAG.sub(" ", stated).split()), self.number(start), Mark.COMMENT, block=self.block)
            behind = ""
        else:
            behind = stated
        shown = _TAG.sub(_blank, behind)
        if shown == behind:  # a tag that never ends is no tag
            shown = behind.replace("<", "\\<")
        if shown.strip():
            yield from self.within(shown.split("\n"), start)

    def fence(self, token: Token) -> Iterator[Row]:
        start = token.map[0] if token.map else 0
        if token.info.strip():
            yield Row(token.info.strip(), self.number(start), Mark.COMMENT, block=self.block)
        yield from self.within(token.content.split("\n"), start + 1)

    def within(self, source: list[str], start: int) -> Iterator[Row]:
        """Rows of a piece of the text that is read by itself."""
        deeper = _Walk(source, self.first + start)
        for row in deeper.rows():
            yield replace(row, block=row.block + self.block + 1)
        self.block += deeper.block + 1


def table_row(kind: TableRowKind, text: str, number: int, block: int, cells: Sequence[str]) -> Row:
    """A row of a table as a row of the text."""
    if kind is TableRowKind.LINE:
        return Row(text, number, Mark.TABLE, block=block, cells=tuple(cells))
    if kind is TableRowKind.PART:
        return Row(text, number, block=block, bold=True)
    return Row(text, number, Mark.COMMENT if kind is TableRowKind.COMMENT else Mark.NONE, block=block)


def _blank(found: re.Match[str]) -> str:
    """What a tag leaves: nothing but its line ends; a comment stays, to be read as one."""
    return found[0] if found[0].startswith("<!--") else "\n" * found[0].count("\n") or " "


def _opens_with_figure(text: str) -> bool:
    return bool(re.match(r"[\d½¼¾⅓⅔⅛]", text))
