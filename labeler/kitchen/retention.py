"""What heat destroys: USDA nutrient retention factors, applied to each ingredient on its own.

USDA Table of Nutrient Retention Factors, Release 6 (2007), 270 codes of food kind and method by 26 nutrients, in
per cent kept of what the raw ingredient brought. Retinol and vitamin A (RAE) take the vitamin A (RE) factor, folate
in DFE takes that of total folate; what the release does not list is kept whole, energy and weight too. These
are the rules that USDA's own survey foods (FNDDS 2015-16) are computed by.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np

from labeler.kitchen.mix import KEYS, Array, Mix

__all__ = ["describe", "factors", "retain", "retention_codes"]

TABLE = Path(__file__).with_name("data") / "usda_retention_r6_2007.csv"

# Nutrients that take the factor of another column.
_LIKE = {"RETOL": "VITA_RE", "VITA_RAE": "VITA_RE", "FOLDFE": "FOL"}


@cache
def _rows() -> dict[str, dict[str, str]]:
    with TABLE.open(encoding="utf-8", newline="") as stream:
        rows = csv.DictReader(line for line in stream if not line.startswith("#"))
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


def retain(mix: Mix, codes: Mapping[int, Sequence[str]]) -> tuple[Mix, Mix]:
    """Apply retention to some items.

    Parameters
    ----------
    mix : Mix
    codes : mapping
        Codes for the place of an item; items that are not in it keep everything.

    Returns
    -------
    kept, destroyed : Mix
        Nutrients divide, mass does not: the second weighs nothing.
    """
    share = np.ones((len(mix.items), 1, len(KEYS)))
    for at, chain in codes.items():
        share[at, 0] = factors(chain)
    kept = replace(mix, composition=mix.composition * share)
    lost = mix.composition - kept.composition
    return kept, replace(mix, composition=lost, weight=np.zeros_like(mix.weight))
