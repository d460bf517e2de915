"""A recipe file and the `Recipe` it holds: YAML head, parts, ingredient lines, handling; or a bare list of lines.

The file is read line by line and not through a Markdown parser: every line must stay as the cook wrote it, with its
number, and the few marks that matter stand at the beginning of a line.
"""

from __future__ import annotations

import hashlib
import re
from pathlib import PurePath

from labeler.knowledge import LabelerError, Problem
from labeler.parsing.front_matter import read_front
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.model import Handling, Line, Part, Recipe
from labeler.parsing.row_classifier import bare_row, row_kind

__all__ = ["has_marks", "read_recipe"]

_HEADING = re.compile(r"(#{1,6})(?:\s+(.*?))?\s*#*\s*")
_RULE = re.compile(r"([-*_=])(?:\s*\1){2,}\s*")
# A dash, a star or a plus needs a space behind it, lest "-2" and "*bold*" be bullets; nothing else begins with a dot.
_BULLET = re.compile(r"\s*(?:[-*+–—‒−]\s+|[•·●○◦▪■□▢☐☑✓✔‣⁃∙➢►]\s*|[–—](?=[\d½¼¾⅓⅔⅛]))(?=\S)")
_NUMBERED = re.compile(r"\s*\d{1,3}[.)]\s+(?=\S)")
# A row that opens with how much of what, and names no time, heat or helping, is an ingredient that lost its mark.
_OPENS_WITH_AMOUNT = re.compile(
    r"[\d½¼¾⅓⅔⅛~]|(?:an?|half|one|two|three|four|five|six|a few|pinch|dash)\s", re.IGNORECASE
)
_NO_INGREDIENT = re.compile(
    r"(?:minutes?|mins?|hours?|hrs?|seconds?|secs?|days?|weeks?|nights?|degrees?|°|times?|people|persons|servings?|"
    r"portions?|of (?:the|them|these)|at a time|percent|%|step)\b|[.:?!]\s+[A-Z]",
    re.IGNORECASE,
)
_UNTITLED = "Untitled recipe"
_EMPHASIS = re.compile(r"(\*\*|__|\*|_)(\S(?:.*?\S)?)\1")


class _OpenPart:
    """A part while its lines are being read."""

    def __init__(self, title: str, number: int) -> None:
        self.title = title
        self.number = number
        self.lines: list[Line] = []
        self.handling: list[Handling] = []

    def closed(self) -> Part:
        return Part(self.title, tuple(self.lines), tuple(self.handling), self.number)


def _lost_its_mark(words: str, number: int, kind: str) -> Line | None:
    """The ingredient line that a row without a bullet is; None where it shows that it is something else.

    It is one where it opens with an amount of a food, and where it is a few words that are no sentence: what may be a
    food ("toasted almonds") is not left out.
    """
    line = read_line(words, number=number)
    if not line.amounts and kind == "ingredient" and len(words.split()) <= 6 and words[-1:] not in ".!?:":
        return line
    if not line.amounts or not line.name or len(words) > 120 or len(line.name.split()) > 6:
        return None
    return line if _OPENS_WITH_AMOUNT.match(words) and not _NO_INGREDIENT.search(words[:40]) else None


def _shortened(words: str) -> str:
    return words if len(words) <= 60 else f"{words[:59]}…"


def _read_as_ingredient(words: str, number: int) -> Problem:
    return Problem(
        "mark-missing",
        f"“{_shortened(words)}” is read as an ingredient, as nothing shows that it is something else. Begin it with -, "
        "or with > if it is handling.",
        number,
    )


def _not_read(said: str, number: int) -> Problem:
    return Problem(
        "text-not-read",
        f"“{_shortened(said)}” is neither an ingredient (-) nor handling (>) and is not read. How much a recipe makes "
        "stands in its head: “serves: 4”, “makes: 12 rolls”.",
        number,
    )


def has_marks(text: str) -> bool:
    """Whether a text is a recipe file and no list of lines: it has a head, or a heading above ingredients with bullets.

    What a list of lines may hold by chance, such as one bullet or ``>``, makes no recipe file of it.
    """
    rows = text.split("\n")
    first = next((at for at, row in enumerate(rows) if row.strip()), len(rows))
    if rows[first : first + 1] == ["---"] and "---" in rows[first + 1 :]:
        return True
    headings = [at for at, row in enumerate(rows) if _HEADING.fullmatch(row.strip()) and row.startswith(("# ", "##"))]
    return bool(headings) and any(_BULLET.match(row) for row in rows[headings[0] :])


