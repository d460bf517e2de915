"""Pasted text: a title, "Serves 4", a list under "Ingredients", steps under "Method", with or without marks.

The headings say what is what. Where there are none `labeler.recipe.rows` tells the rows apart: what does not show that
it is a step, a yield or a time is an ingredient, and what nothing shows of is named in a problem.
"""

from __future__ import annotations

import re

from labeler.elsewhere.linked import grouped
from labeler.elsewhere.model import Carried, Section, one_line, without_bullet
from labeler.knowledge import Problem
from labeler.recipe.headings import opens_what
from labeler.recipe.line import read_line
from labeler.recipe.rows import bare_row, row_kind, says_yield

__all__ = ["read_plain"]

_FOR = re.compile(r"^(?:for (?:the |an? )?)(?P<title>[^,.;]{2,60}?)\s*:?$", re.IGNORECASE)
_NUMBERED = re.compile(r"^(?:step\s*\d{1,2}\b|\d{1,2}\s*[.):]\s)", re.IGNORECASE)
_MARKED = re.compile(r"^#{1,6}\s+|^\*\*.+\*\*$")


def read_plain(text: str) -> Carried:
    """A pasted text as a `Carried`; it may hold no ingredients, which the caller judges."""
    reader = _Reader(text)
    for at in range(len(reader.rows)):
        reader.take(at)
    return reader.carried()


class _Reader:
    """A pasted text while its rows are being sorted."""

    def __init__(self, text: str) -> None:
        self.rows = [(number, one_line(row)) for number, row in enumerate(text.split("\n"), start=1)]
        self.headed = any(opens_what(row) == "ingredients" for _, row in self.rows)
        self.now = ""
        self.title = ""
        self.makes = ""
        self.notes: list[str] = []
        self.ingredients: list[str] = []
        self.steps: list[tuple[str, list[str]]] = [("", [])]
        self.problems: list[Problem] = []
        self.begun = False

    def take(self, at: int) -> None:
        """Put one row in its place."""
        number, row = self.rows[at]
        if not any(sign.isalnum() for sign in row):
            return
        first, self.begun = not self.begun, True
        opens = opens_what(row)
        if opens:
            self.now = opens
            return
        said = re.sub(r"^#{1,6}\s*", "", row)
        said = re.sub(r"(\*\*|__)(.+?)\1", r"\2", said)
        if self.now == "skip":
            return
        if self.now == "notes":
            self.notes.append(without_bullet(said))
        elif self.now == "steps":
            self._take_step(said)
        elif (kind := row_kind(said)) == "yield":
            self.makes = self.makes or says_yield(said)
        elif kind in ("time", "about"):
            return
        elif self.now == "ingredients":
            self.ingredients.append(without_bullet(said))
        elif first and self._is_title(at, said):
            self.title = said.strip(" :")
        elif self.headed or kind == "prose":
            where = "stands before the ingredients" if self.headed else "is neither an ingredient nor a step"
            self.problems.append(Problem("text-not-read", f"“{said[:60]}” {where} and is not read.", number))
        elif kind == "step" or self._goes_on_with_steps(said):
            self._take_step(said)
        else:
            self.ingredients.append(bare_row(said) if _NUMBERED.match(said) else without_bullet(said))

    def _take_step(self, said: str) -> None:
        heading = said.endswith(":") and len(said.split()) <= 6 and not _NUMBERED.match(said)
        if heading or (_FOR.match(said) and len(said.split()) <= 6):
            self.steps.append((said.strip(" :"), []))
        else:
            self.steps[-1][1].append(bare_row(without_bullet(said)))

    def _is_title(self, at: int, said: str) -> bool:
        """Whether the first row is what the dish is called: it counts nothing, and stands apart or is no known food."""
        if row_kind(said) in ("step", "prose") or without_bullet(said) != said or read_line(said).amounts:
            return False
        row = self.rows[at][1]
        following = self.rows[at + 1][1] if at + 1 < len(self.rows) else ""
        if self.headed or _MARKED.match(row) or not following or row_kind(following) in ("yield", "time", "about"):
            return True
        from labeler.foods.match import match

        found = match(said)
        if found.food is not None:
            return False
        self.problems.append(
            Problem("taken-for-title", f"“{said[:60]}” is taken for the title, as it names no food.", self.rows[at][0])
        )
        return True

    def _goes_on_with_steps(self, said: str) -> bool:
        """Whether a numbered row that counts nothing goes on with steps that have begun."""
        return bool(_NUMBERED.match(said) and any(rows for _, rows in self.steps)) and not read_line(
            bare_row(said)
        ).amounts

    def carried(self) -> Carried:
        """Everything that was sorted."""
        return Carried(
            title=self.title,
            ingredients=grouped(self.ingredients),
            steps=tuple(Section(_title(name), tuple(filter(None, found))) for name, found in self.steps if any(found)),
            makes=self.makes,
            notes=tuple(self.notes),
            problems=tuple(self.problems),
        )


def _title(name: str) -> str:
    found = _FOR.match(name)
    return found["title"] if found else name
