"""A recipe file and the `Recipe` it holds: YAML head, parts, ingredient lines, handling; or a bare list of lines.

The file is read line by line and not through a Markdown parser: every line must stay as the cook wrote it, with its
number, and the few marks that matter stand at the beginning of a line.
"""

from __future__ import annotations

import hashlib
import re
from pathlib import PurePath
from typing import Any

from labeler.knowledge import LabelerError, Problem
from labeler.recipe.line import read_line
from labeler.recipe.model import Handling, Line, Part, Recipe

__all__ = ["read_recipe"]

_HEADING = re.compile(r"(#{1,6})(?:\s+(.*?))?\s*#*\s*")
_BULLET = re.compile(r"\s*(?:[-*+•·]\s+|\d{1,3}[.)]\s+(?=\S))")
_BOLD = re.compile(r"(\*\*|__)(.+?)\1")


def _head(rows: list[str], source: str) -> tuple[dict[str, Any], int, list[Problem]]:
    """The YAML head, the index of the row behind it, and what is strange about it."""
    name = source or "recipe"
    if not rows or rows[0].strip() != "---":
        return {}, 0, []
    end = next((at for at, row in enumerate(rows[1:], start=1) if row.strip() in ("---", "...")), None)
    if end is None:
        raise LabelerError(f"{name}:1: the head begins with --- and never ends; write --- on a line below it")
    import yaml

    loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    try:
        head = yaml.load("\n".join(rows[1:end]), Loader=loader)
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        line = 2 + (mark.line if mark is not None else 0)
        what = getattr(error, "problem", None) or "it is not YAML"
        raise LabelerError(
            f"{name}:{line}: the head cannot be read ({what}); write one “key: value” a line, with quotes around a "
            "value that holds a colon"
        ) from None
    except (ValueError, RecursionError) as error:
        raise LabelerError(f"{name}:2: the head cannot be read ({error}); write one “key: value” a line") from None
    if head is None:
        return {}, end + 1, []
    if not isinstance(head, dict):
        raise LabelerError(f"{name}:2: the head is no list of “key: value” lines; write for example “makes: 8 boxes”")
    kept: dict[str, Any] = {}
    problems = []
    for key, value in head.items():
        if not isinstance(key, str):
            problems.append(Problem("head-key", f"“{key}” in the head is no word; it is kept as “{key}”.", 2))
        if isinstance(value, dict | list) and not value:
            problems.append(Problem("head-empty", f"“{key}” in the head holds nothing and is left out.", 2))
            continue
        kept[str(key)] = value
    return kept, end + 1, problems


class _OpenPart:
    """A part while its lines are being read."""

    def __init__(self, title: str, number: int) -> None:
        self.title = title
        self.number = number
        self.lines: list[Line] = []
        self.handling: list[Handling] = []

    def closed(self) -> Part:
        return Part(self.title, tuple(self.lines), tuple(self.handling), self.number)


def read_recipe(text: str, *, source: str = "") -> Recipe:
    """A recipe's text as a `Recipe`.

    Parameters
    ----------
    text : str
        Markdown with a YAML head (both optional): ``##`` opens a part, ``-`` is an ingredient line, ``>`` is handling;
        a text without any of them is a bare list, one ingredient a line. Any line ending.
    source : str
        The file's name, for messages and for the title where the head has none.

    Raises
    ------
    LabelerError
        Where the text holds no ingredient line, or its head cannot be read; the message names file and line.
    """
    digest = hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
    rows = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    first = next((at for at, row in enumerate(rows) if row.strip()), 0)
    head, start, problems = _head(rows[first:], source)
    start += first
    marked = any(_BULLET.match(row) for row in rows[start:])
    title = ""
    parts = [_OpenPart("", start + 1)]
    for at in range(start, len(rows)):
        row, number = rows[at], at + 1
        stripped = row.strip()
        if not stripped or re.fullmatch(r"[-*_=]{3,}", stripped) or stripped.startswith(("<!--", "```")):
            continue
        heading = _HEADING.fullmatch(stripped)
        if heading is not None and (heading[2] is not None or set(stripped) == {"#"}):
            words = _BOLD.sub(r"\2", heading[2] or "").strip()
            if len(heading[1]) == 1 and not title and not any(part.lines for part in parts):
                title = words
            else:
                parts.append(_OpenPart(words, number))
            continue
        if stripped.startswith(">"):
            words = stripped.lstrip("> ").strip()
            if words:
                parts[-1].handling.append(Handling(words, number, len(parts[-1].lines)))
            continue
        bullet = _BULLET.match(row)
        words = row[bullet.end() :].strip() if bullet is not None else stripped
        words = _BOLD.sub(r"\2", words)
        if bullet is None and marked:
            problems.append(
                Problem(
                    "text-not-read",
                    f"“{words[:60]}” is neither an ingredient (-) nor handling (>) and is not read.",
                    number,
                )
            )
            continue
        parts[-1].lines.append(read_line(words, number=number))
    kept = [part for part in parts if part.lines or part.handling or part.title]
    if not any(part.lines for part in kept):
        raise LabelerError(
            f"{source or 'recipe'}: holds no ingredient line; write one a line, such as “- 2 cups flour”"
        )
    seen: dict[str, int] = {}
    for part in kept:
        key = part.title.casefold()
        if key and key in seen:
            problems.append(
                Problem(
                    "part-twice",
                    f"Two parts are called “{part.title}” (the other on line {seen[key]}); "
                    "a line that names it means the first. Give one of them another name.",
                    part.number,
                )
            )
        seen.setdefault(key, part.number)
    named = head.get("title")
    if named is not None and not isinstance(named, str):
        problems.append(Problem("head-title", f"The title “{named}” is read as text.", 2))
        named = str(named)
    return Recipe(
        title=(named or title or (PurePath(source).stem if source not in ("", "-") else "")).strip(),
        parts=tuple(part.closed() for part in kept),
        head=head,
        digest=digest,
        source=source,
        problems=tuple(problems),
    )
