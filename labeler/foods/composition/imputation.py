"""Imputed values: what labels declare and the bundled table lacks, each with its method, its donors and its interval.

The file is made by ``reference/build_imputation.py`` from the bundled table alone and never becomes part of it: a value
of the table always wins. Methods stand in the order of the FAO/INFOODS guidelines, the firmest first; the errors that
hiding known values shows are in ``reference/imputation.md``.

Partly hydrogenated oils of 2015 are the one exception to "the table wins": they are unlawful or gone now, so trans
fat that came of them gives way to what the law of the market leaves (``trans_fat_laws.csv``).
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import IntEnum
from functools import cache
from pathlib import Path
from typing import NamedTuple

import numpy as np

from labeler.data_files import data_folder, data_rows
from labeler.foods.composition.food_table import TABLE_FILE, FoodTable, load_table
from labeler.types import LabelerError, Status

__all__ = ["IMPUTED_FILE", "ImputationMethod", "Imputed", "TransLaw", "imputed_values", "todays_values", "trans_law"]

IMPUTED_FILE = Path(__file__).with_name("data") / "imputed_sr28.npz"
LAWS_FILE = data_folder("labeler.foods.composition") / "trans_fat_laws.csv"


class ImputationMethod(IntEnum):
    """How a value was imputed, from the firmest."""

    LOGICAL_ZERO = 1
    SAME_FOOD = 2
    SIMILAR_FOODS = 3
    GROUP = 4
    LAW = 5

    @property
    def words(self) -> str:
        """The method as people read it."""
        return {
            ImputationMethod.LOGICAL_ZERO: "nothing, by what the food is",
            ImputationMethod.SAME_FOOD: "the same food in another form",
            ImputationMethod.SIMILAR_FOODS: "similar foods",
            ImputationMethod.GROUP: "foods of its group",
            ImputationMethod.LAW: "what the law leaves of partly hydrogenated oil",
        }[self]


class Imputed(NamedTuple):
    """One imputed value per 100 g, in the table's unit.

    Parameters
    ----------
    best, low, high : float
        Best estimate and 95 % interval.
    method : ImputationMethod
    donors : tuple of str
        Table ids of up to three foods that lent most; empty for a zero and for a law.
    basis : str
        What it rests on, in words, where the method alone does not say.
    """

    best: float
    low: float
    high: float
    method: ImputationMethod
    donors: tuple[str, ...] = ()
    basis: str = ""

    @property
    def status(self) -> Status:
        """A logical zero is assumed, anything else imputed."""
        return Status.ASSUMED_ZERO if self.method is ImputationMethod.LOGICAL_ZERO else Status.IMPUTED

    @property
    def reason(self) -> str:
        """Method, donors and basis in one phrase."""
        table = load_table()
        lent = "; ".join(f"{food} ({table.describe(food)})" for food in self.donors)
        return ": ".join(part for part in (self.method.words, self.basis or lent) if part)


class _ImputedFile:
    """The columns of the file, one row a value, with the rows of a food side by side."""

    def __init__(self, path: Path) -> None:
        with np.load(path, allow_pickle=False) as archive:
            self.keys = bytes(archive["keys"]).decode().split("\n")
            order = np.argsort(archive["food"], kind="stable")
            self.food, self.key, self.amounts, self.method, self.donors = (
                archive[name][order] for name in ("food", "key", "amounts", "method", "donors")
            )

    def of(self, food: int) -> Mapping[str, Imputed]:
        """What is imputed for a food, by tagname."""
        rows = slice(*np.searchsorted(self.food, (food, food + 1)).tolist())
        columns = (column[rows].tolist() for column in (self.key, self.amounts, self.method, self.donors))
        found = {}
        for key, (best, low, high), method, donors in zip(*columns, strict=True):
            ids = tuple(f"{donor:05d}" for donor in donors if donor)
            found[self.keys[key]] = Imputed(best, low, high, ImputationMethod(method), ids)
        return found


@cache
def _imputed_file() -> _ImputedFile:
    return _ImputedFile(IMPUTED_FILE)


@cache
def imputed_values(food: str) -> Mapping[str, Imputed]:
    """What is imputed for a food of the table, by INFOODS tagname; empty where it lacks nothing that could be."""
    return _imputed_file().of(int(food))


class TransLaw(NamedTuple):
    """What a market's law leaves of the trans fat of made-up foods.

    Parameters
    ----------
    market : str
    since : str
        From when, as an ISO date; empty where no law stands behind it.
    best, low, high : float
        Share of the fat that is trans, where no ruminant made it, in [0, 1].
    basis : str
    """

    market: str
    since: str
    best: float
    low: float
    high: float
    basis: str


@cache
def _laws() -> Mapping[str, TransLaw]:
    rows = data_rows(LAWS_FILE)
    return {
        row["market"]: TransLaw(
            row["market"], row["since"], float(row["best"]), float(row["low"]), float(row["high"]), row["basis"]
        )
        for row in rows
    }


def trans_law(market: str) -> TransLaw:
    """The law of a market; raises LabelerError for a market that the file does not have."""
    try:
        return _laws()[market]
    except KeyError:
        raise LabelerError(f"{LAWS_FILE.name} has no market '{market}'; it has {', '.join(_laws())}") from None


# Ruminant fat is 2 to 6 % trans (Craig-Schmidt and Teodorescu 2008, in Chow, Fatty Acids in Foods; second-hand).
_RUMINANT_BEST, _RUMINANT_HIGH = 0.03, 0.06


_ELSEWHERE = "codex"


@cache
def _hydrogenated() -> Mapping[str, str]:
    with np.load(IMPUTED_FILE, allow_pickle=False) as archive:
        foods, whole = archive["hydrogenated"].tolist(), archive["hydrogenated_whole"].tolist()
    return {f"{food:05d}": "all" if all_ else "part" for food, all_ in zip(foods, whole, strict=True)}


@cache
def todays_values(food: str, market: str) -> Mapping[str, Imputed]:
    """What replaces a value of 2015 that partly hydrogenated oil made; empty for any other food.

    Parameters
    ----------
    food : str
        Table id.
    market : str
        Whose law; a market that the file does not have is taken as one without a law.
    """
    kind = _hydrogenated().get(food)
    if kind is None:
        return {}
    law, fat = trans_law(market if market in _laws() else _ELSEWHERE), load_table().value(food, "FAT")
    best, high = law.best, law.high
    if kind == "part":
        best, high = _RUMINANT_BEST, max(_RUMINANT_HIGH, law.high)
    found = {"FATRN": Imputed(best * fat, law.low * fat, high * fat, ImputationMethod.LAW, basis=law.basis)}
    solid = _SOLID_FATS.get(load_table().describe(food).split(",")[0].lower())
    if solid is not None and kind == "all" and fat >= 60.0:
        # Palm and interesterified fat give the body that hydrogenation gave; packages differ widely.
        share, low, most = solid
        basis = "makers' packages of recent years (common practice, no source); read the package"
        found["FASAT"] = Imputed(share * fat, low * fat, most * fat, ImputationMethod.LAW, basis=basis)
    return found


_SOLID_FATS = {"shortening": (0.28, 0.22, 0.50), "margarine": (0.24, 0.15, 0.42)}


def base_table() -> FoodTable:
    """The bundled table without anything added, for the scripts that build on it."""
    return FoodTable(TABLE_FILE)
