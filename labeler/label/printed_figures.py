"""A figure as it is printed, taken apart so that columns can be aligned on the decimal mark."""

from __future__ import annotations

import re
from dataclasses import dataclass

__all__ = ["PrintedFigure", "split_figure"]


@dataclass(frozen=True, slots=True)
class PrintedFigure:
    """A figure in its three parts around the decimal mark, or a phrase that has none."""

    whole: str
    fraction: str = ""
    unit: str = ""
    phrase: str = ""

    @property
    def text(self) -> str:
        """The figure on one line."""
        return self.phrase or f"{self.whole}{self.fraction} {self.unit}".strip()


def split_figure(text: str, decimal: str) -> PrintedFigure:
    """A figure taken apart around its decimal mark; what is no figure is a phrase."""
    thousands = "," if decimal == "." else "."
    number = rf"[<>≤≥~≈]?\s?(?:\d{{1,3}}(?:[{thousands}\u00a0 ]\d{{3}})+|\d+)"
    found = re.fullmatch(rf"({number})({re.escape(decimal)}\d+)?\s*([^\d]*)", text)
    return PrintedFigure(found[1], found[2] or "", found[3].strip()) if found else PrintedFigure("", phrase=text)
