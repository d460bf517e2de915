"""The columns of a recipe's table, by the words at their heads, and a line from the cells of a row."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache

from labeler.data_files import data_folder, data_rows
from labeler.parsing.row_classifier import row_kind
from labeler.parsing.row_shapes import opens_with_amount
from labeler.parsing.units import canonical_unit, kind
from labeler.text.deferred_pattern import pattern_when_used

__all__ = [
    "cells_beyond", "cells_of", "cells_outside", "columns_of", "heads_tell", "heads_with", "line_of", "names_columns",
    "piped_line", "told_rows", "units_of", "with_units",
]  # fmt: skip

_UNIT_OF_HEAD = pattern_when_used(r"\s*(?:[(\[]\s*(?:in\s+)?(?P<unit>[^\W\d]+)\.?\s*[)\]])\s*$")
_FIGURE = pattern_when_used(r"[\d½¼¾⅓⅔⅛][\d½¼¾⅓⅔⅛.,/ –-]*")
_OF_LINE = ("amount", "same", "unit", "name", "preparation")


@cache
def _known() -> Mapping[str, str]:
    rows = data_rows(data_folder("labeler.parsing") / "table_columns.csv")
    return {word: row["column"] for row in rows if row["column"] != "system" for word in row["words"].split()}


def columns_of(heads: Sequence[str]) -> list[str]:
    """What each column holds, empty where its head is not known; all empty where none is called an ingredient."""
    words = [_UNIT_OF_HEAD.sub("", head).casefold().strip(" :*").replace(" ", "_") for head in heads]
    found = [_known().get(word, "") for word in words]
    if "name" not in found and "amount" in found:  # the one column of another name beside amounts: "Amount | What"
        others = [at for at, word in enumerate(words) if word.isalpha() and not found[at] and word not in _systems()]
        found = ["name" if [at] == others else column for at, column in enumerate(found)]
    if "name" not in found and words.count("") == 1 and all(word in _systems() for word in words if word):
        found[words.index("")] = "name"  # "| | Metric | US |"
    return found if "name" in found else [""] * len(heads)


def units_of(heads: Sequence[str]) -> list[str]:
    """The unit that each head of a column says its figures are in: "Amount (g)", "Grams"; empty where it says none."""
    found = []
    for head in heads:
        behind = _UNIT_OF_HEAD.search(head)
        word = (behind["unit"] if behind is not None else head).strip(" :*")
        unit = canonical_unit(word)
        found.append(word if unit is not None and kind(unit) in ("mass", "volume") else "")
    return found


def with_units(units: Sequence[str], cells: Sequence[str]) -> list[str]:
    """The cells of a row with the unit of their column behind each bare figure."""
    known = [*units, *[""] * len(cells)]
    return [
        f"{cell} {unit}" if unit and _FIGURE.fullmatch(cell) else cell for cell, unit in zip(cells, known, strict=False)
    ]


def _told_columns(columns: Sequence[str], cells: Sequence[str]) -> list[str]:
    """The columns of a row; where none is called an amount, one whose cell is one: "Metric", "US" ("same" amount)."""
    found = list(columns)
    if "name" not in found or "amount" in found:
        return found
    for at, cell in enumerate(cells[: len(found)]):
        if not found[at] and opens_with_amount(cell):
            found[at] = "same" if "amount" in found else "amount"
    return found


def cells_outside(columns: Sequence[str], cells: Sequence[str]) -> list[str]:
    """The cells of a row that its ingredient line does not take up."""
    told = _told_columns(columns, cells)
    return [cell for column, cell in zip(told, cells, strict=False) if cell and column not in _OF_LINE]


def heads_tell(heads: Sequence[str]) -> bool:
    """Whether the heads of a table ask for times and yields of the dish: "Prep | Cook | Serves"."""
    kinds = ("yield", "time", "about")
    asked = [head for head in heads if head]
    if not asked or any(sign.isdigit() for head in asked for sign in head):
        return False
    return all(row_kind(f"{head}: 4") in kinds or row_kind(f"{head}: 4 min") in kinds for head in asked)


def told_rows(heads: Sequence[str], cells: Sequence[str]) -> list[str]:
    """What such a table tells, as rows of a text: "Serves: 4"."""
    return [f"{head}: {cell}".lstrip(": ") for head, cell in zip(heads, cells, strict=False) if cell]


def heads_with(heads: Sequence[str], cells: Sequence[str]) -> list[str]:
    """The heads of a table under which a row has something."""
    return [head for head, cell in zip(heads, cells, strict=False) if cell]


def cells_of(columns: Sequence[str], cells: Sequence[str]) -> dict[str, str]:
    """The cells of a row by what their columns hold; two of one kind are joined."""
    found: dict[str, str] = {}
    for column, cell in zip(_told_columns(columns, cells), cells, strict=False):
        if column and cell:
            found[column] = f"{found[column]} {cell}" if column in found else cell
    return found


def line_of(cells: Mapping[str, str]) -> str:
    """An ingredient line from such cells: amount, unit, name, and the preparation behind a comma."""
    same = f"({cells['same']})" if cells.get("same") else ""
    words = " ".join(filter(None, (cells.get("amount"), cells.get("unit"), same, cells.get("name"))))
    return f"{words}, {cells['preparation']}" if cells.get("preparation") else words


def cells_beyond(row: str, count: int) -> list[str]:
    """The cells that a row of a Markdown table has beyond `count`, which Markdown itself leaves out."""
    found = re.split(r"(?<!\\)\|", row.strip().removeprefix("|").removesuffix("|"))
    return [cell.strip() for cell in found[count:] if cell.strip()]


def names_columns(row: str) -> bool:
    """Whether a row only says what stands in the columns below it: "Metric | US", "Ingredient | Amount"."""
    cells = [cell.casefold().strip(" :*").replace(" ", "_") for cell in row.strip().strip("|").split("|")]
    return len(cells) > 1 and all(cell in _known() or cell in _systems() for cell in cells)


@cache
def _systems() -> frozenset[str]:
    """How columns of amounts in units of one land are called."""
    rows = data_rows(data_folder("labeler.parsing") / "table_columns.csv")
    return frozenset(word for row in rows if row["column"] == "system" for word in row["words"].split())


def piped_line(row: str) -> str:
    """A row of a table that no head or rule makes one, such as an item of a list, as a line: "| 2 cups | flour".

    A first cell that opens with no figure says how much is taken behind the food: "| to taste | salt".
    """
    first, *rest = [" ".join(cell.split()) for cell in re.split(r"(?<!\\)\|", row.strip().strip("|"))]
    text = " ".join(filter(None, rest))
    counted = not first or not text or first[0].isnumeric() or not first[0].isalnum()
    return f"{first} {text}".strip() if counted else f"{text}, {first}"
