"""The recipes that a check is run over: files of folders, and lines of a table taken together by their file."""

from __future__ import annotations

import argparse
import csv
import sys
from collections import defaultdict
from collections.abc import Iterator, Sequence
from pathlib import Path

from labeler.importers.read_any import read_any
from labeler.parsing.document import read_recipe
from labeler.parsing.model import Recipe
from labeler.types import LabelerError

__all__ = ["options_of", "recipe_paths", "recipes_of", "texts_of_lines"]

_FORMS = (".md", ".txt", ".html", ".json")


def options_of(about: str, *, count: int) -> argparse.ArgumentParser:
    """The options of a check over many recipes, which is run in pieces: which of them, and for how long."""
    parser = argparse.ArgumentParser(description=about.splitlines()[0])
    parser.add_argument("folders", type=Path, nargs="*")
    parser.add_argument("--lines", type=Path)
    parser.add_argument("--count", type=int, default=count)
    parser.add_argument("--from", dest="first", type=int, default=0)
    parser.add_argument("--seconds", type=float, default=280.0, help="stop after these, and say where to go on")
    return parser


def recipes_of(folders: Sequence[Path], lines: Path | None = None) -> Iterator[tuple[str, Recipe]]:
    """Every recipe with its name, those of the folders first.

    Parameters
    ----------
    folders : sequence of Path
        Of recipes in any form that the program reads; a file that is refused is told on standard error.
    lines : Path or None
        A CSV with the columns `file` and `text`, an ingredient line a row; the lines of a file are a recipe for four.
    """
    for path in recipe_paths(folders):
        try:
            yield path.name, read_any(str(path))
        except LabelerError as refused:
            print(f"{path.name}: {refused}", file=sys.stderr)
    for name, texts in texts_of_lines(lines).items() if lines is not None else ():
        yield name, read_recipe("---\ntitle: Lines\nserves: 4\n---\n" + "".join(f"- {text}\n" for text in texts))


def recipe_paths(folders: Sequence[Path]) -> Iterator[Path]:
    """Every file of some folders that has the form of a recipe, by name."""
    for folder in folders:
        yield from (path for path in sorted(folder.iterdir()) if path.suffix in _FORMS)


def texts_of_lines(lines: Path) -> dict[str, list[str]]:
    """The ingredient lines of a table by their file, in order."""
    by_file: dict[str, list[str]] = defaultdict(list)
    with lines.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            by_file[row["file"]].append(row["text"])
    return by_file
