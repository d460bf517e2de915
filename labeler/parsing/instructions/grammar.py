"""Small words by what they do in a sentence of the method: ``method_grammar.csv``, a set a row."""

from __future__ import annotations

from functools import cache

from labeler.data_files import data_folder, data_rows

__all__ = ["DATA", "fractions", "grammar", "grammar_sets"]

DATA = data_folder("labeler.parsing")
FILE = DATA / "method_grammar.csv"


@cache
def grammar_sets() -> dict[str, frozenset[str]]:
    """Every set by its name; the end of a sentence is the empty word."""
    return {
        row["set"]: frozenset("" if word == "END" else word for word in row["words"].split()) for row in data_rows(FILE)
    }


def grammar(name: str) -> frozenset[str]:
    """The words of a set; KeyError for one that the file does not have."""
    return grammar_sets()[name]


@cache
def fractions(kind: str) -> dict[str, float]:
    """The words of fractions: of a "part", or of how "many" parts, with what they count."""
    return {row["word"]: float(row["value"]) for row in data_rows(DATA / "fraction_words.csv") if row["kind"] == kind}
