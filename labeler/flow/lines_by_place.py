"""Stretches of the list that the method names by where they stand, as the lines that they are (R1)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from labeler.flow.ingredients import Ingredient, score, words_of
from labeler.parsing.instructions.model import Instruction, Mention, Role, Stretch

__all__ = ["with_lines"]

_SURE = 0.72  # from here on a phrase means a line: a choice, no source


def with_lines(instructions: Sequence[Instruction], ingredients: Sequence[Ingredient]) -> list[Instruction]:
    """The instructions, with each stretch of the list named line by line.

    "The next 4 ingredients" are those behind the last line that the words have named so far; "the first 3" the first of
    the list; "flour through salt" all from the one to the other.
    """
    found, behind = [], 0
    for one in instructions:
        mentions: list[Mention] = []
        for mention in one.mentions:
            if mention.stretch is None:
                named = _place_of(mention.name, ingredients) if mention.role in (Role.OBJECT, Role.WITH) else None
                behind = max(behind, named + 1) if named is not None else behind
                mentions.append(mention)
                continue
            lines = _lines_of(mention.stretch, ingredients, behind)
            behind = lines.stop if lines else behind
            mentions += _each(mention, ingredients, lines) if lines else [mention]
        found.append(replace(one, mentions=tuple(mentions)) if tuple(mentions) != one.mentions else one)
    return found


def _lines_of(stretch: Stretch, ingredients: Sequence[Ingredient], behind: int) -> range:
    """The places of the lines of a stretch; empty where the words name no line that it begins with."""
    stop = max((one.source.index for one in ingredients), default=-1) + 1
    start: int | None = 0 if stretch.first else behind
    if stretch.begins:
        start = _place_of(stretch.begins, ingredients)
    if start is None:
        return range(0)
    last = _place_of(stretch.ends, ingredients[:], start) if stretch.ends else None
    if last is not None:
        return range(start, last + 1)
    return range(start, min(stop, start + stretch.count))


def _place_of(name: str, ingredients: Sequence[Ingredient], start: int = 0) -> int | None:
    """The place of the line that a name means surest, from a place on; None for none."""
    said, head = words_of(name)
    scored = [(score(one, said, head), -one.source.index) for one in ingredients if one.source.index >= start]
    best = max(scored, default=(0.0, 0))
    return -best[1] if best[0] >= _SURE else None


def _each(mention: Mention, ingredients: Sequence[Ingredient], lines: range) -> Iterator[Mention]:
    for one in ingredients:
        if one.source.index in lines:
            name = one.line.line.name or one.line.line.text
            yield Mention(mention.text, name.lower(), mention.role, definite=True)
