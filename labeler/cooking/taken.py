"""What a sentence takes of another part ("use half of the relish"), as the line that it stands for."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from labeler.foods.model import WeighedLine, WeighedPart, WeighedRecipe
from labeler.parsing.handling import Reading
from labeler.parsing.ingredient.line import read_line
from labeler.parsing.model import Handling

__all__ = ["with_sentences"]

_AMOUNT = (
    r"(?P<amount>(?:all but )?(?:half|a half|a third|two thirds|a quarter|three quarters|one third|one quarter|\d+ ?%|"
    r"[\d.,/½¼¾⅓⅔]+ ?[a-z]*))(?: of)?(?: (?:the|your|this))? "
)


def with_sentences(weighed: WeighedRecipe, readings: Sequence[Sequence[tuple[Handling, Reading]]]) -> WeighedRecipe:
    """The recipe with a line for each amount of another part that only a sentence takes.

    Parameters
    ----------
    weighed : WeighedRecipe
    readings : sequence
        The handling of each part, as read.
    """
    titles = [part.title for part in weighed.parts]
    parts: list[WeighedPart] = []
    for part, sentences in zip(weighed.parts, readings, strict=True):
        listed = {line.part for line in part.lines}
        more: list[WeighedLine] = []
        for title in titles:
            if title and title != part.title and title not in listed:
                more += _lines(title, sentences)[:1]
        parts.append(replace(part, lines=(*part.lines, *more)) if more else part)
    return replace(weighed, parts=tuple(parts))


def _lines(title: str, sentences: Sequence[tuple[Handling, Reading]]) -> list[WeighedLine]:
    wanted = re.compile(_AMOUNT + re.escape(title) + r"\b", re.IGNORECASE)
    found = []
    for sentence, reading in sentences:
        for step in reading.steps:
            if step.action in ("idle", "coat", "thin") and (hit := wanted.search(step.text)):
                line = replace(read_line(f"{hit['amount']} of {title}"), number=sentence.number)
                found.append(WeighedLine(line, None, None, part=title))
    return found
