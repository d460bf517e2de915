"""How answers look at a terminal: as wide as it is, sentences broken between words, tables that lose no figure."""

from __future__ import annotations

import math
import shutil
import sys
import textwrap
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from labeler.types import Problem

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

__all__ = ["console_of", "in_digits", "say", "say_problems", "table_of", "width"]

# Narrower than this no table can be read.
_NARROWEST = 40


def width() -> int:
    """Columns to write in: the terminal's, or what COLUMNS says; 80 in a file or a pipe, so that it reads the same."""
    return max(shutil.get_terminal_size((80, 24)).columns, _NARROWEST)


def console_of() -> Console:
    """Where tables are printed."""
    from rich.console import Console

    return Console(width=width(), highlight=False, markup=False, emoji=False)


def table_of(
    *headings: str,
    numbers: Iterable[int] = (),
    least: Mapping[int, int] | None = None,
    title: str | None = None,
) -> Table:
    """A table with these headings.

    Parameters
    ----------
    numbers : iterable of int
        Places of the columns of figures, which are never broken.
    least : mapping or None
        Place of a column of words → characters that it keeps where the terminal is narrow.
    title : str or None
    """
    from rich import box
    from rich.table import Table

    table = Table(box=box.SIMPLE_HEAD, title=title, title_justify="left", pad_edge=False, collapse_padding=True)
    figures = set(numbers)
    for place, heading in enumerate(headings):
        table.add_column(
            heading,
            justify="right" if place in figures else "left",
            no_wrap=place in figures,
            overflow="fold",
            min_width=(least or {}).get(place),
        )
    return table


def say(text: str, *, mark: str = "", err: bool = False) -> None:
    """A sentence, broken between words, with a mark before it and its further lines under the first."""
    first = f"{mark} " if mark else ""
    print(
        textwrap.fill(
            text, width(), initial_indent=first, subsequent_indent=" " * len(first),
            break_long_words=False, break_on_hyphens=False,
        ),
        file=sys.stderr if err else sys.stdout,
    )  # fmt: skip


def say_problems(problems: Iterable[Problem], *, err: bool = False) -> None:
    """Each problem once, with its line in the recipe and its code."""
    for problem in dict.fromkeys(problems):
        where = f"line {problem.line}: " if problem.line else ""
        say(f"{where}{problem.message} [{problem.code}]", mark="!", err=err)


def in_digits(value: float) -> str:
    """Three significant digits, as more would claim too much."""
    if not math.isfinite(value):
        return "not known"
    if value == 0:
        return "0"
    if abs(value) < 0.001:
        return "<0.001" if value > 0 else ">-0.001"
    digits = max(0, 2 - math.floor(math.log10(abs(value))))
    return f"{value:,.{min(digits, 3)}f}"
