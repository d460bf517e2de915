"""A recipe written down as a recipe file: a YAML head, ``##`` parts, ``-`` lines, ``>`` steps, notes as comments.

What is written here is read back as the same recipe, and written again as the same text.
"""

from __future__ import annotations

import datetime
import json
import re
from collections import Counter
from collections.abc import Iterator
from typing import Any

from labeler.parsing.model import Note, NoteKind, Part, Recipe

__all__ = ["own_form"]

_PLAIN = re.compile(r"[A-Za-zÀ-ÿ][A-Za-zÀ-ÿ0-9 ,.'’()/&-]*")
_YAML_WORDS = re.compile(r"(?i)true|false|yes|no|on|off|null|none|y|n|nan|inf")
_SIGNS = re.compile(r"([\\`*_\[\]<>&~|])")
_NUMBERED = re.compile(r"^(\d+)([.)])(?=\s|$)")
_SHOWN = re.compile(r"\]\([^()\s]*\)")
_LINK = re.compile(r"(\[[^\[\]]*\]\([^()\s]*\))")


def own_form(recipe: Recipe) -> str:
    """The text of a recipe file, which `labeler.read_recipe` reads back."""
    head = {key: value for key, value in recipe.head.items() if key not in ("title", "") and value != []}
    head = {**({"title": recipe.title} if recipe.title else {}), **head}
    words = [f"{_value(str(key))}: {_value(value)}" for key, value in head.items()]
    out = ["---", *words, "---"] if words else []
    texts = [line.text for part in recipe.parts for line in part.lines]
    in_lines = Counter(link for text in texts for link in _SHOWN.findall(text))
    for note in recipe.notes:
        shown = f"]({note.text})"
        if note.kind is NoteKind.LINK and in_lines[shown]:
            in_lines[shown] -= 1  # a line that is written with the link brings it back
        else:
            out.append(_comment(note))
    for part in recipe.parts:
        if part.title:
            out.append(f"## {_row(part.title)}")
        out += _body(part)
    return "\n".join(out) + "\n"


def _body(part: Part) -> Iterator[str]:
    """Lines and steps in their order, with a sub-heading where the group changes."""
    group, listed = "", False
    steps = list(part.handling)
    for at in range(len(part.lines) + 1):
        while steps and steps[0].after <= at:
            step = steps.pop(0)
            # Steps right below the lines of a sub-heading are of the whole, as the reader takes them.
            if step.group != ("" if listed else group):
                group, listed = step.group, False
                yield f"### {_row(group)}".rstrip()
            yield f"> {_row(step.text)}"
        if at < len(part.lines):
            line = part.lines[at]
            if line.group != group:
                group = line.group
                yield f"### {_row(group)}".rstrip()
            listed = True
            yield f"- {_row(line.text, links=True)}"


def _row(text: str, *, links: bool = False) -> str:
    """Text on one row, so that nothing in it is read as a mark of Markdown; `links` stay what they are."""
    words = " ".join(text.split())
    pieces = _LINK.split(words) if links else [words]
    words = "".join(piece if at % 2 else _SIGNS.sub(r"\\\1", piece) for at, piece in enumerate(pieces))
    if words[:1].isdigit():
        return _NUMBERED.sub(r"\1\\\2", words)
    return f"\\{words}" if words[:1] and words[0] in "#+=:-" else words


def _comment(note: Note) -> str:
    text = " ".join(note.text.split()).replace("-->", "--\\>")
    return f"<!-- {text} -->" if note.kind is NoteKind.COMMENT else f"<!-- {note.kind.value}: {text} -->"


def _value(value: Any) -> str:
    """A value of the head, so that YAML reads the very same."""
    if isinstance(value, list):
        return f"[{', '.join(_value(one) for one in value)}]"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, datetime.datetime):
        return value.isoformat()
    if isinstance(value, (datetime.date, int, float)):
        return str(value)
    text = str(value)
    plain = _PLAIN.fullmatch(text) and text.strip() == text and not _YAML_WORDS.fullmatch(text)
    return text if plain and "," not in text else json.dumps(text, ensure_ascii=False)
