"""The recipes that a check is run over: files of folders, and lines of a table taken together by their file."""

from __future__ import annotations

import csv
import sys
from collections import defaultdict
from collections.abc import Iterator, Sequence
from pathlib import Path

from labeler.importers.read_any import read_any
from labeler.parsing.document import read_recipe
from labeler.parsing.model import Recipe
from labeler.types import LabelerError

__all__ = ["recipes_of"]

_FORMS = (".md", ".txt", ".html", ".json")


def recipes_of(folders: Sequence[Path], lines: Path | None = None) -> Iterator[tuple[str, Recipe]]:
    """Every recipe with its name, those of the folders first.

    Parameters
    ----------
    folders : sequence of Path
        Of recipes in any form that the program reads; a file that is refused is told on standard error.
    lines : Path or None
        A CSV with the columns `file` and `text`, an ingredient line a row; the lines of a file are a recipe for four.
    """
    for folder in folders:
        for path in sorted(folder.iterdir()):
            if path.suffix in _FORMS:
                try:
                    yield path.name, read_any(str(path))
                except LabelerError as refused:
                    print(f"{path.name}: {refused}", file=sys.stderr)
    by_file: dict[str, list[str]] = defaultdict(list)
    if lines is not None:
        with lines.open(encoding="utf-8", newline="") as stream:
            for row in csv.DictReader(stream):
                by_file[row["file"]].append(row["text"])
    for name, texts in by_file.items():
        yield name, read_recipe("---\ntitle: Lines\nserves: 4\n---\n" + "".join(f"- {text}\n" for text in texts))
