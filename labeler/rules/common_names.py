"""The common name of an ingredient: the cook's words without what is no part of a name.

"2 large free-range eggs, beaten" is "eggs" on a label, "plain flour" is "wheat flour". The words that drop out and
the names that a rule settles are tables in ``data/``; everything else stays as the cook wrote it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from labeler.data_files import data_folder, data_rows
from labeler.foods.model import WeighedLine

__all__ = ["common_name"]

_DATA = data_folder("labeler.rules")
_SPACES = re.compile(r"\s+")
_PER = re.compile(r",? per \w+$", re.IGNORECASE)
"""What an amount is of, and no name: "chile flakes per jar"."""
_JOINT = re.compile(r",? (?:and|&|\+|plus) |, ")
_PARENTHESES = re.compile(r"\s*[(\[][^)\]]*[)\]]")
# A temperature says something of these only; "hot sauce" and "hot pepper" are names.
_WARMED = ("water", "milk", "stock", "broth", "cream", "tea", "coffee", "butter")
# "Raw" and "frozen" say of these what they are, as of "raw milk cheese" and "frozen yogurt"; of any other food they say
# how the cook got it, which the dish has no more. The law wants the state where leaving it out misleads: powdered,
# freeze-dried, concentrated, smoked (Reg. (EU) 1169/2011 Art. 18(2) and Annex VI Part A point 1, from memory); those
# words are no passing ones.
_OF_NATURE = frozenset({"milk", "cream", "cheese", "sugar", "honey", "yogurt", "yoghurt", "dessert", "custard"})
# SR28 puts these words first to sort its foods; the name begins after them.
_SORTING = ("spices", "fish", "crustaceans", "mollusks", "nuts", "seeds", "oil", "beverages", "leavening agents")


@cache
def _settled() -> Mapping[str, str]:
    return {row["words"].casefold(): row["name"] for row in data_rows(_DATA / "common_names.csv")}


@cache
def _passing() -> Mapping[str, str]:
    return {row["word"]: row["kind"] for row in data_rows(_DATA / "passing_words.csv")}


def common_name(line: WeighedLine) -> str:
    """The name of an ingredient line for a label.

    The cook's own words without size, quality, cut and temperature; the name that a rule gives where the tables hold
    one; the table food's description turned about where the line has no words of its own.
    """
    words = _SPACES.sub(" ", _PARENTHESES.sub("", line.line.name)).strip(" ,.;:-")
    words = _PER.sub("", _without_others(words, line))
    if not words:
        return _described(line)
    for candidate in (words, _stripped(words)):
        if candidate.casefold() in _settled():
            return _settled()[candidate.casefold()]
    return _stripped(words)


def _without_others(words: str, line: WeighedLine) -> str:
    """The name of the first food of a line that names several: "salt" of "salt and pepper"."""
    for other in reversed(line.also):
        name = other.line.name.casefold()
        joint = next(
            (one for one in _JOINT.finditer(words) if name and words.casefold().endswith(name, one.end())), None
        )
        if joint is not None:
            words = words[: joint.start()]
    return words


def _stripped(words: str) -> str:
    for tail, sort in _passing().items():
        if sort == "tail":
            words = words.removesuffix(f" {tail}")
    parts = words.split(" ")
    by_nature = not _OF_NATURE.isdisjoint(part.casefold().strip(",") for part in parts)
    kept: list[str] = []
    for at, part in enumerate(parts):
        kind = _passing().get(part.casefold().strip(","))
        last = at == len(parts) - 1
        other = (kind == "warmth" and parts[-1].casefold() not in _WARMED) or (kind == "state" and by_nature)
        if kind is None or last or other:
            kept.append(part)
    return " ".join(kept)


def _described(line: WeighedLine) -> str:
    if line.match is None or not line.match.description:
        return ""
    parts = [part.strip().casefold() for part in line.match.description.split(",")]
    if parts[0] in _SORTING and len(parts) > 1:
        parts = parts[1:]
    return parts[0]
