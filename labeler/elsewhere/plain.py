"""Pasted text: a title, "Serves 4", a list under "Ingredients", steps under "Method", with or without marks.

The headings say what is what. Without a heading for the method, rows that open with an amount are ingredients and
sentences are steps.
"""

from __future__ import annotations

import re

from labeler.elsewhere.headings import opens_what
from labeler.elsewhere.linked import grouped
from labeler.elsewhere.model import Carried, Section, one_line, without_bullet
from labeler.knowledge import Problem
from labeler.recipe.line import read_line

__all__ = ["read_plain"]

_YIELD = re.compile(
    r"^(?:recipe )?(?P<word>serves|servings?|makes|yields?|portions?|feeds)\s*[:\-–]?\s*(?P<what>.*\w.*)$",
    re.IGNORECASE,
)
_TIMES = re.compile(
    r"^(?:prep(?:aration)?|cook(?:ing)?|total|active|bake|baking|rest(?:ing)?|chill(?:ing)?|inactive|hands[- ]on)"
    r"(?: time)?\s*[:\-–]\s*\S+|^(?:course|cuisine|category|keywords?|author|difficulty|calories|rating|print|pin|"
    r"jump to recipe|save recipe|equipment)\b\s*[:\-–]?.{0,80}$",
    re.IGNORECASE,
)
_STEP_NUMBER = re.compile(r"^(?:step\s*)?\d{1,2}\s*[.):]\s*|^step\s+\d{1,2}\s*[:.-]?\s*", re.IGNORECASE)
_FOR = re.compile(r"^(?:for (?:the |an? )?)(?P<title>[^,.;]{2,60}?)\s*:?$", re.IGNORECASE)


def read_plain(text: str) -> Carried:
    """A pasted text as a `Carried`; it may hold no ingredients, which the caller judges."""
    title, makes, notes = "", "", []
    problems: list[Problem] = []
    ingredients: list[str] = []
    steps: list[tuple[str, list[str]]] = [("", [])]
    now = ""
    rows = [(number, one_line(row)) for number, row in enumerate(text.split("\n"), start=1)]
    headed = any(opens_what(row) == "ingredients" for _, row in rows)
    for number, row in rows:
        if not row or not any(sign.isalnum() for sign in row):
            continue
        opens = opens_what(row)
        if opens:
            now = opens
            continue
        said = re.sub(r"^#{1,6}\s*", "", row)
        said = re.sub(r"(\*\*|__)(.+?)\1", r"\2", said)
        yielded = _YIELD.match(said) if now in ("", "ingredients") else None
        if yielded is not None and not makes and len(said) <= 80:
            word = yielded["word"].lower()
            makes = yielded["what"] if word not in ("serves", "feeds") else f"{yielded['what']} servings"
            continue
        if now != "steps" and _TIMES.match(said):
            continue
        if now == "skip":
            continue
        if now == "notes":
            notes.append(without_bullet(said))
        elif now == "ingredients":
            ingredients.append(without_bullet(said))
        elif now == "steps":
            heading = said.endswith(":") and len(said.split()) <= 6 and not _STEP_NUMBER.match(said)
            if heading or (_FOR.match(said) and len(said.split()) <= 6):
                steps.append((said.strip(" :"), []))
            else:
                steps[-1][1].append(_STEP_NUMBER.sub("", without_bullet(said)).strip())
        elif not title:
            title = said.strip(" :")
        elif headed:
            problems.append(
                Problem("text-not-read", f"“{said[:60]}” stands before the ingredients and is not read.", number)
            )
        elif _is_ingredient(without_bullet(said)):
            ingredients.append(without_bullet(said))
        else:
            steps[-1][1].append(_STEP_NUMBER.sub("", without_bullet(said)).strip())
    return Carried(
        title=title,
        ingredients=grouped(ingredients),
        steps=tuple(Section(_title(name), tuple(filter(None, found))) for name, found in steps if any(found)),
        makes=makes,
        notes=tuple(notes),
        problems=tuple(problems),
    )


def _title(name: str) -> str:
    found = _FOR.match(name)
    return found["title"] if found else name


def _is_ingredient(row: str) -> bool:
    line = read_line(row)
    return bool(line.amounts and line.name) and len(row) <= 120
