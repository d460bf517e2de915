"""Pasted text: a title, "Serves 4", a list under "Ingredients", steps under "Method", with or without marks.

The headings say what is what. Where there are none `labeler.parsing.row_classifier` tells the rows apart:
what does not show that it is a step, a yield or a time is an ingredient, and what nothing shows of is named in a
problem.
"""

from __future__ import annotations

import re

from labeler.elsewhere.linked import grouped
from labeler.elsewhere.model import Carried, Section, one_line, without_bullet
from labeler.knowledge import Problem
from labeler.parsing.headings import opens_what
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.ingredient.name import only_describes
from labeler.parsing.row_classifier import bare_row, row_kind, says_yield

__all__ = ["is_pasted", "read_plain"]

_FOR = re.compile(r"^(?:for (?:the |an? )?)(?P<title>[^,.;]{2,60}?)\s*:?$", re.IGNORECASE)
_NUMBERED = re.compile(r"^(?:step\s*\d{1,2}\b|\d{1,2}\s*[.):]\s)", re.IGNORECASE)
_MARKED = re.compile(r"^#{1,6}\s+|^\*\*.+\*\*$")


def is_pasted(text: str) -> bool:
    """Whether a text is a recipe without our marks: it has headings, a title, a yield, times or steps beside its list.

    A bare list of ingredients is none, and neither is a text with a head, with handling behind ``>`` or with parts that
    are not headings of pasted recipes.
    """
    rows = [row for row in (row.strip() for row in text.split("\n")) if row and not row.startswith("<!--")]
    if not rows or any(row.startswith((">", "---")) for row in rows):
        return False
    if any(opens_what(row) in ("ingredients", "steps") for row in rows):
        return True
    if any(row.startswith("#") for row in rows):
        return False
    if any(without_bullet(row) == row and row_kind(row) not in ("ingredient", "step") for row in rows):
        return True
    marked = any(without_bullet(row) != row and not _NUMBERED.match(row) for row in rows)
    if not marked and any(row_kind(row) == "step" for row in rows):
        return True
    return len(rows) > 1 and _may_be_title(rows[0]) and not names_food(rows[0], apart=_stands_apart(text))


def _may_be_title(row: str) -> bool:
    return without_bullet(row) == row and row_kind(row) == "ingredient" and not read_line(row).amounts


def _stands_apart(text: str) -> bool:
    """Whether a blank row follows the first row of a text."""
    return re.match(r"\s*\S[^\n]*\n\s*\n", text) is not None


def names_food(row: str, *, apart: bool) -> bool:
    """Whether a row may be a food: it opens with a state ("toasted"), or the food table has something that it means.

    Of a row that stands `apart` all its words must be the food's, else its last alone may be one: "Plum cake" above a
    blank row is a dish.
    """
    from labeler.foods.match import match

    name = read_line(row).name
    if row.split()[0].lower().endswith("ed") or name != row or only_describes(row.split()[0]):
        return True
    return match(name).food is not None or (not apart and match(name.rsplit(" ", 1)[-1]).food is not None)


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
        opened = [(at, opens) for at, (_, row) in enumerate(self.rows) if (opens := opens_what(row))]
        self.headed = any(opens == "ingredients" for _, opens in opened)
        self.titled = any(opens in ("ingredients", "steps") for _, opens in opened)
        self.steps_from = max((at for at, opens in opened if opens == "steps"), default=-1)
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
        elif self.now == "ingredients" and (kind == "ingredient" or (kind == "step" and at < self.steps_from)):
            self.ingredients.append(without_bullet(said))
        elif first and self._is_title(at, said):
            self.title = said.strip(" :")
        elif (self.headed and not self.now) or kind == "prose":
            before = self.headed and not self.now
            where = "stands before the ingredients" if before else "is neither an ingredient nor a step"
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
        """Whether the first row is what the dish is called: it counts nothing, and what follows says so."""
        number, row = self.rows[at]
        if not _may_be_title(said):
            return False
        following = next((row for _, row in self.rows[at + 1 :] if row), "")
        if self.headed or _MARKED.match(row) or row_kind(following) in ("yield", "time", "about"):
            return True
        apart = at + 1 < len(self.rows) and not self.rows[at + 1][1]
        if names_food(said, apart=apart) and not (self.titled and apart):
            return False
        message = f"“{said[:60]}” is taken for the title. If it is an ingredient, begin it with -."
        self.problems.append(Problem("taken-for-title", message, number))
        return True

    def _goes_on_with_steps(self, said: str) -> bool:
        """Whether a numbered row that counts nothing goes on with steps that have begun."""
        return (
            bool(_NUMBERED.match(said) and any(rows for _, rows in self.steps))
            and not read_line(bare_row(said)).amounts
        )

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
