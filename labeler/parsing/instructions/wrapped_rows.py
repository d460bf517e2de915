"""Rows of the method that one sentence runs over, joined."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from labeler.parsing.instructions.grammar import grammar
from labeler.parsing.instructions.lexicon import is_class, verb_entries
from labeler.parsing.model import Handling

__all__ = ["joined_rows"]

_PARTS, _CONJUNCTION = grammar("parts"), grammar("conjunction")


def joined_rows(rows: Sequence[Handling]) -> list[Handling]:
    """Rows of the method with those joined that one sentence runs over."""
    found: list[Handling] = []
    for row in rows:
        text = row.text.strip()
        if found and text and _runs_on(found[-1].text.strip(), text) and found[-1].after == row.after:
            found[-1] = replace(found[-1], text=f"{found[-1].text.rstrip()} {text}")
        else:
            found.append(row)
    return found


def _runs_on(text: str, following: str) -> bool:
    """Whether a row that ends in no mark goes on in the next one."""
    if not text or text[-1] in ".!?:;)" or not (following[0].islower() or following[0].isdigit()):
        return False
    last = text.rsplit(" ", 1)[-1].lower()
    if last in _PARTS and verb_entries(following.split(" ", 1)[0].lower()):
        return False  # "lift the fish out / fry the onion": the word belongs to the verb before
    inside = any(mark in text[:-1] for mark in (". ", "! ", "? "))
    return inside or text[-1] == "," or is_class(last, "preposition", "determiner") or last in _CONJUNCTION
