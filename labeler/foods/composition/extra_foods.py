"""Foods that the bundled table lacks and kitchens use: their list, as ``extra_foods.csv`` holds it.

``reference/build_extra_foods.py`` works their composition out, into an archive of the table's own layout that
`labeler.foods.composition.food_table.load_table` puts behind the table's foods. Their ids begin with 7, which no food
of the table does.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from labeler.data_files import data_folder, data_rows
from labeler.foods.composition.food_table import EXTRA_FILE

__all__ = ["EXTRA_FILE", "EXTRA_LIST", "ExtraFood", "extra_food", "read_extra_foods"]

EXTRA_LIST = data_folder("labeler.foods.composition") / "extra_foods.csv"
KINDS = ("stoichiometry", "recipe", "like", "values")


@dataclass(frozen=True, slots=True)
class ExtraFood:
    """One food of the list.

    Parameters
    ----------
    id : str
        Five digits, the first of them 7.
    description : str
        In the manner of the table's own.
    group : int
        SR28 food group whose kind it shares.
    kind : str
        How its composition was had: one of `KINDS`.
    made_of : tuple of (id, grams)
        Foods of the table, or earlier ones of the list, as mixed [g].
    loss : float
        Water that leaves the mixture [g].
    shares : mapping
        What stays of a nutrient where some drains off, by tagname, in [0, 1].
    values : mapping
        Stated values per 100 g, by tagname, over what it is made of.
    cup : float
        Weight of a US cup [g].
    pieces : tuple of (piece, grams)
        Weight of one piece, spoon or package [g].
    allergens : tuple of str
        Ids of the markets' lists that it holds, or its usual makes do.
    source : str
        Where its figures come from, in words.
    names : tuple of str
        What kitchens call it.
    """

    id: str
    description: str
    group: int
    kind: str
    made_of: tuple[tuple[str, float], ...]
    loss: float
    shares: Mapping[str, float]
    values: Mapping[str, float]
    cup: float
    pieces: tuple[tuple[str, float], ...]
    allergens: tuple[str, ...]
    source: str
    names: tuple[str, ...]


def _pairs(text: str, mark: str) -> tuple[tuple[str, float], ...]:
    return tuple((name, float(value)) for name, _, value in (one.partition(mark) for one in text.split() if one))


def _food(row: dict[str, str]) -> ExtraFood:
    if row["kind"] not in KINDS or not row["id"].startswith("7") or len(row["id"]) != 5:
        raise ValueError(f"{EXTRA_LIST.name}: {row['id']} needs five digits that begin with 7 and one of {KINDS}")
    stated = dict(pair.split("=", 1) for pair in row["values"].split())
    shares = {key.partition(":")[0]: float(key.partition(":")[2]) for key in (
        one.removeprefix("share=") for one in row["values"].split() if one.startswith("share="))}  # fmt: skip
    return ExtraFood(
        id=row["id"],
        description=row["description"],
        group=int(row["group"]),
        kind=row["kind"],
        made_of=_pairs(row["made_of"], ":"),
        loss=float(stated.get("loss", 0.0)),
        shares=shares,
        values={key: float(value) for key, value in stated.items() if key.isupper()},
        cup=float(row["cup"]),
        pieces=tuple((name, float(grams)) for name, _, grams in
                     (one.partition("=") for one in row["pieces"].split("|") if one)),
        allergens=tuple(row["allergens"].split()),
        source=row["source"],
        names=tuple(row["names"].split("|")),
    )  # fmt: skip


@cache
def read_extra_foods() -> tuple[ExtraFood, ...]:
    """Every food of the list, in file order; raises KeyError or ValueError where a row is not whole."""
    return tuple(_food(row) for row in data_rows(EXTRA_LIST))


def extra_food(food: str) -> ExtraFood | None:
    """The food of the list with this id, or None."""
    return next((one for one in read_extra_foods() if one.id == food), None) if food.startswith("7") else None
