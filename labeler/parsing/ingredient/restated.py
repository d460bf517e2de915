"""A bracket that names the food of a line again, more exactly: "500 g flour (wholemeal wheat flour)"."""

from __future__ import annotations

from dataclasses import replace

from labeler.parsing.model import Line
from labeler.text.plurals import singular

__all__ = ["OTHERWISE", "specified"]

_MOST_WORDS = 5
# What opens an example, a choice or talk, and no other name of the same food.
OTHERWISE = frozenset(
    "or and such like i we my any eg e.g. about not no non if optional see from of for in plus with use used prefer "
    "preferably ideally maybe possibly both mixed assorted the your".split()
)


def specified(line: Line) -> Line:
    """The line by the fuller name that a bracket gives, where that ends in the same noun; else the line as it is."""
    name = line.name.split()
    if not line.note or not name or line.remarks:
        return line
    for stated in line.note.split("; "):
        words = stated.split()
        fuller = len(name) < len(words) <= _MOST_WORDS and all(word.replace("-", "").isalpha() for word in words)
        if not fuller or words[0].lower() in OTHERWISE or f"({stated.lower()}" not in line.text.lower():
            continue
        if singular(words[-1].lower()) == singular(name[-1].lower()) and not set(map(str.lower, words)) & {"or", "and"}:
            return replace(line, name=stated)
    return line
