"""Sets of kinds of food that the walk through a method tells apart, and how heavy a volume of a kind is."""

from __future__ import annotations

from functools import cache

from labeler.data_files import data_folder, data_rows

__all__ = [
    "COATS",
    "COOKING_WATER",
    "FLAVOURED",
    "HOLDS_NO_LIQUID",
    "MOISTENS",
    "NO_PIECES",
    "SEASONS",
    "SEASONS_OR_SWEETENS",
    "density_of",
    "kinds_told_by",
    "told_by_cut",
]

DATA = data_folder("labeler.flow")


def _rows(name: str) -> list[dict[str, str]]:
    return data_rows(DATA / name)


_SETS = {row["set"]: frozenset(row["kinds"].split("|")) for row in _rows("kind_sets.csv")}
SEASONS = _SETS["seasons"]
SEASONS_OR_SWEETENS = _SETS["seasons or sweetens"]
NO_PIECES = _SETS["no pieces"]
COATS = _SETS["coats"]
MOISTENS = _SETS["moistens"]
COOKING_WATER = _SETS["cooking water"]
HOLDS_NO_LIQUID = _SETS["holds no liquid"]
FLAVOURED = _SETS["flavoured"]


def kinds_told_by(word: str) -> frozenset[str]:
    """Kinds of food of which a liquid that goes by a word holds one: sugar in a syrup; empty where it tells none."""
    return _SETS.get(f"in {word}", frozenset())


@cache
def _cut_pieces() -> dict[str, frozenset[str]]:
    return {row["noun"]: frozenset(row["told by"].split("|")) for row in _rows("cut_pieces.csv")}


def told_by_cut(noun: str) -> frozenset[str]:
    """Words of a line that tell that its food comes in such pieces: "sliced" of a slice; empty for another noun."""
    return _cut_pieces().get(noun, frozenset())


@cache
def _densities() -> dict[str, float]:
    return {row["kind"]: float(row["density"]) for row in _rows("kind_densities.csv")}


def density_of(kind: str) -> float:
    """How heavy a volume of a kind of food is [g/mL]."""
    return _densities().get(kind, 1.0)