def read_recipe(text: str, *, source: str = "") -> Recipe:
    """A recipe's text as a `Recipe`.

    Parameters
    ----------
    text : str
        Markdown with a YAML head (both optional): ``##`` opens a part, ``-`` is an ingredient line, ``>`` is handling.
        In a text with such lines a numbered line is a step and so is handling too, and any other line is reported;
        where such a row may be an ingredient it is one, and that is reported. A text without them is a bare list, one
        ingredient a line; steps in it are handling, and a yield, a time or a heading is reported. Any bullet and any
        line ending.
    source : str
        The file's name, for messages and for the title where the head has none.

    Raises
    ------
    LabelerError
        Where the text holds no ingredient line, its head cannot be read or names a market that there is not; the
        message names file and line.
    """
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    rows = text.split("\n")
    first = next((at for at, row in enumerate(rows) if row.strip()), len(rows))
    head, start, problems = read_front(rows, first, source or "recipe")
    marked = any(_BULLET.match(row) for row in rows[start:])
    title = ""
    parts = [_OpenPart("", start + 1)]
    for number, row in enumerate(rows[start:], start=start + 1):
        words = row.strip()
        if not words or _RULE.fullmatch(words) or words.startswith(("<!--", "```")):
            continue
        underlined = number < len(rows) and re.fullmatch(r"={3,}|-{3,}", rows[number].strip()) is not None
        heading = _HEADING.fullmatch(words) if words[0] == "#" else None
        if heading is not None or (underlined and not _BULLET.match(row)):
            level = len(heading[1]) if heading is not None else 1 if rows[number].strip()[0] == "=" else 2
            words = _EMPHASIS.sub(r"\2", (heading[2] or "") if heading is not None else words).strip(" :")
            if level == 1 and not title and len(parts) == 1 and not parts[0].lines:
                title = words
            else:
                parts.append(_OpenPart(words, number))
            continue
        part = parts[-1]
        bullet = _BULLET.match(row)
        numbered = _NUMBERED.match(row) if bullet is None else None
        is_step = words.startswith(">") or (numbered is not None and marked)
        found = bullet or numbered
        said = row[found.end() :].strip() if found is not None else words.lstrip("> ").strip() if is_step else words
        unmarked = bullet is None and not words.startswith(">")
        bare = marked and unmarked
        kind = row_kind(said) if unmarked else "ingredient"
        lost = _lost_its_mark(said if numbered is not None else said.lstrip("-*+ "), number, kind) if bare else None
        if lost is not None:
            part.lines.append(lost)
            problems.append(_read_as_ingredient(said, number))
        elif is_step or kind == "step":
            if said:
                part.handling.append(Handling(bare_row(said) if unmarked else said, number, len(part.lines)))
        elif bare or kind != "ingredient":
            problems.append(_not_read(said, number))
        else:
            part.lines.append(read_line(said, number=number))
    kept = [part for part in parts if part.lines or part.handling or part.title]
    if not any(part.lines for part in kept):
        raise LabelerError(
            f"{source or 'recipe'}: holds no ingredient line; write one a line, such as “- 2 cups flour”"
        )
    problems += _parts_twice(kept)
    named = head.get("title", "")
    if not isinstance(named, str):
        problems.append(Problem("head-title", f"The title “{named}” in the head is read as text.", 2))
    titles = [part.title for part in kept if part.title]
    title = str(named).strip() or title or (titles[0] if len(titles) == 1 else "") or _title_of_file(source)
    if title == _UNTITLED:
        problems.append(
            Problem("no-title", f"The recipe has no title and is called “{_UNTITLED}”. Write “title: …” in its head.")
        )
    return Recipe(
        title=title,
        parts=tuple(part.closed() for part in kept),
        head=head,
        digest=hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest(),
        source=source,
        problems=tuple(problems),
    )


def _title_of_file(source: str) -> str:
    """A title from the file's name ("leek-soup.md"); standard input has none, and a text without a source neither."""
    if source in ("-", "standard input"):
        return _UNTITLED
    return re.sub(r"[-_]+", " ", PurePath(source).stem).strip() if source else ""


def _parts_twice(parts: list[_OpenPart]) -> list[Problem]:
    """A problem for each part whose title another has before it."""
    seen: dict[str, int] = {}
    problems = []
    for part in parts:
        key = part.title.casefold()
        if key and key in seen:
            problems.append(
                Problem(
                    "part-twice",
                    f"Two parts are called “{part.title}” (the other on line {seen[key]}), so a line that names it may "
                    "mean either. Give one of them another name.",
                    part.number,
                )
            )
        seen.setdefault(key, part.number)
    return problems
