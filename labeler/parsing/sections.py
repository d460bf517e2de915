"""What stands under the headings of a text once its rows are sorted."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from labeler.parsing.headings import Opens, opens_what, read_heading, split_inline
from labeler.parsing.inline_list import ToldList, lines_in_a_row, run_together, told_lists
from labeler.parsing.markup import Mark, Row
from labeler.parsing.model import Note, NoteKind
from labeler.parsing.row_classifier import row_kind
from labeler.parsing.row_phrases import one_of
from labeler.parsing.row_shapes import is_sentence, opens_with_amount, plain_of
from labeler.parsing.yields import Yield
from labeler.types import Problem

__all__ = ["Section", "SectionEntry", "Sorted", "note_of_comment", "taken_apart"]

_DIVIDED = re.compile(r"\s+[|·•]\s+")
_SERVED = re.compile(r"^[🍽🍴👥👤]\ufe0f?\s*(\d[\d\s–-]*)$")

_USE = re.compile(rf"(?P<use>{one_of('use')}(?:\s+the\s+[^\W\d]+)?)\s*:\s+(?P<rest>\S.*)", re.IGNORECASE)
_EDGES = re.compile(r"^\W+|\W+$")
_BOXED = frozenset({Opens.NOTES, Opens.TIPS, Opens.STORAGE})
_FOR_PART = re.compile(
    rf"\W*(?P<part>for (?:the|an?|your)\s(?!(?:whole|entire)\b|{one_of('whole_recipe')}\b)[^\d:]{{2,40}}?)"
    r"\s*(?::[-–—]?|\s[-–—])\s*(?P<rest>\S.*)",
    re.IGNORECASE,
)
_MOST_WORDS = 12
_MARKED = re.compile(r"\[!(?P<word>[\w -]+)\][+-]?(?P<rest>.*)")
"""How writers of Markdown open a box: "[!warning] Hot oil"; any word may stand there."""


@dataclass(slots=True)
class SectionEntry:
    """An ingredient line or a step while its rows are collected; `text` has no mark-up but the links of a line."""

    text: str
    number: int
    block: int = 0
    mark: Mark = Mark.NONE
    after: int = 0
    ends: int = 0
    """Line number of the last row that goes on with it; 0 where none does."""


@dataclass(slots=True)
class Section:
    """What stands under one heading of the text.

    Parameters
    ----------
    title : str
        The heading as written.
    subject : str
        What it is of; empty where it only says "Ingredients" or the like.
    number : int
        Its line number.
    opens : Opens or None
        What its rows are known to be.
    level : int
        1 to 6 for a heading of Markdown; more for a loose one; 0 above all headings.
    known : bool
        True where the heading says by itself what stands under it.
    """

    title: str
    subject: str
    number: int
    opens: Opens | None = None
    level: int = 0
    known: bool = False
    lines: list[SectionEntry] = field(default_factory=list)
    steps: list[SectionEntry] = field(default_factory=list)

    def headed_lines(self) -> int:
        """How many of its lines the heading is of: a row of plain text is of the rows below it up to an empty one.

        A heading of Markdown is of all; empty rows between any two lines end nothing.
        """
        pairs = zip(self.lines, self.lines[1:], strict=False)
        ends = [at for at, (one, below) in enumerate(pairs, 1) if _is_apart(one, below)]
        if self.level < _LOOSE or len(ends) == len(self.lines) - 1:
            return len(self.lines)
        return ends[0] if ends else len(self.lines)


_LOOSE = 50  # level from which on a heading is a row of plain text


def _is_apart(one: SectionEntry, below: SectionEntry) -> bool:
    """Whether an empty row stands between two lines of a list; another mark goes on with what stands above."""
    return one.mark is below.mark and below.number - max(one.number, one.ends) > 1


@dataclass(slots=True)
class Sorted:
    """A whole text, sorted."""

    title: str = ""
    sections: list[Section] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    yields: list[tuple[Yield, int]] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    as_posted: bool = False
    """True where anything is written otherwise than in a recipe file of ours."""


def note_of_comment(row: Row) -> Note:
    """A comment of the text; one that we wrote says what kind of note it is."""
    text = row.text.replace("--\\>", "-->")
    stated, _, rest = text.partition(":")
    kind = NoteKind(stated) if stated in NoteKind._value2member_map_ and rest.strip() else NoteKind.COMMENT
    return Note(kind, rest.strip() if kind is not NoteKind.COMMENT else text, row.number)


def _callouts(rows: list[Row]) -> Iterator[Row]:
    """Rows with a quote that opens with a word for notes ("> **Tip**", "> [!hint]") as rows that say what they are."""
    block, kind = -1, ""
    for row, below in itertools.zip_longest(rows, rows[1:]):
        if row.mark is Mark.QUOTE and row.block != block:
            goes_on = below is not None and below.mark is Mark.QUOTE and below.block == row.block
            block, kind, rest = row.block, *_called(row.text.strip(), goes_on)
            if kind and not rest:
                continue
            row = replace(row, text=rest) if kind else row
        told = row.mark is Mark.QUOTE and row.block == block and kind
        yield replace(row, mark=Mark.NONE, level=0, text=f"{kind}: {row.text}") if told else row


def _called(text: str, goes_on: bool) -> tuple[str, str]:
    """The word for notes that a quote opens with, and what its first row says beside it."""
    word = _EDGES.sub("", text)
    if goes_on and _opens_note(word):
        return word.capitalize(), ""
    marked = _MARKED.fullmatch(text)
    if marked is None or opens_what(marked["word"]) in (Opens.INGREDIENTS, Opens.STEPS):
        return "", text
    word, rest = marked["word"].strip().capitalize(), marked["rest"].strip()
    if _opens_note(word):
        return word, rest
    return "Note", f"{word}: {rest}" if rest else word


def _opens_note(words: str) -> bool:
    opens = opens_what(words)
    return bool(opens) and Opens(opens) in _BOXED


def _of_whole(row: Row) -> Iterator[Row]:
    """A row of several things told of the whole dish as one each: "Serves 6 | 30 min", "🍽 6 · ⏲ 30 min"."""
    pieces = [_SERVED.sub(r"Serves \1", piece) for piece in _DIVIDED.split(row.text)] if row.mark is Mark.NONE else []
    if len(pieces) < 2 or not {row_kind(plain_of(piece)) for piece in pieces} <= {"yield", "time", "about"}:
        yield row
        return
    first, *more = pieces
    yield replace(row, text=first)
    yield from (replace(row, text=piece, linked="", links=(), images=()) for piece in more)


def _of_sentences(sentences: list[ToldList | str], row: Row) -> Iterator[Row]:
    """A row with lists told as sentences: headings, ingredients, and what stands between."""
    listed = False
    for one in sentences:
        if isinstance(one, str):
            yield replace(row, text=one, block=row.block + listed)
            continue
        listed = True
        if one.head:
            yield replace(row, text=f"{one.head}:")
        if one.group:
            yield replace(row, text=f"{one.group}:")
        yield from (replace(row, text=line, mark=Mark.BULLET, level=1) for line in one.lines)


def _told_use(row: Row) -> list[Row]:
    """A row that opens with what its foods or its steps are for as a heading and them: "To serve: lemon wedges"."""
    headed = _FOR_PART.fullmatch(row.text)
    if headed is not None and opens_with_amount(headed["rest"]) and not is_sentence(headed["rest"]):
        bare = replace(row, linked="", links=(), images=(), bold=False, mark=Mark.BULLET, level=1)
        lines = run_together(headed["rest"]) or [headed["rest"]]
        return [replace(row, text=f"{headed['part']}:"), *(replace(bare, text=line) for line in lines)]
    found = _USE.fullmatch(row.text)
    if found is None:
        return []
    rest = found["rest"].strip()
    bare = replace(row, linked="", links=(), images=(), bold=False)
    head = replace(row, text=f"{found['use']}:")
    if row_kind(plain_of(rest)) == "step" or is_sentence(rest):
        return [head, replace(bare, text=f"{rest[:1].upper()}{rest[1:]}")]
    lines = lines_in_a_row(rest)
    short = all(len(line.split()) <= _MOST_WORDS for line in lines)
    return [head, *(replace(bare, text=line, mark=Mark.BULLET, level=1) for line in lines)] if short else []


def _run_of(row: Row) -> list[Row]:
    """A list that stands in one row as a row for each ingredient."""
    bare = replace(row, mark=Mark.BULLET, level=1, linked="", links=(), images=())
    return [replace(bare, text=line) for line in run_together(row.text)]


def taken_apart(rows: list[Row]) -> Iterator[Row]:
    """Rows that hold headings and what stands under them as several: "Method: Mix it all."."""
    begun = False
    for row in itertools.chain.from_iterable(map(_of_whole, _callouts(rows))):
        sentences = told_lists(row.text, begun=begun) if row.mark is Mark.NONE else []
        if sentences:
            begun = True
            plain = replace(row, links=(), images=(), linked="", bold=False)
            yield replace(plain, text="", links=row.links, images=row.images)
            yield from _of_sentences(sentences, plain)
            continue
        listed = _told_use(row) or _run_of(row) if row.mark is Mark.NONE and not row.goes_on else []
        if listed:
            begun = True
            yield from listed
            continue
        pieces = split_inline(row.text) if row.mark in (Mark.NONE, Mark.HEADING) else []
        told = [
            rest[-1:] in (".", "!") or opens_with_amount(rest) or "," in rest or len(pieces) > 2
            for _, rest in pieces[1:]
            if len(rest.split()) > 1
        ]
        if len(told) < len(pieces) - 1 or not all(told) or not pieces:
            yield row
            continue
        bare = replace(row, mark=Mark.NONE, level=0, linked="", links=(), images=(), bold=False)
        if pieces[0][1]:
            yield replace(bare, text=pieces[0][1].rstrip(" ."), links=row.links, images=row.images)
        for head, rest in pieces[1:]:
            yield replace(row, text=head, linked="", links=(), images=())
            if read_heading(head).opens is Opens.INGREDIENTS:
                yield from (replace(bare, text=line, mark=Mark.BULLET, level=1) for line in lines_in_a_row(rest))
            else:
                yield replace(bare, text=rest)
