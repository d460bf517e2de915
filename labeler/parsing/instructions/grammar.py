"""Small words by what they do in a sentence of the method: ``method_grammar.csv``, a set a row."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

__all__ = ["data_rows", "fractions", "grammar", "grammar_sets"]

DATA = Path(__file__).parents[1] / "data"
FILE = DATA / "method_grammar.csv"


def data_rows(name: str) -> list[dict[str, str]]:
    """The rows of a data file of parsing, without its remarks."""
    with (DATA / name).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(line for line in stream if not line.startswith("#")))


@cache
def grammar_sets() -> dict[str, frozenset[str]]:
    """Every set by its name; the end of a sentence is the empty word."""
    return {
        row["set"]: frozenset("" if word == "END" else word for word in row["words"].split())
        for row in data_rows(FILE.name)
    }


def grammar(name: str) -> frozenset[str]:
    """The words of a set; KeyError for one that the file does not have."""
    return grammar_sets()[name]


@cache
def fractions(kind: str) -> dict[str, float]:
    """The words of fractions: of a "part", or of how "many" parts, with what they count."""
    return {row["word"]: float(row["value"]) for row in data_rows("fraction_words.csv") if row["kind"] == kind}
