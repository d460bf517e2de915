"""What heat destroys: USDA nutrient retention factors, applied to each ingredient on its own.

USDA Table of Nutrient Retention Factors, Release 6 (2007), 270 codes of food kind and method by 26 nutrients, in
per cent kept of what the raw ingredient brought. Retinol and vitamin A (RAE) take the vitamin A (RE) factor, folate
in DFE takes that of total folate; what the release does not list is kept whole, energy and weight too. These
are the rules that USDA's own survey foods (FNDDS 2015-16) are computed by.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache

import numpy as np

from labeler.cooking.state.mixture import KEYS, Array, Mixture
from labeler.data_files import data_folder, data_rows

__all__ = ["HEAT_SENSITIVE", "choose_code", "describe", "factors", "retain", "retention_codes"]

DATA = data_folder("labeler.cooking")
TABLE = DATA / "usda_retention_r6_2007.csv"

# Nutrients that take the factor of another column.
_LIKE = {"RETOL": "VITA_RE", "VITA_RAE": "VITA_RE", "FOLDFE": "FOL"}


@cache
def _rows() -> dict[str, dict[str, str]]:
    rows = data_rows(TABLE)
    return {row["code"]: row for row in rows}


def retention_codes() -> tuple[str, ...]:
    """All codes, four digits each, in order."""
    return tuple(_rows())


def describe(code: str) -> str:
    """The release's own words for a code ("CHICKEN,ROASTED"); raises KeyError for a code that it does not have."""
    return _rows()[_four(code)]["description"]


def _four(code: str) -> str:
    """A code as the table has it: "805" and "0805" are the same."""
    return code.strip().zfill(4)


@cache
def _factors(code: str) -> Array:
    row = _rows()[code]
    return np.array([float(row.get(_LIKE.get(key, key)) or 100.0) / 100.0 for key in KEYS])


def factors(codes: Sequence[str]) -> Array:
    """Share of each nutrient kept after all of `codes`, one after the other, shape (nutrients,).

    No codes keep everything; raises KeyError for a code that the release does not have.
    """
    kept = np.ones(len(KEYS))
    for code in codes:
        kept = kept * _factors(_four(code))
    return kept


@cache
def _choices() -> dict[tuple[str, str], str]:
    found: dict[tuple[str, str], str] = {}
    for row in data_rows(DATA / "retention_choice.csv"):
        for kind in row["kinds"].split("|"):
            for method in row["methods"].split("|"):
                found.setdefault((kind, method), row["code"])
    return found


_MILK = (("2151", 17.0), ("2152", 42.0), ("2153", float("inf")))  # heated about 10 and 30 minutes and 1 hour


def choose_code(kind: str, method: str, *, minutes: float) -> str | None:
    """The code for a kitchen kind and a method of cooking; None where the release has nothing that fits.

    Parameters
    ----------
    kind, method : str
    minutes : float
        Time of heat [min]: the release tells milk and dry legumes apart by it.
    """
    code = _choices().get((kind, method))
    if code is not None and code.startswith("215") and method != "reheat":
        return next(milk for milk, upto in _MILK if minutes <= upto)
    if code in ("0522", "0524"):
        return str(int(code) + (-20 if minutes < 32.0 else 20 if minutes > 98.0 else 0)).zfill(4)
    return code


HEAT_SENSITIVE = frozenset(
    [
        *("RETOL", "VITA_RAE", "CARTB", "CARTA", "CRYPX", "LYCPN", "LUT+ZEA", "VITC", "THIA", "RIBF", "NIA"),
        *("VITB6A", "FOL", "FOLAC", "FOLFD", "FOLDFE", "VITB12", "CHOLN"),
    ]
)
"""What heat itself destroys. Minerals leave with juice and water, which the kitchen follows as streams of their own."""


def retain(
    mix: Mixture, codes: Mapping[int, Sequence[str]], *, only: frozenset[str] = frozenset(KEYS)
) -> tuple[Mixture, Mixture]:
    """Apply retention to some items.

    Parameters
    ----------
    mix : Mixture
    codes : mapping
        Codes for the place of an item; items that are not in it keep everything.
    only : frozenset of str
        Nutrients that the factors apply to; the others are kept whole.

    Returns
    -------
    kept, destroyed : Mixture
        Nutrients divide, mass does not: the second weighs nothing.
    """
    share = np.ones((len(mix.items), 1, len(KEYS)))
    applies = np.array([key in only for key in KEYS], dtype=bool)
    for at, chain in codes.items():
        share[at, 0] = np.where(applies, factors(chain), 1.0)
    kept = replace(mix, composition=mix.composition * share)
    met = mix.select(list(codes))
    lost = met.composition - kept.composition[list(codes)]
    return kept, replace(met, composition=lost, weight=np.zeros_like(met.weight))
