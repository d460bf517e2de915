"""The small vocabulary that reading a line needs: which words prepare, describe, size or hold a food.

The lists live in ``data/words.csv`` and ``data/shared_heads.csv``; they are common practice of recipe writing and
rest on no authority.
"""

from __future__ import annotations

from labeler.data_files import data_folder, data_rows

__all__ = [
    "ADJECTIVES",
    "ADVERBS",
    "CONTAINERS",
    "FILLINGS",
    "FILLING_OF",
    "FORMS",
    "HELPINGS",
    "JOINERS",
    "NEGATED",
    "PACKINGS",
    "PREPARATIONS",
    "PREPARATION_GOES_ON",
    "QUALITIES",
    "SHAPES",
    "SHARED",
    "SIZE_OF",
    "TEMPERATURES",
]  # fmt: skip

_DATA = data_folder("labeler.parsing")


def _classes() -> dict[str, frozenset[str]]:
    return {row["class"]: frozenset(row["words"].split()) for row in data_rows(_DATA / "words.csv")}


def _shared() -> dict[str, frozenset[str]]:
    """Of each head noun ("stock") the words that stand for the whole before an "or" ("chicken or vegetable stock")."""
    rows = data_rows(_DATA / "shared_heads.csv")
    return {head: frozenset(row["modifiers"].split()) for row in rows for head in row["head"].split()}


_CLASSES = _classes()
PREPARATIONS = _CLASSES["preparation"]
ADVERBS = _CLASSES["adverb"]
PREPARATION_GOES_ON = _CLASSES["preparation goes on"]
"""Words with which a preparation behind its food goes on: "cut in cubes", "chopped fine"."""
JOINERS = _CLASSES["joiner"]
TEMPERATURES = _CLASSES["temperature"]
ADJECTIVES = _CLASSES["adjective"]
SIZE_OF = {word: size for size in ("small", "medium", "large", "extra large") for word in _CLASSES[size]}
"""The size that a word stands for, one of the four of `Line.size`."""
FILLINGS = _CLASSES["filling"]
"""How full a measure is, which makes the amount loose: "heaping", "scant"."""
FILLING_OF = {word: how for how in ("heaped", "rounded", "generous", "scant") for word in _CLASSES[how]}
"""Of the words for that, the one that `Amount.filling` has."""
PACKINGS = _CLASSES["packing"]
"""How a measure is filled: "level", "packed"."""
SHAPES = _CLASSES["shape"]
"""Words before a unit that change nothing: "a nice long strip"."""
CONTAINERS = _CLASSES["container"]
HELPINGS = _CLASSES["helping"]
"""What food is served in or as, and no piece of it."""
QUALITIES = ADJECTIVES - _CLASSES["process"] - frozenset(SIZE_OF)
"""Adjectives that say which food it is wherever they stand: "salmon, canned" is canned, "rice, cooked" only later."""
NEGATED = _CLASSES["negated"]
"""What makes another food with "non-" before it: "non-fat milk", "non-dairy creamer"."""
FORMS = _CLASSES["form"]
"""What a measured food is cut into: "1 cup carrot chunks"."""
SHARED = _shared()
