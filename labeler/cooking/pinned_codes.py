"""The retention factors that a line settles itself, in braces: ``{retention 0801}``."""

from __future__ import annotations

from labeler.cooking.messages import no_such_retention
from labeler.cooking.models.retention_factors import retention_codes
from labeler.parsing.model import Line
from labeler.types import Problem

__all__ = ["pinned_codes"]


def pinned_codes(line: Line) -> tuple[tuple[str, ...], list[Problem]]:
    """Codes of the USDA retention table, Release 6, that a line states, and a problem for each that it does not have.

    Parameters
    ----------
    line : Line
    """
    if line.pin is None or not line.pin.retention:
        return (), []
    known = set(retention_codes())
    good = tuple(code for code in line.pin.retention if code.zfill(4) in known)
    return good, [no_such_retention(code, line.number) for code in line.pin.retention if code.zfill(4) not in known]
