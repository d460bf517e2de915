"""A recipe of data or of a table as the rows of a text, so that it is sorted like any other."""

from __future__ import annotations

import re
from typing import Any

from labeler.importers.model import ImportedRecipe
from labeler.parsing.columns import piped_line
from labeler.parsing.markup import Mark, Row
from labeler.parsing.model import NoteKind
from labeler.parsing.yields import yields_in

_MARKS = re.compile(r"^[#>\-*+\s]+(?=\D)|^[#>*+\s]+")

__all__ = ["head_of", "rows_of_carried"]


def head_of(recipe: ImportedRecipe) -> dict[str, Any]:
    """What the data say for a head: title, yield, source."""
    head: dict[str, Any] = {}
    if recipe.title:
        head["title"] = recipe.title
    if recipe.makes:
        found = yields_in(recipe.makes)
        bare = recipe.makes.replace(".", "", 1).isdigit()
        head.update({one.key: one.says for one in found} or {"serves" if bare else "makes": recipe.makes})
    if recipe.source:
        head["source"] = recipe.source
    return head


def rows_of_carried(recipe: ImportedRecipe) -> list[Row]:
    """Its ingredients under "Ingredients", its steps under "Method", the rest as comments."""
    rows: list[Row] = []

    def add(text: str, mark: Mark, level: int = 1) -> None:
        words = _MARKS.sub("", text.replace("{", "(").replace("}", ")").replace("](", "] (")).strip()
        words = piped_line(words) if words[:1] == "|" and mark is not Mark.COMMENT else words
        if words:
            rows.append(Row(words, len(rows) + 1, mark, level, block=len(rows) if mark is Mark.HEADING else 0))

    for title, sections, mark in (
        ("Ingredients", recipe.ingredients, Mark.BULLET), ("Method", recipe.steps, Mark.NUMBER),
    ):  # fmt: skip
        if sections:
            add(title, Mark.HEADING, 2)
        for section in sections:
            if section.title:
                add(section.title, Mark.HEADING, 3)
            for row in section.rows:
                add(row, mark)
    for kind, words in recipe.notes:
        add(words if kind is NoteKind.COMMENT else f"{kind.value}: {words}", Mark.COMMENT)
    return rows
