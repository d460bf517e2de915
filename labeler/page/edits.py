"""Edits of a recipe's text that a batch of the day needs: keys of its head, what it weighed, what has changed."""

from __future__ import annotations

import difflib
import json
import re

__all__ = ["changes", "lot_of", "with_count", "with_head", "with_weight"]

_QUOTED = re.compile(r"^[\s\"'#&*!|>%@`\[\]{},?:=-]|: |\s#|:$")
_WEIGHS = re.compile(r"^\s*>\s*weighs\b.*$", re.IGNORECASE)
_PART = re.compile(r"^#{2,6}\s")


def with_head(text: str, key: str, value: str) -> str:
    """The text with a key of its head set; a text without a head gets one."""
    stated = json.dumps(value, ensure_ascii=False) if _QUOTED.search(value) else value
    rows = text.split("\n")
    if rows[0].strip() != "---":
        return f"---\n{key}: {stated}\n---\n{text}"
    end = next((at for at, row in enumerate(rows) if at and row.strip() == "---"), None)
    if end is None:
        return text
    at = next((at for at in range(1, end) if rows[at].lower().startswith(f"{key}:")), None)
    if at is None:
        rows.insert(end, f"{key}: {stated}")
    else:
        rows[at] = f"{key}: {stated}"
    return "\n".join(rows)


def with_count(made: str, packs: int) -> str:
    """What a batch makes with another count: “7 jars” for 9 packs is “9 jars”; without a count, so many packs."""
    found = re.match(r"\s*\d+(?:[.,]\d+)?\s*", made)
    return f"{packs} {made[found.end() :].strip()}".strip() if found else f"{packs} packs"


def with_weight(text: str, grams: float) -> str:
    """The text whose last part weighed so much when it was done [g]; a weight that stands there gives way."""
    rows = text.rstrip("\n").split("\n")
    begin = max((at for at, row in enumerate(rows) if _PART.match(row)), default=0)
    words = f"> weighs {grams:g} g"
    for at in range(len(rows) - 1, begin - 1, -1):
        if _WEIGHS.match(rows[at]):
            rows[at] = words
            return "\n".join(rows) + "\n"
    return "\n".join([*rows, words]) + "\n"


def lot_of(title: str, day: str) -> str:
    """A lot by the first letters of a title's first and last words and the day made.

    “Beetroot and apple relish” made on 2026-11-03 is “BR-1103”.
    """
    words = re.findall(r"\w+", title) or ["Lot"]
    chosen = words if len(words) == 1 else [words[0], words[-1]]
    return "".join(word[0].upper() for word in chosen) + "-" + day[5:7] + day[8:10]


def changes(before: str, after: str) -> list[str]:
    """What differs between two texts, row by row: “- …” for what is gone, “+ …” for what is new."""
    rows = difflib.ndiff(before.split("\n"), after.split("\n"))
    return [row for row in rows if row[:2] in ("- ", "+ ") and row[2:].strip()]
