"""Every code of a `Problem`, with what it means and how to mend it: ``data/problem_codes.csv``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from labeler.data_files import data_folder, data_rows

__all__ = ["ProblemCode", "problem_code", "problem_codes"]

CODES_FILE = data_folder("labeler") / "problem_codes.csv"


@dataclass(frozen=True, slots=True)
class ProblemCode:
    """One code of a problem.

    Parameters
    ----------
    code : str
        As `Problem.code` has it; one that ends in ``*`` stands for a family of codes.
    meaning, mend : str
        What is wrong, and what to do about it, in general; the problem's own message says it of the recipe at hand.
    """

    code: str
    meaning: str
    mend: str


@cache
def problem_codes() -> Mapping[str, ProblemCode]:
    """Every code of the table, in its order."""
    rows = data_rows(CODES_FILE)
    return MappingProxyType({row["code"]: ProblemCode(**row) for row in rows})


def problem_code(code: str) -> ProblemCode:
    """The row of a code, or of its family.

    Raises
    ------
    KeyError
        For a code that is none.
    """
    known = problem_codes()
    return known[code] if code in known else known[f"{code.partition('-')[0]}-*"]
