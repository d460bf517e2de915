"""What the words of a recipe tell of food safety beside what its instructions say: cut, stuffed, kept cold.

The words stand in ``data/handling_words.csv``; whoever asks gets members of `Saying` and reads no text.
"""

from __future__ import annotations

import re
from collections import defaultdict
from enum import StrEnum
from functools import cache, lru_cache

from labeler.data_files import data_folder, data_rows

__all__ = ["Saying", "sayings", "words_of"]

_DATA = data_folder("labeler.parsing") / "handling_words.csv"


class Saying(StrEnum):
    """What a text tells."""

    LEFT_PINK = "left pink"
    WARMED = "warmed gently"
    UNTIL_SET = "until it sets"
    """Beside words of heat: an egg that has thickened what it is in is cooked (73 to 82 °C; common practice)."""
    EATEN_RAW = "eaten raw"
    RAW_DISH = "dish of raw food"
    CUT = "cut"
    BONES_OUT = "bones taken out"
    SHELLS_OUT = "shells taken out"
    STONES_OUT = "stones taken out"
    STUFFED = "stuffed"
    CLOSED = "filled and closed"
    JARS = "jars"
    COLD = "cold"
    KEEPING = "keeping"
    ROOM = "room temperature"
    COOL = "merely cool"
    """It is to be kept cool, which is less than cold: no temperature, no refrigerator."""
    AFTER_OPENING = "after opening"
    FERMENTED = "fermented"
    VACUUM = "vacuum"
    IN_OIL = "kept in oil"
    IN_FAT = "kept in fat"
    RAW = "raw"
    COOKED_BEFORE = "cooked before"
    """Of a food: cooked, canned, cured or dried when it is bought."""
    REMAINS = "remains"
    """It names what may be taken out of a food: bones, shells, stones."""
    WHOLE = "whole"
    """Of a food: with all that an animal of its kind has."""
    BAKED_LATER = "baked later"
    """Of what is made of raw flour and eaten only when something has been baked of it."""


def _alternatives(cell: str) -> str:
    words = sorted(cell.split("|"), key=len, reverse=True)
    each = (re.escape(word).replace(r"\*", r"\w*").replace(r"\ ", r"[ ,]+(?:and )?") for word in words)
    return rf"(?<!\w)(?:{'|'.join(each)})(?!\w)"


@cache
def _patterns() -> dict[Saying, re.Pattern[str]]:
    found: dict[Saying, list[str]] = defaultdict(list)
    for row in data_rows(_DATA):
        denied = "".join(rf"(?<!\b{re.escape(word)} )" for word in row["unless"].split("|") if word)
        gap = rf"[^.;]*{_alternatives(row['gap'])}" if row["gap"] else ""
        found[Saying(row["says"])].append(f"{denied}{_alternatives(row['words'])}{gap}")
    return {saying: re.compile("|".join(parts), re.IGNORECASE) for saying, parts in found.items()}


@lru_cache(maxsize=4096)
def sayings(text: str) -> frozenset[Saying]:
    """Everything that a text tells.

    Parameters
    ----------
    text : str
        A sentence of the method, a note, a title, or the words of a line.
    """
    return frozenset(saying for saying, pattern in _patterns().items() if pattern.search(text))


def words_of(text: str, saying: Saying) -> str:
    """The words of a text that tell it, to show; empty where none does."""
    found = _patterns()[saying].search(text)
    return "" if found is None else found[0]
