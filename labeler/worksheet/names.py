"""Plain names and units of the nutrients, for headings; and the works that a worksheet always rests on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache

from labeler.data_files import data_folder, data_rows
from labeler.foods.composition.food_table import load_table
from labeler.worksheet.model import Nutrient, SourceRow

__all__ = ["nutrient", "standing_sources"]

DATA = data_folder("labeler.worksheet")


@cache
def _names() -> dict[str, str]:
    return {row["tag"]: row["name"] for row in data_rows(DATA / "nutrient_names.csv")}


@cache
def nutrient(tag: str) -> Nutrient:
    """A nutrient by its tagname; one without a plain name is called as the food table calls it."""
    table = load_table()
    known = table.nutrients[table.column["SUGAR" if tag == "SUGAR_ADDED" else tag]]
    return Nutrient(tag, _names().get(tag, known.name), known.unit)


def standing_sources(tags: Iterable[str], methods: Iterable[str]) -> Iterator[SourceRow]:
    """The food table, and the works that the account of a step or a nutrient calls for."""
    text = " ".join(methods)
    wanted = set(tags)
    for row in data_rows(DATA / "sources.csv"):
        if row["word"] == "*" or row["word"] in text or row["word"] in wanted:
            yield SourceRow(row["used_for"], row["title"], row["edition"], row["kind"])
